#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "core/job.h"
#include "geometry/drawing.h"

/// What templates are put together from. Millimetres of the paper, y up.
namespace sillwright::core {

inline constexpr const char* k_cut_outside = "CUT_OUTSIDE";
inline constexpr const char* k_drill = "DRILL";
inline constexpr const char* k_note = "NOTE";

/// A drawing with the three layers, and nothing on them.
geometry::Drawing template_drawing();

void add_line(geometry::Drawing& drawing, const char* layer, const Eigen::Vector2d& from, const Eigen::Vector2d& to);
void add_chain(geometry::Drawing& drawing, const char* layer, const std::vector<Eigen::Vector2d>& points);
/// The chain as strokes 6 mm long, 3 mm apart.
void add_dashes(geometry::Drawing& drawing, const char* layer, const std::vector<Eigen::Vector2d>& points);
void add_circle(geometry::Drawing& drawing, const char* layer, const Eigen::Vector2d& centre, double radius);
/// Round at its ends; a circle where it is no longer than wide. `way`: unit, lengthwise.
void add_slot(geometry::Drawing& drawing, const char* layer, const Eigen::Vector2d& centre, const Eigen::Vector2d& way,
              double length, double width);
void add_cross(geometry::Drawing& drawing, const char* layer, const Eigen::Vector2d& centre, double arm);
/// A line from `from` with a head at `to`.
void add_arrow(geometry::Drawing& drawing, const char* layer, const Eigen::Vector2d& from, const Eigen::Vector2d& to);
void add_words(geometry::Drawing& drawing, const Eigen::Vector2d& middle, double height, const std::string& words);
/// The words' base line begins there.
void add_words_from(geometry::Drawing& drawing, const Eigen::Vector2d& at, double height, const std::string& words);

/// "36.4": a length as a bare number in the job's unit: tenths of a millimetre, hundredths of a centimetre, thousandths
/// of an inch.
std::string template_number(double mm, BareUnit unit);
/// The same with its unit: "36.4 mm".
std::string template_length(double mm, BareUnit unit);
/// "RIGHT SIDE"
std::string side_words(Side side);

}  // namespace sillwright::core

#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "core/car_model.h"
#include "core/job.h"
#include "geometry/loft.h"
#include "geometry/offset_law.h"

namespace sillwright::core {

/// The lowest place of one section.
struct LowPoint {
    Eigen::Vector3d p_mm;              ///< (along, out, up)
    std::optional<std::size_t> piece;  ///< Of the skirt; none for the car's body.
    std::string node{};                ///< The node whose corner or straight it is; empty for a shape from a file.
};

/// The lowest places of something, section by section, front to rear.
///
/// Sheet: as formed where that is computed (core/forming/formed_sheet.h).
/// Accuracy: each exact on its section, by 0.01 mm too low where the thickness changes round it; between two
/// neighbouring ones nothing is lower than the straight between
///   them by more than `bound_mm`, judged by every second one, as it lies off the straight between its neighbours.
struct LowLine {
    std::vector<LowPoint> points;
    double bound_mm = 0.0;
    std::vector<std::string> missing;
};

/// Of all pieces of the skirt, with their paint.
LowLine low_line_of_part(const Job& job, const CarModel& car);
/// The same with other lines for drawn pieces: by number, none to leave a piece out.
LowLine low_line_of_part(const Job& job, const CarModel& car, const std::vector<std::optional<geometry::Loft>>& lines);
/// Of the car's body without the skirt.
LowLine low_line_of_body(const CarModel& car);

/// The lowest point of the parallels at two distances to the left of an open chain of nodes, square ends included, and
/// the number of its node. No value where the nodes have no line.
struct LowestOfSection {
    Eigen::Vector2d p_mm;
    std::size_t node;
};
std::optional<LowestOfSection> lowest_of_section(const std::vector<geometry::ProfileNode>& nodes,
                                                 const std::vector<std::string>& names, double left_mm,
                                                 double right_mm);

/// The same where the faces' distances change round the section; `names` are numbered by the marks.
/// Accuracy: no lower than the true one by more than `k_low_fit_mm`, and never above it.
std::optional<LowestOfSection> lowest_of_section(const std::vector<geometry::ProfileNode>& nodes,
                                                 const std::vector<std::string>& names, const geometry::OffsetRow& left,
                                                 const geometry::OffsetRow& right);

/// How far a face whose distance changes may lie below its points: far below what a road is even to.
constexpr double k_low_fit_mm = 0.01;

/// Sections are no further apart than this.
constexpr double k_low_pitch_mm = 20.0;

}  // namespace sillwright::core

#pragma once

#include <Eigen/Core>
#include <optional>
#include <vector>

#include "core/job.h"
#include "geometry/corner.h"
#include "geometry/loft.h"
#include "geometry/offset_law.h"
#include "geometry/units.h"

namespace sillwright::core {

struct FormedSheet;

/// Names of the nodes between which the flange runs.
inline constexpr const char* k_flange_root = "flange root";
inline constexpr const char* k_flange_end = "flange end";

/// The flange's inside face in one section: a straight from the foot of the drawn
/// root to the foot of the drawn end.
struct FlangeSection {
    Eigen::Vector2d root_mm, end_mm;  ///< (out, up), on the inside face.
    Eigen::Vector2d direction;        ///< Unit, from root to end.
    Eigen::Vector2d inward;           ///< Unit, square to it, towards the car.
    double length_mm = 0.0;
};

/// The inside face of a drawn piece's flange as an exact surface: the parallel of
/// the straight between the guide lines of flange root and flange end.
///
/// Units and frame: millimetres, (along, out, up). Beyond the piece's two ends the
///   face goes on as it is at the end; beyond root and end its straights go on.
/// Formed: a line that is drawn on its outside has its inside as far off as the sheet is thick there, at root and at
///   end, and straight between these. The rounding of the bend is that of the full sheet, which takes more room.
/// Lifetime: holds the addresses of loft and formed sheet, which must outlive it.
class FlangeFace {
public:
    /// No value if the piece has no flange between neighbouring nodes of these
    /// names, or if its inside is not known without a sheet thickness.
    static std::optional<FlangeFace> of(const Piece& piece, const geometry::Loft& line,
                                        const FormedSheet* formed = nullptr);

    /// Whether the line has the two names, next to one another.
    static bool drawn_on(const geometry::Loft& line);

    [[nodiscard]] geometry::Length front() const { return line_->front(); }
    [[nodiscard]] geometry::Length rear() const { return line_->rear(); }
    [[nodiscard]] const geometry::Loft& line() const { return *line_; }
    [[nodiscard]] const FormedSheet* formed() const { return formed_; }

    /// No value where the flange has run out.
    [[nodiscard]] std::optional<FlangeSection> at(geometry::Length along) const;

    /// Distance from the face in the section plane, positive on the car's side.
    [[nodiscard]] std::optional<double> height_mm(const Eigen::Vector3d& p_mm) const;

    /// Unit normal of the face towards the car, at a place on it.
    [[nodiscard]] std::optional<Eigen::Vector3d> normal(const Eigen::Vector3d& p_mm) const;

    /// The turn at the root, its rounding included; no value where there is no flange.
    [[nodiscard]] std::optional<geometry::Corner> bend(geometry::Length along) const;

    /// How far from the root (along the flange) both faces of the sheet are flat:
    /// behind the drawn rounding, or the radius of a bend made after if that is
    /// greater. Without a sheet thickness or that radius, what is known of it.
    [[nodiscard]] std::optional<double> flat_from_mm(geometry::Length along) const;

    /// What must be measured before flat_from_mm is the whole truth.
    [[nodiscard]] std::vector<std::string> missing_for_bend() const;

private:
    FlangeFace(const Piece& piece, const geometry::Loft& line, const FormedSheet* formed);

    [[nodiscard]] double inside_at(geometry::Length along, std::size_t node) const;

    const geometry::Loft* line_;
    std::size_t root_ = 0;
    geometry::OffsetLaw inside_;  ///< Of the line; by place where the sheet is as formed.
    const FormedSheet* formed_ = nullptr;
    std::optional<double> outside_mm_;
    bool bent_after_ = false;
    std::optional<geometry::Length> radius_left_, radius_right_;  ///< Of a bend made after, on the drawn line.
};

}  // namespace sillwright::core

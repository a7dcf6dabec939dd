#pragma once

#include <Eigen/Core>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/desk/item.h"
#include "core/finding.h"
#include "core/job.h"

namespace sillwright::app {

/// What a line or a point of a section drawing belongs to; it decides its pen.
enum class SectionRole {
    body,
    door,
    door_shut,  ///< Where an open door stands when it is shut.
    door_limit,
    skirt_drawn,
    skirt_inside,
    skirt_outside,
    neighbour,  ///< The skirt at the stations to either side.
    mount_axis,
    keep_out,
    scan,  ///< Where a scan of the real sill is cut.
    draft,    ///< Between a strip and the draw direction.
    set_back  ///< To where an edge is to be pulled back so that the part goes into its machine.
};

/// A line of a section drawing.
struct SectionLine {
    SectionRole role = SectionRole::body;
    std::vector<Eigen::Vector2d> points_mm;  ///< (out, up), fine enough to be drawn as it is.
    bool closed = false;
    std::string name;  ///< "front door"; written once beside the line, empty for none.
    Item item{};       ///< What is pointed at with it; none for nothing.
};

/// A point with a name: a node of the skirt, the centre of a mount.
struct SectionPoint {
    SectionRole role = SectionRole::skirt_drawn;
    Eigen::Vector2d at_mm = Eigen::Vector2d::Zero();
    std::string name;  ///< May be of more than one line.
    /// Direction of a short tick across the line, of any length; zero for a cross.
    Eigen::Vector2d across = Eigen::Vector2d::Zero();
    Item item{};
};

/// A number of a node as it reads, and whether a person typed it.
struct SectionNumber {
    std::string text;
    bool typed = false;
};

/// A node that a hand can take: the corner itself, which a rounding may take away from the line.
struct SectionNode {
    std::string id, name;
    Eigen::Vector2d at_mm = Eigen::Vector2d::Zero();
    double radius_mm = 0.0;
    SectionNumber out, up, radius;
    /// Its neighbours along the line; none at an end, where there is nothing to round.
    std::optional<Eigen::Vector2d> before_mm, behind_mm;
    SectionRole role = SectionRole::skirt_drawn;
};

/// A length written beside the two points that it is between.
struct SectionDimension {
    Eigen::Vector2d from_mm = Eigen::Vector2d::Zero(), to_mm = Eigen::Vector2d::Zero();
    Eigen::Vector2d away = Eigen::Vector2d::UnitY();  ///< The side of the line on which it is written.
    std::string words;
};

/// The gap to a door, and the points that it is between.
struct SectionGap {
    Eigen::Vector2d on_part_mm = Eigen::Vector2d::Zero(), on_other_mm = Eigen::Vector2d::Zero();
    std::string number;                ///< "1.9 mm"
    std::string words;                 ///< "needs 4.0 · falls short"
    std::optional<core::State> state;  ///< None for a distance of this section alone, which no finding judges.
    bool small = false;                ///< Worth a magnifier.
    Item item{};
};

/// A stretch of formed sheet, filled with the tint of its thickness: a step of ThicknessTint.
struct SectionBand {
    std::vector<Eigen::Vector2d> points_mm;  ///< (out, up), closed.
    int step = 0;
};

/// A section of the car at one place, ready to be drawn.
///
/// Units and frame: millimetres; (out, up): out away from the car on either
///   side, out always runs to the right, so
///   the right side of a car is seen looking forward, the left looking rearward.
struct SectionPicture {
    std::string title{};  ///< "section at 3.9 · 700 mm"
    std::vector<SectionLine> lines{};
    std::vector<SectionPoint> points{};
    std::vector<SectionNode> nodes{};  ///< In the order of their lines.
    std::vector<SectionDimension> dimensions{};
    std::optional<SectionGap> gap{};
    std::vector<SectionBand> bands{};          ///< Below all lines.
    std::vector<std::string> tints{};          ///< The thickness at the edges of the tints' steps, thinnest first.
    core::BareUnit unit = core::BareUnit::mm;  ///< Of rulers, coordinates and dimensions.
    std::string note{};                        ///< "within 0.1 mm while dragging", "being computed"; empty for none.
    bool stale = false;                        ///< What was computed belongs to an earlier value of the job.
    /// What stands still while a hand draws, below all else; null for nothing. Never
    /// changed: the same pointer is the same picture.
    std::shared_ptr<const SectionPicture> under{};
};

}  // namespace sillwright::app

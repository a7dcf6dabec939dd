#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/job.h"

namespace sillwright::app {

/// What a line of the strip belongs to; it decides its pen.
enum class StripRole { body, skirt, fold, flange_root, flange_end };

/// A node of a line, at its station.
struct StripNode {
    std::string id;
    double along_mm = 0.0;

    friend bool operator==(const StripNode&, const StripNode&) = default;
};

/// A line along the car. Points are (along, height).
struct StripLine {
    StripRole role = StripRole::skirt;
    std::string name;  ///< Written at its rear end; empty for none.
    std::vector<Eigen::Vector2d> points_mm;
    std::vector<StripNode> nodes;  ///< Its nodes, forward to rearward; none for an outline.
    int rank = 0;                  ///< Where names are too many, the greatest go first.

    friend bool operator==(const StripLine&, const StripLine&) = default;
};

struct StripStation {
    std::string name;
    double along_mm = 0.0;

    friend bool operator==(const StripStation&, const StripStation&) = default;
};

struct StripDoor {
    std::string name;
    std::vector<Eigen::Vector2d> outline_mm;  ///< Shut lines and lower edge, (along, height).
    bool gaps_known = true;                   ///< Else it is the outline of what is known of its panel.

    friend bool operator==(const StripDoor&, const StripDoor&) = default;
};

struct StripMount {
    std::string name;
    Eigen::Vector2d at_mm = Eigen::Vector2d::Zero();  ///< (along, height) of its centre.
    core::MountKind kind = core::MountKind::hole;
    core::HoleShape shape = core::HoleShape::round;
    std::optional<double> size_mm;           ///< Diameter, or width.
    double length_mm = 0.0;                  ///< Of a slot, over all, along the car.
    std::optional<Eigen::Vector2d> sd_mm;    ///< Standard deviations along and across; none if not measured.
    std::optional<Eigen::Vector2d> part_mm;  ///< Hole in the part: length and width.
    std::optional<core::State> worst;        ///< Of its findings, if it is close or falls short.
    bool used = true;
    std::string words;  ///< "H4, slot 9 × 14, sd 0.5 along, 0.5 across"

    friend bool operator==(const StripMount&, const StripMount&) = default;
};

/// A box that must stay free, from its lower forward to its upper rearward corner.
struct StripKeepOut {
    std::string name;
    Eigen::Vector2d from_mm = Eigen::Vector2d::Zero();
    Eigen::Vector2d to_mm = Eigen::Vector2d::Zero();

    friend bool operator==(const StripKeepOut&, const StripKeepOut&) = default;
};

/// What a hand that moves a node of the skirt leaves as it is.
struct StripGround {
    double front_mm = 0.0, rear_mm = 0.0;     ///< All that is drawn lies between.
    double floor_mm = 0.0, ceiling_mm = 0.0;  ///< Heights shown.
    std::vector<StripStation> stations;
    std::vector<StripLine> body;
    std::vector<StripDoor> doors;

    friend bool operator==(const StripGround&, const StripGround&) = default;
};

/// A sill and its skirt unrolled along the car, ready to be drawn.
///
/// Units and frame: millimetres; (along, height): along rearward, height up: the side above the fold, the
///   underside below it (core/unrolling.h).
struct StripPicture {
    StripGround ground;
    std::vector<StripLine> lines;
    std::vector<StripMount> mounts;
    std::vector<StripKeepOut> keep_outs;
    std::string note;  ///< "being computed", where it is of an earlier state of the job.

    [[nodiscard]] bool empty() const { return ground.rear_mm <= ground.front_mm; }
    friend bool operator==(const StripPicture&, const StripPicture&) = default;
};

}  // namespace sillwright::app

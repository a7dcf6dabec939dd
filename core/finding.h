#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "geometry/units.h"

namespace sillwright::core {

/// How a finding stands. `close` holds with a margin smaller than the job's band.
enum class State { holds, close, falls_short, not_measured };

/// The stage of the work that a finding belongs to.
enum class Stage { measure, sections, mounts, swing, forming, buck, handover };

/// The unit of a finding's numbers.
enum class Unit { mm, deg, newton, none };

/// Where a finding is: as much of it as there is.
struct Place {
    std::string words;  ///< "at 3.9 · 700 mm, door at 6.2°"
    std::optional<geometry::Length> along;
    std::optional<Eigen::Vector3d> on_part_mm;  ///< (along, out, up)
    std::optional<Eigen::Vector3d> on_other_mm;
    std::optional<geometry::Angle> door_angle;
    std::string door{};      ///< Name of the door that it is about; empty if none.
    std::string mount{};     ///< Name of the mount that it is about; empty if none.
    std::string keep_out{};  ///< Name of the keep-out that it is about; empty if none.

    friend bool operator==(const Place&, const Place&) = default;
};

/// A number that went into a finding, with its unit in the text.
struct Input {
    std::string name;
    std::string value;

    friend bool operator==(const Input&, const Input&) = default;
};

/// A standard deviation that went into a finding's requirement, in the finding's unit.
struct UnsureBy {
    std::string name;
    double sd = 0.0;

    friend bool operator==(const UnsureBy&, const UnsureBy&) = default;
};

/// One node of the job moved by (out, up).
struct NodeMove {
    std::string node_id;
    Eigen::Vector2d by_mm = Eigen::Vector2d::Zero();

    friend bool operator==(const NodeMove&, const NodeMove&) = default;
};

/// One field of the job written anew, as the job file has it.
struct FieldChange {
    std::string pointer;  ///< JSON pointer (RFC 6901): "/mounts/2/part_slot".
    std::string json;     ///< "14.5"; a list is written whole.

    friend bool operator==(const FieldChange&, const FieldChange&) = default;
};

/// A change that brings a finding's margin to zero or above, and the margin that was
/// computed with the change made.
struct Mend {
    std::string words;
    std::vector<NodeMove> moves;          ///< Moves and changes are empty where words alone can say it.
    std::optional<double> proven_margin;  ///< In the finding's unit, recomputed.
    std::vector<FieldChange> changes{};   ///< Made after the moves.

    [[nodiscard]] bool can_be_taken() const { return !moves.empty() || !changes.empty(); }

    friend bool operator==(const Mend&, const Mend&) = default;
};

/// Whether mends are looked for where something falls short: that takes most of the time then.
enum class Mends { leave, look_for };

/// Opening angles of a door between which it touches, or may touch.
struct AngleRange {
    geometry::Angle from, to;

    friend bool operator==(const AngleRange&, const AngleRange&) = default;
};

/// One checked fact.
///
/// Numbers: in `unit`, full precision. `margin` = found - required where found
///   must be at least the required, required - found where at most; negative
///   falls short. A number that is not known is empty; where bodies cross, found is
///   the negative of a depth that is reached at least.
struct Finding {
    std::string id;     ///< Stable: "swing/front door/moving".
    std::string title;  ///< "Front door moving, to skirt"
    Stage stage = Stage::mounts;
    State state = State::not_measured;
    Unit unit = Unit::mm;
    std::optional<double> found, required, margin;
    bool at_least = true;  ///< Found must be at least required; else at most.
    Place place;
    std::string why;      ///< One sentence.
    std::string formula;  ///< In words and symbols.
    std::string source;   ///< A publication, or "common practice, no source".
    std::vector<Input> inputs;
    std::vector<UnsureBy> unsure_by{};  ///< Largest first: what to measure better first.
    std::vector<std::string> missing;   ///< What must be measured, if state is not_measured.
    std::vector<AngleRange> touching;   ///< Contact is an interval of angles, never a distance of zero.
    std::optional<Mend> mend;

    friend bool operator==(const Finding&, const Finding&) = default;
};

}  // namespace sillwright::core

#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/entry.h"
#include "geometry/units.h"

/// The measuring book as it was written under the car: plain values. Nothing that was read is
/// ever altered; what is left out of the computation stays, with the reason.
///
/// Units and frame: the job's own frame (along, out, up). "Level" and "plumb" mean gravity in the
///   set-up of the reading, which may lean in the job's frame.
/// Not measured: an empty optional. Never a zero.
namespace sillwright::core::survey {

/// What was read. Points of a reading stand in this order:
enum class ReadingKind {
    tie,     ///< from, to: slope distance by tape.
    height,  ///< from, to: how much higher `to` is, plumb in its set-up; negative if lower.
    offset,  ///< string's start, string's end, point: level distance from the plumb plane through the
             ///< string; positive on the outer side (towards +out).
    plane,   ///< three points of a plane, point: distance from it; positive on the outer or upper side.
    along,   ///< from, to: difference in the job's along.
    out,     ///< from, to: difference in the job's out.
    up,      ///< from, to: difference in the job's up.
    gauge,   ///< from, to: `value` is the difference in out, `up` that in up, in the section plane through
             ///< `from`; all readings of one `trace` share the gauge's unknown tilt in that plane.
    gap,     ///< from, to: distance by gauge or calliper. Or one point: a number at that place, with no coordinates.
    depth,   ///< As gap.
    angle,   ///< at, from, to: the angle at `at` between the two.
    slope,   ///< from, to: how steeply the line rises above level in its set-up.
};

enum class InstrumentKind { tape, rule, calliper, level, plumb, gauge, gap_gauge, protractor };

/// Accuracy classes of tapes by Directive 2014/32/EU, annex X (MI-008), chapter I.
enum class TapeClass { i, ii, iii };

/// How sure a reading by it is. `sd` and `angle_sd` win over all others.
struct Instrument {
    std::string name;  ///< Unique.
    InstrumentKind kind = InstrumentKind::tape;
    std::optional<TapeClass> tape_class;
    bool hook = false;               ///< Read from the tape's hook, or with one end on a surface.
    std::optional<Entry> reader_sd;  ///< Of holding and reading it.
    std::optional<Entry> sd;
    std::optional<geometry::Angle> angle_sd;
    Unknown unknown{};

    friend bool operator==(const Instrument&, const Instrument&) = default;
};

/// How the car stood while readings were made.
struct SetUp {
    std::string name;    ///< "wheels", "lift", unique.
    bool level = false;  ///< Its plumb line is the job's up; roll and pitch are zero.
    /// Lean of its plumb line in the job's frame: outward (roll), rearward (pitch). Unknown, and
    /// found from the readings, if not given; measured with `lean_sd`, or held if that is not given.
    std::optional<geometry::Angle> roll, pitch, lean_sd;
    Unknown unknown{};

    friend bool operator==(const SetUp&, const SetUp&) = default;
};

enum class PointKind { mark, mount, door_target, profile, other };

/// What is known of a point beside its readings. A point needs no entry here to be used in a reading.
struct Point {
    std::string name;  ///< Unique.
    PointKind kind = PointKind::mark;
    std::optional<Entry> along, out, up;  ///< Coordinates that are held; 3-2-1 holds three, two and one.
    std::optional<Entry> sd;              ///< Of the held coordinates; not given: they are exact.
    /// Roughly where it is: tells one of two mirrored solutions from the other, is no reading.
    std::optional<Entry> about_along, about_out, about_up;
    std::string note;
    Unknown unknown{};

    friend bool operator==(const Point&, const Point&) = default;
};

struct Reading {
    std::string id;  ///< Unique in the book, kept for life.
    ReadingKind kind = ReadingKind::tie;
    std::vector<std::string> points;       ///< Names, in the order of the kind.
    std::optional<Entry> value;            ///< Of every kind but angle and slope.
    std::optional<Entry> up;               ///< Of a gauge: its second number.
    std::optional<geometry::Angle> angle;  ///< Of angle and slope.
    std::string trace;                     ///< Of a gauge: which laying-on of it. Empty: one for each `from`.
    std::string set_up;                    ///< Empty: the first in the book.
    std::string instrument;                ///< Empty: the usual one of the kind.
    std::optional<Entry> sd;               ///< Instead of the instrument's.
    std::optional<geometry::Angle> angle_sd;
    std::string dropped;  ///< Why it is left out; empty if it counts.
    std::string note;
    Unknown unknown{};

    friend bool operator==(const Reading&, const Reading&) = default;
};

/// Targets on a door measured at several openings: target "T1" at opening 2 is the point "T1/2".
struct HingeSet {
    std::string door;                  ///< Name of a door of the job.
    std::vector<std::string> targets;  ///< "T1", "T2", ...
    Unknown unknown{};

    friend bool operator==(const HingeSet&, const HingeSet&) = default;
};

struct Book {
    std::string who;                    ///< Who measured.
    std::string date;                   ///< ISO 8601.
    std::optional<double> temperature;  ///< Degrees Celsius.
    std::vector<SetUp> set_ups;         ///< None: one, level.
    std::vector<Instrument> instruments;
    std::vector<Point> points;
    std::vector<Reading> readings;  ///< In the order in which they were written.
    std::vector<HingeSet> hinges;
    Unknown unknown{};

    friend bool operator==(const Book&, const Book&) = default;
};

}  // namespace sillwright::core::survey

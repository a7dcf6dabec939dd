#pragma once

#include <Eigen/Core>
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "core/buck/buck.h"
#include "core/entry.h"
#include "core/forming/forming.h"
#include "core/handover/papers.h"
#include "core/holding/loads.h"
#include "core/mounts/fitting.h"
#include "core/road/road.h"
#include "core/survey/book.h"
#include "core/survey/underlay.h"
#include "geometry/units.h"

/// One vehicle side and the part made for it, as measured and decided: plain
/// values, in the order in which they stand in the job file.
///
/// Units and frame: places are along, out, up: along rearward, up upward, out
///   away from the car on either side; the job's own origin. Nothing here knows
///   a right hand from a left one except `Job::side`.
/// Not measured: an empty optional, an empty list. Never a zero.
namespace sillwright::core {

struct Position {
    Entry along, out, up;
    Unknown unknown{};

    friend bool operator==(const Position&, const Position&) = default;
};

/// A position of which not every number is measured yet.
struct PartPosition {
    std::optional<Entry> along, out, up;
    Unknown unknown{};

    friend bool operator==(const PartPosition&, const PartPosition&) = default;
};

/// A unit vector (along, out, up).
using Direction = Eigen::Vector3d;

enum class Side { left, right };

/// A marked place along the car at which sections are drawn.
struct Station {
    std::string name;
    Entry along;
    Unknown unknown;

    friend bool operator==(const Station&, const Station&) = default;
};

/// A named corner of a section; neighbours of one name run along the car.
struct Node {
    std::string id;    ///< Unique in the job, kept for life.
    std::string name;  ///< "shelf edge", "flange root", ... (glossary in DEVELOPERS.md).
    Entry out, up, radius;
    Unknown unknown;

    friend bool operator==(const Node&, const Node&) = default;
};

struct Section {
    std::string station;  ///< Name of a Station.
    std::vector<Node> nodes;
    Unknown unknown;

    friend bool operator==(const Section&, const Section&) = default;
};

/// The place at which a feature that has no node at the next station ends.
struct RunOut {
    std::string name;
    Entry along;
    Unknown unknown{};

    friend bool operator==(const RunOut&, const RunOut&) = default;
};

/// A body described by sections.
struct Drawn {
    std::vector<Section> sections;
    std::vector<RunOut> run_outs;
    Unknown unknown{};  ///< Of the job's body; a piece or a door's body has its own.

    [[nodiscard]] bool empty() const { return sections.empty(); }
    friend bool operator==(const Drawn&, const Drawn&) = default;
};

/// A mesh (STL, OBJ, PLY) or STEP file beside the job. Its numbers are x, y, z
/// of the car (x rearward, y to the driver's right, z up) in `unit`.
struct ShapeFile {
    std::string path;      ///< Relative to the job file's folder, never out of it.
    std::string checksum;  ///< SHA-256 in hex, or empty if not taken yet.
    BareUnit unit = BareUnit::mm;
    Unknown unknown{};

    friend bool operator==(const ShapeFile&, const ShapeFile&) = default;
};

/// Which face of the sheet the drawn line is.
enum class DrawnFace { inside, outside };

enum class MountKind { hole, stud, nut };
enum class HoleShape { round, slot, square };
enum class MountUse { flange, top_edge, unused };

/// A clip fills the hole of the body, a screw with a loose nut has play there, a fixed screw goes into a nut or
/// thread that does not move.
enum class FastenerKind { clip, screw, fixed_screw };

struct Fastener {
    std::string name;
    FastenerKind kind = FastenerKind::clip;
    std::optional<Entry> diameter;       ///< Of the shank that goes through the part.
    std::optional<Entry> head_diameter;  ///< Head or washer on the part.
    std::optional<Entry> grip_least, grip_most;
    std::optional<Entry> spacer;  ///< Between seat and flange, tape too; none means the flange lies on the seat.
    std::optional<Entry> hole_least, hole_most;  ///< Body holes that it fits.
    std::optional<Entry> tail;                   ///< How far it goes in behind the panel.
    std::optional<geometry::Force> holds;        ///< Force along its axis that it holds.
    bool slides = false;                         ///< A shoulder or a washer lets the flange slide below its head.
    Unknown unknown;

    friend bool operator==(const Fastener&, const Fastener&) = default;
};

/// A factory clip hole, stud or nut on the body.
struct Mount {
    std::string name;  ///< "H1", unique.
    MountKind kind = MountKind::hole;
    HoleShape shape = HoleShape::round;
    MountUse use = MountUse::flange;
    Position at;                             ///< Centre, on the seat's outer face.
    Direction axis{0.0, 0.0, -1.0};          ///< Away from the body, towards the part.
    std::optional<Entry> size;               ///< Hole or thread diameter, or width across.
    std::optional<Entry> slot_length;        ///< Over all, along the car.
    std::optional<Entry> panel_thickness;    ///< Body panel at the mount.
    std::optional<Entry> free_depth;         ///< Behind the panel.
    std::array<std::optional<Entry>, 3> sd;  ///< Standard deviation of along, out, up.
    std::optional<Entry> part_hole;          ///< Diameter (or slot width) to be made in the part.
    std::optional<Entry> part_slot;          ///< Slot length over all, along the part; none for a round hole.
    std::optional<Entry> part_shift;         ///< Of its centre from where the axis lands, rearward; none: none.
    bool from_book = false;  ///< `at` and `sd` are kept as the measuring book's point of the same name has them.
    Fastener fastener;
    Unknown unknown;

    friend bool operator==(const Mount&, const Mount&) = default;
};

enum class KeepOutKind { jacking, drain, sensor, belt, high_voltage, line, exhaust, tyre, other };

enum class KeepOutShape { box, strip, wheel };

/// What must stay free: a box between two corners; a strip, round, along a line from end to end; the envelope of a
/// wheel, a cylinder across the car between the centres of its two faces.
struct KeepOut {
    std::string name;
    KeepOutKind kind = KeepOutKind::other;
    KeepOutShape shape = KeepOutShape::box;
    Position from, to;
    std::vector<Position> via;    ///< Of a strip: corners between its ends, in order.
    std::optional<Entry> radius;  ///< Of a strip or a wheel.
    std::optional<Entry> clearance;
    Unknown unknown;

    friend bool operator==(const KeepOut&, const KeepOut&) = default;
};

enum class DoorBodyKind { edge, cladding };

/// Something that swings with a door: its lower panel, or its cladding.
struct DoorBody {
    std::string name;
    DoorBodyKind kind = DoorBodyKind::edge;
    Drawn drawn;
    bool closed = true;             ///< The section is a closed outline; else a line with a sheet thickness.
    std::optional<Entry> sheet;     ///< For a line: thickness, laid to its right.
    std::optional<ShapeFile> file;  ///< Instead of sections.
    Unknown unknown;

    friend bool operator==(const DoorBody&, const DoorBody&) = default;
};

/// The hinge axis by the places of its two pins, on the door's outer hinge line.
struct Hinge {
    PartPosition lower, upper;
    std::optional<Position> sag_about;  ///< Where the sag turns; the middle of the pins if not given.
    bool from_book = false;             ///< The pins are kept as the book's hinge set of the same door has them.
    Unknown unknown{};

    friend bool operator==(const Hinge&, const Hinge&) = default;
};

/// How far the rear edge drops when the door is off its striker.
struct Sag {
    std::optional<Entry> drop;      ///< Positive is down.
    std::optional<Entry> distance;  ///< From the hinge to where the drop was read.
    double share_at_once = 1.0;  ///< Part of the drop that comes as the striker lets go; the rest grows with the angle.
    std::optional<Entry> sd;     ///< Standard deviation of the drop.
    Unknown unknown{};

    friend bool operator==(const Sag&, const Sag&) = default;
};

/// Travel inboard past shut when the door is slammed.
struct OverSlam {
    std::optional<Entry> travel;
    std::optional<Entry> distance;  ///< From the hinge to where the travel was read.
    Unknown unknown{};

    friend bool operator==(const OverSlam&, const OverSlam&) = default;
};

/// A corner of a door's side outline.
struct OutlinePoint {
    Entry along, up;
    Unknown unknown{};

    friend bool operator==(const OutlinePoint&, const OutlinePoint&) = default;
};

struct Door {
    std::string name;
    std::optional<Hinge> hinge;
    std::optional<geometry::Angle> opening;  ///< From shut to the stop.
    std::optional<Sag> sag;
    std::optional<OverSlam> over_slam;
    std::vector<DoorBody> bodies;
    std::vector<OutlinePoint> outline;  ///< Shut lines and lower corners; trims bodies drawn by sections.
    bool painted_after = false;         ///< Painted after it was measured: one more film in the gap.
    Unknown unknown;

    friend bool operator==(const Door&, const Door&) = default;
};

enum class FlangeMaking { formed_with_part, bent_after };

struct Flange {
    FlangeMaking making = FlangeMaking::formed_with_part;
    std::optional<Entry> inner_radius;       ///< Of a bend made after.
    std::optional<double> neutral_fraction;  ///< Neutral line in the bend, part of the thickness from inside.
    std::optional<geometry::Angle> springback;
    std::optional<Entry> thickness;     ///< Of the formed flange, measured or computed; none: that of the sheet.
    std::optional<Entry> thickness_sd;  ///< Standard deviation of it.
    Unknown unknown;

    friend bool operator==(const Flange&, const Flange&) = default;
};

enum class TopEdgeFixing { screw, tape, none };

/// A groove along the shelf, hollow above.
struct Flute {
    std::string name;
    Entry offset;                      ///< Its middle from the shelf edge, inward along the shelf.
    Entry width, depth;                ///< Across the mouth, and square to the shelf.
    Entry bottom_radius;               ///< Of the two corners at its bottom.
    std::optional<Entry> front, rear;  ///< Where it runs out; none: it goes through.
    std::string bit;                   ///< Name of the router bit that cuts it; empty: the one proposed.
    Unknown unknown{};

    friend bool operator==(const Flute&, const Flute&) = default;
};

enum class RecessFace { shelf, face };

/// A shallow place for a badge, hollow outside.
struct Recess {
    std::string name;
    RecessFace on = RecessFace::face;
    Entry along;          ///< Its middle.
    Entry offset;         ///< Its middle: from the shelf edge inward along the shelf, or from the bead down the face.
    Entry length, width;  ///< At its mouth, along the car and across.
    Entry depth;
    Entry corner_radius;  ///< Of its outline.
    std::string bit;      ///< Name of the router bit that cuts it; empty: the one proposed.
    Unknown unknown{};

    friend bool operator==(const Recess&, const Recess&) = default;
};

/// A hole at the part's lowest line that lets water out.
struct DrainHole {
    Entry along, size;
    Unknown unknown{};

    friend bool operator==(const DrainHole&, const DrainHole&) = default;
};

/// One piece of the skirt.
struct Piece {
    std::string name;
    std::string carried_by;  ///< "body", or the name of the door that it swings with.
    Drawn drawn;             ///< From top return end to flange end; the outside is on the line's left.
    DrawnFace drawn_face = DrawnFace::inside;
    std::optional<Entry> sheet;
    std::optional<ShapeFile> file;                   ///< Instead of sections.
    bool front_closed = false, rear_closed = false;  ///< End caps.
    Flange flange;
    std::optional<TopEdgeFixing> top_edge;
    std::vector<Flute> flutes;
    std::vector<DrainHole> drains;
    std::vector<Recess> recesses;
    Unknown unknown;

    friend bool operator==(const Piece&, const Piece&) = default;
};

struct Skirt {
    std::vector<Piece> pieces;
    Material material;
    std::optional<Entry> paint;       ///< Film on the painted outside.
    std::optional<Entry> forming_sd;  ///< Standard deviation of the formed surface.
    Unknown unknown;

    friend bool operator==(const Skirt&, const Skirt&) = default;
};

/// What the maker asks for. Defaults are common practice, no source.
struct Limits {
    Entry gap_shut{geometry::millimetres(6.0), ""};
    Entry gap_moving_edge{geometry::millimetres(5.0), ""};
    Entry gap_moving_cladding{geometry::millimetres(8.0), ""};
    double edge_distance_diameters = 2.0;             ///< Hole centre to a flange's free edge, in fastener diameters.
    Entry bend_room{geometry::millimetres(1.0), ""};  ///< Beside the head or washer at the bend.
    Entry seat_gap{geometry::millimetres(0.5), ""};   ///< Largest gap between flange and seat (or spacer).
    geometry::Angle seat_angle = geometry::degrees(3.0);
    Entry close_band{geometry::millimetres(1.0), ""};      ///< A smaller margin is called close.
    Entry pitch_most{geometry::millimetres(260.0), ""};    ///< Between neighbouring fasteners.
    Entry overhang_most{geometry::millimetres(75.0), ""};  ///< From the last fastener to the part's end.
    double hole_pitch_diameters = 3.0;                     ///< Least distance of hole centres, in fastener diameters.
    Entry tail_room{geometry::millimetres(3.0), ""};       ///< Behind a fastener's tail.
    double line_up_least = 0.999;                          ///< Probability that every fastener goes home.
    Unknown unknown;

    friend bool operator==(const Limits&, const Limits&) = default;
};

struct Job {
    std::string vehicle;  ///< As the maker calls it.
    std::string revision;
    std::string date;  ///< ISO 8601.
    Side side = Side::right;
    BareUnit unit = BareUnit::mm;
    std::optional<Entry> zero_to_midplane;  ///< From the line where out is zero to the car's mid-plane.
    std::optional<Entry> survey_sd;         ///< Of a point on the body or on the shut door.
    survey::Book book;                      ///< The measuring book.
    std::string other_hand;                 ///< Job file of the car's other side: path relative to this one's folder.
    std::vector<survey::Photo> photos;
    std::vector<survey::Scan> scans;
    std::vector<Station> stations;
    Drawn body;  ///< Rocker, pinch weld, floor edge; open lines.
    std::vector<Mount> mounts;
    std::vector<KeepOut> keep_outs;
    std::vector<Door> doors;
    Skirt skirt;
    Fitting fitting;
    Loads loads;
    Road road;
    Forming forming;
    Buck buck;
    Papers papers;
    Limits limits;
    Unknown unknown;

    friend bool operator==(const Job&, const Job&) = default;
};

}  // namespace sillwright::core

#pragma once

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "core/car_model.h"
#include "core/job.h"
#include "core/sill_frame.h"
#include "core/swing/swing_check.h"

/// An invented car whose gaps can be worked out by hand: a door that is a plain box
/// over a skirt that is a flat, wide shelf.
namespace sillwright::core::swing_world {

using Eigen::Vector3d;

inline Entry mm(double value) {
    return {geometry::millimetres(value), ""};
}

inline constexpr double k_deg = std::numbers::pi / 180.0;

struct Corner {
    std::string name;
    double out, up;
};

/// Stations "1" to "5".
inline const std::vector<double>& places() {
    static const std::vector<double> all{-200.0, 0.0, 500.0, 1000.0, 1300.0};
    return all;
}

/// The same section at the stations from number `first` to number `last`. `id` keeps node ids apart.
inline Drawn straight(const std::string& id, const std::vector<Corner>& corners, int first, int last) {
    Drawn drawn;
    for (int station = first; station <= last; ++station) {
        const std::string n = std::to_string(station);
        Section section{n, {}, {}};
        for (const Corner& corner : corners) {
            section.nodes.push_back(
                {id + n + " " + corner.name, corner.name, mm(corner.out), mm(corner.up), mm(0), {}});
        }
        drawn.sections.push_back(std::move(section));
    }
    return drawn;
}

inline Piece piece(const std::string& name, const std::vector<Corner>& corners) {
    Piece piece;
    piece.name = name;
    piece.carried_by = "body";
    piece.sheet = mm(3);
    piece.drawn = straight(name, corners, 1, 5);
    return piece;
}

/// Its inside is drawn at up 100, so its outside is at up 103; it reaches under all of the swing.
inline constexpr double k_shelf_mm = 103.0;
inline Piece shelf() {
    return piece("skirt", {{"shelf inner", -300, 100}, {"shelf edge", 1300, 100}});
}

/// A box from along 0 to 1000, out 0 to 30, up `bottom` to `bottom` + 200.
inline DoorBody box(const std::string& name, double bottom, DoorBodyKind kind = DoorBodyKind::edge) {
    DoorBody body;
    body.name = name;
    body.kind = kind;
    body.drawn = straight(name,
                          {{"inner foot", 0, bottom},
                           {"outer foot", 30, bottom},
                           {"outer top", 30, bottom + 200},
                           {"inner top", 0, bottom + 200}},
                          2, 4);
    return body;
}

/// Pins at up 300 and 700, out 15; the upper one displaced by `along`, `out`.
inline Hinge hinge(double at, double along = 0.0, double out = 0.0) {
    return {{mm(at), mm(15), mm(300)}, {mm(at + along), mm(15 + out), mm(700)}, {}, {}};
}

/// The middle of the pins.
inline Vector3d middle(const Hinge& hinge) {
    return 0.5 * (*in_mm(hinge.lower) + *in_mm(hinge.upper));
}

inline constexpr double k_opening_deg = 70.0;

inline Door door(const Hinge& hinge, double bottom) {
    Door door;
    door.name = "front door";
    door.hinge = hinge;
    door.opening = geometry::degrees(k_opening_deg);
    door.sag = Sag{mm(0), mm(1000), 1.0, mm(0.5), {}};
    door.over_slam = OverSlam{mm(0), mm(1000), {}};
    door.bodies = {box("lower edge", bottom)};
    return door;
}

inline Job job(Piece piece, Door door) {
    Job job;
    for (std::size_t i = 0; i < places().size(); ++i) {
        job.stations.push_back({std::to_string(i + 1), mm(places()[i]), {}});
    }
    job.survey_sd = mm(0.5);
    job.skirt.paint = mm(0.1);
    job.skirt.forming_sd = mm(0.6);
    job.skirt.pieces.push_back(std::move(piece));
    job.doors.push_back(std::move(door));
    return job;
}

/// Hem at `bottom`, hinge upright.
inline Job upright(double bottom) {
    return job(shelf(), door(hinge(0), bottom));
}

inline CarModel model_of(const Job& job, const std::filesystem::path& folder = ".") {
    auto car = car_model(job, folder);
    EXPECT_TRUE(car.has_value()) << (car ? "" : car.error().message);
    return car ? std::move(car).value() : CarModel{};
}

inline std::vector<Finding> swing_of(const Job& job, const std::filesystem::path& folder = ".") {
    const CarModel car = model_of(job, folder);
    auto report = check_swing(job, car);
    EXPECT_TRUE(report.has_value()) << (report ? "" : report.error().message);
    return report ? report.value().findings : std::vector<Finding>{};
}

inline const Finding* one_of(const std::vector<Finding>& findings, const std::string& id) {
    const auto found =
        std::find_if(findings.begin(), findings.end(), [&](const Finding& finding) { return finding.id == id; });
    return found == findings.end() ? nullptr : &*found;
}

/// A test failure, and an empty finding, if there is none.
inline Finding swing_finding(const Job& job, const std::string& what, const std::filesystem::path& folder = ".") {
    const std::vector<Finding> findings = swing_of(job, folder);
    const Finding* found = one_of(findings, "swing/" + job.doors.front().name + "/" + what);
    EXPECT_NE(found, nullptr) << what;
    return found != nullptr ? *found : Finding{};
}

/// Rodrigues: v turned about the unit direction u.
inline Vector3d turned(const Vector3d& v, const Vector3d& u, double angle) {
    return v * std::cos(angle) + u.cross(v) * std::sin(angle) + u * (u.dot(v) * (1.0 - std::cos(angle)));
}

/// A door's motion by hand: the sag first, about a line across the car, then the turn about the pins.
struct ByHand {
    Vector3d at, u;
    double sag_at_once = 0.0, sag_growth = 0.0;  ///< Radians; rearward comes down.

    [[nodiscard]] Vector3d moved(const Vector3d& p, double angle) const {
        const double sag = sag_at_once + sag_growth * angle / (k_opening_deg * k_deg);
        const Vector3d v = p - at;
        const Vector3d sagged(v.x() * std::cos(sag) + v.z() * std::sin(sag), v.y(),
                              v.z() * std::cos(sag) - v.x() * std::sin(sag));
        return at + turned(sagged, u, angle);
    }
};

inline ByHand by_hand(const Hinge& hinge) {
    return {middle(hinge), (middle(hinge) - *in_mm(hinge.lower)).normalized(), 0.0, 0.0};
}

/// The lowest that a corner of the box with its hem at `bottom` comes while it opens: heights are smooth in the
/// angle, so that a step of 0.001 degrees misses less than r h^2 / 8, 4e-8 mm.
inline double lowest(const ByHand& motion, double bottom, double from_deg, double to_deg) {
    double least = 1e9;
    for (const double along : {0.0, 1000.0}) {
        for (const double out : {0.0, 30.0}) {
            const int steps = static_cast<int>(std::lround((to_deg - from_deg) * 1000.0));
            for (int i = 0; i <= steps; ++i) {
                const double angle = (from_deg + i * 0.001) * k_deg;
                least = std::min(least, motion.moved({along, out, bottom}, angle).z());
            }
        }
    }
    return least;
}

}  // namespace sillwright::core::swing_world

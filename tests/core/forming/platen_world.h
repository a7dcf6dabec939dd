#pragma once

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <string>
#include <utility>
#include <vector>

#include "core/drawn_loft.h"
#include "core/edit/mend_edit.h"
#include "core/forming/draw.h"
#include "core/forming/platen.h"
#include "core/job.h"
#include "core/typed.h"
#include "geometry/loft.h"

/// An invented skirt whose silhouette can be worked out by hand: the same C everywhere, 1900 mm long.
namespace sillwright::core::platen_world {

inline Entry mm(double value) {
    return entry(geometry::millimetres(value));
}

inline constexpr double k_length_mm = 1900.0, k_sheet_mm = 3.0;
/// Drawn from up 20 to up 120 with the sheet outside, and from out 40 to out 150.
inline constexpr double k_width_mm = 100.0 + 2.0 * k_sheet_mm, k_depth_mm = 110.0 + k_sheet_mm;
inline constexpr double k_trim_mm = 20.0, k_clamp_mm = 50.0;

/// The section turned about the origin by an angle, so that a draw direction of that tilt sees it straight.
inline Job job_of(double leant_deg = 0.0) {
    Job job;
    Piece piece;
    piece.name = "skirt";
    piece.carried_by = "body";
    piece.sheet = mm(k_sheet_mm);
    job.skirt.material.name = "ABS";
    const Eigen::Rotation2Dd turn(geometry::in_rad(geometry::degrees(leant_deg)));
    for (const auto& [station, along] : {std::pair{"1", 0.0}, {"2", 700.0}, {"3", k_length_mm}}) {
        job.stations.push_back(Station{station, mm(along), {}});
        Section section{station, {}, {}};
        for (const auto& [name, at, radius] : {std::tuple{"top return end", Eigen::Vector2d(60, 120), 0.0},
                                               {"shelf edge", Eigen::Vector2d(150, 120), 6.0},
                                               {"lower edge", Eigen::Vector2d(150, 20), 8.0},
                                               {"flange end", Eigen::Vector2d(40, 20), 0.0}}) {
            const Eigen::Vector2d p = turn * at;
            section.nodes.push_back(
                Node{std::string(station) + " " + name, name, mm(p.x()), mm(p.y()), mm(radius), {}});
        }
        piece.drawn.sections.push_back(std::move(section));
    }
    job.skirt.pieces.push_back(std::move(piece));
    job.forming.mould = MouldKind::male;
    job.forming.trim_allowance = mm(k_trim_mm);
    job.forming.clamp_distance = mm(k_clamp_mm);
    job.forming.machine = "window 1830 × 610";
    return job;
}

inline Machine machine_of_size(const std::string& name, double length, double width) {
    Machine machine;
    machine.name = name;
    machine.length = mm(length);
    machine.width = mm(width);
    machine.clamp_margin = mm(25);
    machine.draw_depth = mm(400);
    machine.sheet_most = mm(6);
    machine.oven_length = mm(length);
    machine.oven_width = mm(width);
    return machine;
}

/// A chain whose sheet shrinks by a share, off a mould that is as much warmer than drawn; nothing: cold.
inline std::vector<Generation> chain_to_sheet(double along, double across, double kelvins = 0.0) {
    Generation plug;
    plug.name = "plug";
    plug.kind = GenerationKind::plug;
    Generation sheet;
    sheet.name = "sheet";
    sheet.kind = GenerationKind::sheet;
    sheet.shrink_along = along;
    sheet.shrink_across = across;
    sheet.shrink_sd = 0.0003;
    if (kelvins > 0.0) {
        sheet.hot = geometry::celsius(geometry::in_celsius(Job{}.fitting.drawn) + kelvins);
        sheet.expansion_per_k = 25e-6;
    }
    return {plug, sheet};
}

inline void add_mount(Job& job, const std::string& name, double along) {
    Mount mount;
    mount.name = name;
    mount.at = Position{mm(along), mm(45), mm(20), {}};
    job.mounts.push_back(std::move(mount));
}

inline void add_door(Job& job, const std::string& name, double front, double rear) {
    Door door;
    door.name = name;
    for (const auto& [along, up] : {std::pair{front, 340.0}, {front + 20, 150.0}, {rear - 20, 150.0}, {rear, 340.0}}) {
        door.outline.push_back(OutlinePoint{mm(along), mm(up), {}});
    }
    job.doors.push_back(std::move(door));
}

inline const Piece& piece_of(const Job& job) {
    return job.skirt.pieces.front();
}

inline geometry::Loft line_of(const Job& job) {
    return loft_of(job, piece_of(job).drawn, false, "skirt").value();
}

/// As the job's tilt is decided, else level; `from` to `to` are its enough tilts.
inline DrawPlan plan_of(const Job& job, double from_deg = 0.0, double to_deg = 0.0) {
    DrawPlan plan;
    plan.tilt = job.forming.tilt.value_or(geometry::degrees(0.0));
    plan.from = geometry::degrees(from_deg);
    plan.to = geometry::degrees(to_deg);
    return plan;
}

inline Platen platen_of(const Job& job, const DrawPlan& plan) {
    return platen(job, piece_of(job), line_of(job), plan);
}

inline Platen platen_of(const Job& job) {
    return platen_of(job, plan_of(job));
}

inline Finding finding_of(const Job& job, const std::string& check, const DrawPlan& plan, Mends mends) {
    for (Finding& one : platen_findings(job, piece_of(job), line_of(job), plan, platen_of(job, plan), mends)) {
        if (one.id == "forming/skirt/" + check) {
            return std::move(one);
        }
    }
    ADD_FAILURE() << "no finding " << check;
    return {};
}

inline Finding finding_of(const Job& job, const std::string& check, Mends mends = Mends::leave) {
    return finding_of(job, check, plan_of(job), mends);
}

/// Takes a falling finding's mend and computes anew: it holds, as was promised. Returns the job as it is then.
inline Job mended(const Job& job, const std::string& check, double from_deg = 0.0, double to_deg = 0.0) {
    const Finding before = finding_of(job, check, plan_of(job, from_deg, to_deg), Mends::look_for);
    EXPECT_EQ(before.state, State::falls_short) << before.why;
    if (!before.mend || !before.mend->can_be_taken()) {
        ADD_FAILURE() << "nothing to take: " << (before.mend ? before.mend->words : before.why);
        return job;
    }
    const auto edit = take_mend(job, before);
    if (!edit) {
        ADD_FAILURE() << edit.error().message;
        return job;
    }
    const Job& after = edit.value().job;
    const Finding there = finding_of(after, check, plan_of(after, from_deg, to_deg), Mends::leave);
    EXPECT_GE(there.margin.value_or(-1.0), 0.0) << before.mend->words;
    EXPECT_NEAR(there.margin.value_or(-1.0), before.mend->proven_margin.value_or(-2.0), 1e-9) << before.mend->words;
    EXPECT_NE(there.state, State::falls_short);
    EXPECT_NE(there.state, State::not_measured);
    return after;
}

}  // namespace sillwright::core::platen_world

#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "core/drawn_loft.h"
#include "core/edit/mend_edit.h"
#include "core/forming/flute_lanes.h"
#include "core/job.h"

namespace sillwright::core {

inline Entry flute_mm(double value) {
    return {geometry::millimetres(value), ""};
}

/// One section of a piece whose shelf is level at up 100, from `inner` out to 240; where it turns up, its inner end
/// stands `wall` above the shelf, straight; all corners are sharp.
struct FluteSection {
    double along = 0.0, inner = 0.0, wall = 0.0;
};

/// A piece of those sections, drawn inside, sheet of 3; a hand router with a base plate of radius 75; a board of 12; a
/// male mould, drawn straight outward, from which the part can be sprung over 20.
inline Job flute_world(const std::vector<FluteSection>& sections, std::vector<Flute> flutes = {}) {
    Job job;
    Piece piece;
    piece.name = "skirt";
    piece.carried_by = "body";
    piece.sheet = flute_mm(3);
    for (std::size_t i = 0; i < sections.size(); ++i) {
        const std::string n = std::to_string(i + 1);
        const FluteSection& one = sections[i];
        job.stations.push_back(Station{n, flute_mm(one.along), {}});
        const auto node = [&n](const std::string& name, double out, double up) {
            return Node{"s" + n + " " + name, name, flute_mm(out), flute_mm(up), flute_mm(0), {}};
        };
        const bool stands = one.wall > 0.0;
        piece.drawn.sections.push_back(
            Section{n,
                    {node("top return end", one.inner - (stands ? 0.0 : 40.0), 100 + one.wall),
                     node("shelf inner", one.inner, 100), node("shelf edge", 240, 100), node("bead", 250, 90),
                     node("knee", 250, 30), node("lower edge", 240, 20), node("flange root", 100, 20),
                     node("flange end", 60, 20)},
                    {}});
    }
    piece.flutes = std::move(flutes);
    job.skirt.pieces.push_back(std::move(piece));
    job.forming.mould = MouldKind::male;
    job.forming.tilt = geometry::degrees(0);
    job.forming.undercut_most = flute_mm(20);
    job.forming.router.base_radius = flute_mm(75);
    job.forming.router.board = flute_mm(12);
    return job;
}

/// As the 24 round nose cuts it 6 deep, from 100 to 900.
inline Flute round_flute(const std::string& name, double offset) {
    return {name, flute_mm(offset), flute_mm(20.78), flute_mm(6), flute_mm(12), flute_mm(100), flute_mm(900), "", {}};
}

inline geometry::Loft flute_line(const Job& job) {
    auto line = loft_of(job, job.skirt.pieces[0].drawn, false, "skirt");
    EXPECT_TRUE(line.has_value()) << (line ? "" : line.error().message);
    return std::move(line).value();
}

inline std::vector<FluteLane> lanes_of(const Job& job) {
    return flute_lanes(job, job.skirt.pieces[0], flute_line(job), nullptr);
}

inline std::vector<Finding> flute_findings_of(const Job& job, Mends mends = Mends::look_for) {
    const geometry::Loft line = flute_line(job);
    const Piece& piece = job.skirt.pieces[0];
    return flute_findings(job, piece, line, nullptr, flute_lanes(job, piece, line, nullptr), mends);
}

/// What is said of "forming/skirt/<rest>"; a test failure, and an empty one, if there is none.
inline Finding flute_finding(const Job& job, const std::string& rest, Mends mends = Mends::leave) {
    const auto all = flute_findings_of(job, mends);
    const auto found =
        std::find_if(all.begin(), all.end(), [&](const Finding& one) { return one.id == "forming/skirt/" + rest; });
    EXPECT_NE(found, all.end()) << rest;
    return found == all.end() ? Finding{} : *found;
}

/// Takes the mend of a finding that falls short, computes anew and sees it hold by the margin that was promised.
inline Job mended(const Job& job, const std::string& rest) {
    const Finding before = flute_finding(job, rest, Mends::look_for);
    EXPECT_TRUE(before.mend && before.mend->can_be_taken())
        << rest << ": " << before.why << " " << (before.mend ? before.mend->words : "no mend");
    const auto edit = take_mend(job, before);
    EXPECT_TRUE(edit.has_value()) << (edit ? "" : edit.error().message);
    if (!edit) {
        return job;
    }
    const Finding after = flute_finding(edit.value().job, rest);
    EXPECT_TRUE(after.state == State::holds || after.state == State::close) << after.why;
    EXPECT_NEAR(after.margin.value_or(-1.0), before.mend->proven_margin.value_or(-2.0), 1e-7) << before.mend->words;
    return edit.value().job;
}

}  // namespace sillwright::core

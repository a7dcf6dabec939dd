#pragma once

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <string>
#include <utility>
#include <vector>

#include "core/drawn_loft.h"
#include "core/forming/draw.h"
#include "core/job.h"
#include "tests/core/edit/bench_job.h"

/// Skirts of known draft.
namespace sillwright::core::draw_world {

inline constexpr double k_deg = std::numbers::pi / 180.0;

inline Entry mm(double value) {
    return {geometry::millimetres(value), ""};
}

struct Spot {
    std::string name;
    double out, up, radius = 0.0;
};
using Spots = std::vector<Spot>;

/// A piece through sections so far apart, formed over a male mould.
inline Job job_of(const std::vector<Spots>& sections, double apart = 200.0) {
    Job job;
    Piece piece;
    piece.name = "skirt";
    piece.carried_by = "body";
    piece.sheet = mm(3);
    for (std::size_t i = 0; i < sections.size(); ++i) {
        const std::string station = std::to_string(i + 1);
        job.stations.push_back({station, mm(apart * static_cast<double>(i)), {}});
        Section section{station, {}, {}};
        for (const Spot& spot : sections[i]) {
            section.nodes.push_back(
                {station + " " + spot.name, spot.name, mm(spot.out), mm(spot.up), mm(spot.radius), {}});
        }
        piece.drawn.sections.push_back(std::move(section));
    }
    job.skirt.pieces.push_back(std::move(piece));
    job.forming.mould = MouldKind::male;
    return job;
}

inline geometry::Loft line_of(const Job& job) {
    auto line = loft_of(job, job.skirt.pieces[0].drawn, false, "the skirt");
    EXPECT_TRUE(line) << (line ? "" : line.error().message);
    return std::move(line).value();
}

inline DrawPlan plan_of(const Job& job) {
    return draw_plan(job, job.skirt.pieces[0], line_of(job));
}

inline const StripDraft& strip(const DrawPlan& plan, const std::string& from, const std::string& to) {
    static const StripDraft none{};
    for (const StripDraft& one : plan.strips) {
        if (one.from == from && one.to == to) {
            return one;
        }
    }
    ADD_FAILURE() << "no strip " << from << " to " << to;
    return none;
}

inline double least_deg(const DrawPlan& plan) {
    double least = 90.0;
    for (const StripDraft& one : plan.strips) {
        least = std::min(least, geometry::in_deg(one.least));
    }
    return least;
}

/// Shelf over an upright face over an underside, both walls 60 mm deep: the angles by which they open.
inline Spots c_section(double shelf_deg, double under_deg, double radius = 0.0) {
    return {{"shelf inner", 40, 80 + 60 * std::tan(shelf_deg * k_deg)},
            {"shelf edge", 100, 80, radius},
            {"lower edge", 100, 0, radius},
            {"flange root", 40, -60 * std::tan(under_deg * k_deg)}};
}

inline Spots turned(Spots spots, double by_deg) {
    const double c = std::cos(by_deg * k_deg);
    const double s = std::sin(by_deg * k_deg);
    for (Spot& spot : spots) {
        const double out = spot.out;
        spot.out = c * out - s * spot.up;
        spot.up = s * out + c * spot.up;
    }
    return spots;
}

/// A skirt as it is drawn before anybody thinks of its mould: shelf and underside are nearly parallel. It bows out and
/// rises to the rear.
inline Job estate_of_parallel_walls() {
    const Spots first{{"top return end", 61.4, 119.6}, {"shelf inner", 82, 118.4, 6}, {"shelf edge", 142, 116.3, 5},
                      {"bead", 154, 108, 8},           {"knee", 147, 24, 6},          {"lower edge", 138, 12, 6},
                      {"flange root", 70, 15.77, 6},   {"flange end", 34, 15.14}};
    Job job = bench::estate();
    auto& sections = job.skirt.pieces[0].drawn.sections;
    for (std::size_t i = 0; i < sections.size(); ++i) {
        EXPECT_EQ(sections[i].nodes.size(), first.size());
        const double bow = 6.0 * std::sin(std::numbers::pi * static_cast<double>(i) / 9.0);
        const double rise = 0.3 * static_cast<double>(i);
        for (std::size_t k = 0; k < first.size(); ++k) {
            EXPECT_EQ(sections[i].nodes[k].name, first[k].name);
            sections[i].nodes[k].out = mm(first[k].out + bow);
            sections[i].nodes[k].up = mm(first[k].up + rise);
            sections[i].nodes[k].radius = mm(first[k].radius);
        }
    }
    job.forming.mould = MouldKind::male;
    return job;
}

}  // namespace sillwright::core::draw_world

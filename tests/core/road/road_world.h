#pragma once

#include <gtest/gtest.h>

#include <filesystem>
#include <functional>
#include <string>
#include <utility>
#include <vector>

#include "core/car_model.h"
#include "core/edit/mend_edit.h"
#include "core/finding.h"
#include "core/job.h"

/// An invented skirt whose sections can be worked out by hand: four stations, 500 mm apart, on a car whose ground is
/// at up 0.
namespace sillwright::core::road_world {

inline Entry mm(double value) {
    return {geometry::millimetres(value), ""};
}

struct Corner {
    std::string name;
    double out, up, radius = 0.0;
};

inline constexpr double k_sheet_mm = 3.0, k_paint_mm = 0.1;
inline constexpr double k_outside_mm = k_sheet_mm + k_paint_mm;

/// Shelf falls 4 over 100; face upright at out 200; its lower edge at up 150; a flange 20 higher.
inline std::vector<Corner> plain_section() {
    return {{"top return end", 80, 290}, {"shelf inner", 100, 284, 6}, {"shelf edge", 200, 280, 6},
            {"lower edge", 200, 150, 6}, {"flange root", 140, 170, 6}, {"flange end", 100, 170}};
}

/// `at` changes the section of each station (from 0).
inline Job job_of(const std::function<void(std::size_t, std::vector<Corner>&)>& at = {}) {
    Job job;
    Piece piece;
    piece.name = "skirt";
    piece.carried_by = "body";
    piece.sheet = mm(k_sheet_mm);
    for (std::size_t i = 0; i < 4; ++i) {
        const std::string n = std::to_string(i + 1);
        job.stations.push_back(Station{n, mm(500.0 * static_cast<double>(i)), {}});
        std::vector<Corner> corners = plain_section();
        if (at) {
            at(i, corners);
        }
        Section section{n, {}, {}};
        for (const Corner& corner : corners) {
            section.nodes.push_back(
                Node{n + " " + corner.name, corner.name, mm(corner.out), mm(corner.up), mm(corner.radius), {}});
        }
        piece.drawn.sections.push_back(std::move(section));
    }
    job.skirt.pieces.push_back(std::move(piece));
    job.skirt.paint = mm(k_paint_mm);
    job.skirt.forming_sd = mm(0.4);
    job.survey_sd = mm(0.3);
    job.road.ground = mm(0);
    job.road.front_wheel = mm(-400);
    job.road.rear_wheel = mm(2000);
    job.road.tyre_radius = mm(300);
    job.road.laden_drop = mm(20);
    job.road.bump = mm(50);
    return job;
}

/// 2 sqrt(0.3^2 + 0.4^2)
inline constexpr double k_twice_sd_mm = 1.0;

inline CarModel model_of(const Job& job) {
    auto car = car_model(job, ".");
    EXPECT_TRUE(car.has_value()) << (car ? "" : car.error().message);
    return car ? std::move(car).value() : CarModel{};
}

using Findings = std::function<std::vector<Finding>(const Job&, const CarModel&)>;

inline Finding finding_of(const Job& job, const Findings& findings, const std::string& id) {
    for (Finding& finding : findings(job, model_of(job))) {
        if (finding.id == id) {
            return std::move(finding);
        }
    }
    ADD_FAILURE() << "no finding " << id;
    return {};
}

/// Takes a falling finding's mend and computes anew: it holds, as was promised.
inline Job expect_mend_taken(const Job& job, const Findings& findings, const std::string& id, double most_over) {
    const Finding before = finding_of(job, findings, id);
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
    const Finding after = finding_of(edit.value().job, findings, id);
    EXPECT_TRUE(after.margin) << after.why;
    EXPECT_GE(after.margin.value_or(-1.0), 0.0) << before.mend->words;
    EXPECT_LE(after.margin.value_or(1e9), most_over) << before.mend->words;
    EXPECT_NEAR(after.margin.value_or(-1.0), before.mend->proven_margin.value_or(-2.0), 1e-9) << before.mend->words;
    return edit.value().job;
}

}  // namespace sillwright::core::road_world

#pragma once

#include <string>
#include <vector>

#include "core/edit/mend_edit.h"
#include "core/mounts/hole_plan.h"
#include "tests/core/mounts/flange_world.h"

namespace sillwright::core {

/// The flat flange of flange_world.h, ABS on steel, with mounts H1, H2, ... at these places along it: all exactly
/// known, cut exactly, fitted at 20 °C as drawn, hot and cold at +60 and -50 K from there.
inline Job fitting_world(const std::vector<double>& alongs) {
    Job job = flat_world();
    job.mounts.clear();
    for (std::size_t i = 0; i < alongs.size(); ++i) {
        Mount mount = world_mount("H" + std::to_string(i + 1));
        mount.at.along = mm(alongs[i]);
        mount.sd = {mm(0), mm(0), mm(0)};
        job.mounts.push_back(mount);
    }
    job.skirt.material.name = "ABS";
    job.fitting.body_material = "steel";
    const auto both = [](double c) { return Warmth{geometry::celsius(c), geometry::celsius(c), {}}; };
    job.fitting.hot = both(80);
    job.fitting.cold = both(-30);
    job.fitting.fitted = both(20);
    job.fitting.part_half = mm(0);
    job.fitting.cutter_step = mm(0);
    return job;
}

inline CarModel car_of(const Job& job) {
    auto car = car_model(job, ".");
    EXPECT_TRUE(car.has_value()) << (car ? "" : car.error().message);
    return car ? std::move(car).value() : CarModel{};
}

inline MountPlan plan_of(const Job& job) {
    return mount_plan(job, car_of(job));
}

inline HolePlan hole_of(const Job& job, const std::string& mount) {
    const MountPlan plan = plan_of(job);
    const HolePlan* const hole = plan.find(mount);
    EXPECT_NE(hole, nullptr) << mount;
    return hole != nullptr ? *hole : HolePlan{};
}

/// What `findings` says of an id; a test failure, and an empty one, if there is none.
inline Finding named(const std::vector<Finding>& findings, const std::string& id) {
    const Finding* const found = find(findings, id);
    EXPECT_NE(found, nullptr) << "no finding " << id;
    return found != nullptr ? *found : Finding{};
}

/// Takes the mend of a finding that does not hold, computes anew and sees it hold, by the margin that was promised.
template <class Findings>
Job expect_taken(const Job& job, const std::string& id, const Findings& findings) {
    const Finding before = named(findings(job), id);
    EXPECT_TRUE(before.state == State::falls_short || before.state == State::not_measured) << before.why;
    EXPECT_TRUE(before.mend && before.mend->can_be_taken()) << id << ": " << before.why;
    const auto edit = take_mend(job, before);
    EXPECT_TRUE(edit.has_value()) << (edit ? "" : edit.error().message);
    if (!edit) {
        return job;
    }
    const Finding after = named(findings(edit.value().job), id);
    EXPECT_TRUE(after.state == State::holds || after.state == State::close) << after.why;
    EXPECT_TRUE(after.margin) << after.why;
    EXPECT_NEAR(after.margin.value_or(-1.0), before.mend->proven_margin.value_or(-2.0), 1e-7) << id;
    return edit.value().job;
}

}  // namespace sillwright::core

#pragma once

#include <gtest/gtest.h>

#include <cmath>
#include <string>
#include <vector>

#include "core/edit/mend_edit.h"
#include "core/keep_outs/keep_out_findings.h"
#include "tests/core/mounts/flange_world.h"

/// The world of flange_world.h (a flange flat at up 10, its outside at up 7, from out 150 to its end at out 110) with
/// something that must stay free.
namespace sillwright::core::keep_out_world {

inline Position place(double along, double out, double up) {
    return {mm(along), mm(out), mm(up), {}};
}

inline KeepOut box(const std::string& name, KeepOutKind kind, const Position& from, const Position& to) {
    KeepOut keep_out;
    keep_out.name = name;
    keep_out.kind = kind;
    keep_out.from = from;
    keep_out.to = to;
    return keep_out;
}

/// A mount far off the keep-outs of these tests, with all that is asked of its fastener.
inline Job job_with(const KeepOut& keep_out) {
    Job job = flat_world();
    job.survey_sd = mm(0.5);
    job.skirt.forming_sd = mm(0.6);
    job.mounts[0].fastener.tail = mm(20);
    job.keep_outs = {keep_out};
    return job;
}

/// clearance + paint + 2 sqrt(survey^2 + forming^2)
inline double need_of_part(double clearance) {
    return clearance + 0.12 + 2.0 * std::hypot(0.5, 0.6);
}

inline Finding keep_out_finding(const Job& job, const std::string& id) {
    const auto car = car_model(job, ".");
    EXPECT_TRUE(car.has_value()) << (car ? "" : car.error().message);
    const auto findings = car ? keep_out_findings(job, car.value(), MountPlan{}) : std::vector<Finding>{};
    const Finding* const found = find(findings, id);
    EXPECT_NE(found, nullptr) << "no finding " << id;
    return found != nullptr ? *found : Finding{};
}

/// Takes a falling finding's mend and computes anew: it holds, as was promised.
inline void expect_mend_taken(const Job& job, const std::string& id) {
    const Finding before = keep_out_finding(job, id);
    ASSERT_EQ(before.state, State::falls_short) << before.why;
    ASSERT_TRUE(before.mend) << before.why;
    ASSERT_TRUE(before.mend->can_be_taken()) << before.mend->words;
    const auto edit = take_mend(job, before);
    ASSERT_TRUE(edit) << edit.error().message;
    const Finding after = keep_out_finding(edit.value().job, id);
    ASSERT_TRUE(after.margin) << after.why;
    EXPECT_GE(*after.margin, 0.0);
    EXPECT_LT(*after.margin, 0.15);
    EXPECT_NEAR(*after.margin, before.mend->proven_margin.value_or(-1.0), 1e-9) << before.mend->words;
}

}  // namespace sillwright::core::keep_out_world

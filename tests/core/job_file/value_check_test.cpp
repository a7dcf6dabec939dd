#include "core/job_file/value_check.h"

#include <gtest/gtest.h>

#include <functional>
#include <limits>

#include "../small_job.h"

namespace sillwright::core::job_file {
namespace {

constexpr double k_nan = std::numeric_limits<double>::quiet_NaN();

std::string fault_at(const std::function<void(Job&)>& change) {
    Job job = parse_job(small_job_text(), "x").value();
    change(job);
    const Job before = job;
    const auto fault = value_fault(job);
    return fault ? fault->pointer : "none";
}

TEST(ValueCheck, TakesWhatTheFileTakes) {
    EXPECT_EQ(fault_at([](Job&) {}), "none");
    EXPECT_EQ(fault_at([](Job& job) { job.stations[2].along.value = geometry::millimetres(1e6); }), "none");
}

TEST(ValueCheck, FindsWhatItDoesNot) {
    EXPECT_EQ(fault_at([](Job& job) { job.stations[2].along.value = geometry::millimetres(1e6 + 1); }),
              "/stations/2/along");
    EXPECT_EQ(fault_at([](Job& job) { job.mounts[0].at.up.value = geometry::millimetres(k_nan); }), "/mounts/0/at/up");
    EXPECT_EQ(fault_at([](Job& job) { job.mounts[0].sd[1]->value = geometry::millimetres(k_nan); }), "/mounts/0/sd/1");
    EXPECT_EQ(fault_at([](Job& job) { job.mounts[0].axis = {0, 0, -2}; }), "/mounts/0/axis");
    EXPECT_EQ(fault_at([](Job& job) { job.mounts[0].axis = {0, 0, k_nan}; }), "/mounts/0/axis");
    EXPECT_EQ(fault_at([](Job& job) { job.mounts[1].name.clear(); }), "/mounts/1/name");
    EXPECT_EQ(fault_at([](Job& job) { job.vehicle = "\xff"; }), "/vehicle");
    EXPECT_EQ(fault_at([](Job& job) { job.doors[0].opening = geometry::degrees(k_nan); }), "/doors/0/opening_deg");
    EXPECT_EQ(fault_at([](Job& job) { job.doors[0].sag->share_at_once = k_nan; }), "/doors/0/sag/share_at_once");
    EXPECT_EQ(fault_at([](Job& job) { job.skirt.pieces[0].drawn.sections[1].nodes[0].id.clear(); }),
              "/skirt/pieces/0/sections/1/nodes/0/id");
    EXPECT_EQ(fault_at([](Job& job) { job.limits.gap_shut.typed = "\xc3"; }), "/limits/gap_shut");
    EXPECT_EQ(fault_at([](Job& job) { job.doors[0].hinge->upper.up->value = geometry::millimetres(k_nan); }),
              "/doors/0/hinge/upper/up");
}

}  // namespace
}  // namespace sillwright::core::job_file

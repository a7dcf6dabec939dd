#include "core/job_check.h"

#include <gtest/gtest.h>

#include "core/typed.h"
#include "small_job.h"

namespace sillwright::core {

namespace {

Entry mm(double value) {
    return entry(geometry::millimetres(value));
}

std::string fault_at(const Job& job) {
    const auto fault = first_fault(job);
    return fault ? fault->pointer : "none";
}

// The messages are looked at in bad_input_test.cpp, on whole files.
TEST(JobCheck, WhatIsNotMeasuredIsNoFault) {
    EXPECT_EQ(fault_at(Job{}), "none");
    Job job;
    job.doors.push_back(Door{.name = "door",
                             .hinge = {},
                             .opening = {},
                             .sag = {},
                             .over_slam = {},
                             .bodies = {},
                             .outline = {},
                             .painted_after = false,
                             .unknown = {}});
    job.mounts.emplace_back().name = "H1";
    EXPECT_EQ(fault_at(job), "none");
}

TEST(JobCheck, TheFirstShippedJobHasNoFault) {
    EXPECT_EQ(fault_at(parse_job(small_job_text(), "x").value()), "none");
}

TEST(JobCheck, EdgesOfTheRanges) {
    Job job = parse_job(small_job_text(), "x").value();
    job.doors[0].opening = geometry::degrees(180.0);
    job.doors[0].sag->share_at_once = 0.0;
    job.doors[0].sag->drop = mm(-1.0);  // a door that lifts
    job.survey_sd = mm(0.0);
    job.mounts[0].free_depth = mm(0.0);
    EXPECT_EQ(fault_at(job), "none");
    job.mounts[0].panel_thickness = mm(0.0);
    EXPECT_EQ(fault_at(job), "/mounts/0/panel_thickness");
}

TEST(JobCheck, AStationAtTheSamePlaceIsOutOfOrder) {
    Job job = parse_job(small_job_text(), "x").value();
    job.stations[2].along = job.stations[1].along;
    EXPECT_EQ(fault_at(job), "/stations/2/along");
}

TEST(JobCheck, ListsAreBounded) {
    Job job;
    for (std::size_t i = 0; i <= k_most_stations; ++i) {
        job.stations.push_back({std::to_string(i), mm(static_cast<double>(i)), {}});
    }
    EXPECT_EQ(fault_at(job), "/stations");
    job.stations.pop_back();
    EXPECT_EQ(fault_at(job), "none");
}

TEST(JobCheck, ADoorMayNotBeCalledBody) {
    Job job = parse_job(small_job_text(), "x").value();
    job.doors[0].name = "body";
    EXPECT_EQ(fault_at(job), "/doors/0/name");
}

}  // namespace

}  // namespace sillwright::core

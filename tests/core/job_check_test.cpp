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

TEST(JobCheck, OfFittingLoadsRoadAndKeepOutsWhatCannotBeMeant) {
    struct Case {
        const char* pointer;
        void (*spoil)(Job&);
    };
    const Case cases[] = {
        {"/fitting/locator", [](Job& job) { job.fitting.locator = "H99"; }},
        {"/fitting/guide", [](Job& job) { job.fitting.locator = job.fitting.guide = job.mounts[0].name; }},
        {"/fitting/hot/part_c",
         [](Job& job) {
             job.fitting.hot = Warmth{geometry::celsius(353.0), geometry::celsius(40.0)};
         }},
        {"/fitting/drawn_c", [](Job& job) { job.fitting.drawn = geometry::celsius(-60.0); }},
        {"/fitting/part_half", [](Job& job) { job.fitting.part_half = mm(-0.5); }},
        {"/loads/shaking_g", [](Job& job) { job.loads.shaking_g = -1.0; }},
        {"/loads/foot_n", [](Job& job) { job.loads.foot = geometry::newtons(1e6); }},
        {"/loads/clip_share", [](Job& job) { job.loads.clip_share = 1.5; }},
        {"/road/rear_wheel",
         [](Job& job) {
             job.road.front_wheel = mm(100.0);
             job.road.rear_wheel = mm(100.0);
         }},
        {"/road/tyre_radius", [](Job& job) { job.road.tyre_radius = mm(0.0); }},
        {"/skirt/material/expansion_per_k", [](Job& job) { job.skirt.material.expansion_per_k = 90.0; }},
        {"/skirt/pieces/0/flutes/0/width",
         [](Job& job) {
             Flute flute;
             flute.name = "a";
             flute.depth = mm(3);
             job.skirt.pieces[0].flutes = {flute};
         }},
        {"/skirt/pieces/0/drains/0/size",
         [](Job& job) { job.skirt.pieces[0].drains = {{.along = mm(9), .size = {}}}; }},
        {"/skirt/pieces/0/flange/thickness", [](Job& job) { job.skirt.pieces[0].flange.thickness = mm(0.0); }},
        {"/mounts/0/fastener/hole_most",
         [](Job& job) {
             job.mounts[0].fastener.hole_least = mm(8.0);
             job.mounts[0].fastener.hole_most = mm(7.0);
         }},
        {"/limits/line_up_least", [](Job& job) { job.limits.line_up_least = 1.1; }},
        {"/keep_outs/0/radius", [](Job& job) { job.keep_outs[0].shape = KeepOutShape::strip; }},
        {"/keep_outs/0/to",
         [](Job& job) {
             job.keep_outs[0].shape = KeepOutShape::strip;
             job.keep_outs[0].radius = mm(5.0);
             job.keep_outs[0].to = job.keep_outs[0].from;
         }},
        {"/keep_outs/0/to/out",
         [](Job& job) {
             job.keep_outs[0].shape = KeepOutShape::wheel;
             job.keep_outs[0].radius = mm(300.0);
             job.keep_outs[0].to.out = job.keep_outs[0].from.out;
         }},
    };
    for (const Case& one : cases) {
        Job job = parse_job(small_job_text(), "x").value();
        KeepOut box;
        box.name = "pad";
        box.to = {mm(9.0), mm(9.0), mm(9.0)};
        job.keep_outs = {box};
        ASSERT_EQ(fault_at(job), "none");
        one.spoil(job);
        EXPECT_EQ(fault_at(job), one.pointer);
    }
}

TEST(JobCheck, OfBuckAndPapersWhatCannotBeMeant) {
    struct Case {
        const char* pointer;
        void (*spoil)(Job&);
    };
    const Case cases[] = {
        {"/buck/chord_most", [](Job& job) { job.buck.chord_most = mm(0.0); }},
        {"/buck/spine_height", [](Job& job) { job.buck.spine_height = mm(-1.0); }},
        {"/buck/fit", [](Job& job) { job.buck.fit = mm(-0.1); }},
        {"/buck/slot_extra", [](Job& job) { job.buck.slot_extra = mm(-0.1); }},
        {"/buck/key_step", [](Job& job) { job.buck.key_step = mm(-1.0); }},
        {"/buck/base_room", [](Job& job) { job.buck.base_room = mm(-1.0); }},
        {"/buck/pin", [](Job& job) { job.buck.pin = mm(0.0); }},
        {"/buck/tab_width", [](Job& job) { job.buck.tab_width = mm(-1.0); }},
        {"/buck/tab_height", [](Job& job) { job.buck.tab_height = mm(-1.0); }},
        {"/buck/tab_pitch", [](Job& job) { job.buck.tab_pitch = mm(0.0); }},
        {"/buck/letters", [](Job& job) { job.buck.letters = mm(0.0); }},
        {"/buck/margin", [](Job& job) { job.buck.margin = mm(-1.0); }},
        {"/buck/gap", [](Job& job) { job.buck.gap = mm(-1.0); }},
        {"/buck/rib_board", [](Job& job) { job.buck.rib_board = "oak"; }},
        {"/buck/spine_board", [](Job& job) { job.buck.spine_board = "oak"; }},
        {"/buck/base_board", [](Job& job) { job.buck.base_board = "oak"; }},
        {"/buck/boards/1/name", [](Job& job) { job.buck.boards[1].name = "mdf 12"; }},
        {"/buck/boards/0/length", [](Job& job) { job.buck.boards[0].length = mm(0.0); }},
        {"/buck/boards/0/width", [](Job& job) { job.buck.boards[0].width = mm(0.0); }},
        {"/buck/boards/0/thickness_1", [](Job& job) { job.buck.boards[0].thickness_1 = mm(0.0); }},
        {"/buck/boards/0/thickness_2", [](Job& job) { job.buck.boards[0].thickness_2 = mm(0.0); }},
        {"/buck/boards/0/thickness_3", [](Job& job) { job.buck.boards[0].thickness_3 = mm(-12.0); }},
        {"/buck/boards/0/count", [](Job& job) { job.buck.boards[0].count = -1.0; }},
        {"/buck/boards/0/defects/1/name", [](Job& job) { job.buck.boards[0].defects[1].name = "knot"; }},
        {"/buck/boards/0/defects/0/along", [](Job& job) { job.buck.boards[0].defects[0].along = mm(-1.0); }},
        {"/buck/boards/0/defects/0/across", [](Job& job) { job.buck.boards[0].defects[0].across = mm(-1.0); }},
        {"/buck/boards/0/defects/0/length", [](Job& job) { job.buck.boards[0].defects[0].length = mm(0.0); }},
        {"/buck/boards/0/defects/0/width", [](Job& job) { job.buck.boards[0].defects[0].width = mm(0.0); }},
        {"/papers/pages", [](Job& job) { job.papers.pages = PaperSize::a3; }},
        {"/papers/foam", [](Job& job) { job.papers.foam = mm(-1.0); }},
        {"/papers/carton", [](Job& job) { job.papers.carton = mm(-1.0); }},
        {"/papers/longest", [](Job& job) { job.papers.longest = mm(0.0); }},
        {"/papers/girth_most", [](Job& job) { job.papers.girth_most = mm(0.0); }},
    };
    for (const Case& one : cases) {
        Job job = parse_job(small_job_text(), "x").value();
        job.buck.boards.resize(2);
        job.buck.boards[0].name = "mdf 12";
        job.buck.boards[1].name = "ply 9";
        job.buck.boards[0].defects.resize(2);
        job.buck.boards[0].defects[0].name = "knot";
        job.buck.boards[0].defects[1].name = "corner";
        job.buck.rib_board = job.buck.spine_board = "mdf 12";
        ASSERT_EQ(fault_at(job), "none") << "nothing of them is measured, and that is no fault";
        one.spoil(job);
        EXPECT_EQ(fault_at(job), one.pointer);
    }
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

/// A book with one tie, on which a fault is put.
template <class Change>
std::string book_fault(const Change& change) {
    Job job;
    survey::Reading tie;
    tie.id = "r1";
    tie.points = {"A", "H1"};
    tie.value = mm(1473.5);
    job.book.readings = {tie};
    job.book.set_ups.emplace_back().name = "wheels";
    job.book.instruments.emplace_back().name = "tape";
    job.book.points.emplace_back().name = "A";
    EXPECT_EQ(fault_at(job), "none");
    change(job);
    return fault_at(job);
}

TEST(JobCheck, OfTheBookWhatCannotBeMeant) {
    using survey::ReadingKind;
    const auto reading = [](auto change) { return book_fault([&](Job& job) { change(job.book.readings.front()); }); };
    EXPECT_EQ(reading([](auto& r) { r.value = mm(-1); }), "/book/readings/0/value");
    EXPECT_EQ(reading([](auto& r) { r.points.pop_back(); }), "/book/readings/0/points");
    EXPECT_EQ(reading([](auto& r) { r.kind = ReadingKind::offset; }), "/book/readings/0/points");
    EXPECT_EQ(reading([](auto& r) { r.set_up = "lift"; }), "/book/readings/0/set_up");
    EXPECT_EQ(reading([](auto& r) { r.instrument = "rule"; }), "/book/readings/0/instrument");
    EXPECT_EQ(reading([](auto& r) { r.sd = mm(0); }), "/book/readings/0/sd");
    EXPECT_EQ(reading([](auto& r) {
                  r.kind = ReadingKind::slope;
                  r.angle = geometry::degrees(90.0);
              }),
              "/book/readings/0/angle_deg");
    EXPECT_EQ(book_fault([](Job& job) { job.book.readings.push_back(job.book.readings[0]); }), "/book/readings/1/id");
    EXPECT_EQ(book_fault([](Job& job) { job.book.points.push_back(job.book.points[0]); }), "/book/points/1/name");
    EXPECT_EQ(book_fault([](Job& job) { job.book.set_ups.push_back(job.book.set_ups[0]); }), "/book/set_ups/1/name");
    EXPECT_EQ(book_fault([](Job& job) { job.book.set_ups[0].roll = geometry::degrees(46.0); }),
              "/book/set_ups/0/roll_deg");
    EXPECT_EQ(book_fault([](Job& job) { job.book.instruments[0].angle_sd = geometry::degrees(0.0); }),
              "/book/instruments/0/angle_sd_deg");
    EXPECT_EQ(book_fault([](Job& job) { job.book.date = "14.3.2026"; }), "/book/date");
    EXPECT_EQ(book_fault([](Job& job) { job.book.temperature = 293.0; }), "/book/temperature_c");
    EXPECT_EQ(book_fault([](Job& job) { job.book.hinges = {{"door", {"T1", "T1"}, {}}}; }), "/book/hinges/0/targets/1");
    EXPECT_EQ(book_fault([](Job& job) { job.other_hand = "../left.sillwright"; }), "/other_hand");
    EXPECT_EQ(book_fault([](Job& job) { job.photos.emplace_back().path = "/etc/side.png"; }), "/photos/0/path");
    EXPECT_EQ(book_fault([](Job& job) { job.scans.emplace_back().deviation = mm(0); }), "/scans/0/deviation");
}

TEST(JobCheck, OfTheBookWhatWaitsIsNoFault) {
    EXPECT_EQ(book_fault([](Job& job) { job.book.readings[0].value.reset(); }), "none");
    EXPECT_EQ(book_fault([](Job& job) { job.book.readings[0].points = {"A", "A"}; }), "none");
    EXPECT_EQ(book_fault([](Job& job) { job.book.hinges = {{"a door that is not there yet", {"T1"}, {}}}; }), "none");
}

}  // namespace

}  // namespace sillwright::core

#include "core/buck/station_outline.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <numbers>

#include "core/car_model.h"
#include "core/drawn_loft.h"
#include "core/job_file.h"
#include "core/typed.h"
#include "tests/core/forming/hand_formed.h"

namespace sillwright::core {
namespace {

using geometry::millimetres;
using testing::HasSubstr;

struct Corner {
    double out, up, radius = 0.0;
};

Section section(const std::vector<Corner>& corners) {
    Section made{"3", {}, {}};
    for (const Corner& corner : corners) {
        const auto mm = [](double value) { return entry(millimetres(value)); };
        made.nodes.push_back({"", "", mm(corner.out), mm(corner.up), mm(corner.radius), {}});
    }
    return made;
}

std::string error_of(const Section& drawn, double mould_face_mm) {
    const auto outline = mould_outline(drawn, millimetres(mould_face_mm));
    return outline ? "no error" : outline.error().message;
}

/// Along the top, down the outside, back along the flange.
Section channel() {
    return section({{0, 100}, {100, 100, 10}, {100, 0, 10}, {0, 0}});
}

/// By hand: a rectangle less two corners, (1 - pi/4) r^2 each.
double channel_area(double width, double height, double r) {
    return width * height - 2.0 * (1.0 - std::numbers::pi / 4.0) * r * r;
}

TEST(StationOutline, IsTheDrawnLineWhereItIsTheMouldFace) {
    const auto outline = mould_outline(channel(), {});
    ASSERT_TRUE(outline) << outline.error().message;
    EXPECT_TRUE(outline.value().closed);
    EXPECT_NEAR(enclosed_area_mm2(outline.value()), channel_area(100, 100, 10), 1e-9);
    // Three sides, two quarter arcs, and the straight that closes it: 80 + 2 * 90 + 10 pi + 100.
    EXPECT_NEAR(in_mm(length(outline.value())), 360.0 + 10.0 * std::numbers::pi, 1e-9);
    EXPECT_EQ(outline.value().segments.size(), 6U);
    EXPECT_NEAR((start_point(outline.value().segments.front()) - Eigen::Vector2d(0, 0)).norm(), 0.0, 1e-9);
    EXPECT_NEAR((start_point(outline.value().segments.back()) - Eigen::Vector2d(0, 100)).norm(), 0.0, 1e-9);
}

TEST(StationOutline, LiesASheetInsideALineDrawnOutside) {
    const auto outline = mould_outline(channel(), millimetres(-3));
    ASSERT_TRUE(outline) << outline.error().message;
    EXPECT_NEAR(enclosed_area_mm2(outline.value()), channel_area(97, 94, 7), 1e-9);
}

TEST(StationOutline, EndsThatMeetNeedNoStraight) {
    const auto outline = mould_outline(section({{0, 0}, {0, 100}, {100, 0}, {0, 0}}), {});
    ASSERT_TRUE(outline) << outline.error().message;
    EXPECT_EQ(outline.value().segments.size(), 3U);
    EXPECT_NEAR(enclosed_area_mm2(outline.value()), 5000.0, 1e-9);
}

TEST(StationOutline, RefusesALineThatRunsTheWrongWayRound) {
    EXPECT_THAT(error_of(section({{0, 0}, {100, 0}, {100, 100}, {0, 100}}), {}), HasSubstr("wrong way round"));
}

TEST(StationOutline, RefusesAStraightThatCrossesTheLine) {
    const Section notched = section({{0, 100}, {100, 100}, {100, 60}, {-20, 50}, {100, 40}, {100, 0}, {0, 0}});
    const std::string error = error_of(notched, 0.0);
    EXPECT_THAT(error, HasSubstr("crosses itself at out 0.00 mm, up "));
    EXPECT_THAT(error, HasSubstr("Move the nodes there apart."));
}

TEST(StationOutline, RefusesAMouldFaceThatComesApart) {
    // Two lobes with a neck of 10 mm between them: 6 mm from either side nothing is left of it.
    const Section dumbbell = section({{-100, 60},
                                      {-50, 60},
                                      {-40, 35},
                                      {40, 35},
                                      {50, 60},
                                      {100, 60},
                                      {100, 0},
                                      {50, 0},
                                      {40, 25},
                                      {-40, 25},
                                      {-50, 0},
                                      {-100, 0}});
    EXPECT_THAT(error_of(dumbbell, -6.0), HasSubstr("6.00 mm from the drawn line, comes apart into 2 pieces"));
    EXPECT_EQ(error_of(dumbbell, -4.0), "no error");
}

TEST(StationOutline, RefusesAMouldFaceThatIsCutShort) {
    // The tip of the notch stands 22 mm from where the ends of a parallel at 30 mm would be.
    const Section notched = section({{0, 100}, {100, 100}, {100, 55}, {10, 50}, {100, 45}, {100, 0}, {0, 0}});
    EXPECT_THAT(error_of(notched, -30.0), testing::AnyOf(HasSubstr("does not reach both ends"), HasSubstr("apart")));
}

TEST(StationOutline, RefusesAMouldFaceThatVanishes) {
    EXPECT_THAT(error_of(channel(), -60.0), HasSubstr("vanishes"));
}

Job sample() {
    const auto job = read_job(std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples/estate_a.sillwright");
    EXPECT_TRUE(job) << job.error().message;
    return job.value();
}

TEST(StationOutlines, GiveOneForEveryStationOfTheSample) {
    const Job job = sample();
    const StationOutlines all = station_outlines(job);
    EXPECT_EQ(all.outlines.size(), 10U);
    EXPECT_TRUE(all.refused.empty());
    EXPECT_EQ(all.outlines.front().station, "1");
    EXPECT_EQ(all.outlines.back().along, millimetres(1900));
    const auto findings = outline_findings(job, all);
    ASSERT_EQ(findings.size(), 1U);
    EXPECT_EQ(findings[0].id, "buck/skirt/outlines");
    EXPECT_EQ(findings[0].state, State::holds);
    EXPECT_EQ(findings[0].margin, std::nullopt);  // A count that is full has nothing to spare.
}

TEST(StationOutlines, NameTheStationThatHasNone) {
    Job job = sample();
    std::reverse(job.skirt.pieces[0].drawn.sections[3].nodes.begin(),
                 job.skirt.pieces[0].drawn.sections[3].nodes.end());
    const StationOutlines all = station_outlines(job);
    EXPECT_EQ(all.outlines.size(), 9U);
    ASSERT_EQ(all.refused.size(), 1U);
    EXPECT_THAT(all.refused[0].why, HasSubstr("Piece \"skirt\", station 4: The drawn line runs the wrong way round"));
    const auto findings = outline_findings(job, all);
    EXPECT_EQ(findings[0].state, State::falls_short);
    EXPECT_EQ(findings[0].margin, -1.0);
    EXPECT_EQ(findings[0].place.along, millimetres(610));
}

TEST(StationOutlines, AreNotMeasuredWithoutASheetWhereTheLineIsOutside) {
    Job job = sample();
    job.skirt.pieces[0].drawn_face = DrawnFace::outside;
    EXPECT_EQ(station_outlines(job).outlines.size(), 10U);
    job.skirt.pieces[0].sheet.reset();
    const StationOutlines all = station_outlines(job);
    EXPECT_TRUE(all.outlines.empty());
    ASSERT_EQ(all.refused.size(), 1U);
    const auto findings = outline_findings(job, all);
    EXPECT_EQ(findings[0].state, State::not_measured);
    EXPECT_EQ(findings[0].found, std::nullopt);
    EXPECT_EQ(findings[0].missing, std::vector<std::string>{"sheet thickness of piece \"skirt\""});
}

TEST(StationOutlines, ListAPieceThatComesFromAFile) {
    Job job = sample();
    job.skirt.pieces[0].drawn = {};
    job.skirt.pieces[0].file = ShapeFile{"part.stl", "", BareUnit::mm, {}};
    const StationOutlines all = station_outlines(job);
    EXPECT_TRUE(all.outlines.empty());
    ASSERT_EQ(all.refused.size(), 1U);
    EXPECT_THAT(all.refused[0].why, HasSubstr("comes from a file"));
}

// By hand: straight nodes, drawn outside; 3 from mark 0 to 1, then down to 1.8 at mark 2 and the same on.
TEST(StationOutline, LiesTheFormedThicknessInsideALineDrawnOutside) {
    const geometry::OffsetRow offsets{{0.0, 1.0, 2.0, 3.0}, {-3.0, -3.0, -1.8, -1.8}};
    const auto outline = mould_outline(channel(), {0.0, 1.0, 2.0, 3.0}, offsets);
    ASSERT_TRUE(outline) << outline.error().message;
    EXPECT_TRUE(outline.value().closed);
    EXPECT_GT(enclosed_area_mm2(outline.value()), 0.0);
    // Half-way down the outside, at out 100, the face lies 2.4 inside; the flange's upper side 1.8 above it.
    EXPECT_NEAR(in_mm(nearest_point(outline.value(), {97.6, 50.0}).distance), 0.0, 1e-9);
    EXPECT_NEAR(in_mm(nearest_point(outline.value(), {40.0, 1.8}).distance), 0.0, 1e-9);
    EXPECT_NEAR(in_mm(nearest_point(outline.value(), {40.0, 97.0}).distance), 0.0, 1e-9);
}

TEST(StationOutlines, FollowTheMouldAndTheFormedSheet) {
    Job job = read_job(std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples/estate_a.sillwright").value();
    const auto car = [&job] {
        CarModel made;
        made.pieces.push_back({"skirt", loft_of(job, job.skirt.pieces[0].drawn, false, "skirt").value(), {}, {}, {}});
        made.pieces[0].formed = hand_formed(4.0, 5.0);
        return made;
    };
    const auto area = [&](const CarModel* model) {
        const auto all = station_outlines(job, model);
        EXPECT_TRUE(all.refused.empty()) << (all.refused.empty() ? "" : all.refused.front().why);
        return enclosed_area_mm2(all.outlines.at(2).outline);
    };
    const CarModel model = car();
    job.forming.mould = MouldKind::male;  // Drawn inside: the drawn line, whatever the thickness.
    const double drawn = area(&model);
    EXPECT_EQ(drawn, area(nullptr));
    job.forming.mould = MouldKind::female;
    const double full = area(nullptr);
    const double formed = area(&model);
    EXPECT_GT(full, formed);
    EXPECT_GT(formed, drawn);
}

}  // namespace
}  // namespace sillwright::core

#include "core/buck/cut_part.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/buck/part_tabs.h"
#include "geometry/tool_path.h"
#include "tests/core/buck/example_buck.h"

namespace sillwright::core {
namespace {

using Eigen::AlignedBox2d;
using Eigen::Vector2d;
using geometry::in_mm;
using geometry::millimetres;
using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using testing::StartsWith;

std::vector<std::string> words_of(const CutPart& part) {
    std::vector<std::string> all;
    std::ranges::transform(part.words, std::back_inserter(all), &EngravedWords::words);
    return all;
}

const CutPart& part_of(const std::vector<CutPart>& parts, const std::string& label) {
    const auto found = std::ranges::find(parts, label, &CutPart::label);
    EXPECT_NE(found, parts.end()) << label;
    return *found;
}

/// Words stand in the part, 3 mm off its edges and holes, and on nothing else.
void expect_words_have_room(const CutPart& part) {
    std::vector<AlignedBox2d> boxes;
    for (const EngravedWords& words : part.words) {
        const Vector2d size(words.height_mm * static_cast<double>(words.words.size()), words.height_mm);
        const AlignedBox2d box(words.at_mm, Vector2d(words.at_mm + size));
        EXPECT_GE(words.height_mm, 4.0);
        for (int k = 0; k <= 60; ++k) {
            for (const double y : {0.0, 0.5, 1.0}) {
                const Vector2d p = words.at_mm + Vector2d(size.x() * k / 60.0, size.y() * y);
                EXPECT_TRUE(contains(part.outline, p)) << words.words;
                EXPECT_GE(in_mm(nearest_point(part.outline, p).distance), 3.0 - 0.01) << words.words;
            }
        }
        for (const DrilledHole& hole : part.holes) {
            EXPECT_GE(box.exteriorDistance(hole.at_mm), hole.diameter_mm / 2.0 + 3.0 - 1e-9) << words.words;
        }
        for (const AlignedBox2d& other : boxes) {
            EXPECT_FALSE(box.intersects(other)) << words.words;
        }
        boxes.push_back(box);
    }
}

TEST(CutPart, AreRibsThenSpinesThenTheBase) {
    const auto parts = cut_parts(tests::buck_job(), tests::buck_plan_by_hand()).value();
    std::vector<std::string> labels;
    std::ranges::transform(parts, std::back_inserter(labels), &CutPart::label);
    EXPECT_THAT(labels, ElementsAre("R1", "R2", "R3", "S1", "S2", "B"));
    EXPECT_EQ(parts[0].kind, PartKind::rib);
    EXPECT_EQ(parts[3].kind, PartKind::spine);
    EXPECT_EQ(parts[5].kind, PartKind::base);
    EXPECT_EQ(parts[0].board, "mdf 12");
}

TEST(CutPart, HasItsSlotsAndWhatTheBitTakes) {
    const auto plan = tests::buck_plan_by_hand();
    const auto parts = cut_parts(tests::buck_job(), plan).value();
    const double whole = enclosed_area_mm2(plan.pieces[0].ribs[0].outline);
    const double slots = 12.15 * (25.5 + 27.5);
    EXPECT_NEAR(enclosed_area_mm2(parts[0].finished), whole - slots, 1e-9);
    // Four corners, each relieved by half a disc of 3.1 less a triangle.
    const double relief = 3.1 * 3.1 * (std::numbers::pi / 2.0 - 1.0);
    EXPECT_NEAR(enclosed_area_mm2(parts[0].outline), whole - slots - 4.0 * relief, 1e-9);
    EXPECT_NEAR(enclosed_area_mm2(parts[3].finished), 560 * 52 - 3 * 12.15 * 27, 1e-9);
    EXPECT_NEAR(enclosed_area_mm2(parts[3].outline), 560 * 52 - 3 * 12.15 * 27 - 6.0 * relief, 1e-9);
    EXPECT_NEAR(enclosed_area_mm2(parts[5].outline), 600 * 190, 1e-9);
    for (const CutPart& part : parts) {
        EXPECT_GT(enclosed_area_mm2(part.outline), 0.0);
        EXPECT_TRUE(part.unrelieved.empty());
        const auto path =
            geometry::tool_path(part.outline, millimetres(3), geometry::CutSide::outside, millimetres(0.01));
        EXPECT_TRUE(path.value().uncut.empty()) << part.label;
    }
}

TEST(CutPart, HasNoReliefWhileTheBitIsNotKnown) {
    Job job = tests::buck_job();
    job.buck.bit = "";
    const auto parts = cut_parts(job, tests::buck_plan_by_hand()).value();
    EXPECT_NEAR(enclosed_area_mm2(parts[0].outline), enclosed_area_mm2(parts[0].finished), 1e-9);
    EXPECT_FALSE(cutting_diameter(job).has_value());
    job.buck.bit = "V 90 12";
    EXPECT_FALSE(cutting_diameter(job).has_value());
    job.buck.bit = "flat 6";
    EXPECT_DOUBLE_EQ(in_mm(*cutting_diameter(job)), 6.0);
}

TEST(CutPart, SaysWhyItHasNoReliefWhereTheBitIsTooWide) {
    Job job = tests::buck_job();
    job.buck.bit = "flat 16";
    const auto parts = cut_parts(job, tests::buck_plan_by_hand()).value();
    EXPECT_THAT(parts[0].unrelieved, HasSubstr("wider than the slot"));
    EXPECT_NEAR(enclosed_area_mm2(parts[0].outline), enclosed_area_mm2(parts[0].finished), 1e-9);
}

TEST(CutPart, LeavesOutARibWhoseSlotDoesNotLieInIt) {
    auto plan = tests::buck_plan_by_hand();
    plan.pieces[0].ribs[1].laps[1].at_mm = 149.0;
    const auto parts = cut_parts(tests::buck_job(), plan).value();
    EXPECT_EQ(parts.size(), 5U);
    const auto rib = cut_rib(tests::buck_job(), plan.pieces[0], plan.pieces[0].ribs[1]);
    ASSERT_FALSE(rib.has_value());
    EXPECT_THAT(rib.error().message, StartsWith("R2: The slot at 149.00 mm"));
}

TEST(CutPart, SaysWhichHolesTheBitCanMill) {
    Job job = tests::buck_job();
    const auto plan = tests::buck_plan_by_hand();
    const auto what = [&] { return cut_parts(job, plan).value()[0].holes[0].what; };
    EXPECT_EQ(what(), "datum rod 1, milled or drilled");
    job.buck.pin.value = millimetres(5.9);
    EXPECT_EQ(what(), "datum rod 1, drilled");
    const auto holes = cut_parts(job, plan).value()[0].holes;
    ASSERT_EQ(holes.size(), 2U);
    EXPECT_DOUBLE_EQ(holes[1].diameter_mm, 5.9);
    EXPECT_LT((holes[1].at_mm - Vector2d(75, 95)).norm(), 1e-12);
}

TEST(CutPart, SaysOnARibWhatItIs) {
    const auto parts = cut_parts(tests::buck_job(), tests::buck_plan_by_hand()).value();
    for (const CutPart& part : parts) {
        SCOPED_TRACE(part.label);
        expect_words_have_room(part);
        EXPECT_THAT(words_of(part), Contains(part.label));
        EXPECT_THAT(words_of(part), Contains("FRONT"));
        EXPECT_THAT(words_of(part), Contains("OUT"));
        EXPECT_THAT(words_of(part), Contains("UP"));
    }
    const auto words = words_of(parts[2]);
    EXPECT_THAT(words, Contains(HasSubstr("3 - 900")));
    EXPECT_THAT(words, Contains(HasSubstr("RIGHT")));
    EXPECT_THAT(words, Contains(HasSubstr("REV C")));
    EXPECT_THAT(words, Contains("S1"));
    EXPECT_THAT(words, Contains("S2"));
    // A spine says at each slot which rib goes in, the base where each stands.
    for (const std::string label : {"R1", "R2", "R3"}) {
        EXPECT_THAT(words_of(part_of(parts, "S1")), Contains(label));
        EXPECT_THAT(words_of(part_of(parts, "B")), Contains(label));
    }
}

TEST(CutPart, IsSeenFromTheFrontOnTheRightFromTheRearOnTheLeft) {
    const auto right = cut_parts(tests::buck_job(Side::right), tests::buck_plan_by_hand()).value();
    const auto left = cut_parts(tests::buck_job(Side::left), tests::buck_plan_by_hand()).value();
    EXPECT_EQ(right[0].face_up, "front face");
    EXPECT_EQ(left[0].face_up, "rear face");
    EXPECT_THAT(words_of(right[0]), Contains(testing::AnyOf("THIS FACE TO FRONT", "FRONT FACE")));
    EXPECT_THAT(words_of(left[0]), Contains(testing::AnyOf("THIS FACE TO REAR", "REAR FACE")));
    EXPECT_THAT(words_of(left[0]), Not(Contains("RIGHT SIDE")));
    // FRONT comes out of the face on the right: a ring with a dot; goes into it on the left: two strokes across.
    const auto strokes = [](const CutPart& part) {
        const auto front = std::ranges::find(part.words, "FRONT", &EngravedWords::words);
        const double h = front->height_mm;
        const Vector2d middle = front->at_mm + Vector2d(5.5 * h + 0.5 * h, 0.5 * h);
        return std::ranges::count_if(part.lines, [&](const EngravedLine& line) {
            return (0.5 * (line.from_mm + line.to_mm) - middle).norm() < 1e-6 &&
                   std::abs((line.to_mm - line.from_mm).norm() - h) < 1e-6;
        });
    };
    EXPECT_EQ(strokes(right[0]), 0);
    EXPECT_EQ(strokes(left[0]), 2);
}

/// The upper face of the base, seen from outside the car: rearward is to the right on the left-hand side only.
TEST(CutPart, DrawsTheBaseFromOutsideTheCar) {
    const auto right = part_of(cut_parts(tests::buck_job(Side::right), tests::buck_plan_by_hand()).value(), "B");
    const auto left = part_of(cut_parts(tests::buck_job(Side::left), tests::buck_plan_by_hand()).value(), "B");
    const auto has_line = [](const CutPart& part, double x) {
        return std::ranges::any_of(part.lines, [&](const EngravedLine& line) {
            return std::abs(line.from_mm.x() - x) < 1e-9 && std::abs(line.to_mm.x() - x) < 1e-9 &&
                   std::abs((line.to_mm - line.from_mm).norm() - 150.0) < 1e-9;
        });
    };
    // R2 stands between x = 250 and 262, R3 between 500 and 512, from side 0 to 150.
    for (const double x : {250.0, 262.0, 500.0, 512.0}) {
        EXPECT_TRUE(has_line(left, x)) << x;
        EXPECT_TRUE(has_line(right, -x)) << x;
    }
    EXPECT_TRUE(contains(left.outline, {560, 0}));
    EXPECT_TRUE(contains(right.outline, {-560, 0}));
    const auto front_way = [](const CutPart& part) {
        const auto words = std::ranges::find(part.words, "FRONT", &EngravedWords::words);
        const auto arrow = std::ranges::min_element(part.lines, {}, [&](const EngravedLine& line) {
            return line.arrow ? (0.5 * (line.from_mm + line.to_mm) - words->at_mm).norm() : 1e9;
        });
        return arrow->to_mm.x() - arrow->from_mm.x();
    };
    EXPECT_GT(front_way(right), 0.0);
    EXPECT_LT(front_way(left), 0.0);
}

TEST(CutPart, HasALevelLineAndLinesThroughTheRods) {
    const auto part = cut_parts(tests::buck_job(), tests::buck_plan_by_hand()).value()[0];
    double level = 0.0;
    double through = 0.0;
    for (const EngravedLine& line : part.lines) {
        const bool flat = line.from_mm.y() == line.to_mm.y();
        level += flat && line.from_mm.y() == 36.0 ? (line.to_mm - line.from_mm).norm() : 0.0;
        through += line.from_mm.x() == 75.0 && line.to_mm.x() == 75.0 && line.from_mm.y() > 40.0
                       ? (line.to_mm - line.from_mm).norm()
                       : 0.0;
    }
    // The rib is 150 wide there: all of it but 3 mm at both ends and what is round the slots' ends, which are lower.
    EXPECT_GT(level, 100.0);
    EXPECT_LE(level, 144.0);
    EXPECT_GT(through, 20.0);
    EXPECT_THAT(part.left_out, Not(Contains("the level line")));
}

TEST(CutPart, SaysHowItsEdgesAreBevelled) {
    auto plan = tests::buck_plan_by_hand();
    Rib& rib = plan.pieces[0].ribs[0];
    rib.pins_mm.clear();  // so that there is room for all
    rib.bevels = {{"shelf edge to bead", geometry::degrees(3.1), geometry::degrees(2.8), millimetres(0.6)},
                  {"bead to knee", geometry::degrees(-1.5), geometry::degrees(-1.5), millimetres(-0.3)},
                  {"knee to lower edge", {}, {}, {}}};
    const auto words = words_of(cut_rib(tests::buck_job(), plan.pieces[0], rib).value());
    EXPECT_THAT(words, Contains(StartsWith("BEVEL REAR 3.1")));
    EXPECT_THAT(words, Contains(StartsWith("GAP REAR 1.5 DEG")));
    EXPECT_THAT(words, Not(Contains(HasSubstr("KNEE TO LOWER"))));
}

TEST(CutPart, IsHeldByTabsOffItsSlots) {
    const auto parts = cut_parts(tests::buck_job(), tests::buck_plan_by_hand()).value();
    for (const CutPart& part : parts) {
        SCOPED_TRACE(part.label);
        EXPECT_GE(part.tabs.size(), k_least_tabs);
        EXPECT_LE(in_mm(*widest_gap(part.outline, part.tabs)), 250.0);
        for (const Tab& tab : part.tabs) {
            EXPECT_LT(in_mm(nearest_point(part.outline, tab.at_mm).distance), 1e-9);
            // On what it shares with the finished edge.
            EXPECT_LT(in_mm(nearest_point(part.finished, tab.at_mm).distance), 1e-9);
        }
    }
}

TEST(CutPart, KeepsTabsOffEdgesThatWillBeBevelled) {
    auto plan = tests::buck_plan_by_hand();
    Rib& rib = plan.pieces[0].ribs[0];
    // Its far face is smaller all round but at the base.
    rib.far_outline =
        geometry::make_profile(
            {{{1, 0}, {}}, {{149, 0}, {}}, {{149, 49}, {}}, {{111, 109}, {}}, {{30, 111}, {}}, {{1, 69}, {}}}, true)
            .value();
    Job job = tests::buck_job();
    job.buck.tab_pitch.value = millimetres(600);  // more than the outline without its base
    const auto part = cut_rib(job, plan.pieces[0], rib).value();
    ASSERT_EQ(part.tabs.size(), 3U);
    for (const Tab& tab : part.tabs) {
        EXPECT_NEAR(tab.at_mm.y(), 0.0, 1e-9);
    }
}

}  // namespace
}  // namespace sillwright::core

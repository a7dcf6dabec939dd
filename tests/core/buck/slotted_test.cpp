#include "core/buck/slotted.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "tests/core/buck/example_buck.h"

namespace sillwright::core {
namespace {

using Eigen::Vector2d;
using geometry::ErrorCode;
using geometry::Profile;
using testing::HasSubstr;

Profile board(double width, double height) {
    return geometry::make_profile({{{0, 0}, {}}, {{width, 0}, {}}, {{width, height}, {}}, {{0, height}, {}}}, true)
        .value();
}

void expect_joined(const Profile& outline) {
    const std::size_t n = outline.segments.size();
    for (std::size_t i = 0; i < n; ++i) {
        EXPECT_LT((end_point(outline.segments[i]) - start_point(outline.segments[(i + 1) % n])).norm(), 1e-9);
        EXPECT_GT(geometry::in_mm(length(outline.segments[i])), 0.0);
    }
}

TEST(Slotted, TakesTheSlotsOutOfARibFromItsBase) {
    const Profile whole = tests::rib_outline();
    const Profile cut = slotted(whole, {{115.0, 12.15, 27.5}, {35.0, 12.15, 25.5}}, 0.0).value();
    expect_joined(cut);
    EXPECT_NEAR(enclosed_area_mm2(cut), enclosed_area_mm2(whole) - 12.15 * (27.5 + 25.5), 1e-9);
    EXPECT_FALSE(contains(cut, {35.0, 25.4}));
    EXPECT_TRUE(contains(cut, {35.0, 25.6}));
    EXPECT_NEAR(geometry::in_mm(nearest_point(cut, {35.0 - 12.15 / 2, 10.0}).distance), 0.0, 1e-12);
}

TEST(Slotted, TakesTheSlotsOutOfASpineFromItsUpperEdge) {
    const Profile cut = slotted(board(560, 52), {{100, 12.15, 27}, {300, 12.15, 27}}, 52.0).value();
    expect_joined(cut);
    EXPECT_NEAR(enclosed_area_mm2(cut), 560 * 52 - 2 * 12.15 * 27, 1e-9);
    EXPECT_FALSE(contains(cut, {100.0, 51.0}));
    EXPECT_TRUE(contains(cut, {100.0, 24.9}));
}

TEST(Slotted, TakesABaseLineOfSeveralStraightsAsOne) {
    Profile whole = board(100, 60);
    const auto base = whole.segments[0];
    whole.segments[0] = part_of(base, 0.0, 0.5);
    whole.segments.insert(whole.segments.begin() + 1, part_of(base, 0.5, 1.0));
    EXPECT_NEAR(enclosed_area_mm2(slotted(whole, {{50, 12, 20}}, 0.0).value()), 100 * 60 - 12 * 20, 1e-9);
    // Nor does it matter where the outline starts.
    std::rotate(whole.segments.begin(), whole.segments.begin() + 1, whole.segments.end());
    EXPECT_NEAR(enclosed_area_mm2(slotted(whole, {{50, 12, 20}}, 0.0).value()), 100 * 60 - 12 * 20, 1e-9);
}

TEST(Slotted, WithoutSlotsIsTheOutline) {
    EXPECT_EQ(slotted(board(100, 60), {}, 0.0).value().segments.size(), 4U);
}

TEST(Slotted, RefusesASlotThatDoesNotLieInThePart) {
    const auto refused = [](const std::vector<Slot>& slots) {
        const auto cut = slotted(tests::rib_outline(), slots, 0.0);
        EXPECT_FALSE(cut.has_value());
        return cut ? geometry::Error{} : cut.error();
    };
    // Over the base line's end; through the upper edge; into the fillet of the hollow; into one another.
    EXPECT_THAT(refused({{4.0, 12.0, 20.0}}).message, HasSubstr("does not open on a straight edge"));
    EXPECT_THAT(refused({{60.0, 12.0, 130.0}}).message, HasSubstr("another edge"));
    EXPECT_THAT(refused({{117.0, 12.0, 57.0}}).message, HasSubstr("another edge"));
    EXPECT_THAT(refused({{60.0, 12.0, 20.0}, {72.5, 12.0, 20.0}}).message, HasSubstr("leaves less than 1 mm"));
    EXPECT_THAT(refused({{60.0, 12.0, 130.0}}).message, HasSubstr("at 60.00 mm, 12.00 mm wide"));
    EXPECT_EQ(refused({{60.0, 12.0, 130.0}}).code, ErrorCode::does_not_fit);
    EXPECT_EQ(refused({{60.0, 0.0, 20.0}}).code, ErrorCode::invalid_argument);
    EXPECT_EQ(refused({{60.0, 12.0, 0.0}}).code, ErrorCode::invalid_argument);
}

TEST(Slotted, OfAMirroredPartIsTheMirrorOfIt) {
    // x -> 560 - x
    const Profile cut = slotted(board(560, 52), {{100, 12.15, 27}, {300, 14, 20}}, 52.0).value();
    const Profile other = slotted(board(560, 52), {{460, 12.15, 27}, {260, 14, 20}}, 52.0).value();
    EXPECT_NEAR(enclosed_area_mm2(cut), enclosed_area_mm2(other), 1e-9);
    for (const geometry::Segment& segment : cut.segments) {
        const Vector2d p = start_point(segment);
        EXPECT_LT(geometry::in_mm(nearest_point(other, {560.0 - p.x(), p.y()}).distance), 1e-9);
    }
}

}  // namespace
}  // namespace sillwright::core

#include "geometry/nest_packing.h"

#include <gtest/gtest.h>

#include <numeric>

#include "tests/support/nest_ribs.h"

namespace sillwright::geometry {
namespace {

using Eigen::Vector2d;

Polygon box(double length, double width) {
    return {{0, 0}, {length, 0}, {length, width}, {0, width}};
}

NestQuestion four_boxes() {
    NestQuestion question;
    question.boards.push_back({{220, 110}, {}, false, std::nullopt});
    for (int i = 0; i < 4; ++i) {
        question.parts.push_back({box(90, 40), {0}});
    }
    question.gap = millimetres(8);
    question.margin = millimetres(5);
    return question;
}

const PackingRule k_along{{1.0, 0.02}, false, false};

TEST(NestPacking, LaysBoxesInAGrid) {
    auto packing = std::move(Packing::of(four_boxes())).value();
    const auto packed = packing.packed({0, 1, 2, 3}, k_along, {});
    ASSERT_TRUE(packed);
    ASSERT_EQ(packed->sheets.size(), 1U);
    EXPECT_EQ(packed->sheets[0].parts.size(), 4U);
    // Hand count: upright, 40 and 8 by turns from 5, but for the little that outlines are grown more.
    EXPECT_NEAR(packed->sheets[0].used_mm.x(), 5 + 4 * 40 + 3 * 8, 0.3);
    EXPECT_NEAR(packed->sheets[0].used_mm.y(), 95, 0.3);
}

TEST(NestPacking, TakesOverTheFirstSteps) {
    auto packing = std::move(Packing::of(tests::rib_question(12, 3))).value();
    std::vector<std::size_t> order(12);
    std::iota(order.begin(), order.end(), std::size_t{0});
    const Packed whole = *packing.packed(order, k_along, {});
    const Packed again = *packing.packed(order, k_along, {}, whole, 7);
    ASSERT_EQ(again.steps.size(), whole.steps.size());
    for (std::size_t i = 0; i < whole.steps.size(); ++i) {
        EXPECT_EQ(again.steps[i].sheet, whole.steps[i].sheet);
        EXPECT_EQ(again.steps[i].laid.moved_mm, whole.steps[i].laid.moved_mm);
        EXPECT_EQ(again.steps[i].laid.quarters, whole.steps[i].laid.quarters);
    }
}

TEST(NestPacking, PacksWithinALimitOrNotAtAll) {
    auto packing = std::move(Packing::of(four_boxes())).value();
    // Two by two: 5 + 90 + 8 + 90, and 5 + 40 + 8 + 40.
    const auto fits = packing.packed_within(0, {193.5, 93.5}, {0, 1, 2, 3}, {{0.02, 1.0}, false, true}, {});
    ASSERT_TRUE(fits);
    EXPECT_LE(fits->used_mm.x(), 193.5);
    EXPECT_FALSE(packing.packed_within(0, {192.5, 93.5}, {0, 1, 2, 3}, {{0.02, 1.0}, false, true}, {}));
}

TEST(NestPacking, LeavesOutWhatHasNoSheet) {
    NestQuestion question = four_boxes();
    question.boards[0].count = 0;
    auto packing = std::move(Packing::of(question)).value();
    const Packed packed = *packing.packed({0, 1, 2, 3}, k_along, {});
    EXPECT_TRUE(packed.sheets.empty());
    for (const PackingStep& step : packed.steps) {
        EXPECT_FALSE(step.sheet);
    }
}

TEST(NestPacking, IsStopped) {
    auto packing = std::move(Packing::of(four_boxes())).value();
    std::stop_source stop;
    stop.request_stop();
    EXPECT_FALSE(packing.packed({0, 1, 2, 3}, k_along, stop.get_token()));
    EXPECT_FALSE(packing.packed_within(0, {220, 110}, {0, 1, 2, 3}, k_along, stop.get_token()));
}

TEST(NestPacking, RefusesABoardThatIsNotThere) {
    NestQuestion question = four_boxes();
    question.parts[2].boards = {1};
    EXPECT_EQ(Packing::of(question).error().code, ErrorCode::invalid_argument);
    question = four_boxes();
    question.gap = millimetres(-1);
    EXPECT_EQ(Packing::of(question).error().code, ErrorCode::invalid_argument);
}

}  // namespace
}  // namespace sillwright::geometry

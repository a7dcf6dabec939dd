#include "core/survey/mirrored.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "core/survey/start.h"
#include "tests/core/survey/made_book.h"

// Which images suit alike follows by hand: ties see no difference between the two sides of the plane through their
// marks, a height does.
namespace sillwright::core::survey {
namespace {

using Eigen::Vector3d;

MadeBook marks_with_holes() {
    MadeBook made = made_marks();
    made.truth["H3"] = {400, 100, -212};
    made.truth["H4"] = {600, 150, -220};
    for (const char* mark : {"A", "B", "C"}) {
        made.tie(mark, "H3");
    }
    return made;
}

TEST(Mirrored, AsksOnWhichSideAHoleIs) {
    const Start start = find_start(marks_with_holes().book);
    ASSERT_EQ(start.mirrored.size(), 1U);
    EXPECT_EQ(start.mirrored[0].question, "H3: 212 mm below mark A, or 212 mm above it?");
    EXPECT_LT((start.mirrored[0].here_mm[0] - Vector3d(400, 100, -212)).norm(), 0.01);
    EXPECT_LT((start.mirrored[0].there_mm[0] - Vector3d(400, 100, 212)).norm(), 0.01);
    EXPECT_TRUE(start.lacking.empty());
}

TEST(Mirrored, TakesARoughPlaceForAnAnswer) {
    for (const double side : {-1.0, 1.0}) {
        MadeBook made = marks_with_holes();
        made.point("H3").about_up = MadeBook::entry(side * 100.0);
        const Start start = find_start(made.book);
        EXPECT_TRUE(start.mirrored.empty());
        EXPECT_LT((start.at_mm.at("H3") - Vector3d(400, 100, side * 212)).norm(), 0.01);
    }
}

TEST(Mirrored, DoesNotAskWhatAHeightTells) {
    for (const double side : {-1.0, 1.0}) {
        MadeBook made = marks_with_holes();
        made.truth["H3"].z() *= side;
        made.read(ReadingKind::height, {"A", "H3"});
        const Start start = find_start(made.book);
        EXPECT_TRUE(start.mirrored.empty());
        EXPECT_LT((start.at_mm.at("H3") - made.truth["H3"]).norm(), 0.01);
    }
}

TEST(Mirrored, MovesAllThatHangsOnAPointWithIt) {
    MadeBook made = marks_with_holes();
    for (const char* from : {"A", "B", "C", "H3"}) {
        made.tie(from, "H4");
    }
    const Start start = find_start(made.book);
    ASSERT_EQ(start.mirrored.size(), 1U);
    EXPECT_THAT(start.mirrored[0].points, testing::UnorderedElementsAre("H3", "H4"));
    EXPECT_LT((start.mirrored[0].there_mm[1] - Vector3d(600, 150, 220)).norm(), 0.1);
    // One rough height, of either, answers for both.
    made.point("H4").about_up = MadeBook::entry(300.0);
    const Start above = find_start(made.book);
    EXPECT_TRUE(above.mirrored.empty());
    EXPECT_GT(above.at_mm.at("H3").z(), 200.0);
}

// 3-2-1 leaves open on which side of A the mark B is, and on which side of both C is.
TEST(Mirrored, AsksHowTheFrameLies) {
    MadeBook made = made_marks();
    for (Point& point : made.book.points) {
        point.about_along = point.about_out = point.about_up = std::nullopt;
    }
    const Start start = find_start(made.book);
    ASSERT_EQ(start.mirrored.size(), 2U);
    EXPECT_EQ(start.mirrored[0].question, "B: 1500 mm to the rear of mark A, or 1500 mm to the front of it?");
    EXPECT_EQ(start.mirrored[1].question, "C: 600 mm outside mark A, or 600 mm inside it?");
}

TEST(Mirrored, AsksWithErrorsInTheReadingsToo) {
    int asked = 0;
    for (unsigned seed = 0; seed < 20; ++seed) {
        MadeBook made = made_marks();
        made.random.seed(seed);
        made.noise_sd_mm = 1.0;
        made.truth["D"] = {1000, 300, 3.0};  // a fourth mark, but nearly in the same plane
        made.truth["H3"] = {400, 100, -212};
        made.hold("D", "aou");
        for (const char* mark : {"A", "B", "C", "D"}) {
            made.tie(mark, "H3");
        }
        asked += find_start(made.book).mirrored.empty() ? 0 : 1;
    }
    // 3 mm off the plane changes the ties by about 1 mm: mostly not enough to tell.
    EXPECT_GE(asked, 15);
}

}  // namespace
}  // namespace sillwright::core::survey

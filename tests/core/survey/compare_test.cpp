#include "core/survey/compare.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <random>

#include "core/survey/solve.h"
#include "tests/core/survey/made_book.h"

namespace sillwright::core::survey {
namespace {

using Eigen::Vector3d;
using testing::HasSubstr;

const std::map<std::string, Vector3d> k_holes{
    {"M1", {0, 0, 0}},       {"M2", {1500, 20, 0}},    {"M3", {700, 500, 90}},  {"H1", {300, 80, -200}},
    {"H2", {700, 90, -210}}, {"H3", {1000, 85, -205}}, {"H4", {1300, 95, -190}}};

/// One side, each point measured by three differences from a mark of its own, which lies elsewhere in either side.
Solution side_of(const std::map<std::string, Vector3d>& points, double sd_mm, const Eigen::Isometry3d& frame,
                 double noise = 0.0, unsigned seed = 1) {
    MadeBook made;
    made.random.seed(seed);
    made.truth["own mark"] = {10, 20, 30};
    made.hold("own mark", "aou");
    Start start;
    start.at_mm["own mark"] = made.truth["own mark"];
    made.point("own mark").kind = PointKind::other;
    std::normal_distribution<double> normal;
    for (const auto& [name, at] : points) {
        made.truth[name] = frame * at;
        start.at_mm[name] = made.truth[name];
        for (const auto kind : {ReadingKind::along, ReadingKind::out, ReadingKind::up}) {
            made.read(kind, {"own mark", name}, noise * normal(made.random)).sd = MadeBook::entry(sd_mm);
        }
    }
    Solution solution = solve(made.book, start, false);
    std::erase_if(solution.points, [](const PlacedPoint& p) { return p.name == "own mark"; });
    return solution;
}

const Eigen::Isometry3d k_same_frame = Eigen::Isometry3d::Identity();
const Eigen::Isometry3d k_other_frame =
    Eigen::Translation3d(40, -15, 60) * Eigen::AngleAxisd(0.02, Vector3d(1, 2, 3).normalized());

TEST(Compare, SaysMirrorWhereBothSidesAgree) {
    const Comparison c = compare_sides(side_of(k_holes, 0.2, k_same_frame), side_of(k_holes, 0.2, k_other_frame));
    ASSERT_TRUE(c.verdict.has_value()) << c.lacks;
    EXPECT_EQ(*c.verdict, Verdict::same);
    EXPECT_EQ(c.points.size(), 7U);
    EXPECT_LT(c.rms_mm, 1e-6);
    // first = rotation * second + shift undoes the other frame.
    EXPECT_LT((c.rotation * k_other_frame.linear() - Eigen::Matrix3d::Identity()).norm(), 1e-7);
    EXPECT_THAT(c.words, HasSubstr("Mirror: both sides agree within 2.0 mm at all 7 common points."));
    for (const PointDifference& p : c.points) {
        EXPECT_NEAR(p.bound_mm, p.distance_mm + 1.96 * p.sd_mm, 1e-3);
        EXPECT_LT(p.sd_mm, 0.2 * std::sqrt(2.0) + 0.06);  // both sides' errors; what the fit takes makes it less
    }
}

TEST(Compare, SaysDoNotMirrorWhereAHoleStandsElsewhere) {
    auto other = k_holes;
    other["H4"].y() += 5.0;
    const Comparison c = compare_sides(side_of(k_holes, 0.2, k_same_frame), side_of(other, 0.2, k_other_frame));
    ASSERT_TRUE(c.verdict.has_value());
    EXPECT_EQ(*c.verdict, Verdict::different);
    EXPECT_THAT(c.words, HasSubstr("Do not mirror: H4 stands "));
    EXPECT_THAT(c.words, HasSubstr("mm further out on the other side"));
    const auto h4 = std::find_if(c.points.begin(), c.points.end(), [](const auto& p) { return p.name == "H4"; });
    EXPECT_EQ(h4->verdict, Verdict::different);
    EXPECT_GT(h4->w, 3.29);
}

TEST(Compare, SaysMeasureBetterWhereNeitherIsSure) {
    const Comparison c = compare_sides(side_of(k_holes, 1.5, k_same_frame), side_of(k_holes, 2.0, k_other_frame));
    ASSERT_TRUE(c.verdict.has_value());
    EXPECT_EQ(*c.verdict, Verdict::measure_better);
    EXPECT_THAT(c.words, HasSubstr("Measure better: "));
    EXPECT_THAT(c.words, HasSubstr("again on the other side, from "));  // the less sure one
}

// Of 200 pairs of equal sides with honest errors hardly one is called surely different.
TEST(Compare, SeldomCallsEqualSidesDifferent) {
    int different = 0;
    for (unsigned run = 0; run < 200; ++run) {
        const Comparison c = compare_sides(side_of(k_holes, 0.5, k_same_frame, 0.5, 2 * run),
                                           side_of(k_holes, 0.5, k_other_frame, 0.5, 2 * run + 1));
        different += *c.verdict == Verdict::different ? 1 : 0;
    }
    EXPECT_LE(different, 2);
}

TEST(Compare, SaysWhichPointsAreLacking) {
    const auto first = side_of(k_holes, 0.2, k_same_frame);
    const Comparison two = compare_sides(first, side_of({{"H1", {0, 0, 0}}, {"H2", {400, 0, 0}}}, 0.2, k_same_frame));
    EXPECT_FALSE(two.verdict.has_value());
    EXPECT_THAT(two.lacks, HasSubstr("only H1 and H2 in common"));
    const std::map<std::string, Vector3d> line{{"H1", {0, 0, 0}}, {"H2", {400, 0, 0}}, {"H3", {700, 0, 0}}};
    const Comparison lined = compare_sides(side_of(line, 0.2, k_same_frame), side_of(line, 0.2, k_same_frame));
    EXPECT_FALSE(lined.verdict.has_value());
    EXPECT_THAT(lined.lacks, HasSubstr("lie on one line"));
    EXPECT_THAT(compare_sides({}, {}).lacks, HasSubstr("no point of the same name"));
}

/// Marks taped to each other in both set-ups; on the lift the car leans and `moved` has moved by `by_mm`.
Book book_on_lift(const std::string& moved, const Vector3d& by_mm) {
    MadeBook made;
    made.truth = {
        {"A", {0, 0, 0}}, {"B", {1500, 0, 0}}, {"C", {700, 600, 0}}, {"D", {200, 300, 250}}, {"E", {1300, 200, -150}}};
    made.hold("A", "aou");
    made.hold("B", "ou");
    made.hold("C", "u");
    made.about("B", made.truth["B"]);
    made.about("C", made.truth["C"]);
    made.noise_sd_mm = 0.15;
    made.lean_rad["lift"] = {0.008, -0.012};
    made.book.set_ups = {{"wheels", true, {}, {}, {}, {}}, {"lift", false, {}, {}, {}, {}}};
    const std::vector<std::string> names{"A", "B", "C", "D", "E"};
    for (const std::string set_up : {"wheels", "lift"}) {
        if (set_up == "lift" && !moved.empty()) {
            made.truth[moved] += by_mm;
        }
        for (std::size_t i = 0; i < names.size(); ++i) {
            for (std::size_t k = i + 1; k < names.size(); ++k) {
                made.read(ReadingKind::tie, {names[i], names[k]}, 0.0, set_up);
            }
            if (i > 0) {
                made.read(ReadingKind::height, {names[0], names[i]}, 0.0, set_up);
            }
        }
    }
    return made.book;
}

TEST(CompareSetUps, SaysThatTheBodyKeptItsShape) {
    const auto c = compare_set_ups(book_on_lift("", Vector3d::Zero()));
    ASSERT_TRUE(c.has_value());
    ASSERT_TRUE(c->verdict.has_value()) << c->lacks;
    EXPECT_EQ(*c->verdict, Verdict::same);
    EXPECT_THAT(c->words, HasSubstr("kept its shape between \"wheels\" and \"lift\""));
    EXPECT_EQ(c->points.size(), 5U);
}

TEST(CompareSetUps, NamesAMarkThatMovedOnTheLift) {
    const auto c = compare_set_ups(book_on_lift("E", {0, 0, 6}));
    ASSERT_TRUE(c.has_value());
    ASSERT_TRUE(c->verdict.has_value()) << c->lacks;
    EXPECT_THAT(c->words, HasSubstr("changed its shape between \"wheels\" and \"lift\": E stands "));
    EXPECT_THAT(c->words, HasSubstr("higher"));
}

TEST(CompareSetUps, SaysWhatIsMissing) {
    EXPECT_FALSE(compare_set_ups({}).has_value());
    Book one = book_on_lift("", Vector3d::Zero());
    std::erase_if(one.readings, [](const Reading& r) { return r.set_up == "lift"; });
    EXPECT_THAT(compare_set_ups(one)->lacks, HasSubstr("Only one set-up has readings"));
    Book few = book_on_lift("", Vector3d::Zero());
    std::erase_if(few.readings,
                  [](const Reading& r) { return r.set_up == "lift" && !(r.points[0] == "A" && r.points[1] == "B"); });
    EXPECT_THAT(compare_set_ups(few)->lacks, HasSubstr("share A and B only"));
}

}  // namespace
}  // namespace sillwright::core::survey

#include "app/link/strip_of_job.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "tests/app/link/estate.h"

// Expected values: the sample job's own numbers; hand counts.
namespace sillwright::app {
namespace {

const StripLine& line_of(const StripPicture& picture, const std::string& name) {
    return *std::find_if(picture.lines.begin(), picture.lines.end(),
                         [&](const StripLine& line) { return line.name == name; });
}

double height_at(const StripLine& line, double along_mm) {
    for (const Eigen::Vector2d& p_mm : line.points_mm) {
        if (p_mm.x() == along_mm) {
            return p_mm.y();
        }
    }
    ADD_FAILURE() << line.name << " has no point at " << along_mm;
    return 0.0;
}

TEST(StripOfJob, HasTheSideTrueAndTheUndersideByItsDistanceFromTheFold) {
    const StripPicture picture = strip_of_job(*estate());
    EXPECT_EQ(height_at(line_of(picture, "shelf edge"), 0.0), 111.7);
    EXPECT_EQ(height_at(line_of(picture, "lower edge"), 0.0), 17.2);
    // Station 1: lower edge (138, 17.2), flange root (70, 15.77), flange end (34, 15.14).
    const double root = std::hypot(68.0, 17.2 - 15.77);
    EXPECT_NEAR(height_at(line_of(picture, "flange root"), 0.0), 17.2 - root, 1e-9);
    EXPECT_NEAR(height_at(line_of(picture, "flange end"), 0.0), 17.2 - root - std::hypot(36.0, 0.63), 1e-9);
    EXPECT_EQ(picture.ground.front_mm, 0.0);
    EXPECT_EQ(picture.ground.rear_mm, 1900.0);
    EXPECT_EQ(line_of(picture, "knee").nodes.size(), 10U);
}

TEST(StripOfJob, PutsMountsOnTheUnderside) {
    const StripPicture picture = strip_of_job(*estate());
    ASSERT_EQ(picture.mounts.size(), 9U);
    const StripMount& mount = picture.mounts[1];  // H2 at out 54.5, between root (about 72.7) and end (36.7)
    EXPECT_EQ(mount.at_mm.x(), 262.7);
    EXPECT_LT(mount.at_mm.y(), height_at(line_of(picture, "flange root"), 380.0));
    EXPECT_GT(mount.at_mm.y(), height_at(line_of(picture, "flange end"), 380.0));
    EXPECT_EQ(mount.shape, core::HoleShape::slot);
    EXPECT_EQ(mount.length_mm, 14.0);
    EXPECT_EQ(mount.part_mm, Eigen::Vector2d(18.0, 11.0));
    ASSERT_TRUE(mount.sd_mm);
    EXPECT_EQ(mount.sd_mm->x(), 0.5);
    EXPECT_NEAR(mount.sd_mm->y(), 0.5, 1e-3) << "out, but for the flange's slope";
}

TEST(StripOfJob, DrawsNoEllipseForWhatIsNotMeasured) {
    core::Evaluation evaluation = *estate();
    evaluation.job.mounts[0].sd[1].reset();
    const StripPicture picture = strip_of_job(evaluation);
    EXPECT_FALSE(picture.mounts[0].sd_mm);
    EXPECT_NE(picture.mounts[0].words.find("uncertainty not measured"), std::string::npos);
}

TEST(StripOfJob, ShowsTheWorstStateOfAMount) {
    core::Evaluation evaluation = *estate();
    for (core::Finding& finding : evaluation.findings) {
        if (finding.id == "mounts/H3/edge") {
            finding.state = core::State::close;
        } else if (finding.id == "mounts/H3/bend") {
            finding.state = core::State::falls_short;
        }
    }
    const StripPicture picture = strip_of_job(evaluation);
    EXPECT_EQ(picture.mounts[2].worst, core::State::falls_short);
    EXPECT_FALSE(picture.mounts[3].worst);
}

TEST(StripOfJob, TakesAJobInWhichNothingIsDrawn) {
    const StripPicture picture = strip_of_job(core::Evaluation{});
    EXPECT_TRUE(picture.empty());
}

}  // namespace
}  // namespace sillwright::app

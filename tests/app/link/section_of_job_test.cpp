#include "app/link/section_of_job.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <iterator>
#include <limits>
#include <string>

#include "tests/app/link/estate.h"

// Expected values: the sample job's own numbers; hand counts.
namespace sillwright::app {
namespace {

using Eigen::Vector2d;
using geometry::millimetres;

class SectionOfJob : public testing::Test {
protected:
    SectionPicture at(double along_mm) { return section_of_job(*evaluation_, millimetres(along_mm)).value(); }

    static std::vector<SectionLine> lines(const SectionPicture& picture, SectionRole role) {
        std::vector<SectionLine> found;
        std::copy_if(picture.lines.begin(), picture.lines.end(), std::back_inserter(found),
                     [&](const SectionLine& line) { return line.role == role; });
        return found;
    }

    static std::string mount_name(const SectionPicture& picture) {
        for (const SectionPoint& point : picture.points) {
            if (point.role == SectionRole::mount_axis) {
                return point.name.substr(0, point.name.find('\n'));
            }
        }
        return "";
    }

    std::shared_ptr<const core::Evaluation> evaluation_ = estate();
};

double distance_to(const SectionLine& line, const Vector2d& p) {
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i + 1 < line.points_mm.size(); ++i) {
        const Vector2d a = line.points_mm[i];
        const Vector2d b = line.points_mm[i + 1];
        const double share = std::clamp((p - a).dot(b - a) / (b - a).squaredNorm(), 0.0, 1.0);
        least = std::min(least, (p - a - share * (b - a)).norm());
    }
    return least;
}

TEST_F(SectionOfJob, IsSeenFromTheSideThatPutsOutToTheRight) {
    EXPECT_EQ(at(850).title, "section at 5.0 · 850 mm · looking forward");
    EXPECT_EQ(section_of_job(*estate(core::Side::left), millimetres(850)).value().title,
              "section at 5.0 · 850 mm · looking rearward");
}

TEST_F(SectionOfJob, HasTheSheetAsAnExactParallel) {
    // The drawn line is the inside, the sheet 3 mm, and nothing is said of how it is formed.
    const std::filesystem::path file = SILLWRIGHT_SOURCE_DIR "/samples/estate_a.sillwright";
    core::Job even = core::read_job(file).value();
    even.forming = {};
    even.skirt.pieces[0].sheet = core::Entry{millimetres(3), ""};
    const SectionPicture picture =
        section_of_job(*core::evaluate(even, file.parent_path()).value(), millimetres(850)).value();
    const auto drawn = lines(picture, SectionRole::skirt_drawn);
    const auto inside = lines(picture, SectionRole::skirt_inside);
    const auto outside = lines(picture, SectionRole::skirt_outside);
    ASSERT_EQ(drawn.size(), 1U);
    ASSERT_EQ(inside.size(), 1U);
    ASSERT_EQ(outside.size(), 1U);
    EXPECT_EQ(outside[0].name, "skirt");
    for (const Vector2d& p : inside[0].points_mm) {
        EXPECT_NEAR(distance_to(drawn[0], p), 0.0, 0.02);
    }
    for (const Vector2d& p : outside[0].points_mm) {
        EXPECT_NEAR(distance_to(drawn[0], p), 3.0, 0.02);
    }
}

TEST_F(SectionOfJob, NamesEveryNodeOnTheLine) {
    const SectionPicture picture = at(850);
    const auto drawn = lines(picture, SectionRole::skirt_drawn);
    std::size_t nodes = 0;
    for (const SectionPoint& point : picture.points) {
        if (point.role == SectionRole::skirt_drawn) {
            ++nodes;
            EXPECT_NEAR(distance_to(drawn[0], point.at_mm), 0.0, 0.02) << point.name;
            EXPECT_NEAR(point.across.norm(), 1.0, 1e-9) << point.name;
        }
    }
    EXPECT_EQ(nodes, 8U) << "top return end, shelf inner and edge, bead, knee, lower edge, flange root and end";
}

TEST_F(SectionOfJob, HasTheDoorWhereThereIsOne) {
    const auto front = lines(at(850), SectionRole::door);
    ASSERT_EQ(front.size(), 1U);
    EXPECT_TRUE(front[0].closed);
    EXPECT_EQ(front[0].name, "front door");
    EXPECT_EQ(lines(at(850), SectionRole::door_limit).size(), 1U);
    // The front door ends at 1080 mm, the rear one starts at 1086 mm.
    EXPECT_TRUE(lines(at(1083), SectionRole::door).empty());
    EXPECT_TRUE(lines(at(1083), SectionRole::door_limit).empty());
    EXPECT_EQ(lines(at(1300), SectionRole::door)[0].name, "rear door");
}

TEST_F(SectionOfJob, TheDoorStandsAboveItsLimitLineByWhatIsAskedFor) {
    const SectionPicture picture = at(850);
    const SectionLine door = lines(picture, SectionRole::door)[0];
    const SectionLine limit = lines(picture, SectionRole::door_limit)[0];
    // 5 mm are asked for while it moves; deviations and paint only add to that.
    for (const Vector2d& p : limit.points_mm) {
        EXPECT_GT(distance_to(door, p), 5.0);
    }
}

TEST_F(SectionOfJob, SaysHowFarAMountIsFromTheSection) {
    // H3 is at 545.6 mm, H2 and H4 more than 100 mm from it.
    // The right side is seen looking forward: what lies forward is beyond.
    EXPECT_EQ(mount_name(at(545.6)), "H3");
    EXPECT_EQ(mount_name(at(555.6)), "H3, 10 mm beyond");
    EXPECT_EQ(mount_name(at(535.6)), "H3, 10 mm this side");
    EXPECT_EQ(mount_name(at(600)), "");
    // The left side is seen looking rearward.
    EXPECT_EQ(mount_name(section_of_job(*estate(core::Side::left), millimetres(535.6)).value()), "H3, 10 mm beyond");
}

TEST_F(SectionOfJob, BeyondThePartThereIsNothingOfIt) {
    const SectionPicture picture = at(5000);
    EXPECT_TRUE(picture.lines.empty());
    EXPECT_TRUE(picture.points.empty());
}

}  // namespace
}  // namespace sillwright::app

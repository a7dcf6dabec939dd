#include "app/link/network_of_job.h"

#include <gtest/gtest.h>

#include "tests/app/link/hand_made_network.h"

namespace sillwright::app {
namespace {

TEST(NetworkOfJob, HasEachPointAndEachReadingBetweenPlacedOnes) {
    const auto made = hand_made_network(6);
    const NetworkPicture picture = network_of_job(made.job, made.results);
    EXPECT_EQ(picture.points.size(), 9U) << "three marks, six holes";
    EXPECT_EQ(picture.lines.size(), 15U) << "three ties of the marks, two of each hole; H9 is not placed";
    EXPECT_TRUE(picture.lines[3].suspect);
    EXPECT_TRUE(picture.lines[4].dropped);
    EXPECT_TRUE(picture.points[3].mount) << "H1 is a mount of the job";
    EXPECT_FALSE(picture.points[4].mount);
    ASSERT_EQ(picture.lacking.size(), 2U);
    EXPECT_EQ(picture.lacking[0].name, "H9");
    ASSERT_EQ(picture.mirrors.size(), 1U);
    ASSERT_TRUE(picture.next);
    EXPECT_EQ(picture.next->over_mm.size(), 2U);
    ASSERT_EQ(picture.leans.size(), 1U);
    EXPECT_NE(picture.leans[0].find("0.31° outward, 0.10° forward"), std::string::npos) << picture.leans[0];
}

TEST(NetworkOfJob, OfAnEmptyBookIsEmpty) {
    const NetworkPicture picture = network_of_job({}, {});
    EXPECT_TRUE(picture.points.empty());
    EXPECT_TRUE(picture.lines.empty());
    EXPECT_FALSE(picture.next);
    EXPECT_TRUE(picture.suspect.empty());
}

}  // namespace
}  // namespace sillwright::app

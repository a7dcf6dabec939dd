#include "core/edit/drawn_id.h"

#include "bench_job.h"

namespace sillwright::core {
namespace {

TEST(DrawnId, FindsEveryBodyOfAJobInItsOrder) {
    const Job job = bench::estate();
    const auto all = all_drawn(job);
    ASSERT_EQ(all.size(), 4U) << "body, skirt, a panel on each of two doors";
    EXPECT_EQ(name_of(job, all[0]), "the body");
    EXPECT_EQ(name_of(job, all[1]), "skirt");
    EXPECT_EQ(name_of(job, all[2]), "front door, door panel");
    EXPECT_EQ(name_of(job, all[3]), "rear door, door panel");
    EXPECT_EQ(&drawn(job, all[3]), &job.doors[1].bodies[0].drawn);
    EXPECT_FALSE(closed(job, all[1]));
    EXPECT_TRUE(closed(job, all[2]));
}

TEST(FindNode, TellsWhereItStands) {
    const Job job = bench::estate();
    const auto place = find_node(job, "s4.3");
    ASSERT_TRUE(place);
    EXPECT_EQ(place->drawn, bench::k_piece);
    EXPECT_EQ(place->section, 3U);
    EXPECT_EQ(place->node, 2U);
    EXPECT_FALSE(find_node(job, "s4"));
}

}  // namespace
}  // namespace sillwright::core

#include "core/edit/new_names.h"

#include "bench_job.h"

namespace sillwright::core {
namespace {

TEST(NextName, IsOneAboveTheHighest) {
    EXPECT_EQ(next_name({}, "H"), "H1");
    EXPECT_EQ(next_name({"H1", "H3", "H10"}, "H"), "H11") << "a gap is not filled: H2 may stand on paper";
    EXPECT_EQ(next_name({"H", "Hx7", "H7x", "G9"}, "H"), "H1") << "those are other names";
    EXPECT_EQ(next_name({"H99999999999999999999"}, "H"), "H1") << "no number that can be counted on from";
}

TEST(NodeIds, AreEachTheirOwn) {
    Job job = bench::channel();
    NodeIds fresh(job);
    EXPECT_EQ(fresh.next(), "n1");
    EXPECT_EQ(fresh.next(), "n2");
    job.skirt.pieces[0].drawn.sections[0].nodes[0].id = "n41";
    EXPECT_EQ(NodeIds(job).next(), "n42");
}

}  // namespace
}  // namespace sillwright::core

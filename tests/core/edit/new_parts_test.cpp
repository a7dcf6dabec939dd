#include "core/edit/new_parts.h"

#include "bench_job.h"

namespace sillwright::core {
namespace {

TEST(NewDoor, HasAFreeNameAndSomethingToDraw) {
    Job job;
    for (const char* name : {"front door", "rear door", "door 3", "door 4"}) {
        job.doors.push_back(new_door(job));
        EXPECT_EQ(job.doors.back().name, name);
        ASSERT_EQ(job.doors.back().bodies.size(), 1U);
        EXPECT_TRUE(job.doors.back().bodies[0].drawn.empty());
        EXPECT_FALSE(job.doors.back().hinge);
    }
    job.doors.erase(job.doors.begin());
    EXPECT_EQ(new_door(job).name, "front door");
}

TEST(NewPiece, IsCarriedByTheBody) {
    const Piece piece = new_piece("skirt");
    EXPECT_EQ(piece.name, "skirt");
    EXPECT_EQ(piece.carried_by, "body");
    EXPECT_FALSE(piece.sheet);
}

}  // namespace
}  // namespace sillwright::core

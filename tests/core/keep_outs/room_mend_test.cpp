#include "core/keep_outs/room_mend.h"

#include <gtest/gtest.h>

#include "core/swing/swing_mend.h"
#include "tests/core/mounts/flange_world.h"

namespace sillwright::core {
namespace {

PieceModel model_of(const Job& job) {
    std::vector<Finding> unused;
    auto model = piece_model(job, 0, {}, k_check_deviation, unused);
    EXPECT_TRUE(model.has_value()) << (model ? "" : model.error().message);
    return std::move(model).value();
}

/// The highest corner of the mesh, held below a level.
Room below_level(const PieceModel& model, double level) {
    Room room{1e9, {}, {0.0, -1.0}, 0};
    for (std::size_t i = 0; i < model.body->mesh.triangles.size(); ++i) {
        for (const std::int32_t corner : model.body->mesh.triangles[i]) {
            const Eigen::Vector3d& p = model.body->mesh.points[static_cast<std::size_t>(corner)];
            if (level - p.z() < room.margin) {
                room.margin = level - p.z();
                room.on_part_mm = p;
                room.triangle = static_cast<std::int32_t>(i);
            }
        }
    }
    return room;
}

TEST(RoomMend, LowersWhatStandsTooHighAndNoMore) {
    const Job job = flat_world();  // Its highest is the bead, at up 120.
    const RoomOf room = [](const PieceModel& model) { return below_level(model, 117.5); };
    const auto mend = room_mend(job, 0, model_of(job), room);
    ASSERT_TRUE(mend);
    ASSERT_TRUE(mend->proven_margin);
    EXPECT_GE(*mend->proven_margin, 0.0);
    EXPECT_LE(*mend->proven_margin, k_room_overshoot_mm);
    const Job after = mended(job, mend->moves);
    EXPECT_NEAR(below_level(model_of(after), 117.5).margin, *mend->proven_margin, 1e-9);
    for (const NodeMove& move : mend->moves) {
        EXPECT_LE(move.by_mm.y(), 0.0);
        EXPECT_EQ(move.by_mm.x(), 0.0);
    }
    EXPECT_NE(mend->words.find("bead"), std::string::npos) << mend->words;
    EXPECT_NE(mend->words.find("lower"), std::string::npos) << mend->words;
}

TEST(RoomMend, NothingWhereItHoldsOrWhereFarTooMuchIsLacking) {
    const Job job = flat_world();
    const PieceModel model = model_of(job);
    EXPECT_FALSE(room_mend(job, 0, model, [](const PieceModel& m) { return below_level(m, 130); }));
    EXPECT_FALSE(room_mend(job, 0, model, [](const PieceModel& m) { return below_level(m, 20); }));
}

}  // namespace
}  // namespace sillwright::core

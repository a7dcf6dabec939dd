#include "core/mounts/fastener_table.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <set>

#include "core/job_file/words.h"
#include "core/resource_text.h"
#include "tests/core/mounts/flange_world.h"

namespace sillwright::core {
namespace {

using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;

TEST(FastenerTable, EveryWordIsOneOfTheJobFile) {
    std::set<std::string> kinds;
    std::set<std::string> intos;
    for (const auto& [word, kind] : job_file::k_fastener_words) {
        kinds.emplace(word);
    }
    for (const auto& [word, kind] : job_file::k_mount_words) {
        intos.emplace(word);
    }
    const auto file = nlohmann::json::parse(fasteners_text());
    for (const auto& row : file.at("fasteners")) {
        EXPECT_TRUE(kinds.contains(row.at("kind").get<std::string>())) << row;
        EXPECT_TRUE(intos.contains(row.at("into").get<std::string>())) << row;
    }
    EXPECT_EQ(file.at("fasteners").size(), fastener_table().size());
    EXPECT_NE(file.at("about").get<std::string>().find("common practice, no source"), std::string::npos);
}

TEST(FastenerTable, RowsCanBeMeant) {
    std::set<std::string> names;
    ASSERT_GT(fastener_table().size(), 40U);
    for (const FastenerRow& row : fastener_table()) {
        EXPECT_TRUE(names.insert(row.name).second) << row.name;
        EXPECT_GT(row.diameter, Length{}) << row.name;
        EXPECT_GT(row.head_diameter, row.diameter) << row.name;
        EXPECT_LT(row.grip_least, row.grip_most) << row.name;
        EXPECT_LE(row.hole_least, row.hole_most) << row.name;
        EXPECT_GT(row.holds, geometry::Force{}) << row.name;
        EXPECT_FALSE(row.shapes.empty()) << row.name;
        EXPECT_TRUE(row.tail || row.length || row.into == MountKind::stud) << row.name;
        EXPECT_TRUE(!row.length || *row.length > row.grip_most) << row.name;
        EXPECT_EQ(find_fastener(row.name), &row);
    }
    EXPECT_EQ(find_fastener("none such"), nullptr);
}

// Push-in clips are for holes of 6.3, 7, 8, 9 and 10 mm, and hold 50 to 150 N: common practice, no source.
TEST(FastenerTable, UsualClipHolesHaveAClip) {
    for (const double hole : {6.3, 7.0, 8.0, 9.0, 10.0}) {
        int rows = 0;
        for (const FastenerRow& row : fastener_table()) {
            if (row.kind == FastenerKind::clip && row.shapes.size() == 2 && row.hole_least <= millimetres(hole) &&
                row.hole_most >= millimetres(hole)) {
                ++rows;
                EXPECT_GE(row.holds, geometry::newtons(50));
                EXPECT_LE(row.holds, geometry::newtons(150));
            }
        }
        EXPECT_GE(rows, 3) << hole;
    }
}

TEST(FastenerTable, GoesIntoItsKindAndShape) {
    const FastenerRow* const square = find_fastener("square push-in clip 8 x 8, grip 2 to 4");
    ASSERT_NE(square, nullptr);
    Mount mount = world_mount();
    EXPECT_FALSE(goes_into(*square, mount));
    mount.shape = HoleShape::square;
    EXPECT_TRUE(goes_into(*square, mount));
    mount.kind = MountKind::stud;
    EXPECT_FALSE(goes_into(*square, mount));
}

TEST(FastenerTable, ScrewsTailIsWhatTheStackLeaves) {
    const FastenerRow* const screw = find_fastener("screw M6 x 20 with washer and spring nut");
    ASSERT_NE(screw, nullptr);
    const Fastener before = world_mount().fastener;
    const Fastener taken = fastener_of(*screw, before, millimetres(5.92));
    EXPECT_NEAR(in_mm(taken.tail->value), 14.08, 1e-12);
    EXPECT_EQ(taken.kind, FastenerKind::screw);
    EXPECT_EQ(taken.spacer, before.spacer);
    EXPECT_FALSE(fastener_of(*screw, before, std::nullopt).tail);
}

}  // namespace
}  // namespace sillwright::core

#include "core/buck/part_words.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

namespace sillwright::core {
namespace {

using Eigen::AlignedBox2d;
using Eigen::Vector2d;
using testing::ElementsAre;
using testing::IsEmpty;

PartRoom board(double width, double height) {
    return PartRoom::of(
               geometry::make_profile({{{0, 0}, {}}, {{width, 0}, {}}, {{width, height}, {}}, {{0, height}, {}}}, true)
                   .value())
        .value();
}

/// One letter is a height wide.
AlignedBox2d box_of(const EngravedWords& words) {
    const double width = words.height_mm * static_cast<double>(words.words.size());
    return {words.at_mm, Vector2d(words.at_mm + Vector2d(width, words.height_mm))};
}

void expect_apart(const CutPart& part, double width, double height) {
    const AlignedBox2d inside(Vector2d(3, 3), Vector2d(width - 3, height - 3));
    for (std::size_t i = 0; i < part.words.size(); ++i) {
        EXPECT_TRUE(inside.contains(box_of(part.words[i]))) << part.words[i].words;
        for (std::size_t k = i + 1; k < part.words.size(); ++k) {
            EXPECT_FALSE(box_of(part.words[i]).intersects(box_of(part.words[k])))
                << part.words[i].words << " over " << part.words[k].words;
        }
    }
}

std::vector<Lettering> lines() {
    return {{{"R3"}, {}, {}},
            {{}, {{"FRONT", MarkWay::to_reader}, {"OUT", MarkWay::up}, {"UP", MarkWay::right}}, {}},
            {{"STATION 3 - 700", "3 - 700"}, {}, {}}};
}

TEST(PartWords, StandAsABlockOfOneHeight) {
    PartRoom room = board(300, 100);
    CutPart part;
    engrave(lines(), 8.0, room, part);
    ASSERT_EQ(part.words.size(), 5U);
    EXPECT_THAT(part.left_out, IsEmpty());
    expect_apart(part, 300, 100);
    for (const EngravedWords& words : part.words) {
        EXPECT_DOUBLE_EQ(words.height_mm, 8.0);
    }
    // The first line is the uppermost; all begin below one another.
    EXPECT_GT(part.words[0].at_mm.y(), part.words[1].at_mm.y());
    EXPECT_GT(part.words[1].at_mm.y(), part.words[4].at_mm.y());
    EXPECT_DOUBLE_EQ(part.words[0].at_mm.x(), part.words[4].at_mm.x());
    EXPECT_EQ(part.words[4].words, "STATION 3 - 700");
}

TEST(PartWords, PointTheWayTheyName) {
    PartRoom room = board(300, 100);
    CutPart part;
    engrave({{{}, {{"OUT", MarkWay::up}, {"UP", MarkWay::right}, {"FRONT", MarkWay::left}}, {}}}, 8.0, room, part);
    ASSERT_EQ(part.lines.size(), 3U);
    const auto way = [&](std::size_t i) {
        return Vector2d((part.lines[i].to_mm - part.lines[i].from_mm).normalized());
    };
    EXPECT_LT((way(0) - Vector2d(0, 1)).norm(), 1e-12);
    EXPECT_LT((way(1) - Vector2d(1, 0)).norm(), 1e-12);
    EXPECT_LT((way(2) - Vector2d(-1, 0)).norm(), 1e-12);
    EXPECT_TRUE(std::ranges::all_of(part.lines, &EngravedLine::arrow));
}

TEST(PartWords, MarkADirectionThroughTheFaceByARing) {
    for (const MarkWay way : {MarkWay::to_reader, MarkWay::from_reader}) {
        PartRoom room = board(300, 100);
        CutPart part;
        engrave({{{}, {{"FRONT", way}}, {}}}, 8.0, room, part);
        AlignedBox2d ring;
        for (const EngravedLine& line : part.lines) {
            EXPECT_FALSE(line.arrow);
            ring.extend(line.from_mm);
        }
        EXPECT_NEAR(ring.sizes().x(), 8.0, 1e-9);
        // A cross goes over the middle, a dot stays near it.
        const auto across = std::ranges::count_if(
            part.lines, [](const EngravedLine& line) { return (line.to_mm - line.from_mm).norm() > 7.9; });
        EXPECT_EQ(across, way == MarkWay::from_reader ? 2 : 0);
        EXPECT_GE(ring.min().x(), part.words[0].at_mm.x() + 5 * 8.0);
    }
}

TEST(PartWords, AreWrittenSmallerWhereThereIsLessRoom) {
    PartRoom room = board(110, 60);
    CutPart part;
    engrave(lines(), 8.0, room, part);
    expect_apart(part, 110, 60);
    EXPECT_THAT(part.left_out, IsEmpty());
    EXPECT_LT(part.words[1].height_mm, 8.0);
    EXPECT_GE(part.words[1].height_mm, 4.0);
}

TEST(PartWords, AreShortenedThenLeftOutWhereThereIsNone) {
    PartRoom room = board(40, 30);
    CutPart part;
    engrave(lines(), 8.0, room, part);
    expect_apart(part, 40, 30);
    ASSERT_FALSE(part.words.empty());
    EXPECT_EQ(part.words[0].words, "R3");
    EXPECT_FALSE(part.left_out.empty());
    PartRoom none = board(9, 9);
    CutPart tiny;
    engrave(lines(), 8.0, none, tiny);
    EXPECT_THAT(tiny.words, IsEmpty());
    EXPECT_THAT(tiny.left_out, ElementsAre("R3", "FRONT", "OUT", "UP", "STATION 3 - 700"));
    // Where only the shorter words fit, they stand, and nothing is left out.
    PartRoom narrow = board(40, 14);
    CutPart shorter;
    engrave({{{"STATION 3 - 700", "3 - 700"}, {}, {}}}, 8.0, narrow, shorter);
    ASSERT_EQ(shorter.words.size(), 1U);
    EXPECT_EQ(shorter.words[0].words, "3 - 700");
    EXPECT_THAT(shorter.left_out, IsEmpty());
}

TEST(PartWords, StayWhereTheyBelong) {
    PartRoom room = board(300, 100);
    CutPart part;
    const AlignedBox2d place(Vector2d(200, 10), Vector2d(240, 40));
    engrave({{{"S1"}, {}, place}, {{"R1"}, {}, {}}}, 8.0, room, part);
    expect_apart(part, 300, 100);
    ASSERT_EQ(part.words.size(), 2U);
    const auto found = std::ranges::find(part.words, "S1", &EngravedWords::words);
    ASSERT_NE(found, part.words.end());
    EXPECT_TRUE(place.contains(box_of(*found)));
}

}  // namespace
}  // namespace sillwright::core

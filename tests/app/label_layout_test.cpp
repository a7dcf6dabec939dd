#include "app/drawings/label_layout.h"

#include <gtest/gtest.h>

namespace sillwright::app {
namespace {

const QRectF k_sheet(0, 0, 400, 300);

TEST(LabelLayout, KnowsWhatCrosses) {
    const QRectF box(10, 10, 20, 10);
    EXPECT_TRUE(crosses(QLineF(0, 0, 40, 30), box));
    EXPECT_TRUE(crosses(QLineF(15, 12, 16, 13), box)) << "inside";
    EXPECT_TRUE(crosses(QLineF(0, 10, 40, 10), box)) << "touching the upper side";
    EXPECT_FALSE(crosses(QLineF(0, 9, 40, 9), box));
    EXPECT_FALSE(crosses(QLineF(0, 0, 9, 30), box));
    EXPECT_FALSE(crosses(QLineF(0, 25, 15, 40), box)) << "its bounds overlap, it does not";
    EXPECT_FALSE(crosses(QLineF(5, 5, 5, 5), box)) << "a point outside";
    EXPECT_TRUE(crosses(QLineF(15, 15, 15, 15), box)) << "a point inside";
}

TEST(LabelLayout, LeaderEndsAtTheNearestPointOfTheBox) {
    EXPECT_EQ(leader(QRectF(10, 10, 20, 10), QPointF(40, 15)), QLineF(30, 15, 40, 15));
    EXPECT_EQ(leader(QRectF(10, 10, 20, 10), QPointF(0, 0)), QLineF(10, 10, 0, 0));
}

TEST(LabelLayout, AFreePointHasItsNameBesideIt) {
    const auto places = place_labels({{{QPointF(200, 150)}, QSizeF(60, 20)}}, {}, k_sheet);
    ASSERT_EQ(places.size(), 1U);
    EXPECT_FALSE(places[0].far);
    EXPECT_EQ(places[0].box.size(), QSizeF(60, 20));
    EXPECT_LT(leader(places[0].box, QPointF(200, 150)).length(), 14.0);
}

// Twelve names round a comb of lines: enough room for all, if looked for.
TEST(LabelLayout, NothingOverlapsOnACrowdedSheet) {
    std::vector<QLineF> lines;
    std::vector<LabelWish> wishes;
    for (int i = 0; i < 12; ++i) {
        const double x = 100.0 + 16.0 * i;
        lines.emplace_back(x, 120, x + 10, 180);
        wishes.push_back({{QPointF(x, 120), QPointF(x + 10, 180)}, QSizeF(50, 18)});
    }
    const auto places = place_labels(wishes, lines, k_sheet);
    ASSERT_EQ(places.size(), wishes.size());
    for (std::size_t i = 0; i < places.size(); ++i) {
        SCOPED_TRACE(i);
        EXPECT_TRUE(k_sheet.contains(places[i].box));
        for (const QLineF& line : lines) {
            EXPECT_FALSE(crosses(line, places[i].box));
        }
        for (std::size_t k = i + 1; k < places.size(); ++k) {
            EXPECT_FALSE(places[i].box.intersects(places[k].box));
            EXPECT_FALSE(places[k].far && crosses(leader(places[k].box, places[k].at), places[i].box)) << k;
        }
    }
}

TEST(LabelLayout, WithoutRoomEveryNameStillHasAPlace) {
    std::vector<LabelWish> wishes(5, LabelWish{{QPointF(10, 10)}, QSizeF(500, 400)});
    EXPECT_EQ(place_labels(wishes, {}, k_sheet).size(), 5U);
}

TEST(LabelLayout, AHeldLabelStaysBesideItsPoint) {
    LabelWish wish{{QPointF(200, 150)}, QSizeF(60, 20)};
    wish.held = LabelWish::Held{0, QPointF(-90, -40), false, 0};
    const auto stays = place_labels({wish}, {}, k_sheet);
    EXPECT_EQ(stays[0].box, QRectF(110, 110, 60, 20)) << "it goes along with its point";
    // A line through that place: it must go elsewhere.
    const auto moves = place_labels({wish}, {QLineF(100, 120, 180, 120)}, k_sheet);
    EXPECT_NE(moves[0].box, stays[0].box);
    EXPECT_EQ(moves[0].cost, 0);
    EXPECT_FALSE(moves[0].covers_line());
}

}  // namespace
}  // namespace sillwright::app

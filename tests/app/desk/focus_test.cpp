#include "app/desk/focus.h"

#include <gtest/gtest.h>

#include <QSignalSpy>

namespace sillwright::app {
namespace {

using geometry::degrees;
using geometry::millimetres;

TEST(Focus, SignalsOnlyWhatIsOtherThanBefore) {
    Focus focus;
    const QSignalSpy went(&focus, &Focus::went);
    const QSignalSpy turned(&focus, &Focus::turned);
    const QSignalSpy chose(&focus, &Focus::chose);
    focus.go_to(millimetres(700));
    focus.go_to(millimetres(700));
    focus.turn_door("front door", degrees(6));
    focus.turn_door("front door", degrees(6));
    focus.turn_door("rear door", degrees(0));
    focus.choose({Item::Kind::mount, "H4"});
    focus.choose({Item::Kind::mount, "H4"});
    EXPECT_EQ(went.count(), 1);
    EXPECT_EQ(turned.count(), 1) << "a door that was never turned is shut";
    EXPECT_EQ(chose.count(), 1);
    EXPECT_EQ(focus.opening("front door"), degrees(6));
}

TEST(Focus, ClearForgetsEverythingAndShutsTheDoors) {
    Focus focus;
    focus.go_to(millimetres(700));
    focus.turn_door("front door", degrees(6));
    focus.turn_door("rear door", degrees(9));
    focus.choose({Item::Kind::mount, "H4"});
    focus.point_at({Item::Kind::station, "3"});
    const QSignalSpy turned(&focus, &Focus::turned);
    focus.clear();
    EXPECT_EQ(turned.count(), 2);
    EXPECT_FALSE(focus.along());
    EXPECT_EQ(focus.opening("rear door"), degrees(0));
    EXPECT_FALSE(focus.chosen());
    EXPECT_FALSE(focus.pointed());
}

}  // namespace
}  // namespace sillwright::app

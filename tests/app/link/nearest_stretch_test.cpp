#include "app/link/nearest_stretch.h"

#include <gtest/gtest.h>

namespace sillwright::app {
namespace {

using geometry::millimetres;

core::Node node(const std::string& id, double out, double up) {
    return {id, id, {millimetres(out), ""}, {millimetres(up), ""}, {}, {}};
}

core::Job job() {
    core::Job made;
    made.stations = {{"1", {millimetres(0), ""}, {}}, {"2", {millimetres(300), ""}, {}}};
    made.body.sections = {{"2", {node("a", 0, 50), node("b", 40, 50), node("c", 40, 0)}, {}}};
    return made;
}

TEST(NearestStretch, IsTheStraightThatIsNearest) {
    const auto found = nearest_stretch(job(), millimetres(300), {43, 20}, millimetres(5));
    ASSERT_TRUE(found);
    EXPECT_EQ(found->drawn.kind, core::DrawnId::Kind::body);
    EXPECT_EQ(found->section, 0U);
    EXPECT_EQ(found->after, 1U) << "between b and c";
    EXPECT_LT((found->at_mm - Eigen::Vector2d(40, 20)).norm(), 1e-12);
}

TEST(NearestStretch, NoneBeyondReachOrWhereNothingIsDrawn) {
    EXPECT_FALSE(nearest_stretch(job(), millimetres(300), {46, 20}, millimetres(5)));
    EXPECT_FALSE(nearest_stretch(job(), millimetres(0), {40, 20}, millimetres(5))) << "drawn at the other station";
    EXPECT_FALSE(nearest_stretch(job(), millimetres(150), {40, 20}, millimetres(5))) << "between stations";
    EXPECT_FALSE(nearest_stretch(job(), millimetres(300), {0, 25}, millimetres(5))) << "an open line is not closed";
}

}  // namespace
}  // namespace sillwright::app

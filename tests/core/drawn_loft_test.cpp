#include "core/drawn_loft.h"

#include <gmock/gmock.h>

#include "tests/core/swing/swing_world.h"

namespace sillwright::core {
namespace {

using geometry::millimetres;
using swing_world::mm;
using testing::HasSubstr;
using testing::StartsWith;

/// Stations at -200, 0, 500, 1000, 1300.
Job stationed() {
    return swing_world::upright(115);
}

TEST(PlaceWords, StationAndPartOfTheWayThenTheLength) {
    EXPECT_EQ(place_words(stationed(), millimetres(0)), "2.0 · 0 mm");
    EXPECT_EQ(place_words(stationed(), millimetres(700)), "3.4 · 700 mm");  // 200 of 500 behind station 3
    EXPECT_EQ(place_words(stationed(), millimetres(1300)), "5.0 · 1300 mm");
    EXPECT_EQ(at_place_words(stationed(), millimetres(700)), "at 3.4 · 700 mm");
    // Beyond the ends there is no station to count on to.
    EXPECT_EQ(place_words(stationed(), millimetres(-300)), "ahead of 1 · -300 mm");
    EXPECT_EQ(place_words(stationed(), millimetres(1600)), "behind 5 · 1600 mm");
    EXPECT_EQ(at_place_words(stationed(), millimetres(1600)), "behind 5 · 1600 mm");
    EXPECT_EQ(place_words(stationed(), millimetres(-200.4)), "1.0 · -200 mm") << "told to the millimetre it is there";
}

TEST(PlaceWords, StationsThatAreNotNumberedInOrderAreNamed) {
    Job job = stationed();
    const std::vector<std::vector<std::string>> names{
        {"A", "B", "C", "D", "E"}, {"0", "1", "2", "3", "4"}, {"1", "2", "2a", "3", "4"}};
    for (const auto& list : names) {
        for (std::size_t i = 0; i < list.size(); ++i) {
            job.stations[i].name = list[i];
        }
        EXPECT_EQ(place_words(job, millimetres(700)), "between " + list[2] + " and " + list[3] + " · 700 mm");
        EXPECT_EQ(at_place_words(job, millimetres(700)), place_words(job, millimetres(700)));
        EXPECT_EQ(place_words(job, millimetres(500)), "at " + list[2] + " · 500 mm");
        EXPECT_EQ(place_words(job, millimetres(499.8)), "at " + list[2] + " · 500 mm");
        EXPECT_EQ(place_words(job, millimetres(1300)), "at " + list[4] + " · 1300 mm");
        EXPECT_EQ(place_words(job, millimetres(-220)), "ahead of " + list[0] + " · -220 mm");
        EXPECT_EQ(place_words(job, millimetres(1400)), "behind " + list[4] + " · 1400 mm");
    }
}

TEST(PlaceWords, WithoutStationsTheLengthAlone) {
    Job job;
    EXPECT_EQ(place_words(job, millimetres(712.4)), "712 mm");
    EXPECT_EQ(at_place_words(job, millimetres(712.4)), "at 712 mm");
    EXPECT_EQ(place_words(job, millimetres(-0.2)), "0 mm");
    job.stations.push_back({"1", mm(0), {}});
    EXPECT_EQ(place_words(job, millimetres(712.4)), "712 mm");
}

TEST(StationWords, FromTheFirstBeforeToTheLastBehind) {
    const Job job = stationed();
    EXPECT_EQ(station_words(job, millimetres(0), millimetres(1000)), "stations 2 to 4");
    EXPECT_EQ(station_words(job, millimetres(500), millimetres(500)), "station 3");
    EXPECT_EQ(station_words(job, millimetres(600), millimetres(700)), "stations 3 to 4") << "both ends of the stretch";
    EXPECT_EQ(station_words(job, millimetres(500), millimetres(700)), "stations 3 to 4");
    EXPECT_EQ(station_words(job, millimetres(-900), millimetres(-800)), "station 1");
    EXPECT_EQ(station_words(job, millimetres(2000), millimetres(2100)), "station 5");
}

TEST(LoftOf, TakesPlacesNamesAndRunOuts) {
    Job job = stationed();
    Drawn drawn = swing_world::straight(
        "s", {{"shelf inner", -300, 100}, {"shelf edge", 1300, 100}, {"lower edge", 1300, 20}}, 1, 5);
    drawn.sections[4].nodes.pop_back();  // "lower edge" runs out behind station 4
    drawn.run_outs = {{"lower edge", mm(1200)}};
    const auto loft = loft_of(job, drawn, false, "skirt piece \"skirt\"");
    ASSERT_TRUE(loft) << loft.error().message;
    EXPECT_THAT(loft.value().names(), testing::ElementsAre("shelf inner", "shelf edge", "lower edge"));
    EXPECT_EQ(geometry::in_mm(loft.value().front()), -200.0);
    EXPECT_EQ(geometry::in_mm(loft.value().rear()), 1300.0);
    EXPECT_EQ(loft.value().nodes_at(millimetres(500))[1].p_mm, Eigen::Vector2d(1300, 100));
    drawn.run_outs.clear();
    const auto lost = loft_of(job, drawn, false, "skirt piece \"skirt\"");
    ASSERT_FALSE(lost);
    EXPECT_THAT(lost.error().message, StartsWith("skirt piece \"skirt\": "));
    EXPECT_THAT(lost.error().message, HasSubstr("lower edge"));
}

TEST(LoftOf, ALineThatCrossesItselfBetweenTwoStationsIsRefused) {
    // A hook: its arm at up 0, its end below. At station 2 the arm is short and the end has gone up beside it;
    // half-way the end, at (60, 120), is beyond an arm that still reaches in to out 48.5.
    Job job;
    job.stations = {{"1", mm(0), {}}, {"2", mm(100), {}}};
    Drawn drawn = swing_world::straight("h", {{"a", 0, 0}, {"b", 100, 0}, {"c", 100, -60}, {"d", 60, -60}}, 1, 2);
    EXPECT_TRUE(loft_of(job, drawn, false, "piece"));
    drawn.sections[1].nodes[0].out = mm(97);
    drawn.sections[1].nodes[3].up = mm(300);
    const auto crossed = loft_of(job, drawn, false, "piece");
    ASSERT_FALSE(crossed);
    EXPECT_EQ(crossed.error().code, geometry::ErrorCode::does_not_fit);
    EXPECT_THAT(crossed.error().message, StartsWith("piece: At 25.00 mm (between stations 1 and 2)"));
    EXPECT_THAT(crossed.error().message, HasSubstr("the straight after 'a' meets the one after 'c'"));
    EXPECT_THAT(crossed.error().message, HasSubstr("draw a section between"));
}

}  // namespace
}  // namespace sillwright::core

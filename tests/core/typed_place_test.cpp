#include "core/typed_place.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "core/drawn_loft.h"

// 1 in = 25.4 mm exactly; the rest by hand.
namespace sillwright::core {
namespace {

using geometry::in_mm;
using geometry::millimetres;
using testing::HasSubstr;

Job job_of(const std::vector<std::pair<std::string, double>>& stations, BareUnit unit = BareUnit::mm) {
    Job job;
    job.unit = unit;
    for (const auto& [name, along] : stations) {
        job.stations.push_back({name, {millimetres(along), ""}, {}});
    }
    return job;
}

double typed(const Job& job, const std::string& text) {
    const auto along = typed_place(job, text);
    EXPECT_TRUE(along) << text << ": " << (along ? "" : along.error().message);
    return along ? in_mm(along.value()) : -1.0;
}

TEST(TypedPlace, IsAStationOrALength) {
    const Job job = job_of({{"1", 0.0}, {"2", 300.0}, {"post", 800.0}});
    EXPECT_EQ(typed(job, "2"), 300.0);
    EXPECT_EQ(typed(job, " post "), 800.0);
    EXPECT_EQ(typed(job, "700"), 700.0);
    EXPECT_EQ(typed(job, "2 mm"), 2.0);
    EXPECT_DOUBLE_EQ(typed(job, "27 1/2\""), 698.5);
    EXPECT_DOUBLE_EQ(typed(job_of({{"1", 0.0}}, BareUnit::in), "10"), 254.0);
}

TEST(TypedPlace, ReadsBackWhatIsWritten) {
    const Job job = job_of({{"1", 0.0}, {"2", 300.0}, {"3", 800.0}});
    for (const double along : {0.0, 123.0, 300.0, 700.0}) {
        EXPECT_EQ(typed(job, place_words(job, millimetres(along))), along);
    }
}

TEST(TypedPlace, SaysWhatWouldBeRight) {
    const auto place = typed_place(job_of({{"1", 0.0}}), "pillar");
    ASSERT_FALSE(place);
    EXPECT_THAT(place.error().message, HasSubstr("\"pillar\" is no station and no length"));
    EXPECT_FALSE(typed_place(job_of({}), ""));
}

TEST(TypedPlace, FindsTheStationsOnEitherSide) {
    const Job job = job_of({{"1", 0.0}, {"2", 300.0}, {"3", 800.0}});
    EXPECT_EQ(station_ahead(job, millimetres(500.0)), millimetres(300.0));
    EXPECT_EQ(station_behind(job, millimetres(500.0)), millimetres(800.0));
    EXPECT_EQ(station_ahead(job, millimetres(300.2)), millimetres(0.0)) << "at station 2";
    EXPECT_FALSE(station_ahead(job, millimetres(0.0)));
    EXPECT_FALSE(station_behind(job, millimetres(800.0)));
}

}  // namespace
}  // namespace sillwright::core

#include "core/survey/set_up_alone.h"

#include <gtest/gtest.h>

#include "tests/core/survey/made_book.h"

namespace sillwright::core::survey {
namespace {

// What each set-up says alone is what was true in it, whichever marks the book holds and however the car leans.
TEST(SetUpsAlone, SolvesEachByItsOwnReadings) {
    MadeBook made = made_marks();
    for (Reading& reading : made.book.readings) {
        reading.set_up = "wheels";
    }
    made.truth["H"] = {400, 100, -212};
    made.lean_rad["lift"] = {0.01, 0.02};
    made.book.set_ups = {{"wheels", true, {}, {}, {}, {}}, {"lift", false, {}, {}, {}, {}}};
    for (const char* mark : {"A", "B", "C"}) {
        made.tie(mark, "H").set_up = "wheels";
    }
    made.read(ReadingKind::height, {"A", "H"}, 0.0, "wheels");
    made.truth["H"].z() -= 4.0;
    for (const auto& [from, to] : std::vector<std::pair<std::string, std::string>>{
             {"A", "B"}, {"A", "C"}, {"B", "C"}, {"A", "H"}, {"B", "H"}, {"C", "H"}}) {
        made.read(ReadingKind::tie, {from, to}, 0.0, "lift");
        made.read(ReadingKind::height, {from, to}, 0.0, "lift");
    }
    const SetUpsAlone alone = set_ups_alone(made.book);
    ASSERT_EQ(alone.lacks, "");
    EXPECT_EQ(alone.first_name, "wheels");
    EXPECT_EQ(alone.second_name, "lift");
    const auto apart = [](const Solution& s) { return (s.find("H")->at_mm - s.find("A")->at_mm).norm(); };
    EXPECT_NEAR(apart(alone.first), Eigen::Vector3d(400, 100, -212).norm(), 1e-3);
    EXPECT_NEAR(apart(alone.second), Eigen::Vector3d(400, 100, -216).norm(), 1e-3);
    EXPECT_TRUE(alone.second.global.holds || alone.second.global.sum < 1e-3);
}

}  // namespace
}  // namespace sillwright::core::survey

#include "app/link/clearance_curves.h"

#include <gtest/gtest.h>

#include "tests/app/link/estate.h"

namespace sillwright::app {
namespace {

using geometry::degrees;
using geometry::in_deg;
using geometry::in_mm;
using geometry::millimetres;

ClearanceCurve curve(const std::string& moving, const std::string& fixed, std::vector<double> clearances) {
    ClearanceCurve made{"id", "front door", moving, fixed, {}};
    for (std::size_t i = 0; i < clearances.size(); ++i) {
        made.points.push_back({degrees(static_cast<double>(i)), millimetres(clearances[i])});
    }
    return made;
}

TEST(ClearanceCurves, OneLineForEveryBodyThatSwings) {
    const auto lines = clearance_lines({curve("edge", "front piece", {5, 3, 9}), curve("edge", "rear piece", {4, 6, 8}),
                                        curve("cladding", "skirt", {7, 7, 7})});
    ASSERT_EQ(lines.size(), 2U);
    EXPECT_EQ(lines[0].moving, "edge");
    // The nearest of both pieces, by hand.
    EXPECT_EQ(in_mm(lines[0].points[0].clearance), 4.0);
    EXPECT_EQ(in_mm(lines[0].points[1].clearance), 3.0);
    EXPECT_EQ(in_mm(lines[0].points[2].clearance), 8.0);
    EXPECT_EQ(in_mm(lines[1].points[1].clearance), 7.0);
    EXPECT_TRUE(clearance_lines({}).empty());
}

core::Finding moving(std::optional<double> found) {
    core::Finding finding;
    finding.id = "swing/front door/moving";
    finding.state = core::State::falls_short;
    finding.found = found;
    finding.required = 4.0;
    finding.place.door = "front door";
    finding.place.door_angle = degrees(6.2);
    return finding;
}

TEST(ClearanceCurves, MarksSayWhatTheFindingsSay) {
    const auto marks = clearance_marks({moving(1.9)}, "front door", core::BareUnit::mm);
    ASSERT_EQ(marks.size(), 1U);
    EXPECT_EQ(marks[0].words, "1.90 at 6.2°");
    EXPECT_EQ(in_mm(*marks[0].needed), 4.0);
    EXPECT_EQ(clearance_marks({moving(1.9)}, "front door", core::BareUnit::in)[0].words, "0.075 at 6.2°")
        << "1.9 / 25.4";
    EXPECT_TRUE(clearance_marks({moving(1.9)}, "rear door", core::BareUnit::mm).empty());
    EXPECT_TRUE(clearance_marks({moving({})}, "front door", core::BareUnit::mm).empty()) << "not measured is no zero";
}

TEST(ClearanceCurves, ContactIsAnIntervalOfAngles) {
    core::Finding touching = moving(-1.2);
    touching.touching = {{degrees(2.8), degrees(5.4)}};
    const auto marks = clearance_marks({touching}, "front door", core::BareUnit::mm);
    ASSERT_EQ(marks.size(), 1U);
    EXPECT_EQ(marks[0].words, "touches 2.8° to 5.4°");
    EXPECT_EQ(in_mm(marks[0].least), 0.0);
    EXPECT_EQ(marks[0].touching.size(), 1U);
}

TEST(ClearanceCurves, OfOneDoorAloneAndNeverUnderWhatIsProven) {
    const auto evaluation = estate();
    const std::string door = evaluation->job.doors.front().name;
    const auto all = clearance_curves(*evaluation);
    const auto one = clearance_curves(*evaluation, door);
    ASSERT_TRUE(all && one);
    EXPECT_LT(one.value().size(), all.value().size());
    for (const ClearanceCurve& curve : one.value()) {
        EXPECT_EQ(curve.door, door);
        EXPECT_EQ(in_deg(curve.points.front().door_angle), 0.0);
        EXPECT_EQ(curve.points.back().door_angle, *evaluation->job.doors.front().opening);
        for (const core::Finding& finding : evaluation->findings) {
            if (finding.id == curve.id && finding.found) {
                for (const ClearanceAtAngle& point : curve.points) {
                    EXPECT_GE(in_mm(point.clearance), *finding.found) << "proven nowhere under";
                }
            }
        }
    }
    std::stop_source stop;
    stop.request_stop();
    EXPECT_FALSE(clearance_curves(*evaluation, door, {stop.get_token(), {}})) << "asked to stop, it stops";
}

}  // namespace
}  // namespace sillwright::app

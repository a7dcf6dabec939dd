#include "core/job_file/writer.h"

#include <gtest/gtest.h>

#include "core/job_file/fields.h"
#include "core/job_file/reader.h"
#include "core/job_file/words.h"

namespace sillwright::core::job_file {
namespace {

using geometry::degrees;
using geometry::inches;
using geometry::millimetres;

Entry mm(double value, const std::string& typed = "") {
    return {millimetres(value), typed};
}

// Expected texts: the fields as a person would write them.
std::string text(const JobWriter& writer) {
    return writer.json().dump();
}

TEST(JobWriter, WritesALengthAsItWasTyped) {
    JobWriter writer(BareUnit::mm);
    writer.length("typed", Entry{inches(1.5), "1 1/2\""});
    writer.length("bare", mm(38.5));
    writer.length("whole", mm(38.0));
    EXPECT_EQ(text(writer), R"({"typed":"1 1/2\"","bare":38.5,"whole":38})");
}

TEST(JobWriter, DropsWordsThatNoLongerSayTheValue) {
    JobWriter writer(BareUnit::mm);
    writer.length("moved", mm(40.0, "38 mm"));
    EXPECT_EQ(text(writer), R"({"moved":40})");
}

TEST(JobWriter, WritesInTheJobsUnit) {
    JobWriter writer(BareUnit::in);
    writer.length("size", Entry{inches(1.5), ""});
    EXPECT_EQ(text(writer), R"({"size":1.5})");
}

TEST(JobWriter, LeavesOutWhatIsNotMeasuredOrUsual) {
    JobWriter writer(BareUnit::mm);
    writer.text("empty", "");
    writer.length("absent", std::optional<Entry>{});
    writer.length_or("usual", mm(6.0), mm(6.0));
    writer.number("none", std::nullopt);
    writer.number_or("share", 1.0, 1.0);
    writer.flag("closed", true, true);
    writer.three_lengths("sd", {});
    EXPECT_EQ(text(writer), "{}");
    writer.length_or("usual", mm(7.0), mm(6.0));
    writer.flag("closed", false, true);
    writer.three_lengths("sd", {mm(0.5), std::nullopt, mm(0.4)});
    EXPECT_EQ(text(writer), R"({"usual":7,"closed":false,"sd":[0.5,null,0.4]})");
}

TEST(JobWriter, WritesSettingsEvenIfUsual) {
    JobWriter writer(BareUnit::mm);
    writer.setting("gap", mm(6.0), mm(6.0));
    writer.angle_setting("angle_deg", degrees(3.0), degrees(3.0));
    EXPECT_EQ(text(writer), R"({"gap":6,"angle_deg":3})");
}

TEST(JobWriter, WritesAnglesInFewDigits) {
    JobWriter writer(BareUnit::mm);
    writer.angle("opening_deg", degrees(67.3));
    EXPECT_EQ(text(writer), R"({"opening_deg":67.3})");
}

TEST(JobWriter, WritesADirectionAsItWasTyped) {
    JobWriter writer(BareUnit::mm);
    writer.direction("down", Direction(0.0, 0.0, -1.0));
    writer.direction("leaning", *unit_direction(Direction(0.0, 0.01, -1.0)));
    EXPECT_EQ(text(writer), R"({"down":[0,0,-1],"leaning":[0,0.01,-1]})");
}

TEST(JobWriter, WritesWordsAndListsOnlyIfTheyAreThere) {
    JobWriter writer(BareUnit::mm);
    writer.word("side", Side::left, k_side_words);
    writer.word("top_edge", std::optional<TopEdgeFixing>{}, k_top_edge_words);
    std::vector<Station> none;
    writer.list("none", none);
    std::vector<Station> stations{{"1", mm(0.0), {}}};
    writer.list("stations", stations);
    EXPECT_EQ(text(writer), R"({"side":"left","stations":[{"name":"1","along":0}]})");
}

TEST(JobWriter, GivesBackFieldsThatItDoesNotKnow) {
    JobWriter writer(BareUnit::mm);
    writer.rest(Unknown{{{"colour", "\"red\""}, {"more", R"({"a":[1]})"}}});
    EXPECT_EQ(text(writer), R"({"colour":"red","more":{"a":[1]}})");
}

}  // namespace
}  // namespace sillwright::core::job_file

#include "app/terminal/findings_json.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "tests/app/invented_job.h"

// Expected values: the invented job's own, read back. EXPECT_EQ on doubles is
// meant: a number that is written must come back bit for bit.
namespace sillwright::app::terminal {
namespace {

using geometry::in_deg;
using geometry::in_mm;
using nlohmann::json;

class FindingsJson : public testing::Test {
protected:
    const CheckedJob job_ = invented_job();
    const json read_ = json::parse(findings_json(job_).value());
};

TEST_F(FindingsJson, SaysWhatItIsAbout) {
    EXPECT_EQ(read_["program"], "sillwright");
    EXPECT_EQ(read_["version"], SILLWRIGHT_VERSION);
    EXPECT_EQ(read_["format"], 1);
    EXPECT_EQ(read_["job"]["file"], "jobs/Estate A.sillwright");
    EXPECT_EQ(read_["job"]["vehicle"], "Estate A");
    EXPECT_EQ(read_["job"]["revision"], "C");
    EXPECT_EQ(read_["job"]["side"], "right");
    EXPECT_EQ(read_["job"]["sha256"], job_.sha256);
    EXPECT_EQ(read_["counts"], (json{{"falls_short", 1}, {"close", 1}, {"holds", 1}, {"not_measured", 1}}));
}

TEST_F(FindingsJson, KeepsEveryNumberOfAFinding) {
    const core::Finding& finding = job_.findings[2];
    const json& found = read_["findings"][2];
    EXPECT_EQ(found["id"], "swing/front door/moving");
    EXPECT_EQ(found["stage"], "swing");
    EXPECT_EQ(found["state"], "falls_short");
    EXPECT_EQ(found["limit"], "at_least");
    EXPECT_EQ(found["found_mm"], *finding.found);
    EXPECT_EQ(found["required_mm"], *finding.required);
    EXPECT_EQ(found["margin_mm"], *finding.margin);
    EXPECT_EQ(found["place"]["along_mm"], in_mm(*finding.place.along));
    EXPECT_EQ(found["place"]["door_angle_deg"], in_deg(*finding.place.door_angle));
    EXPECT_EQ(found["place"]["on_part_along_mm"], 700.25);
    EXPECT_EQ(found["place"]["on_part_out_mm"], 131.5);
    EXPECT_EQ(found["place"]["on_part_up_mm"], 118.75);
    EXPECT_EQ(found["place"]["on_other_along_mm"], 700.5);
    EXPECT_EQ(found["place"]["on_other_out_mm"], 131.125);
    EXPECT_EQ(found["place"]["on_other_up_mm"], 120.625);
    EXPECT_EQ(found["place"]["words"], finding.place.words);
    EXPECT_EQ(found["why"], finding.why);
    EXPECT_EQ(found["formula"], finding.formula);
    EXPECT_EQ(found["source"], finding.source);
    EXPECT_EQ(found["inputs"],
              (json{{{"name", "sheet"}, {"value", "3 mm"}}, {{"name", "paint"}, {"value", "0.12 mm"}}}));
    EXPECT_EQ(found["mend"]["words"], finding.mend->words);
    EXPECT_EQ(found["mend"]["moves"],
              (json{{{"node", "s4-shelf-edge"}, {"by_out_mm", 0.0}, {"by_up_mm", *finding.margin}}}));
    EXPECT_EQ(found["mend"]["proven_margin_mm"], 0.00000012);
}

TEST_F(FindingsJson, UnitsAreInTheKeys) {
    EXPECT_EQ(read_["findings"][0]["found_deg"], 0.75);
    EXPECT_EQ(read_["findings"][0]["limit"], "at_most");
    EXPECT_FALSE(read_["findings"][0].contains("found_mm"));
    CheckedJob plain = job_;
    plain.findings[0].unit = core::Unit::none;
    EXPECT_EQ(json::parse(findings_json(plain).value())["findings"][0]["found"], 0.75);
}

TEST_F(FindingsJson, NotMeasuredIsNullNeverZero) {
    const json& found = read_["findings"][1];
    EXPECT_EQ(found["state"], "not_measured");
    for (const char* key : {"found_mm", "required_mm", "margin_mm", "mend"}) {
        EXPECT_TRUE(found.at(key).is_null()) << key;
    }
    for (const char* key : {"along_mm", "door_angle_deg", "on_part_along_mm", "on_part_out_mm", "on_part_up_mm",
                            "on_other_along_mm", "on_other_out_mm", "on_other_up_mm"}) {
        EXPECT_TRUE(found["place"].at(key).is_null()) << key;
    }
    EXPECT_EQ(found["missing"], (json{"the two hinge pins of the rear door"}));
}

TEST_F(FindingsJson, CarriesCurvesAndDoorLimits) {
    const json& curve = read_["clearance_curves"][0];
    EXPECT_EQ(curve["id"], "swing/front door/moving");
    EXPECT_EQ(curve["points"][0]["door_angle_deg"], in_deg(geometry::degrees(0.1)));
    EXPECT_EQ(curve["moving"], "lower edge");
    EXPECT_EQ(curve["fixed"], "skirt");
    EXPECT_EQ(curve["points"][0]["clearance_mm"], 6.3000000000000007);
    const json& limit = read_["door_limits"][0];
    EXPECT_EQ(limit["door"], "front door");
    EXPECT_EQ(limit["along_mm"], 350.0);
    EXPECT_EQ(limit["chains"], (json{{{{"out_mm", 72.1}, {"up_mm", 117.2}}, {{"out_mm", 150.3}, {"up_mm", 120.4}}}}));
}

TEST_F(FindingsJson, ContactIsGivenByItsAngles) {
    CheckedJob job = job_;
    job.findings[2].touching = {{geometry::degrees(12.5), geometry::degrees(14.25)}};
    const json touching = json::parse(findings_json(job).value())["findings"][2]["touching"];
    EXPECT_EQ(touching[0]["from_door_angle_deg"], in_deg(geometry::degrees(12.5)));
    EXPECT_EQ(touching[0]["to_door_angle_deg"], in_deg(geometry::degrees(14.25)));
    EXPECT_EQ(read_["findings"][2]["touching"], json::array());
}

TEST_F(FindingsJson, ACurveThatCannotBeMadeIsAnError) {
    CheckedJob job = job_;
    job.curves = []() -> geometry::Result<std::vector<ClearanceCurve>> {
        return geometry::Error{geometry::ErrorCode::stopped, "Stopped."};
    };
    EXPECT_EQ(findings_json(job).error().message, "Stopped.");
}

TEST_F(FindingsJson, OddFileNamesDoNotBreakIt) {
    CheckedJob odd = job_;
    odd.file = "a\xFF\"\n.sillwright";
    EXPECT_TRUE(json::parse(findings_json(odd).value()).is_object());
}

}  // namespace
}  // namespace sillwright::app::terminal

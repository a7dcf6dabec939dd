#include "core/survey/survey_findings.h"

#include <gmock/gmock.h>

#include <filesystem>

#include "core/job_file.h"
#include "core/survey/reading_line.h"
#include "core/typed.h"

namespace sillwright::core {
namespace {

using testing::AllOf;
using testing::Contains;
using testing::HasSubstr;
using testing::IsEmpty;

const std::filesystem::path k_samples = std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples";

Job sample(const std::string& name) {
    auto job = read_job(k_samples / name);
    EXPECT_TRUE(job) << (job ? "" : job.error().message);
    return job ? std::move(job).value() : Job{};
}

survey::Point held(const std::string& name, double along, double out, double up) {
    survey::Point point;
    point.name = name;
    point.along = entry(geometry::millimetres(along));
    point.out = entry(geometry::millimetres(out));
    point.up = entry(geometry::millimetres(up));
    return point;
}

Job with_lines(std::vector<survey::Point> points, const std::vector<std::string>& lines) {
    Job job;
    job.book.points = std::move(points);
    for (const std::string& line : lines) {
        const auto reading = survey::reading_of_line(line, job.book, job.unit);
        EXPECT_TRUE(reading) << line;
        job.book.readings.push_back(reading.value());
    }
    return job;
}

std::vector<Finding> findings(const Job& job) {
    return survey_findings(job, survey::survey_results(job, k_samples));
}

Finding finding_of(const std::vector<Finding>& all, const std::string& id) {
    for (const Finding& finding : all) {
        if (finding.id == id) {
            return finding;
        }
    }
    ADD_FAILURE() << "no finding " << id;
    return {};
}

std::vector<std::string> ids(const std::vector<Finding>& all) {
    std::vector<std::string> ids;
    for (const Finding& finding : all) {
        ids.push_back(finding.id);
    }
    return ids;
}

TEST(SurveyFindings, AnEmptyBookSaysNothing) {
    EXPECT_THAT(findings(Job{}), IsEmpty());
}

TEST(SurveyFindings, OneMarkIsNotMeasuredAndSaysWhatIsLacking) {
    survey::Point alone;
    alone.name = "A";
    const std::vector<Finding> all = findings(with_lines({alone}, {}));
    ASSERT_FALSE(all.empty());
    for (const Finding& finding : all) {
        EXPECT_EQ(finding.stage, Stage::measure);
        EXPECT_EQ(finding.state, State::not_measured) << finding.id;
        EXPECT_FALSE(finding.missing.empty()) << finding.id;
    }
}

TEST(SurveyFindings, ANetworkInTwoPartsNamesBoth) {
    const Job job = with_lines({held("A", 0, 0, 0), held("B", 1000, 0, 0), held("C", 500, 400, 0)},
                               {"A P 500", "B P 600", "C P 300", "Q R 300"});
    const Finding frame = finding_of(findings(job), "measure/book/frame");
    EXPECT_EQ(frame.state, State::not_measured);
    std::string all;
    for (const std::string& problem : frame.missing) {
        all += problem;
    }
    EXPECT_THAT(all, AllOf(HasSubstr("Q"), HasSubstr("R")));
}

// The digits of B-H1 were changed over when the sample was made: 1604.0 for 1640.0.
TEST(SurveyFindings, TellWhichReadingToTakeAgain) {
    Job job = sample("measuring_book.sillwright");
    const Finding worst = finding_of(findings(job), "measure/book/worst reading");
    EXPECT_EQ(worst.state, State::falls_short);
    EXPECT_GT(*worst.found, 3.29);
    EXPECT_THAT(worst.why, AllOf(testing::StartsWith("Put the tape again on B-H1: expected 16"),
                                 HasSubstr("the book says 1604.0")));
    EXPECT_EQ(finding_of(findings(job), "measure/book/agreement").state, State::falls_short);
    for (survey::Reading& reading : job.book.readings) {
        if (reading.value->typed == "1604.0") {
            reading.dropped = "digits changed over";
        }
    }
    for (const Finding& finding : findings(job)) {
        EXPECT_EQ(finding.state, State::holds) << finding.id << ": " << finding.why;
    }
}

TEST(SurveyFindings, NameReadingsThatNothingChecks) {
    // Three distances place a point in space and none is left over (hand count).
    const Job job = with_lines({held("A", 0, 0, 0), held("B", 1000, 0, 0), held("C", 500, 400, 0)},
                               {"A P 500", "B P 700", "C P 400"});
    const std::vector<Finding> all = findings(job);
    const Finding unchecked = finding_of(all, "measure/book/unchecked");
    EXPECT_EQ(unchecked.state, State::not_measured);
    EXPECT_THAT(unchecked.why, AllOf(HasSubstr("A-P"), HasSubstr("B-P"), HasSubstr("C-P")));
    EXPECT_EQ(finding_of(all, "measure/book/agreement").state, State::not_measured);
    EXPECT_EQ(finding_of(all, "measure/book/worst reading").state, State::not_measured);
}

TEST(SurveyFindings, AMountThatTheBookCannotPlaceIsItsOwnFinding) {
    Job job = with_lines({held("A", 0, 0, 0)}, {"A H1 500"});
    Mount mount;
    mount.name = "H1";
    job.mounts = {mount};
    const Finding placed = finding_of(findings(job), "measure/H1/placed");
    EXPECT_EQ(placed.state, State::not_measured);
    EXPECT_EQ(placed.place.mount, "H1");
    EXPECT_FALSE(placed.missing.front().empty());
}

TEST(SurveyFindings, CompareTheJobsPlacesWithTheBooks) {
    Job job = sample("estate_a_measured.sillwright");
    std::vector<Finding> all = findings(job);
    EXPECT_EQ(finding_of(all, "measure/H5/place").state, State::holds);
    // 20 mm are far beyond what a tape leaves unsure.
    job.mounts[4].at.along = entry(job.mounts[4].at.along.value + geometry::millimetres(20.0));
    all = findings(job);
    const Finding moved = finding_of(all, "measure/H5/place");
    EXPECT_EQ(moved.state, State::falls_short);
    EXPECT_NEAR(*moved.found, 20.0, 3.0);
    EXPECT_EQ(finding_of(all, "measure/H4/place").state, State::holds);
    job.mounts[4].from_book = true;
    EXPECT_THAT(ids(findings(job)), testing::Not(Contains("measure/H5/place")));
}

survey::HingeAxis an_axis() {
    survey::HingeAxis axis;
    axis.door = "front door";
    axis.misses = {{"T1", 1, {}, 0.5}, {"T2", 3, {}, 4.0}};
    axis.suspect = 1;
    axis.weaknesses = {"The door was swung over 20 degrees only: measure it further open too."};
    return axis;
}

TEST(SurveyFindings, JudgeTheHingeByTheDoorsCorner) {
    Job job = with_lines({held("A", 0, 0, 0)}, {});
    survey::Results results;
    results.hinges = {{"front door", an_axis(), ""},
                      {"rear door", std::nullopt, "T3 has two openings: measure three."}};
    std::vector<Finding> all = survey_findings(job, results);
    EXPECT_THAT(finding_of(all, "measure/front door/targets").why, HasSubstr("T2 at opening 3"));
    EXPECT_EQ(finding_of(all, "measure/front door/targets").state, State::falls_short);
    EXPECT_EQ(finding_of(all, "measure/front door/corner").state, State::not_measured);
    EXPECT_THAT(finding_of(all, "measure/rear door/axis").missing, testing::ElementsAre(HasSubstr("T3")));
    for (const auto& [sd_mm, state] : {std::pair{0.9, State::holds}, {1.0, State::holds}, {1.1, State::falls_short}}) {
        results.corners["front door"] = {{1050, 150, 130}, {sd_mm, geometry::degrees(65.0)}};
        const Finding corner = finding_of(survey_findings(job, results), "measure/front door/corner");
        EXPECT_EQ(corner.state, state) << sd_mm;
        EXPECT_THAT(corner.why, AllOf(HasSubstr("65.0"), HasSubstr("over 20 degrees only")));
    }
}

TEST(SurveyFindings, GiveTheVerdictOfSetUpsAndSides) {
    Job job = with_lines({held("A", 0, 0, 0)}, {});
    survey::Comparison comparison;
    comparison.verdict = survey::Verdict::same;
    comparison.points = {{"A", {}, 0.5, 0.4, 1.3, 1.2, survey::Verdict::same}};
    survey::Results results;
    results.set_ups = comparison;
    EXPECT_EQ(finding_of(survey_findings(job, results), "measure/set-ups").state, State::holds);
    comparison.verdict = survey::Verdict::measure_better;
    comparison.points[0].bound_mm = 2.4;
    results.other_hand = comparison;
    EXPECT_EQ(finding_of(survey_findings(job, results), "measure/other hand").state, State::not_measured);
    comparison.verdict = survey::Verdict::different;
    comparison.points[0].bound_mm = 6.0;
    results.other_hand = comparison;
    const Finding different = finding_of(survey_findings(job, results), "measure/other hand");
    EXPECT_EQ(different.state, State::falls_short);
    EXPECT_DOUBLE_EQ(*different.margin, -4.0);
    results.other_hand.reset();
    results.other_hand_lacks = "left.sillwright is missing.";
    EXPECT_THAT(finding_of(survey_findings(job, results), "measure/other hand").missing,
                testing::ElementsAre("left.sillwright is missing."));
}

}  // namespace
}  // namespace sillwright::core

#include "core/handover/documents.h"

#include <gmock/gmock.h>

#include <chrono>
#include <set>

#include "tests/core/handover/papers/paper_world.h"

namespace sillwright::core {
namespace {

using paper_world::all_text;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

std::vector<std::string> stems(const std::vector<Document>& papers) {
    std::vector<std::string> all;
    for (const Document& paper : papers) {
        all.push_back(paper.stem);
    }
    return all;
}

Evaluation without_buck(const std::string& name) {
    Evaluation evaluation = paper_world::sample(name);
    evaluation.buck = nullptr;
    return evaluation;
}

TEST(Documents, AreThoseThatTheJobHasSomethingFor) {
    EXPECT_THAT(stems(documents(without_buck("estate_a"), {})),
                ElementsAre("door_sheet", "section_sheets", "hole_sheet", "moulder_sheet", "ladder_sheet",
                            "prototype_list", "paint_note", "packing_note", "fitting_sheet", "work_report"));
    EXPECT_THAT(stems(documents(without_buck("estate_a_flutes"), {})), testing::Contains("flute_sheet"));
    EXPECT_THAT(stems(documents(without_buck("estate_a_measured"), {})), testing::Contains("survey"));
    EXPECT_THAT(stems(documents(Evaluation{}, {})), ElementsAre("work_report"));
}

TEST(Documents, AreSoundForEverySample) {
    for (const char* name : {"estate_a", "estate_a_left", "estate_a_flutes", "estate_a_cladding", "estate_a_measured",
                             "coupe_b", "measuring_book", "scan_c"}) {
        std::set<std::string> seen;
        for (const Document& paper : documents(paper_world::sample(name), {})) {
            paper_world::expect_sound(paper);
            EXPECT_TRUE(seen.insert(paper.stem).second) << name << ": " << paper.stem;
        }
    }
}

TEST(Documents, SayOneHandAlone) {
    for (const Document& paper : documents(paper_world::sample("estate_a"), {})) {
        EXPECT_THAT(all_text(paper), HasSubstr("RIGHT SIDE")) << paper.stem;
        EXPECT_THAT(all_text(paper), Not(HasSubstr("LEFT SIDE"))) << paper.stem;
    }
    for (const Document& paper : documents(paper_world::sample("estate_a_left"), {})) {
        EXPECT_THAT(all_text(paper), HasSubstr("LEFT SIDE")) << paper.stem;
        EXPECT_THAT(all_text(paper), Not(HasSubstr("RIGHT SIDE"))) << paper.stem;
    }
}

TEST(Documents, HideNothingThatFallsShort) {
    Job job = paper_world::sample_job("estate_a");
    job.limits.gap_moving_edge.value = geometry::millimetres(30.0);
    job.limits.seat_angle = geometry::degrees(0.01);
    const auto evaluation = paper_world::evaluated(job);
    std::set<std::string> short_of;
    for (const Finding& finding : evaluation->findings) {
        if (finding.state == State::falls_short) {
            short_of.insert(finding.id);
        }
    }
    ASSERT_GT(short_of.size(), 5U);
    for (const Document& paper : documents(*evaluation, {})) {
        std::set<std::string> printed;
        for (const Finding& finding : paper.falls_short) {
            printed.insert(finding.id);
        }
        EXPECT_EQ(printed, short_of) << paper.stem;
    }
}

TEST(Documents, AreMadeWhileOneWaits) {
    const Evaluation& evaluation = paper_world::sample("estate_a_measured");
    const auto start = std::chrono::steady_clock::now();
    EXPECT_FALSE(documents(evaluation, {}).empty());
    // All of a handover may take ten seconds; these are its words alone.
    EXPECT_LT(std::chrono::steady_clock::now() - start, std::chrono::seconds(2));
}

}  // namespace
}  // namespace sillwright::core

#include "core/edit/new_job.h"

#include <gmock/gmock.h>

#include <algorithm>

#include "bench_job.h"
#include "core/edit/node_edit.h"
#include "core/edit/section_edit.h"
#include "core/evaluate.h"

namespace sillwright::core {
namespace {

using bench::mm;
using geometry::in_mm;
using testing::HasSubstr;
using testing::StartsWith;

NewJob answers() {
    NewJob asked;
    asked.vehicle = "Van C";
    asked.side = Side::left;
    asked.date = "2026-03-14";
    asked.first = "100";
    asked.last = "1.9 m";
    asked.stations = 4;
    asked.doors = 2;
    asked.sheet = "1/8\"";
    return asked;
}

Job made(const NewJob& asked) {
    const auto job = new_job(asked);
    EXPECT_TRUE(job) << (job ? "" : job.error().message);
    return job ? job.value() : Job{};
}

TEST(NewJob, HasWhatWasAnswered) {
    const Job job = made(answers());
    EXPECT_EQ(job.vehicle, "Van C");
    EXPECT_EQ(job.side, Side::left);
    ASSERT_EQ(job.stations.size(), 4U);
    EXPECT_EQ(job.stations[0].along, (Entry{geometry::millimetres(100), "100"}));
    EXPECT_EQ(job.stations[1].along, mm(700));
    EXPECT_EQ(job.stations[2].along, mm(1300));
    EXPECT_EQ(job.stations[3].along, (Entry{geometry::millimetres(1900), "1.9 m"}));
    EXPECT_EQ(job.stations[3].name, "4");
    ASSERT_EQ(job.doors.size(), 2U);
    EXPECT_EQ(job.doors[1].name, "rear door");
    ASSERT_EQ(job.skirt.pieces.size(), 1U);
    EXPECT_EQ(job.skirt.pieces[0].sheet->typed, "1/8\"");
    bench::expect_kept(job);
}

TEST(NewJob, StationsStandWhereATapeCanMarkThem) {
    NewJob asked = answers();
    asked.first = "0";
    asked.last = "1900";
    asked.stations = 10;
    EXPECT_EQ(made(asked).stations[1].along, mm(211)) << "a ninth of 1900 is 211.11";
    asked.last = "20";
    EXPECT_DOUBLE_EQ(in_mm(made(asked).stations[1].along.value), 20.0 / 9) << "too near together for that";
}

TEST(NewJob, WithNothingKnownIsAJobAllTheSame) {
    const Job job = made(NewJob{});
    EXPECT_TRUE(job.stations.empty());
    EXPECT_TRUE(job.doors.empty());
    EXPECT_FALSE(job.skirt.pieces[0].sheet);
    bench::expect_kept(job);
    EXPECT_TRUE(evaluate(job, "."));
}

TEST(NewJob, SaysOfEverythingThatItIsNotMeasured) {
    const auto evaluation = evaluate(made(answers()), ".");
    ASSERT_TRUE(evaluation) << evaluation.error().message;
    EXPECT_FALSE(evaluation.value()->findings.empty());
    for (const Finding& finding : evaluation.value()->findings) {
        EXPECT_EQ(finding.state, State::not_measured) << finding.id;
        EXPECT_FALSE(finding.missing.empty()) << finding.id;
    }
}

struct Refused {
    std::string name;
    void (*wrong)(NewJob&);
    std::string message;
};
void PrintTo(const Refused& refused, std::ostream* out) {
    *out << refused.name;
}

class NewJobRefuses : public testing::TestWithParam<Refused> {};

TEST_P(NewJobRefuses, InWords) {
    NewJob asked = answers();
    GetParam().wrong(asked);
    const auto job = new_job(asked);
    ASSERT_FALSE(job);
    EXPECT_EQ(job.error().code, geometry::ErrorCode::invalid_argument);
    EXPECT_THAT(job.error().message, HasSubstr(GetParam().message));
}

INSTANTIATE_TEST_SUITE_P(
    Table, NewJobRefuses,
    testing::Values(Refused{"first in words", [](NewJob& a) { a.first = "front"; },
                            "First station: \"front\" is not a length. Col"},
                    Refused{"sheet in words", [](NewJob& a) { a.sheet = "thin"; },
                            "Sheet thickness: \"thin\" is not a length. Col"},
                    Refused{"last before first", [](NewJob& a) { a.last = "50"; },
                            "at 50, is not behind the first, at 100"},
                    Refused{"no last", [](NewJob& a) { a.last = " "; }, "Where the last station stands is not given"},
                    Refused{"no first", [](NewJob& a) { a.first = ""; }, "Where the first station stands is not given"},
                    Refused{"one station", [](NewJob& a) { a.stations = 1; }, "Write 2 or more"},
                    Refused{"too many stations", [](NewJob& a) { a.stations = 501; }, "from 2 to 500"},
                    Refused{"doors below zero", [](NewJob& a) { a.doors = -1; }, "from 0 to 6"},
                    Refused{"no sheet at all", [](NewJob& a) { a.sheet = "0"; }, "Skirt, sheet: 0 is not above zero"},
                    Refused{"date in words", [](NewJob& a) { a.date = "14 March"; }, "is not a date"}),
    [](const auto& one) {
        std::string name = one.param.name;
        std::replace(name.begin(), name.end(), ' ', '_');
        return name;
    });

// From nothing to a skirt with a body, click by click: at every step a job that is saved, opened again and computed.
TEST(NewJob, CanBeDrawnClickByClick) {
    Job job = made(answers());
    const auto look = [&](const geometry::Result<Edit>& edit) {
        job = bench::after(edit, job);
        bench::expect_kept(job);
        const auto evaluation = evaluate(job, ".");
        ASSERT_TRUE(evaluation) << bench::words(edit) << ": " << evaluation.error().message;
        for (const Finding& finding : evaluation.value()->findings) {
            EXPECT_TRUE(finding.state != State::not_measured || !finding.missing.empty()) << finding.id;
        }
    };
    const std::vector<Eigen::Vector2d> skirt{{66, 120}, {87, 119}, {145, 117}, {157, 109},
                                             {150, 26}, {141, 13}, {75, 16},   {39, 16}};
    const std::vector<Eigen::Vector2d> sill{{-25, 151}, {71, 105}, {67, 24}, {31, 16}, {-25, 20}};
    const std::vector<Eigen::Vector2d> panel{{90, 128}, {104, 300}, {50, 300}};
    for (const auto& p : sill) {
        look(append_node(job, bench::k_body, "1", p));
    }
    for (const auto& p : skirt) {
        look(append_node(job, bench::k_piece, "2", p));
    }
    for (const auto& p : skirt) {
        look(append_node(job, bench::k_piece, "3", p));
    }
    for (const auto& p : panel) {
        look(append_node(job, bench::k_door_body, "1", p));
    }
    look(copy_section(job, bench::k_body, "1", {"4"}));
    look(copy_section(job, bench::k_door_body, "1", {"3"}));
    look(copy_section(job, bench::k_piece, "2", {"1", "4"}));
    const auto evaluation = evaluate(job, ".").value();
    EXPECT_TRUE(evaluation->car.body);
    EXPECT_TRUE(evaluation->car.pieces[0].body);
    EXPECT_EQ(evaluation->car.doors[0].parts.size(), 1U);
}

}  // namespace
}  // namespace sillwright::core

#include "core/buck/nesting.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "core/edit/mend_edit.h"
#include "geometry/nest_check.h"
#include "tests/core/small_job.h"

namespace sillwright::core {
namespace {

using Eigen::Vector2d;
using geometry::in_mm;
using geometry::millimetres;

Entry entry(double mm) {
    return {millimetres(mm), ""};
}

Board board(const std::string& name, double length, double width, double thickness) {
    Board result;
    result.name = name;
    result.length = entry(length);
    result.width = entry(width);
    result.thickness_1 = result.thickness_2 = result.thickness_3 = entry(thickness);
    return result;
}

/// A job that reads and writes, with a board of 2440 x 1220 and a bit of 6.
Job job_with(std::vector<Board> boards) {
    Job job = parse_job(small_job_text(), "small").value();
    job.buck.boards = std::move(boards);
    job.buck.bit = "flat 6";
    return job;
}

CutPart part(const std::string& label, const std::string& on, double length, double width, double radius = 0.0) {
    CutPart result;
    result.label = label;
    result.board = on;
    const geometry::Length r = millimetres(radius);
    result.outline =
        geometry::make_profile({{{0, 0}, r}, {{length, 0}, r}, {{length, width}, r}, {{0, width}, r}}, true).value();
    result.finished = result.outline;
    return result;
}

const Finding& found(const std::vector<Finding>& findings, const std::string& id) {
    static const Finding none;
    const auto it = std::find_if(findings.begin(), findings.end(), [&](const Finding& one) { return one.id == id; });
    EXPECT_NE(it, findings.end()) << id;
    return it == findings.end() ? none : *it;
}

bool has(const std::vector<Finding>& findings, const std::string& id) {
    return std::any_of(findings.begin(), findings.end(), [&](const Finding& one) { return one.id == id; });
}

TEST(BuckNesting, TakesItsGapFromTheJobOrTheBit) {
    Job job = job_with({board("mdf 12", 2440, 1220, 12)});
    EXPECT_EQ(nesting_gap(job), millimetres(8)) << "bit of 6 and 2";
    job.buck.gap = entry(11);
    EXPECT_EQ(nesting_gap(job), millimetres(11));
    job.buck.gap.reset();
    job.buck.bit = "no such bit";
    EXPECT_FALSE(nesting_gap(job));
    const auto findings = board_findings(job, {});
    EXPECT_EQ(found(findings, "buck/boards/gap").state, State::not_measured);
    EXPECT_FALSE(found(findings, "buck/boards/gap").missing.empty());
}

TEST(BuckNesting, KeepsGapAndMarginOfTheTrueArcs) {
    const Job job = job_with({board("mdf 12", 700, 500, 12)});
    std::vector<CutPart> parts;
    for (int i = 0; i < 9; ++i) {
        parts.push_back(part("R" + std::to_string(i), "mdf 12", 160 + 7 * i, 90 + 5 * i, 40));
    }
    const auto nest = nesting(job, parts);
    ASSERT_TRUE(nest) << nest.error().message;
    EXPECT_TRUE(nest.value().left_out.empty());
    // Corners of much finer chords than the nest's own, so the true edge but for 0.0001 mm.
    for (const NestedSheet& sheet : nest.value().sheets) {
        geometry::SheetToCheck check{{700, 500}, millimetres(10 - 2e-4), millimetres(8 - 2e-4), {}, {}};
        for (const PlacedPart& placed : sheet.parts) {
            std::vector<Vector2d> ring = geometry::polyline(parts[placed.part].outline, millimetres(1e-4)).value();
            ring.pop_back();
            for (Vector2d& p : ring) {
                p = placed.on_sheet_mm(p);
                EXPECT_LE((p - sheet.used_mm).maxCoeff(), 0.021);
            }
            check.outlines_mm.push_back(std::move(ring));
        }
        EXPECT_FALSE(geometry::sheet_fault(check)) << *geometry::sheet_fault(check);
    }
}

TEST(BuckNesting, FillsOffCutsOfTheSameThicknessFirst) {
    Board off_cut = board("off-cut", 400, 300, 11.85);
    off_cut.count = 1;
    Board thin = board("thin", 400, 300, 9);
    thin.count = 5;
    const Job job = job_with({board("mdf 12", 2440, 1220, 12), off_cut, thin});
    const std::vector<CutPart> parts{part("R1", "mdf 12", 300, 100), part("R2", "mdf 12", 300, 100),
                                     part("R3", "mdf 12", 300, 100)};
    const auto nest = nesting(job, parts);
    ASSERT_TRUE(nest);
    ASSERT_EQ(nest.value().sheets.size(), 2U);
    // Two of them go on it, one goes on the whole sheet: 3 x 100 and gaps and margins are more than 300.
    for (const NestedSheet& sheet : nest.value().sheets) {
        EXPECT_EQ(sheet.parts.size(), sheet.board == "off-cut" ? 2U : 1U);
        EXPECT_NE(sheet.board, "thin");
        EXPECT_EQ(sheet.number, 1U);
    }
}

TEST(BuckNesting, LaysEachThicknessOnItsOwnBoardAndNumbersSheets) {
    const Job job = job_with({board("mdf 12", 700, 500, 12), board("ply 18", 700, 500, 18)});
    std::vector<CutPart> parts;
    for (int i = 0; i < 3; ++i) {
        parts.push_back(part("R" + std::to_string(i), "mdf 12", 600, 300));
    }
    parts.push_back(part("B", "ply 18", 600, 300));
    const auto nest = nesting(job, parts);
    ASSERT_TRUE(nest);
    ASSERT_EQ(nest.value().sheets.size(), 4U) << "one a sheet: two are wider than 500";
    std::size_t last = 0;
    for (const NestedSheet& sheet : nest.value().sheets) {
        EXPECT_EQ(sheet.board, sheet.parts[0].part == 3 ? "ply 18" : "mdf 12");
        EXPECT_NEAR(sheet.parts_area_mm2, 600.0 * 300.0, 1e-6);
        last = std::max(last, sheet.number);
        // Hand count: beside 610 x 310 and a cut of 8 there are 82 x 500 or 700 x 182.
        EXPECT_NEAR(sheet.left_mm.x(), 700, 1e-9);
        EXPECT_NEAR(sheet.left_mm.y(), 182, 0.1);
    }
    EXPECT_EQ(last, 3U);
}

TEST(BuckNesting, CountsTheFewestSheetsByHand) {
    const Job job = job_with({board("mdf 12", 700, 500, 12)});
    std::vector<CutPart> parts;
    for (int i = 0; i < 3; ++i) {
        parts.push_back(part("R" + std::to_string(i), "mdf 12", 600, 300));
    }
    // A(4) = 600 x 300 + 1800 x 4 + pi x 16 = 187250; a sheet has 688 x 488 = 335744: 561751 / 335744 is 1.67.
    const auto nest = nesting(job, parts);
    ASSERT_TRUE(nest);
    EXPECT_EQ(nest.value().least_sheets, 2U);
    const auto findings = nesting_findings(job, parts, nest.value());
    const Finding& sheets = found(findings, "buck/boards/sheets");
    EXPECT_EQ(sheets.state, State::holds);
    EXPECT_EQ(sheets.found, 3.0);
    EXPECT_EQ(sheets.required, 2.0);
    // 3 x 180000 of 3 x 350000.
    EXPECT_TRUE(std::any_of(sheets.inputs.begin(), sheets.inputs.end(),
                            [](const Input& input) { return input.value == "51.4 %"; }));
    for (const Finding& finding : findings) {
        EXPECT_FALSE(finding.formula.empty()) << finding.id;
        EXPECT_FALSE(finding.source.empty()) << finding.id;
        EXPECT_EQ(finding.stage, Stage::buck);
    }
}

TEST(BuckNesting, SaysWhichPartsFitNoBoard) {
    const Job job = job_with({board("mdf 12", 2440, 1220, 12)});
    const std::vector<CutPart> parts{part("R1", "mdf 12", 300, 100), part("S1", "mdf 12", 2421, 80)};
    const Finding fit = found(board_findings(job, parts), "buck/boards/fit");
    EXPECT_EQ(fit.state, State::falls_short);
    EXPECT_EQ(fit.found, 1.0);
    EXPECT_EQ(fit.place.words, "S1");
    ASSERT_TRUE(fit.mend);
    EXPECT_NE(fit.mend->words.find("2442 x 101"), std::string::npos) << fit.mend->words;
    EXPECT_FALSE(fit.mend->can_be_taken());
    const auto nest = nesting(job, parts);
    ASSERT_TRUE(nest);
    EXPECT_EQ(nest.value().left_out, std::vector<std::size_t>{1});
    EXPECT_EQ(found(nesting_findings(job, parts, nest.value()), "buck/boards/count").state, State::holds);
    // With a little less it fits.
    const std::vector<CutPart> shorter{part("S1", "mdf 12", 2419, 80)};
    EXPECT_EQ(found(board_findings(job, shorter), "buck/boards/fit").state, State::holds);
}

TEST(BuckNesting, MendsTooFewBoards) {
    Board few = board("ply 9", 700, 500, 9);
    few.count = 1;
    const Job job = job_with({few});
    std::vector<CutPart> parts;
    for (int i = 0; i < 3; ++i) {
        parts.push_back(part("R" + std::to_string(i), "ply 9", 600, 300));
    }
    const auto nest = nesting(job, parts);
    ASSERT_TRUE(nest);
    EXPECT_EQ(nest.value().left_out.size(), 2U);
    const Finding count = found(nesting_findings(job, parts, nest.value()), "buck/boards/count");
    EXPECT_EQ(count.state, State::falls_short);
    ASSERT_TRUE(count.mend && count.mend->can_be_taken());
    const auto mended = take_mend(job, count);
    ASSERT_TRUE(mended) << mended.error().message;
    EXPECT_EQ(mended.value().job.buck.boards[0].count, 3.0);
    const auto again = nesting(mended.value().job, parts);
    ASSERT_TRUE(again);
    const Finding held = found(nesting_findings(mended.value().job, parts, again.value()), "buck/boards/count");
    EXPECT_EQ(held.state, State::holds);
    EXPECT_EQ(held.margin, count.mend->proven_margin);
}

TEST(BuckNesting, SaysWhatIsNotMeasured) {
    Board bare;
    bare.name = "mystery";
    const Job job = job_with({bare});
    const std::vector<CutPart> parts{part("R1", "mystery", 300, 100)};
    const auto findings = board_findings(job, parts);
    EXPECT_EQ(found(findings, "buck/boards/mystery").state, State::not_measured);
    EXPECT_EQ(found(findings, "buck/boards/mystery").missing.size(), 3U);
    EXPECT_EQ(found(findings, "buck/boards/fit").state, State::not_measured);
    EXPECT_FALSE(has(board_findings(job_with({board("a", 1, 1, 1)}), {}), "buck/boards/a"));
    EXPECT_TRUE(board_findings(job_with({}), {}).empty());
    const auto nest = nesting(job, parts);
    ASSERT_TRUE(nest);
    EXPECT_EQ(nest.value().left_out.size(), 1U);
}

TEST(BuckNesting, KeepsToGrainAndDefects) {
    Board grained = board("ply", 400, 1000, 9);
    grained.grain = true;
    const std::vector<CutPart> parts{part("S", "ply", 500, 80)};
    EXPECT_EQ(found(board_findings(job_with({grained}), parts), "buck/boards/fit").state, State::falls_short);
    grained.grain = false;
    EXPECT_EQ(found(board_findings(job_with({grained}), parts), "buck/boards/fit").state, State::holds);
    BoardDefect knot;
    knot.along = entry(0);
    knot.length = entry(400);
    knot.across = entry(495);
    knot.width = entry(10);
    grained.defects.push_back(knot);
    EXPECT_EQ(found(board_findings(job_with({grained}), parts), "buck/boards/fit").state, State::falls_short);
}

TEST(BuckNesting, TellsBetterNestsAndStops) {
    const Job job = job_with({board("mdf 12", 700, 500, 12), board("ply 18", 700, 500, 18)});
    std::vector<CutPart> parts;
    for (int i = 0; i < 8; ++i) {
        parts.push_back(part("R" + std::to_string(i), i % 2 == 0 ? "mdf 12" : "ply 18", 150 + 20 * i, 100 + 9 * i));
    }
    std::stop_source stop;
    int told = 0;
    double part_done = 0.0;
    const geometry::Watch watch{stop.get_token(), [&part_done](double done) {
                                    EXPECT_GE(done, part_done);
                                    part_done = done;
                                }};
    const auto nest = nesting(job, parts, watch, [&](const Nesting& better) {
        ++told;
        std::size_t laid = better.left_out.size();
        for (const NestedSheet& sheet : better.sheets) {
            laid += sheet.parts.size();
        }
        EXPECT_EQ(laid, parts.size());
    });
    ASSERT_TRUE(nest);
    EXPECT_GE(told, 1);
    EXPECT_EQ(part_done, 1.0);
    stop.request_stop();
    const auto stopped = nesting(job, parts, watch);
    ASSERT_FALSE(stopped);
    EXPECT_EQ(stopped.error().code, geometry::ErrorCode::stopped);
    std::stop_source after;
    const auto first = nesting(job, parts, {after.get_token(), {}}, [&](const Nesting&) { after.request_stop(); });
    ASSERT_TRUE(first);
    EXPECT_LE(first.value().tries, 4U);
}

TEST(BuckNesting, NamesThePartWhoseOutlineIsNone) {
    const Job job = job_with({board("mdf 12", 700, 500, 12)});
    CutPart bad = part("R7", "mdf 12", 100, 100);
    bad.outline = geometry::reversed(bad.outline);
    const auto nest = nesting(job, {bad});
    ASSERT_FALSE(nest);
    EXPECT_NE(nest.error().message.find("\"R7\""), std::string::npos);
    EXPECT_EQ(found(board_findings(job, {bad}), "buck/boards/fit").state, State::falls_short);
}

}  // namespace
}  // namespace sillwright::core

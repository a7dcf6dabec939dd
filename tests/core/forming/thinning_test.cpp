#include "core/forming/thinning.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>
#include <string>

#include "core/edit/mend_edit.h"
#include "core/forming/flute_form.h"
#include "core/job_file.h"
#include "tests/core/forming/u_world.h"
#include "tests/core/small_job.h"

namespace sillwright::core {
namespace {

using geometry::Angle;
using geometry::degrees;
using geometry::in_mm;
using geometry::Length;
using geometry::Loft;
using geometry::millimetres;

constexpr double k_quarter = 0.25 * std::numbers::pi;

/// Thickness of the U's wall at z above the foot, by hand: see formed_sheet_test.cpp.
double u_share(double z) {
    const double t1 = std::atan(60.0 / 120.0);
    const double h1 = 120.0 / std::hypot(120.0, 60.0) * std::sin(t1) / t1;
    const double h2 = h1 * std::pow(std::sin(k_quarter) / k_quarter * t1 / std::sin(t1), 2.0);
    return h2 * std::pow(z / 60.0, 1.0 / k_quarter - 1.0);
}

/// A job, its piece's line and its formed sheet.
struct Formed {
    Job job;
    Loft line;
    std::shared_ptr<const FormedSheet> sheet;

    explicit Formed(Job of)
        : job{std::move(of)}, line{loft_of(job, job.skirt.pieces.front().drawn, false, "skirt").value()} {
        const auto found = formed_sheet(job, piece(), line, Angle{});
        sheet = found ? found.value() : nullptr;
    }
    [[nodiscard]] const Piece& piece() const { return job.skirt.pieces.front(); }
    [[nodiscard]] Thinning thin() const { return thinning(job, piece(), line, sheet.get()); }
    [[nodiscard]] std::vector<Finding> findings(Mends mends = Mends::leave) const {
        return thinning_findings(job, piece(), line, sheet.get(), thin(), mends);
    }
};

const ThinPlace& named(const Thinning& thin, const std::string& name) {
    const auto found =
        std::find_if(thin.places.begin(), thin.places.end(), [&](const ThinPlace& one) { return one.name == name; });
    EXPECT_NE(found, thin.places.end()) << name;
    static const ThinPlace none;
    return found == thin.places.end() ? none : *found;
}

const Finding& with_id(const std::vector<Finding>& findings, const std::string& id) {
    const auto found = std::find_if(findings.begin(), findings.end(), [&](const Finding& one) { return one.id == id; });
    EXPECT_NE(found, findings.end()) << id;
    static const Finding none;
    return found == findings.end() ? none : *found;
}

Job estate() {
    Job job =
        parse_job(file_bytes(std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples/estate_a.sillwright"), "estate")
            .value();
    job.forming.mould = MouldKind::male;
    job.forming.clamp_distance = forming_mm(150.0);
    job.skirt.pieces.front().sheet = forming_mm(3.0);
    return job;
}

// Crawford, Plastics Engineering, Example 4.7 (a): a box 150 x 100 x 60 of 2 mm sheet: 3.0e4 mm3 over 4.5e4 mm2, 0.67
// mm.
TEST(DrawRatioOf, CrawfordsBox) {
    const DrawRatio box{150.0 * 100.0 + 2.0 * (150.0 + 100.0) * 60.0, 150.0 * 100.0};
    EXPECT_NEAR(box.ratio(), 3.0, 1e-12);
    EXPECT_NEAR(in_mm(box.mean_thickness(millimetres(2.0))), 0.67, 0.005);
}

// A U of 260 developed over an opening of 180, 4 mm: 1.444, mean 2.769 (by hand).
TEST(DrawRatioOf, USection) {
    Job job = u_job();
    job.forming.trim_allowance = forming_mm(0.0);
    job.forming.clamp_distance = forming_mm(0.0);
    const auto ratio = draw_ratio(job, job.skirt.pieces.front(), u_line(job), Angle{});
    ASSERT_TRUE(ratio) << ratio.error().message;
    EXPECT_NEAR(ratio.value().ratio(), 1.444, 5e-4);
    EXPECT_NEAR(in_mm(ratio.value().mean_thickness(millimetres(4.0))), 2.769, 5e-4);
    EXPECT_NEAR(ratio.value().formed_mm2, 260.0 * 1000.0, 1e-6);
}

// (180 + 2 (60 + 120)) / (180 + 240) with trim allowance and platen.
TEST(DrawRatioOf, WallsAndPlatenCount) {
    const Job job = u_job();
    EXPECT_NEAR(draw_ratio(job, job.skirt.pieces.front(), u_line(job), Angle{}).value().ratio(), 540.0 / 420.0, 1e-9);
}

TEST(ThinningU, ThinnestPlacesByHand) {
    const Formed u(u_job());
    const Thinning thin = u.thin();
    ASSERT_EQ(thin.places.size(), 3U);
    for (const std::string name : {"flange", "shelf"}) {
        const ThinPlace& place = named(thin, name);
        EXPECT_NEAR(place.share, u_share(20.0), 0.0025) << name;  // at its end, 40 of 60 down the wall
        EXPECT_NEAR(in_mm(place.thickness), 3.0 * place.share, 1e-12);
        EXPECT_NEAR(in_mm(place.sd), 0.05 * in_mm(place.thickness), 1e-12);  // +-10 % are two sd
        EXPECT_NEAR(place.at_mm.x(), 110.0, 1e-6) << name;
    }
    EXPECT_NEAR(named(thin, "flange").at_mm.y(), 0.0, 1e-6);
    EXPECT_NEAR(named(thin, "shelf").at_mm.y(), 180.0, 1e-6);
    EXPECT_NEAR(in_mm(named(thin, "flange").sheet_needed), 2.0 / (0.9 * u_share(20.0)), 0.05);
    EXPECT_NEAR(thin.draw_ratio, 540.0 / 420.0, 1e-9);
}

TEST(ThinningU, FluteThinsWhatIsThereMore) {
    Job job = u_job();
    Flute flute;
    flute.name = "1";
    flute.offset = forming_mm(20.0);
    flute.width = forming_mm(12.0);
    flute.depth = forming_mm(3.0);
    flute.bottom_radius = forming_mm(3.0);
    job.skirt.pieces.front().flutes.push_back(flute);
    const Formed u(job);
    const double beside = 3.0 * u_share(40.0);  // 20 below the edge of a wall of 60
    const GrooveSection groove{millimetres(12.0), millimetres(3.0), millimetres(3.0)};
    const double more = in_mm(bottom_thickness(groove, MouldKind::male, millimetres(beside))) / beside;
    const ThinPlace& place = named(u.thin(), "flute 1");
    EXPECT_NEAR(place.share, u_share(40.0) * more, 0.0025);
    EXPECT_NEAR(in_mm(place.needed), 2.2, 1e-12);
    EXPECT_NEAR(place.at_mm.x(), 130.0, 1e-6);

    job.skirt.pieces.front().flutes.front().depth = forming_mm(0.0);
    const Formed none(job);
    EXPECT_EQ(none.thin().missing.size(), 1U);
    EXPECT_EQ(with_id(none.findings(), "forming/skirt/thickness/flutes").state, State::not_measured);
}

TEST(ThinningFindings, FoundIsLessTwoStandardDeviations) {
    const Formed u(u_job());
    const auto findings = u.findings();
    ASSERT_EQ(findings.size(), 4U);
    const Finding& flange = with_id(findings, "forming/skirt/thickness/flange");
    EXPECT_NEAR(*flange.found, 3.0 * u_share(20.0) * 0.9, 0.01);
    EXPECT_NEAR(*flange.required, 2.0, 1e-12);
    EXPECT_NEAR(*flange.margin, *flange.found - *flange.required, 1e-12);
    EXPECT_EQ(flange.state, State::falls_short);
    EXPECT_FALSE(flange.mend);  // not looked for
    std::set<std::string> ids;
    for (const Finding& finding : findings) {
        EXPECT_TRUE(ids.insert(finding.id).second);
        EXPECT_FALSE(finding.formula.empty());
        EXPECT_FALSE(finding.source.empty());
        EXPECT_FALSE(finding.why.empty());
        EXPECT_EQ(finding.stage, Stage::forming);
        EXPECT_TRUE(std::any_of(finding.inputs.begin(), finding.inputs.end(),
                                [](const Input& input) { return input.name == "limits of the model"; }));
    }
    const Finding& ratio = with_id(findings, "forming/skirt/draw ratio");
    EXPECT_NEAR(*ratio.found, 540.0 / 420.0, 1e-9);
    EXPECT_FALSE(ratio.at_least);
    EXPECT_EQ(ratio.state, State::holds);
}

TEST(ThinningFindings, NotMeasuredSaysWhatIsLacking) {
    Job job = u_job();
    job.forming.clamp_distance.reset();
    const Formed u(job);
    const auto findings = u.findings();
    ASSERT_EQ(findings.size(), 2U);
    for (const Finding& finding : findings) {
        EXPECT_EQ(finding.state, State::not_measured);
        EXPECT_FALSE(finding.found);
        ASSERT_EQ(finding.missing.size(), 1U);
        EXPECT_EQ(finding.missing.front(), "the distance from the mould's foot to the clamp line");
        EXPECT_FALSE(finding.formula.empty());
        EXPECT_FALSE(finding.source.empty());
    }
}

TEST(ThinningFindings, WhatCannotBeFormedSaysWhyAndWhere) {
    Job job = u_job();
    job.forming.clamp_distance = forming_mm(5.0);
    for (Section& section : job.skirt.pieces.front().drawn.sections) {
        section.nodes.back().up = forming_mm(20.0);
    }
    const Formed u(job);
    ASSERT_EQ(u.sheet, nullptr);
    const Finding finding = u.findings().front();
    EXPECT_EQ(finding.state, State::not_measured);
    EXPECT_NE(finding.why.find("clamp distance"), std::string::npos) << finding.why;
    EXPECT_FALSE(finding.missing.empty());
}

// Every mend taken and everything computed anew: the finding holds with the margin that was promised.
void expect_mends_hold(const Job& job, std::size_t at_least) {
    const Formed before(job);
    ASSERT_TRUE(before.sheet);
    std::size_t taken = 0;
    for (const Finding& finding : before.findings(Mends::look_for)) {
        if (finding.state != State::falls_short) {
            EXPECT_FALSE(finding.mend);
            continue;
        }
        ASSERT_TRUE(finding.mend) << finding.id;
        EXPECT_FALSE(finding.mend->words.empty());
        if (!finding.mend->can_be_taken()) {
            continue;
        }
        const auto edit = take_mend(job, finding);
        ASSERT_TRUE(edit) << edit.error().message;
        const Formed after(edit.value().job);
        const auto findings = after.findings();
        const Finding& same = with_id(findings, finding.id);
        ASSERT_TRUE(same.margin) << finding.id;
        EXPECT_GE(*same.margin, 0.0) << finding.id;
        EXPECT_NEAR(*same.margin, *finding.mend->proven_margin, 1e-9) << finding.id;
        ++taken;
    }
    EXPECT_GE(taken, at_least);
}

TEST(ThinningMends, ThickerSheet) {
    expect_mends_hold(estate(), 2);
}

TEST(ThinningMends, FurtherClampLineToo) {
    Job job = estate();
    job.forming.clamp_distance = forming_mm(40.0);
    job.forming.flange_least = forming_mm(2.5);
    expect_mends_hold(job, 2);
    bool both = false;
    for (const Finding& finding : Formed(job).findings(Mends::look_for)) {
        both = both || (finding.mend && finding.mend->changes.size() == 2);
    }
    EXPECT_TRUE(both);
}

TEST(ThinningMends, DrawRatio) {
    Job job = estate();
    job.forming.draw_ratio_most = 1.3;
    const Formed before(job);
    const auto findings = before.findings(Mends::look_for);
    const Finding& ratio = with_id(findings, "forming/skirt/draw ratio");
    ASSERT_EQ(ratio.state, State::falls_short);
    ASSERT_TRUE(ratio.mend && ratio.mend->can_be_taken());
    EXPECT_LT(*ratio.mend->proven_margin, 0.05);  // the least clamp distance that does, in whole five millimetres
    expect_mends_hold(job, 2);
}

TEST(ThinningMends, NoSheetIsThickEnough) {
    Job job = estate();
    job.forming.flange_least = forming_mm(20.0);
    const auto findings = Formed(job).findings(Mends::look_for);
    const Finding& flange = with_id(findings, "forming/skirt/thickness/flange");
    ASSERT_TRUE(flange.mend);
    EXPECT_FALSE(flange.mend->can_be_taken());
}

}  // namespace
}  // namespace sillwright::core

#include "core/forming/formed_sheet.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/forming/mould_section.h"
#include "core/job_file.h"
#include "geometry/sheet_draping.h"
#include "tests/core/forming/u_world.h"
#include "tests/core/small_job.h"

namespace sillwright::core {
namespace {

using geometry::degrees;
using geometry::in_mm;
using geometry::Length;
using geometry::Loft;
using geometry::millimetres;

FormedSheet two_rows() {
    FormedSheet sheet;
    sheet.sheet = millimetres(3.0);
    sheet.rows = {millimetres(100.0), millimetres(300.0)};
    sheet.marks = {0.0, 1.0, 2.0};
    sheet.shares = {{1.0, 0.8, 0.4}, {0.9, 0.5, 0.5}};
    return sheet;
}

Job formable_job() {
    Job job = parse_job(small_job_text(), "small.sillwright").value();
    job.forming.mould = MouldKind::male;
    job.forming.clamp_distance = Entry{millimetres(150.0), ""};
    job.skirt.pieces.front().sheet = Entry{millimetres(3.0), ""};
    return job;
}

TEST(FormedSheetShares, LinearBetweenRowsAndMarks) {
    const FormedSheet sheet = two_rows();
    EXPECT_DOUBLE_EQ(sheet.share_at(millimetres(100.0), 1.0), 0.8);
    EXPECT_NEAR(sheet.share_at(millimetres(100.0), 1.5), 0.6, 1e-12);    // half-way from 0.8 to 0.4
    EXPECT_NEAR(sheet.share_at(millimetres(150.0), 1.0), 0.725, 1e-12);  // a quarter from 0.8 to 0.5
    EXPECT_NEAR(sheet.share_at(millimetres(200.0), 0.5), 0.8, 1e-12);    // half of 0.9 and 0.7
    EXPECT_NEAR(in_mm(sheet.thickness_at(millimetres(200.0), 0.5)), 2.4, 1e-12);
}

TEST(FormedSheetShares, BeyondTheLastItStaysAsItIs) {
    const FormedSheet sheet = two_rows();
    EXPECT_DOUBLE_EQ(sheet.share_at(millimetres(0.0), -1.0), 1.0);
    EXPECT_DOUBLE_EQ(sheet.share_at(millimetres(300.0), 2.0), 0.5);
    EXPECT_DOUBLE_EQ(sheet.share_at(millimetres(900.0), 7.0), 0.5);
}

TEST(FormedSheetShares, OneRowIsTheSameEverywhere) {
    FormedSheet sheet = two_rows();
    sheet.rows.resize(1);
    sheet.shares.resize(1);
    EXPECT_DOUBLE_EQ(sheet.share_at(millimetres(50.0), 0.5), 0.9);
    EXPECT_DOUBLE_EQ(sheet.share_at(millimetres(500.0), 0.5), 0.9);
}

TEST(FormedSheetLacking, EachOfTheThreeIsNamed) {
    const Job whole = formable_job();
    EXPECT_TRUE(lacking_for_formed_sheet(whole, whole.skirt.pieces.front()).empty());

    Job job = whole;
    job.forming.mould.reset();
    EXPECT_EQ(lacking_for_formed_sheet(job, job.skirt.pieces.front()),
              std::vector<std::string>{"whether the sheet is drawn over a male mould or into a female one"});
    job = whole;
    job.forming.clamp_distance.reset();
    EXPECT_EQ(lacking_for_formed_sheet(job, job.skirt.pieces.front()),
              std::vector<std::string>{"the distance from the mould's foot to the clamp line"});
    job = whole;
    job.skirt.pieces.front().sheet.reset();
    EXPECT_EQ(lacking_for_formed_sheet(job, job.skirt.pieces.front()),
              std::vector<std::string>{"the sheet thickness of " + job.skirt.pieces.front().name});
}

Job estate() {
    return parse_job(file_bytes(std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples/estate_a.sillwright"),
                     "estate_a.sillwright")
        .value();
}

std::shared_ptr<const FormedSheet> formed(const Job& job, double tilt_deg = 0.0) {
    const Piece& piece = job.skirt.pieces.front();
    const Loft line = loft_of(job, piece.drawn, false, piece.name).value();
    const auto sheet = formed_sheet(job, piece, line, degrees(tilt_deg));
    EXPECT_TRUE(sheet) << (sheet ? "" : sheet.error().message);
    return sheet ? sheet.value() : nullptr;
}

// The flat top with upright walls of geometry/sheet_draping_test.cpp: walls D = 60 (40 and the trim allowance of 20),
// clamps a = 120 from them; z is the height on the wall above the foot.
TEST(FormedSheetU, FlatTopByHand) {
    const auto sheet = formed(u_job());
    ASSERT_TRUE(sheet);
    const double t1 = std::atan(60.0 / 120.0);
    const double quarter = 0.25 * std::numbers::pi;
    const double h1 = 120.0 / std::hypot(120.0, 60.0) * std::sin(t1) / t1;
    const double h2 = h1 * std::pow(std::sin(quarter) / quarter * t1 / std::sin(t1), 2.0);
    const auto by_hand = [&](double z) { return h2 * std::pow(z / 60.0, 1.0 / quarter - 1.0); };
    for (const double along : {0.0, 333.0, 1000.0}) {
        const Length at = millimetres(along);
        EXPECT_NEAR(sheet->share_at(at, 1.5), 1.0, 1e-9);
        EXPECT_NEAR(sheet->share_at(at, 0.0), by_hand(20.0), 0.0025);
        EXPECT_NEAR(sheet->share_at(at, 0.5), by_hand(40.0), 0.0025);
        EXPECT_NEAR(sheet->share_at(at, 3.0), by_hand(20.0), 0.0025);
        EXPECT_NEAR(sheet->share_at(at, 2.25), by_hand(50.0), 0.0025);
    }
    EXPECT_NEAR(in_mm(sheet->thickness_at(millimetres(500.0), 3.0)), 3.0 * by_hand(20.0), 0.0075);
}

// Drawn into a cavity the face, touched last, is the thinnest; over a mould it is the thickest.
TEST(FormedSheetU, FemaleIsThinWhereMaleIsThick) {
    const auto male = formed(u_job());
    const auto female = formed(u_job(MouldKind::female));
    ASSERT_TRUE(male && female);
    EXPECT_GT(male->share_at(millimetres(500.0), 1.5), male->share_at(millimetres(500.0), 3.0));
    EXPECT_LT(female->share_at(millimetres(500.0), 1.05), female->share_at(millimetres(500.0), 3.0));
}

TEST(FormedSheetU, NullIfSomethingIsLacking) {
    Job job = u_job();
    job.forming.mould.reset();
    const auto sheet = formed_sheet(job, job.skirt.pieces.front(), u_line(job), degrees(0.0));
    ASSERT_TRUE(sheet);
    EXPECT_EQ(sheet.value(), nullptr);
}

TEST(FormedSheetU, RefusedWithThePlace) {
    Job job = u_job();
    job.forming.clamp_distance = forming_mm(5.0);
    for (Section& section : job.skirt.pieces.front().drawn.sections) {
        section.nodes.back().up = forming_mm(20.0);
    }
    const auto sheet = formed_sheet(job, job.skirt.pieces.front(), u_line(job), degrees(0.0));
    ASSERT_FALSE(sheet);
    EXPECT_EQ(sheet.error().code, geometry::ErrorCode::does_not_fit);
    EXPECT_NE(sheet.error().message.find("1.0 \xC2\xB7 0 mm"), std::string::npos) << sheet.error().message;
}

// Against the sections draped for themselves, with three times as many chords and steps four times as fine, at places
// that are no rows and no marks.
TEST(FormedSheetEstate, WithinHalfAPerCentEverywhere) {
    Job job = estate();
    job.forming.clamp_distance = forming_mm(150.0);
    for (const MouldKind mould : {MouldKind::male, MouldKind::female}) {
        job.forming.mould = mould;
        const Piece& piece = job.skirt.pieces.front();
        const Loft line = loft_of(job, piece.drawn, false, piece.name).value();
        for (const double tilt_deg : {0.0, -8.0}) {
            const auto sheet = formed(job, tilt_deg);
            ASSERT_TRUE(sheet);
            const auto last = static_cast<double>(line.names().size() - 1);
            for (int i = 0; i <= 23; ++i) {
                const Length along = line.front() + (line.rear() - line.front()) * (i / 23.0);
                const auto section = mould_section(job, piece, line, along, degrees(tilt_deg), degrees(1.0)).value();
                const auto exact = geometry::draped(section.mould_mm, geometry::DrapeShape::trough,
                                                    {millimetres(0.5), millimetres(0.02)})
                                       .value();
                EXPECT_NEAR(exact.laid / exact.sheet, 1.0, 1e-9);
                for (int k = 0; k <= 300; ++k) {
                    const double mark = last * k / 300.0;
                    EXPECT_NEAR(sheet->share_at(along, mark), exact.share_at(section.at_mark(mark)), 0.005)
                        << in_mm(along) << " " << mark << " tilt " << tilt_deg;
                }
            }
        }
    }
}

}  // namespace
}  // namespace sillwright::core

#include "core/forming/formed_sheet.h"

#include <gtest/gtest.h>

#include "core/job_file.h"
#include "tests/core/small_job.h"

namespace sillwright::core {
namespace {

using geometry::in_mm;
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

}  // namespace
}  // namespace sillwright::core

// The survey command in this process, on copies of the samples.
#include "app/terminal/survey_command.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <QFile>
#include <QLockFile>
#include <nlohmann/json.hpp>
#include <sstream>

#include "app/window/unsaved_work.h"
#include "core/job_file.h"
#include "core/survey/book_csv.h"
#include "tests/core/small_job.h"

namespace sillwright::app::terminal {
namespace {

using core::file_bytes;
using core::put_file;
using core::TestFolder;
using testing::AllOf;
using testing::HasSubstr;
using testing::StartsWith;

const std::string k_samples = SILLWRIGHT_SOURCE_DIR "/samples/";

struct Ran {
    ExitCode code;
    std::string out, err;
};

Ran ran(const Survey& command) {
    testing::internal::CaptureStdout();
    testing::internal::CaptureStderr();
    const ExitCode code = run(command);
    std::string out = testing::internal::GetCapturedStdout();
    return {code, std::move(out), testing::internal::GetCapturedStderr()};
}

/// A copy of the sample with a misread tie.
class SurveyCommand : public testing::Test {
protected:
    SurveyCommand() { put_file(job, file_bytes(k_samples + "measuring_book.sillwright")); }

    [[nodiscard]] Survey survey() const {
        Survey survey;
        survey.job = job;
        return survey;
    }
    [[nodiscard]] std::string wrong_id() const {
        const core::Job read = core::read_job(job).value();
        for (const core::survey::Reading& reading : read.book.readings) {
            if (reading.value->typed == "1604.0") {
                return reading.id;
            }
        }
        return {};
    }

    TestFolder folder;
    std::filesystem::path job = folder.path() / "book.sillwright";
};

TEST_F(SurveyCommand, SaysWhatToReadAgainFirst) {
    const Ran result = ran(survey());
    EXPECT_EQ(result.code, ExitCode::some_fall_short);
    EXPECT_THAT(result.out, AllOf(HasSubstr("read again    Put the tape again on B-H1"),
                                  HasSubstr("--drop " + wrong_id() + " --why"), HasSubstr("measure next")));
    EXPECT_LT(result.out.find("read again"), result.out.find("Points in mm"));
    EXPECT_EQ(result.err, "");
    std::istringstream lines(result.out);
    for (std::string line; std::getline(lines, line);) {
        EXPECT_LE(line.size(), 90U) << line;  // 80 columns; some letters are two or three bytes
    }
}

TEST_F(SurveyCommand, DropsAReadingAndKeepsTheOlderVersion) {
    const std::string before = file_bytes(job);
    Survey drop = survey();
    drop.drop = wrong_id();
    drop.why = "digits changed over";
    const Ran result = ran(drop);
    EXPECT_EQ(result.code, ExitCode::all_hold);
    EXPECT_THAT(result.out, AllOf(StartsWith("Drop reading B H1 1604.0"), HasSubstr("dropped: digits changed over")));
    EXPECT_EQ(file_bytes(job.string() + "~"), before);
    const Ran again = ran(drop);
    EXPECT_EQ(again.code, ExitCode::bad_input);
    EXPECT_THAT(again.err, HasSubstr("dropped already"));
    drop.drop = "r999";
    EXPECT_THAT(ran(drop).err, HasSubstr("no reading \"r999\""));
}

TEST_F(SurveyCommand, TakesGoodRowsAndNamesTheOthers) {
    const auto csv = folder.path() / "more.csv";
    put_file(csv, "from;to;value;set-up\nA;H9;1832,5;lift\nB;H9;-121;lift\nC;H9;880,5;lift\n");
    Survey take = survey();
    take.take = csv;
    const std::size_t before = core::read_job(job).value().book.readings.size();
    const Ran result = ran(take);
    EXPECT_EQ(result.code, ExitCode::bad_input);
    EXPECT_THAT(result.out, AllOf(StartsWith("2 rows taken, 1 refused."), HasSubstr("Row 3, column 3 (value):"),
                                  HasSubstr("\nfrom;to;value;set-up\nB;H9;-121;lift\n")));
    EXPECT_EQ(core::read_job(job).value().book.readings.size(), before + 2);
}

TEST_F(SurveyCommand, LeavesTheJobAloneWhereNothingCanBeTaken) {
    const std::string before = file_bytes(job);
    const auto csv = folder.path() / "more.csv";
    Survey take = survey();
    take.take = csv;
    EXPECT_EQ(ran(take).code, ExitCode::bad_input) << "there is no such file";
    put_file(csv, "from;to;value\nA;T\xFCr;1832,5\n");
    const Ran result = ran(take);
    EXPECT_EQ(result.code, ExitCode::bad_input);
    EXPECT_THAT(result.err, AllOf(HasSubstr("more.csv: Row 2, column 2:"), HasSubstr("UTF-8")));
    put_file(csv, "from;to;value\nA;A;1832,5\n");
    EXPECT_EQ(ran(take).code, ExitCode::bad_input);
    EXPECT_EQ(file_bytes(job), before);
}

TEST_F(SurveyCommand, ChangesNoJobThatAWindowHasOpen) {
    QLockFile lock(QFile::decodeName(unsaved_work::lock_of(job).string().c_str()));
    ASSERT_TRUE(lock.tryLock());
    const std::string before = file_bytes(job);
    Survey drop = survey();
    drop.drop = wrong_id();
    drop.why = "digits changed over";
    const Ran result = ran(drop);
    EXPECT_EQ(result.code, ExitCode::bad_input);
    EXPECT_THAT(result.err, HasSubstr("open in a window"));
    EXPECT_EQ(file_bytes(job), before);
    EXPECT_EQ(ran(survey()).code, ExitCode::some_fall_short) << "reading is free";
}

TEST_F(SurveyCommand, WritesSheetCopyAndReadingsButOverwritesNothing) {
    Survey write = survey();
    write.sheet = folder.path() / "sheet.pdf";
    write.copy = folder.path() / "copy.pdf";
    write.csv = folder.path() / "readings.csv";
    EXPECT_EQ(ran(write).code, ExitCode::some_fall_short);
    for (const auto& file : {*write.sheet, *write.copy}) {
        const std::string bytes = file_bytes(file);
        EXPECT_TRUE(bytes.starts_with("%PDF-")) << file;
        EXPECT_NE(bytes.find("/MediaBox [0 0 595.0"), std::string::npos) << "A4 is 595 points wide (ISO 216)";
    }
    const core::Job read = core::read_job(job).value();
    const auto again = core::survey::book_of_csv(file_bytes(*write.csv), read.book, read.unit);
    ASSERT_TRUE(again);
    EXPECT_EQ(again.value().readings.size(), read.book.readings.size());
    const Ran twice = ran(write);
    EXPECT_EQ(twice.code, ExitCode::bad_input);
    EXPECT_THAT(twice.err, HasSubstr("stands there already"));
}

TEST_F(SurveyCommand, ForProgramsPrintsNothingButJson) {
    Survey json = survey();
    json.json = true;
    const auto told = nlohmann::json::parse(ran(json).out);
    EXPECT_EQ(told["format"], 1);
    EXPECT_EQ(told["readings"].size(), core::read_job(job).value().book.readings.size());
    EXPECT_EQ(told["suspect"]["reading"], wrong_id());
    EXPECT_GT(told["suspect"]["w"].get<double>(), 3.29);
    EXPECT_EQ(told["points"].size(), 9U);
    EXPECT_EQ(told["points"][0]["half_95_along_mm"], 0.0);
    EXPECT_EQ(told["global_test"]["holds"], false);
    EXPECT_EQ(told["findings"].size(), 3U);
    EXPECT_TRUE(told["other_hand"].is_null());
    json.drop = wrong_id();
    json.why = "digits changed over";
    const Ran dropped = ran(json);
    EXPECT_TRUE(nlohmann::json::parse(dropped.out)["suspect"].is_null());
    EXPECT_THAT(dropped.err, HasSubstr("Drop reading"));
}

TEST_F(SurveyCommand, OfAnEmptyBookSaysHowToBegin) {
    put_file(job, R"({"version": 1, "side": "left"})");
    const Ran result = ran(survey());
    EXPECT_EQ(result.code, ExitCode::some_not_measured);
    EXPECT_THAT(result.out, AllOf(HasSubstr("LEFT SIDE"), HasSubstr("--sheet"), HasSubstr("--take")));
    Survey sheet = survey();
    sheet.sheet = folder.path() / "sheet.pdf";
    EXPECT_EQ(ran(sheet).code, ExitCode::some_not_measured);
    EXPECT_TRUE(file_bytes(*sheet.sheet).starts_with("%PDF-"));
}

}  // namespace
}  // namespace sillwright::app::terminal

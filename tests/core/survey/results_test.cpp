#include "core/survey/results.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>

#include "core/job_file.h"
#include "core/sill_frame.h"
#include "core/typed.h"
#include "tests/core/survey/made_book.h"

namespace sillwright::core::survey {
namespace {

using Eigen::Vector3d;
using geometry::in_mm;
using geometry::millimetres;
using testing::HasSubstr;

/// Readings are exact: what is left is the rounding of the adjustment.
constexpr double k_rounding_mm = 1e-6;

/// A held mark, one hole and the two pins of a door, each read from the mark, along, out and up.
MadeBook read_from_the_mark() {
    MadeBook made;
    made.truth = {{"A", {0, 0, 0}},
                  {"H1", {400, -60, -50}},
                  {"front door lower pin", {100, -40, 320}},
                  {"front door upper pin", {100, -60, 720}}};
    made.hold("A", "aou");
    for (const auto& [name, at] : made.truth) {
        if (name != "A") {
            for (const ReadingKind kind : {ReadingKind::along, ReadingKind::out, ReadingKind::up}) {
                made.read(kind, {"A", name}).sd = MadeBook::entry(0.6);
            }
        }
    }
    return made;
}

Job job_of(const Book& book) {
    Job job;
    job.book = book;
    Mount mount;
    mount.name = "H1";
    mount.from_book = true;
    job.mounts = {mount};
    Door door;
    door.name = "front door";
    door.hinge = Hinge{.lower = {}, .upper = {}, .sag_about = {}, .from_book = true};
    door.opening = geometry::degrees(60.0);
    job.doors = {door};
    return job;
}

double mm(const std::optional<Entry>& entry) {
    return in_mm(entry.value().value);
}

TEST(Settled, PutsMountsAndPinsWhereTheBookHasThem) {
    const Job before = job_of(read_from_the_mark().book);
    const Job job = settled(before, survey_results(before, {}));
    const Mount& mount = job.mounts.front();
    EXPECT_NEAR((in_mm(mount.at) - Vector3d(400, -60, -50)).norm(), 0.0, k_rounding_mm);
    for (const auto& sd : mount.sd) {
        EXPECT_NEAR(mm(sd), 0.6, k_rounding_mm);  // One reading each, of 0.6 mm.
    }
    const Hinge& hinge = *job.doors.front().hinge;
    EXPECT_NEAR(mm(hinge.lower.out), -40, k_rounding_mm);
    EXPECT_NEAR(mm(hinge.upper.up), 720, k_rounding_mm);
    EXPECT_EQ(settled(job, survey_results(job, {})), job);  // It is where it is.
}

TEST(Settled, LeavesAloneWhatIsNotKeptFromTheBook) {
    Job before = job_of(read_from_the_mark().book);
    before.mounts.front().from_book = false;
    before.doors.front().hinge->from_book = false;
    EXPECT_EQ(settled(before, survey_results(before, {})), before);
}

TEST(Settled, KeepsTheLastPlaceOfWhatTheBookCannotPlace) {
    Job before = job_of(read_from_the_mark().book);
    before.mounts.front().at.along = typed_entry("12 1/2 in", BareUnit::mm).value();
    before.book.readings.clear();
    EXPECT_EQ(settled(before, survey_results(before, {})), before);
}

TEST(SurveyResults, SayHowSureTheDoorsCornerIs) {
    Job job = job_of(read_from_the_mark().book);
    job.stations = {{"1", entry(millimetres(200)), {}}, {"2", entry(millimetres(1100)), {}}};
    DoorBody edge;
    edge.name = "edge";
    for (const char* station : {"1", "2"}) {
        edge.drawn.sections.push_back(
            {station,
             {{std::string(station) + "a", "hem", entry(millimetres(20)), entry(millimetres(110)), {}, {}},
              {std::string(station) + "b", "top", entry(millimetres(0)), entry(millimetres(300)), {}, {}}},
             {}});
    }
    job.doors.front().bodies = {edge};
    const Results results = survey_results(job, {});
    const DoorCorner& corner = results.corners.at("front door");
    EXPECT_EQ(corner.shut_mm, Vector3d(1100, 20, 110));
    EXPECT_GT(corner.worst.sd_mm, 0.6);
    EXPECT_LE(corner.worst.at, geometry::degrees(60.0));
}

class OtherHand : public testing::Test {
protected:
    void SetUp() override { std::filesystem::create_directories(folder_); }
    void TearDown() override { std::filesystem::remove_all(folder_); }

    [[nodiscard]] Results compared(const Job& other) const {
        EXPECT_TRUE(save_job(other, folder_ / "left.sillwright"));
        Job job = job_of(five_marks(0.0));
        job.other_hand = "left.sillwright";
        return survey_results(job, folder_);
    }
    /// Five marks read from the first; the last `further_out_mm` from where it should be.
    static Book five_marks(double further_out_mm) {
        MadeBook made;
        made.truth = {{"A", {0, 0, 0}},
                      {"B", {1800, 0, 0}},
                      {"C", {900, -400, 20}},
                      {"D", {300, -60, 90}},
                      {"E", {1500, further_out_mm - 60, 90}}};
        made.hold("A", "aou");
        for (const char* name : {"B", "C", "D", "E"}) {
            for (const ReadingKind kind : {ReadingKind::along, ReadingKind::out, ReadingKind::up}) {
                made.read(kind, {"A", name}).sd = MadeBook::entry(0.2);
            }
        }
        return made.book;
    }
    static Job left(double further_out_mm) {
        Job job = job_of(five_marks(further_out_mm));
        job.side = Side::left;
        job.mounts.clear();
        job.doors.clear();
        return job;
    }

private:
    std::filesystem::path folder_ =
        std::filesystem::path(testing::TempDir()) /
        (std::string("sillwright-") + testing::UnitTest::GetInstance()->current_test_info()->name());
};

TEST_F(OtherHand, IsReadFromBesideTheJob) {
    const Results same = compared(left(0.0));
    ASSERT_TRUE(same.other_hand) << same.other_hand_lacks;
    EXPECT_EQ(same.other_hand->verdict, Verdict::same);
    const Results different = compared(left(12.0));
    ASSERT_TRUE(different.other_hand);
    EXPECT_EQ(different.other_hand->verdict, Verdict::different);
}

TEST_F(OtherHand, OfTheSameSideIsNoOtherHand) {
    Job same_side = left(0.0);
    same_side.side = Side::right;
    const Results results = compared(same_side);
    EXPECT_FALSE(results.other_hand);
    EXPECT_THAT(results.other_hand_lacks, HasSubstr("same side"));
}

// Neither side of Estate A has a book; its left side was measured 0.5 to 2 mm elsewhere (samples/README.md).
TEST(SurveyResults, CompareMountsAndBodyAsTypedWhereThereIsNoBook) {
    const std::filesystem::path samples = SILLWRIGHT_SOURCE_DIR "/samples";
    Job job = read_job(samples / "estate_a.sillwright").value();
    job.other_hand = "estate_a_left.sillwright";
    const Results results = survey_results(job, samples);
    ASSERT_TRUE(results.other_hand && results.other_hand->verdict);
    EXPECT_EQ(results.other_hand->points.size(), 9U + 12U * 10U) << "nine mounts, twelve corners at ten stations";
    EXPECT_NE(*results.other_hand->verdict, Verdict::different);
    for (const PointDifference& point : results.other_hand->points) {
        EXPECT_LT(point.distance_mm, 4.0) << point.name;
        EXPECT_GT(point.sd_mm, 0.3) << "both sides' deviations are in it";
    }
}

TEST(SurveyResults, SayThatTheOtherHandIsNotThere) {
    Job job;
    job.other_hand = "nowhere.sillwright";
    EXPECT_THAT(survey_results(job, testing::TempDir()).other_hand_lacks, HasSubstr("nowhere.sillwright"));
}

}  // namespace
}  // namespace sillwright::core::survey

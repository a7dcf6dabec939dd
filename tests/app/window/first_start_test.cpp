#include "app/window/first_start.h"

#include <gmock/gmock.h>

#include <QTemporaryDir>
#include <QWidget>

#include "app/desk/open_job.h"
#include "app/window/file_questions.h"
#include "app/window/job_files.h"
#include "core/job_file.h"

namespace sillwright::app::first_start {
namespace {

TEST(FirstStart, TheSampleIsFoundInTheSourceTree) {
    const auto job = sample(sample_folders());
    ASSERT_TRUE(job) << job.error().message;
    EXPECT_FALSE(job.value().stations.empty());
    EXPECT_THAT(job.value().vehicle, testing::HasSubstr("Estate A"));
}

TEST(FirstStart, AMissingSampleIsToldWithWhereItWasLookedFor) {
    const QTemporaryDir empty;
    const auto job = sample({empty.path().toStdString()});
    ASSERT_FALSE(job);
    EXPECT_THAT(job.error().message, testing::HasSubstr(empty.path().toStdString()));
}

TEST(FirstStart, BeginsWithTheSampleThenWithTheJobThatWasOpenLast) {
    const QTemporaryDir dir;
    const std::filesystem::path top = dir.path().toStdString();
    QWidget window;
    FileDialogs questions(&window);
    const OwnPlaces places{dir.filePath("settings.ini"), top / "own"};
    {
        OpenJob open;
        JobFiles files(open, questions, places);
        ASSERT_TRUE(begin(files, sample_folders()));
        EXPECT_TRUE(open.file().empty()) << "saving asks for a name";
        EXPECT_FALSE(open.changed());
        EXPECT_FALSE(open.job().mounts.empty());
        ASSERT_TRUE(core::save_job({}, top / "mine.sillwright"));
        ASSERT_TRUE(files.open(top / "mine.sillwright"));
        ASSERT_TRUE(files.close());
    }
    OpenJob open;
    JobFiles files(open, questions, places);
    ASSERT_TRUE(begin(files, sample_folders()));
    EXPECT_EQ(open.file(), top / "mine.sillwright");
}

}  // namespace
}  // namespace sillwright::app::first_start

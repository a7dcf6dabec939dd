#include "app/window/recent_jobs.h"

#include <gtest/gtest.h>

#include <QTemporaryDir>
#include <fstream>

namespace sillwright::app {
namespace {

namespace fs = std::filesystem;

TEST(RecentJobs, AreTheLastTenNewestFirstAndSayWhatIsMissing) {
    const QTemporaryDir folder;
    const fs::path top = folder.path().toStdString();
    const QString settings = folder.filePath("settings.ini");
    EXPECT_TRUE(RecentJobs(settings).list().empty());
    for (int i = 1; i <= 12; ++i) {
        const fs::path file = top / ("job, \"" + std::to_string(i) + "\" ü.sillwright");
        std::ofstream(file) << "{}";
        RecentJobs(settings).add(file);
    }
    RecentJobs recent(settings);
    recent.add(top / "job, \"7\" ü.sillwright");
    fs::remove(top / "job, \"12\" ü.sillwright");
    const auto list = RecentJobs(settings).list();  // another start
    ASSERT_EQ(list.size(), 10U);
    EXPECT_EQ(list[0].file, top / "job, \"7\" ü.sillwright");
    EXPECT_TRUE(list[0].there);
    EXPECT_EQ(list[1].file, top / "job, \"12\" ü.sillwright");
    EXPECT_FALSE(list[1].there);
    EXPECT_EQ(list[9].file, top / "job, \"3\" ü.sillwright");
}

}  // namespace
}  // namespace sillwright::app

#include "app/window/folder_writer.h"

#include <gtest/gtest.h>

#include <QTest>
#include <atomic>
#include <thread>

namespace sillwright::app {
namespace {

using geometry::Error;
using geometry::ErrorCode;
using geometry::Result;

class FolderWriterTest : public testing::Test {
protected:
    /// Writes, and waits for what comes of it.
    void write(CoreLink core, bool stop = false) {
        FolderWriter writer(std::move(core));
        QObject::connect(&writer, &FolderWriter::written, &writer, [&](const HandedOver& made) { made_ = made; });
        QObject::connect(&writer, &FolderWriter::failed, &writer, [&](const QString& why) { failed_ = why; });
        QObject::connect(&writer, &FolderWriter::progressed, &writer, [&](double part) { part_ = part; });
        writer.write("a.sillwright", "there/a-handover");
        EXPECT_TRUE(writer.writing());
        if (stop) {
            writer.stop();
        }
        go_on_ = true;
        ASSERT_TRUE(QTest::qWaitFor([&] { return !writer.writing(); }, 60'000));
    }
    CoreLink core() {
        CoreLink link;
        link.check = [this](const std::filesystem::path& file) -> Result<CheckedJob> {
            while (!go_on_) {
                std::this_thread::yield();
            }
            CheckedJob checked;
            checked.file = file;
            return checked;
        };
        link.hand_over = [this](const CheckedJob& checked, const std::filesystem::path& folder,
                                const geometry::Watch& watch) -> Result<HandedOver> {
            ++handed_over_;
            watch.progress(0.5);
            return HandedOver{folder, {checked.file}, {"a note"}};
        };
        return link;
    }
    std::atomic<bool> go_on_ = false;
    std::atomic<int> handed_over_ = 0;
    HandedOver made_;
    QString failed_;
    double part_ = 0.0;
};

TEST_F(FolderWriterTest, ChecksTheFileAndWritesTheFolder) {
    write(core());
    EXPECT_EQ(made_.folder, "there/a-handover");
    EXPECT_EQ(made_.files.at(0), "a.sillwright");
    EXPECT_EQ(made_.notes.size(), 1U);
    EXPECT_EQ(part_, 0.5);
    EXPECT_TRUE(failed_.isEmpty());
}

TEST_F(FolderWriterTest, AStopWritesNothing) {
    write(core(), true);
    EXPECT_EQ(handed_over_, 0);
    EXPECT_TRUE(failed_.contains("nothing was written")) << failed_.toStdString();
    EXPECT_TRUE(made_.folder.empty());
}

TEST_F(FolderWriterTest, WhatCannotBeWrittenIsSaid) {
    CoreLink full = core();
    full.hand_over = [](const auto&, const auto&, const auto&) -> Result<HandedOver> {
        return Error{ErrorCode::unreadable_file, "The disk is full."};
    };
    write(full);
    EXPECT_EQ(failed_, QStringLiteral("The disk is full."));
    CoreLink broken = core();
    broken.check = [](const auto&) -> Result<CheckedJob> {
        return Error{ErrorCode::unreadable_file, "There is no such file."};
    };
    write(broken);
    EXPECT_EQ(failed_, QStringLiteral("There is no such file."));
}

}  // namespace
}  // namespace sillwright::app

#include "app/desk/open_buck.h"

#include <gtest/gtest.h>

#include <QSignalSpy>
#include <QTest>
#include <atomic>
#include <mutex>
#include <thread>

#include "app/desk/open_job.h"
#include "tests/app/link/buck_by_hand.h"

namespace sillwright::app {
namespace {

using geometry::Result;

/// Computes as it is told to: a first nest at once, a better one and the end when it is let go on.
class Slow {
public:
    Result<SharedWork> make(const geometry::Watch& watch, const std::function<void(SharedWork)>& better) {
        ++begun;
        better(work_by_hand(1));
        watch.progress(0.5);
        while (!go_on && !watch.stop.stop_requested()) {
            std::this_thread::yield();
        }
        if (watch.stop.stop_requested()) {
            ++stopped;
            return work_by_hand(1);
        }
        return work_by_hand(2);
    }
    std::atomic<int> begun = 0, stopped = 0;
    std::atomic<bool> go_on = false;
};

class OpenBuckTest : public testing::Test {
protected:
    void open() {
        const std::shared_ptr<const core::Evaluation> made = bucked_by_hand();
        open_.open(made->job, {}, made);
    }
    bool wait(const std::function<bool()>& until) { return QTest::qWaitFor(until, 60'000); }
    static std::size_t sheets(const OpenBuck& buck) { return buck.work() ? sheet_count(*buck.work()) : 0; }

    Slow slow_;  // outlives the thread
    OpenJob open_;
    OpenBuck buck_{open_, nullptr,
                   [this](const core::Evaluation&, const geometry::Watch& watch,
                          const std::function<void(SharedWork)>& better) { return slow_.make(watch, better); }};
};

TEST_F(OpenBuckTest, NothingIsBegunWhileNobodyLooks) {
    open();
    QTest::qWait(20);
    EXPECT_FALSE(buck_.computing());
    EXPECT_EQ(slow_.begun, 0);
    buck_.want(true);
    EXPECT_TRUE(buck_.computing());
    ASSERT_TRUE(wait([&] { return slow_.begun == 1; }));
}

TEST_F(OpenBuckTest, BetterNestsComeAsTheyAreFound) {
    open();
    const QSignalSpy progress(&buck_, &OpenBuck::progressed);
    buck_.want(true);
    ASSERT_TRUE(wait([&] { return buck_.work() != nullptr; }));
    EXPECT_TRUE(buck_.computing());
    EXPECT_EQ(sheets(buck_), 1U);
    slow_.go_on = true;
    ASSERT_TRUE(wait([&] { return !buck_.computing(); }));
    EXPECT_EQ(sheets(buck_), 2U);
    EXPECT_FALSE(buck_.stopped());
    EXPECT_EQ(progress.last().first().toDouble(), 0.5);
    buck_.want(false);
    buck_.want(true);
    EXPECT_FALSE(buck_.computing()) << "it is known";
}

TEST_F(OpenBuckTest, AStopLeavesTheBestSoFar) {
    open();
    buck_.want(true);
    ASSERT_TRUE(wait([&] { return buck_.work() != nullptr; }));
    buck_.stop();
    EXPECT_FALSE(buck_.computing());
    EXPECT_TRUE(buck_.stopped());
    EXPECT_EQ(sheets(buck_), 1U);
    ASSERT_TRUE(wait([&] { return slow_.stopped == 1; }));
    slow_.go_on = true;
    buck_.go_on();
    ASSERT_TRUE(wait([&] { return !buck_.computing(); }));
    EXPECT_EQ(sheets(buck_), 2U);
    EXPECT_EQ(slow_.begun, 2);
}

TEST_F(OpenBuckTest, AnotherBuckDropsTheWork) {
    open();
    buck_.want(true);
    ASSERT_TRUE(wait([&] { return buck_.work() != nullptr; }));
    open();  // another job
    EXPECT_EQ(buck_.work(), nullptr);
    ASSERT_TRUE(wait([&] { return slow_.stopped == 1; }));
    EXPECT_TRUE(buck_.computing()) << "that of the new one";
    slow_.go_on = true;
    ASSERT_TRUE(wait([&] { return !buck_.computing(); }));
    EXPECT_EQ(sheets(buck_), 2U);
    core::Job other = open_.job();
    other.buck.margin = core::Entry{geometry::millimetres(25.0), ""};
    ASSERT_TRUE(open_.apply(core::Edit{other, "another margin"}));
    EXPECT_EQ(buck_.work(), nullptr) << "at once, before it is computed";
    open_.stop_computing();
}

TEST(OpenBuckFailure, IsSaidInWords) {
    OpenJob open;
    OpenBuck buck(open, nullptr, [](const auto&, const auto&, const auto&) -> Result<SharedWork> {
        return geometry::Error{geometry::ErrorCode::does_not_fit, "No bit."};
    });
    const std::shared_ptr<const core::Evaluation> made = bucked_by_hand();
    open.open(made->job, {}, made);
    buck.want(true);
    ASSERT_TRUE(QTest::qWaitFor([&] { return !buck.computing(); }, 60'000));
    EXPECT_EQ(buck.failure(), QStringLiteral("No bit."));
    EXPECT_EQ(buck.work(), nullptr);
}

}  // namespace
}  // namespace sillwright::app

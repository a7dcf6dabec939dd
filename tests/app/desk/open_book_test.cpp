#include "app/desk/open_book.h"

#include <gtest/gtest.h>

#include <QSignalSpy>
#include <QTest>

#include "app/desk/open_job.h"
#include "tests/app/desk/measured_sill.h"

namespace sillwright::app {
namespace {

using namespace measured_sill;

class OpenBookTest : public testing::Test {
protected:
    void write(const std::string& line) { ASSERT_TRUE(open_.apply(core::add_reading(open_.job(), line))); }
    bool settle() {
        return QTest::qWaitFor([this] { return !book_.computing(); }, 60'000);
    }
    OpenJob open_;
    OpenBook book_{open_};
};

TEST_F(OpenBookTest, FollowsTheBookBeforeAnythingIsPainted) {
    open_.open(with_marks(), {});
    const QSignalSpy changed(&book_, &OpenBook::changed);
    write(tie_line("A", "H1"));
    EXPECT_TRUE(book_.current());
    EXPECT_GE(changed.count(), 1);
    ASSERT_EQ(book_.results().solution.readings.size(), 1U);
    EXPECT_EQ(book_.results().solution.find("H1"), nullptr) << "one tie does not place it";
    for (const char* from : {"B", "C", "D"}) {
        write(tie_line(from, "H1"));
    }
    const auto* point = book_.results().solution.find("H1");
    ASSERT_NE(point, nullptr);
    // Ties are rounded to 0.1 mm; the point is off by a few times that at most.
    EXPECT_LT((point->at_mm - places_mm().at("H1")).norm(), 0.5);
    open_.history().undo();
    EXPECT_EQ(book_.results().solution.readings.size(), 3U);
    ASSERT_TRUE(settle());
}

TEST_F(OpenBookTest, TheNextReadingComesBehind) {
    open_.open(with_lines(with_marks(), eight_ties(0.0)), {});
    ASSERT_TRUE(settle());
    EXPECT_TRUE(book_.current());
    ASSERT_TRUE(book_.results().solution.next);
    EXPECT_LT(book_.results().solution.next->after_mm, book_.results().solution.next->before_mm);
}

TEST_F(OpenBookTest, WhatIsNotOfTheBookIsNoReasonToCompute) {
    open_.open(with_lines(with_marks(), eight_ties(0.0)), {});
    ASSERT_TRUE(settle());
    const QSignalSpy changed(&book_, &OpenBook::changed);
    core::Job other = open_.job();
    other.revision = "D";
    ASSERT_TRUE(open_.apply(core::checked_edit(other, "another revision")));
    EXPECT_EQ(changed.count(), 0);
}

TEST_F(OpenBookTest, MayGoWhileItComputes) {
    OpenBook other(open_);
    open_.open(with_lines(with_marks(), eight_ties()), {});
    EXPECT_TRUE(other.computing());
}

}  // namespace
}  // namespace sillwright::app

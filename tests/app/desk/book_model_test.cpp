#include "app/desk/book_model.h"

#include <gtest/gtest.h>

#include <QAbstractItemModelTester>
#include <QFont>

#include "app/desk/open_book.h"
#include "app/desk/open_job.h"
#include "tests/app/desk/measured_sill.h"

namespace sillwright::app {
namespace {

using namespace measured_sill;

class BookModelTest : public testing::Test {
protected:
    BookModelTest() { open_.open(with_lines(with_marks(), eight_ties()), {}); }
    QString text(int row, int column) { return model_.index(row, column).data().toString(); }

    OpenJob open_;
    OpenBook book_{open_};
    BookModel model_{book_};
    QAbstractItemModelTester tester_{&model_, QAbstractItemModelTester::FailureReportingMode::Fatal};
};

TEST_F(BookModelTest, ShowsWhatWasReadAndWhatBecameOfIt) {
    ASSERT_EQ(model_.rowCount(), 8);
    EXPECT_EQ(text(0, BookModel::Number), "1");
    EXPECT_EQ(text(0, BookModel::Kind), "tie");
    EXPECT_EQ(text(0, BookModel::Points), "A → H1");
    // sqrt(620² + 210² + 110²) = 663.8 by hand.
    EXPECT_EQ(text(0, BookModel::Value), "663.8");
    EXPECT_EQ(text(2, BookModel::What), "most in conflict");
    EXPECT_EQ(model_.index(2, BookModel::What).data(BookModel::StateRole).toInt(),
              static_cast<int>(core::State::falls_short));
    EXPECT_GT(model_.index(2, BookModel::Misfit).data(BookModel::MisfitRole).toDouble(), core::survey::k_blunder_w);
    // H2 has three ties for its three numbers: none checks another.
    EXPECT_EQ(text(5, BookModel::Checked), "only reading");
    EXPECT_FALSE(model_.index(5, BookModel::Misfit).data(BookModel::MisfitRole).isValid());
}

TEST_F(BookModelTest, ADroppedReadingStaysStruckThroughWithItsReason) {
    const std::string id = model_.id(2);
    ASSERT_TRUE(open_.apply(core::drop_reading(open_.job(), id, "misread")));
    EXPECT_EQ(model_.rowCount(), 8);
    EXPECT_EQ(text(2, BookModel::What), "dropped: misread");
    EXPECT_TRUE(model_.index(2, BookModel::Value).data(Qt::FontRole).value<QFont>().strikeOut());
    EXPECT_FALSE(model_.index(2, BookModel::What).data(Qt::FontRole).value<QFont>().strikeOut());
    EXPECT_FALSE(model_.index(1, BookModel::Value).data(Qt::FontRole).value<QFont>().strikeOut());
    EXPECT_EQ(text(0, BookModel::What), "counts");
}

TEST_F(BookModelTest, AWaitingReadingSaysWhy) {
    ASSERT_TRUE(open_.apply(core::add_reading(open_.job(), "A H7 812")));
    ASSERT_EQ(model_.rowCount(), 9);
    EXPECT_TRUE(text(8, BookModel::What).startsWith("waiting: ")) << text(8, BookModel::What).toStdString();
    EXPECT_TRUE(text(8, BookModel::What).contains("H7")) << text(8, BookModel::What).toStdString();
    open_.history().undo();
    EXPECT_EQ(model_.rowCount(), 8);
}

TEST_F(BookModelTest, FindsRowsByReadingAndByPoint) {
    EXPECT_EQ(model_.row_of(model_.id(4)), 4);
    EXPECT_FALSE(model_.row_of("nothing"));
    EXPECT_EQ(model_.row_about("H2"), 5);
    EXPECT_TRUE(model_.id(99).empty());
    model_.mark_point("H2");
    EXPECT_TRUE(model_.index(6, BookModel::Points).data(Qt::FontRole).value<QFont>().bold());
    EXPECT_FALSE(model_.index(0, BookModel::Points).data(Qt::FontRole).value<QFont>().bold());
    open_.open({}, {});
    EXPECT_EQ(model_.rowCount(), 0);
}

}  // namespace
}  // namespace sillwright::app

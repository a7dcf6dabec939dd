#include "app/desk/job_table_model.h"

#include <gtest/gtest.h>

#include <QAbstractItemModelTester>
#include <QSignalSpy>
#include <random>

#include "app/desk/open_job.h"
#include "core/job_file.h"
#include "tests/app/link/estate.h"

// Expected values: the sample job's own numbers; hand counts.
namespace sillwright::app {
namespace {

using core::Table;
using geometry::in_mm;

core::Job sample() {
    return core::read_job(SILLWRIGHT_SOURCE_DIR "/samples/estate_a.sillwright").value();
}

class Model : public testing::Test {
protected:
    Model() { open_.open(sample(), {}); }

    int column(const QString& name) const {
        for (int i = 0; i < model_.columnCount(); ++i) {
            if (model_.headerData(i, Qt::Horizontal, Qt::DisplayRole).toString() == name) {
                return i;
            }
        }
        ADD_FAILURE() << "no column " << name.toStdString();
        return 0;
    }
    QString text(int row, int col) const { return model_.index(row, col).data().toString(); }
    void expect_as_job() const {
        const Table table = model_.table();
        ASSERT_EQ(model_.rowCount(), static_cast<int>(core::row_count(open_.job(), table)));
        for (int row = 0; row < model_.rowCount(); ++row) {
            for (int col = 0; col < model_.columnCount(); ++col) {
                ASSERT_EQ(text(row, col).toStdString(),
                          core::cell(open_.job(), table, static_cast<std::size_t>(row), static_cast<std::size_t>(col)));
            }
        }
    }

    OpenJob open_;
    JobTableModel model_{open_, Table::mounts};
    QAbstractItemModelTester contract_{&model_, QAbstractItemModelTester::FailureReportingMode::Fatal};
};

TEST_F(Model, HasARowForEachItemAndSaysWhatMayBeWritten) {
    EXPECT_EQ(model_.rowCount(), static_cast<int>(sample().mounts.size()));
    EXPECT_EQ(text(0, column("name")), "H1");
    const QVariant help = model_.headerData(column("along"), Qt::Horizontal, Qt::ToolTipRole);
    EXPECT_TRUE(help.toString().contains("length")) << help.toString().toStdString();
    expect_as_job();
    for (const Table table : core::k_tables) {
        model_.show(table);
        expect_as_job();
    }
}

TEST_F(Model, ATypedTextIsOneStepThatCanBeUndone) {
    const core::Job before = open_.job();
    QSignalSpy changes(&model_, &QAbstractItemModel::dataChanged);
    QSignalSpy resets(&model_, &QAbstractItemModel::modelReset);
    EXPECT_TRUE(model_.setData(model_.index(0, column("along")), "1 1/2\""));
    EXPECT_DOUBLE_EQ(in_mm(open_.job().mounts[0].at.along.value), 38.1);
    EXPECT_EQ(text(0, column("along")), "1 1/2\"");
    ASSERT_EQ(changes.count(), 1) << "only the cell that is another";
    EXPECT_EQ(changes[0][0].toModelIndex(), model_.index(0, column("along")));
    EXPECT_EQ(open_.history().count(), 1);
    open_.history().undo();
    EXPECT_EQ(open_.job(), before);
    expect_as_job();
    EXPECT_EQ(resets.count(), 0);
}

TEST_F(Model, ABadTextChangesNothingAndSaysWhy) {
    const core::Job before = open_.job();
    QSignalSpy refused(&model_, &JobTableModel::refused);
    QSignalSpy cell(&model_, &JobTableModel::cell_refused);
    EXPECT_FALSE(model_.setData(model_.index(1, column("along")), "82 mmm"));
    EXPECT_EQ(open_.job(), before);
    EXPECT_EQ(open_.history().count(), 0);
    ASSERT_EQ(refused.count(), 1);
    EXPECT_TRUE(refused[0][0].toString().contains("along")) << refused[0][0].toString().toStdString();
    ASSERT_EQ(cell.count(), 1);
    EXPECT_EQ(cell[0][1].toString(), "82 mmm");
    EXPECT_FALSE(model_.setData(model_.index(1, column("name")), "H1")) << "a name that is taken";
    EXPECT_EQ(open_.job(), before);
}

TEST_F(Model, CopiesARectangleAndPastesItAgain) {
    const QModelIndexList cells{model_.index(0, 0), model_.index(2, 1), model_.index(1, 0)};
    EXPECT_EQ(model_.copied(cells), text(0, 0) + "\t\n" + text(1, 0) + "\t\n\t" + text(2, 1) + "\n");
    EXPECT_EQ(model_.copied({}), "");
    const int along = column("along");
    EXPECT_TRUE(model_.paste(model_.index(0, along), "12\t51\n34\t52\n"));
    EXPECT_EQ(in_mm(open_.job().mounts[0].at.along.value), 12.0);
    EXPECT_EQ(in_mm(open_.job().mounts[1].at.along.value), 34.0);
    EXPECT_EQ(open_.history().count(), 1);
    const core::Job before = open_.job();
    EXPECT_FALSE(model_.paste(model_.index(0, along), "1\n2\nthree\n"));
    EXPECT_EQ(open_.job(), before) << "nothing at all is written";
}

TEST_F(Model, PastedLinesBeyondTheLastRowMakeNewRows) {
    const int rows = model_.rowCount();
    QSignalSpy inserted(&model_, &QAbstractItemModel::rowsInserted);
    EXPECT_TRUE(model_.paste(model_.index(rows - 1, column("along")), "1700\n1750\n"));
    EXPECT_EQ(model_.rowCount(), rows + 1);
    EXPECT_EQ(inserted.count(), 1);
    expect_as_job();
}

TEST_F(Model, EmptyingSeveralCellsIsOneStep) {
    const int hole = column("size");
    EXPECT_TRUE(model_.empty_cells({model_.index(0, hole), model_.index(1, hole)}));
    EXPECT_FALSE(open_.job().mounts[0].size);
    EXPECT_FALSE(open_.job().mounts[1].size);
    ASSERT_EQ(open_.history().count(), 1);
    EXPECT_EQ(open_.history().text(0), "empty 2 cells");
    const core::Job before = open_.job();
    EXPECT_FALSE(model_.empty_cells({model_.index(2, hole), model_.index(2, column("along"))}));
    EXPECT_EQ(open_.job(), before) << "a mount has a place along the car";
}

TEST_F(Model, RowsGoWhereTheyWereAndOthersStay) {
    const QString third = text(2, 0);
    QPersistentModelIndex kept(model_.index(2, 0));
    QSignalSpy removed(&model_, &QAbstractItemModel::rowsRemoved);
    EXPECT_TRUE(model_.delete_rows({model_.index(1, 0), model_.index(1, 3)}));
    ASSERT_EQ(removed.count(), 1);
    EXPECT_EQ(removed[0][1].toInt(), 1);
    EXPECT_EQ(kept.row(), 1);
    EXPECT_EQ(kept.data().toString(), third);
    open_.history().undo();
    EXPECT_EQ(kept.row(), 2);
    expect_as_job();
}

TEST_F(Model, KnowsWhatARowIsOnTheDrawings) {
    EXPECT_EQ(model_.item(0), (Item{Item::Kind::mount, "H1"}));
    EXPECT_EQ(in_mm(model_.along(0).value()), in_mm(sample().mounts[0].at.along.value));
    EXPECT_EQ(model_.row_of({Item::Kind::mount, "H2"}), 1);
    EXPECT_EQ(model_.row_of({Item::Kind::mount, "H99"}), std::nullopt);
    EXPECT_EQ(model_.row_of({Item::Kind::station, "2"}), std::nullopt);
    EXPECT_FALSE(model_.item(-1));
    EXPECT_EQ(table_of(Item::Kind::keep_out), Table::keep_outs);
    EXPECT_EQ(table_of(Item::Kind::node), std::nullopt);
    EXPECT_EQ(table_of(Item::Kind::none), std::nullopt);
}

TEST_F(Model, RowsThatNoDrawingShowsAreNoItems) {
    model_.show(Table::bits);
    ASSERT_TRUE(model_.add_row());
    EXPECT_FALSE(model_.item(0));
    EXPECT_EQ(model_.along(0), std::nullopt);
    EXPECT_EQ(model_.row_of(Item{}), std::nullopt);
    EXPECT_EQ(model_.row_of({Item::Kind::keep_out, "bit 1"}), std::nullopt);
    expect_as_job();
}

TEST_F(Model, ARowThatIsGivenToAnotherOwnerIsSeenThere) {
    model_.show(Table::gauge_points);
    ASSERT_TRUE(model_.paste({}, "1\t10\t1\n1\t20\t2\n3\t30\t3\n"));
    ASSERT_EQ(model_.rowCount(), 3);
    ASSERT_TRUE(model_.setData(model_.index(0, 0), "3"));
    EXPECT_EQ(text(0, column("out")), "20");
    EXPECT_EQ(text(2, column("out")), "10");
    expect_as_job();
    open_.history().undo();
    EXPECT_EQ(text(0, column("out")), "10");
    expect_as_job();
}

// Under Qt's own contract at every step; undone, the job is the one that it was.
TEST_F(Model, FollowsAnyEdit) {
    const core::Job before = open_.job();
    std::mt19937 random(20261125);
    const auto below = [&random](int n) {
        return static_cast<int>(std::uniform_int_distribution<int>(0, std::max(0, n - 1))(random));
    };
    const std::vector<QString> texts{"12", "", "1 1/2\"", "nonsense", "-7", "slot", "unused", "Ü 9", "3.5 mm"};
    int made = 0;
    for (int step = 0; step < 300; ++step) {
        const QModelIndex cell = model_.index(below(model_.rowCount()), below(model_.columnCount()));
        const QString& typed = texts[static_cast<std::size_t>(below(static_cast<int>(texts.size())))];
        switch (below(8)) {
            case 0:
                made += model_.add_row() ? 1 : 0;
                break;
            case 1:
                made += model_.rowCount() > 2 && model_.delete_rows({cell, model_.index(below(model_.rowCount()), 0)})
                            ? 1
                            : 0;
                break;
            case 2:
                made += model_.paste(cell, typed + "\n" + texts[0] + "\n") ? 1 : 0;
                break;
            case 3:
                made += cell.isValid() && model_.empty_cells({cell}) ? 1 : 0;
                break;
            case 4:
                open_.history().undo();
                break;
            case 5:
                open_.history().redo();
                break;
            case 6:
                if (step % 40 == 6) {
                    model_.show(
                        core::k_tables.at(static_cast<std::size_t>(below(static_cast<int>(core::k_tables.size())))));
                }
                break;
            default:
                made += cell.isValid() && model_.setData(cell, typed) ? 1 : 0;
                break;
        }
        expect_as_job();
        if (HasFatalFailure()) {
            return;
        }
    }
    EXPECT_GT(made, 30);
    open_.history().setIndex(0);
    EXPECT_EQ(open_.job(), before);
    expect_as_job();
}

}  // namespace
}  // namespace sillwright::app

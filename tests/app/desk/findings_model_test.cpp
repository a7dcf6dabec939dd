#include "app/desk/findings_model.h"

#include <gtest/gtest.h>

#include <QAbstractItemModelTester>
#include <QSignalSpy>
#include <algorithm>
#include <random>

#include "core/finding_words.h"
#include "tests/app/invented_job.h"

namespace sillwright::app {
namespace {

using core::Finding;
using core::Stage;
using core::State;

Finding with(int number, State state, double margin, Stage stage = Stage::mounts) {
    Finding finding;
    finding.id = "finding " + std::to_string(number);
    finding.title = "title " + std::to_string(number);
    finding.state = state;
    finding.margin = margin;
    finding.stage = stage;
    return finding;
}

std::vector<std::string> ids(const FindingsModel& model) {
    std::vector<std::string> all;
    for (int row = 0; row < model.rowCount(); ++row) {
        all.push_back(model.finding(row).id);
    }
    return all;
}

/// Some of `count` findings with margins by chance.
std::vector<Finding> some(std::mt19937& chance, int count) {
    std::uniform_real_distribution<double> margin(-5.0, 10.0);
    std::bernoulli_distribution there(0.8);
    std::uniform_int_distribution<int> stage(0, 6);
    std::vector<Finding> findings;
    for (int i = 0; i < count; ++i) {
        const double m = margin(chance);
        if (there(chance)) {
            findings.push_back(with(i,
                                    m < 0   ? State::falls_short
                                    : m < 1 ? State::close
                                            : State::holds,
                                    m, static_cast<Stage>(stage(chance))));
        }
    }
    std::shuffle(findings.begin(), findings.end(), chance);
    return findings;
}

TEST(FindingsModel, KeepsQtsContractThroughChanges) {
    FindingsModel model;
    const QAbstractItemModelTester contract(&model, QAbstractItemModelTester::FailureReportingMode::Fatal);
    QSignalSpy resets(&model, &QAbstractItemModel::modelReset);
    std::mt19937 chance(7);  // any number: the run is the same each time
    std::bernoulli_distribution seldom(0.2);
    for (int round = 0; round < 300; ++round) {
        const std::vector<Finding> findings = some(chance, 40);
        QPersistentModelIndex held;
        std::string held_id;
        if (model.rowCount() > 0) {
            const int row = static_cast<int>(chance() % static_cast<unsigned>(model.rowCount()));
            held = model.index(row);
            held_id = model.finding(row).id;
        }
        model.set_findings(findings);
        if (seldom(chance)) {
            model.hide_holding(!model.holding_hidden());
        }
        if (seldom(chance)) {
            model.show_stage(model.stage() ? std::nullopt : std::optional(Stage::swing));
        }
        std::vector<std::string> expected;
        for (const Finding& finding : core::worst_first(findings)) {
            if ((!model.stage() || finding.stage == *model.stage()) &&
                !(model.holding_hidden() && finding.state == State::holds)) {
                expected.push_back(finding.id);
                EXPECT_EQ(model.finding(*model.row_of(finding.id)), finding) << "all of it is taken over";
            }
        }
        ASSERT_EQ(ids(model), expected) << "round " << round;
        if (held.isValid()) {
            EXPECT_EQ(model.finding(held.row()).id, held_id) << "what a view holds stays the same finding";
        }
    }
    EXPECT_EQ(resets.count(), 0) << "a view would lose what is chosen and where it is";
}

TEST(FindingsModel, MovesOnlyWhatChangedItsPlace) {
    FindingsModel model;
    std::vector<Finding> findings;
    for (int i = 0; i < 63; ++i) {
        findings.push_back(with(i, State::holds, i));
    }
    model.set_findings(findings);
    QSignalSpy moved(&model, &QAbstractItemModel::rowsMoved);
    QSignalSpy changed(&model, &QAbstractItemModel::dataChanged);
    model.set_findings(findings);
    EXPECT_EQ(moved.count(), 0);
    EXPECT_EQ(changed.count(), 0) << "nothing reads otherwise";
    findings[0].margin = 100.0;  // the first goes to the end: one move, not 62
    model.set_findings(findings);
    EXPECT_EQ(moved.count(), 1);
    EXPECT_EQ(model.finding(62).id, "finding 0");
    EXPECT_EQ(changed.count(), 1);
    EXPECT_EQ(changed.at(0).at(0).toModelIndex().row(), 62);
}

TEST(FindingsModel, ShowsOneStageOnly) {
    FindingsModel model;
    const QAbstractItemModelTester contract(&model, QAbstractItemModelTester::FailureReportingMode::Fatal);
    model.set_findings(invented_job().findings);
    EXPECT_EQ(model.rowCount(), 4);
    model.show_stage(Stage::swing);  // two of the four, by hand count
    EXPECT_EQ(model.rowCount(), 2);
    EXPECT_EQ(model.all().size(), 4U) << "counting is not filtered";
    model.hide_holding(true);
    model.show_stage(std::nullopt);
    EXPECT_EQ(model.rowCount(), 3);
    model.show_stage(Stage::handover);
    EXPECT_EQ(model.rowCount(), 0);
    EXPECT_FALSE(model.row_of("swing/front door/moving"));
    model.set_findings({});
    EXPECT_TRUE(model.all().empty());
}

TEST(FindingsModel, IsReadAloudAsOneSentence) {
    FindingsModel model;
    model.set_findings(invented_job().findings);
    EXPECT_EQ(model.data(model.index(0), Qt::AccessibleTextRole).toString(),
              QStringLiteral("falls short: Front door moving, to skirt, found 1.90 mm, needs at least 4.00 mm, "
                             "at 3.9 · 700 mm, door at 6.2°, margin −2.10 mm"));
    QSignalSpy changed(&model, &QAbstractItemModel::dataChanged);
    model.set_stale(true);
    EXPECT_EQ(changed.count(), 1);
    EXPECT_TRUE(model.data(model.index(0), Qt::DisplayRole).toString().endsWith(" (of an earlier state of the job)"));
    model.set_findings(invented_job().findings, core::BareUnit::in);
    EXPECT_TRUE(model.data(model.index(0), Qt::DisplayRole).toString().contains("found 0.075 in")) << "1.895 / 25.4";
}

}  // namespace
}  // namespace sillwright::app

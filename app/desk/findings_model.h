#pragma once

#include <QAbstractListModel>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/job.h"

namespace sillwright::app {

/// Shows findings to Qt's views, worst margin first: all, or those of one stage, or those that do
/// not plainly hold. DisplayRole is the whole finding in one sentence, so that it can be read aloud.
///
/// Another list of findings changes the rows that are there, found by their ids: a view keeps what is
/// chosen and where it is scrolled to. Ids are unique.
class FindingsModel : public QAbstractListModel {
    Q_OBJECT

public:
    explicit FindingsModel(QObject* parent = nullptr);

    void set_findings(std::vector<core::Finding> findings, core::BareUnit unit = core::BareUnit::mm);
    /// Only those of a stage; none for all.
    void show_stage(std::optional<core::Stage> stage);
    void hide_holding(bool hide);
    /// Whether the findings are of an earlier state of the job.
    void set_stale(bool stale);

    /// All there are, worst first, whatever is shown.
    [[nodiscard]] const std::vector<core::Finding>& all() const { return all_; }
    [[nodiscard]] core::BareUnit unit() const { return unit_; }
    [[nodiscard]] bool stale() const { return stale_; }
    [[nodiscard]] std::optional<core::Stage> stage() const { return stage_; }
    [[nodiscard]] bool holding_hidden() const { return holding_hidden_; }

    /// Precondition: 0 <= row < rowCount().
    [[nodiscard]] const core::Finding& finding(int row) const { return row_at(row).finding; }
    /// Another number whenever the row's finding reads otherwise than before.
    [[nodiscard]] std::uint64_t version(int row) const { return row_at(row).version; }
    [[nodiscard]] std::optional<int> row_of(const std::string& id) const;

    [[nodiscard]] int rowCount(const QModelIndex& parent = {}) const override;
    [[nodiscard]] QVariant data(const QModelIndex& index, int role = Qt::DisplayRole) const override;

private:
    /// Held by a pointer, so that moving rows moves no findings.
    struct Row {
        core::Finding finding;
        std::uint64_t version = 0;
    };
    using Shown = std::vector<const core::Finding*>;

    [[nodiscard]] const Row& row_at(int row) const { return *rows_.at(static_cast<std::size_t>(row)); }
    [[nodiscard]] bool is_shown(const core::Finding& finding) const;
    void show_again(bool all_read_otherwise);
    void take_away_all_but(const Shown& wanted);
    void put_in_order(const Shown& wanted);
    void put_behind(int before, const core::Finding& finding);
    void take_over(const Shown& wanted, bool all_read_otherwise);

    std::vector<core::Finding> all_;
    std::vector<std::unique_ptr<Row>> rows_;
    core::BareUnit unit_ = core::BareUnit::mm;
    std::optional<core::Stage> stage_;
    bool holding_hidden_ = false;
    bool stale_ = false;
    std::uint64_t last_version_ = 0;
};

}  // namespace sillwright::app

#pragma once

#include <QAbstractListModel>
#include <vector>

#include "core/finding.h"

namespace sillwright::app {

/// Shows findings to Qt's views, worst margin first. DisplayRole is the whole
/// finding in one sentence, so that it can be read aloud.
class FindingsModel : public QAbstractListModel {
    Q_OBJECT

public:
    explicit FindingsModel(QObject* parent = nullptr);

    void set_findings(std::vector<core::Finding> findings);

    /// Precondition: 0 <= row < rowCount().
    [[nodiscard]] const core::Finding& finding(int row) const { return findings_.at(static_cast<std::size_t>(row)); }

    [[nodiscard]] int rowCount(const QModelIndex& parent = {}) const override;
    [[nodiscard]] QVariant data(const QModelIndex& index, int role = Qt::DisplayRole) const override;

private:
    std::vector<core::Finding> findings_;
};

}  // namespace sillwright::app

#include "app/window/findings_model.h"

#include <utility>

#include "app/finding_look.h"

namespace sillwright::app {

namespace {

QString sentence(const core::Finding& finding) {
    const FindingNumbers numbers = numbers_of(finding);
    QStringList parts{QString::fromStdString(look(finding.state).word + ": " + finding.title)};
    for (const std::string& part : {numbers.found, numbers.needs, finding.place.words}) {
        if (!part.empty()) {
            parts += QString::fromStdString(part);
        }
    }
    if (!numbers.margin.empty()) {
        parts += QStringLiteral("margin ") + QString::fromStdString(numbers.margin);
    }
    return parts.join(QStringLiteral(", "));
}

QString details(const core::Finding& finding) {
    QStringList lines;
    const auto add = [&](const QString& lead, const std::string& text) {
        if (!text.empty()) {
            lines += lead + QString::fromStdString(text).toHtmlEscaped();
        }
    };
    add({}, finding.why);
    for (const std::string& missing : finding.missing) {
        add(QObject::tr("measure: "), missing);
    }
    add(QObject::tr("formula: "), finding.formula);
    add(QObject::tr("source: "), finding.source);
    // Rich text, so that long lines are broken.
    return QStringLiteral("<p>") + lines.join(QStringLiteral("</p><p>")) + QStringLiteral("</p>");
}

}  // namespace

FindingsModel::FindingsModel(QObject* parent) : QAbstractListModel(parent) {}

void FindingsModel::set_findings(std::vector<core::Finding> findings) {
    beginResetModel();
    findings_ = worst_first(std::move(findings));
    endResetModel();
}

int FindingsModel::rowCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : static_cast<int>(findings_.size());
}

QVariant FindingsModel::data(const QModelIndex& index, int role) const {
    if (!index.isValid()) {
        return {};
    }
    switch (role) {
        case Qt::DisplayRole:
            return sentence(finding(index.row()));
        case Qt::ToolTipRole:
            return details(finding(index.row()));
        default:
            return {};
    }
}

}  // namespace sillwright::app

#include "app/desk/finding_sheet.h"

#include <QLayout>
#include <QPushButton>
#include <QVBoxLayout>
#include <string>

#include "app/desk/wrapped_text.h"
#include "app/looks.h"
#include "core/finding_words.h"
#include "core/number_text.h"

namespace sillwright::app {

using core::Finding;

namespace {

QString escaped(const std::string& words) {
    return QString::fromStdString(words).toHtmlEscaped();
}

QString paragraph(const QString& html) {
    return QStringLiteral("<p style=\"margin-top:0px; margin-bottom:6px\">") + html + QStringLiteral("</p>");
}

QString headed(const QString& head, const QString& html) {
    return QStringLiteral("<b>") + head.toHtmlEscaped() + QStringLiteral("</b> ") + html;
}

/// A heading, and one line for every entry.
QString list(const QString& head, const QStringList& entries) {
    if (entries.isEmpty()) {
        return {};
    }
    QString html = QStringLiteral("<b>") + head.toHtmlEscaped() + QStringLiteral("</b>");
    for (const QString& entry : entries) {
        html += QStringLiteral("<br>– ") + entry;
    }
    return paragraph(html);
}

QString touching_words(const Finding& finding) {
    QStringList ranges;
    for (const core::AngleRange& range : core::touching_ranges(finding)) {
        ranges += range.from == range.to
                      ? QObject::tr("at %1").arg(escaped(core::degree_text(range.from, 1)))
                      : QObject::tr("from %1 to %2")
                            .arg(escaped(core::degree_text(range.from, 1)), escaped(core::degree_text(range.to, 1)));
    }
    return list(QObject::tr("The door touches, or may touch:"), ranges);
}

QString all_of(const Finding& finding) {
    QString html;
    if (!finding.why.empty()) {
        html += paragraph(escaped(finding.why));
    }
    html += touching_words(finding);
    QStringList missing;
    for (const std::string& words : finding.missing) {
        missing += escaped(words);
    }
    html += list(QObject::tr("To be measured:"), missing);
    QStringList inputs;
    for (const core::Input& input : finding.inputs) {
        inputs += escaped(input.name) + QStringLiteral(": ") + escaped(input.value);
    }
    html += list(QObject::tr("Reckoned from:"), inputs);
    if (!finding.formula.empty()) {
        html += paragraph(headed(QObject::tr("Formula:"), escaped(finding.formula)));
    }
    if (!finding.source.empty()) {
        html += paragraph(headed(QObject::tr("Source:"), escaped(finding.source)));
    }
    return html;
}

}  // namespace

FindingSheet::FindingSheet(QWidget* parent)
    : QWidget(parent), mend_{new WrappedText}, try_{new QPushButton(tr("Try it"))}, text_{new WrappedText} {
    setObjectName(QStringLiteral("findingSheet"));
    mend_->setObjectName(QStringLiteral("mendWords"));
    text_->setObjectName(QStringLiteral("findingDetails"));
    try_->setObjectName(QStringLiteral("tryIt"));
    try_->setAccessibleName(tr("Try the mend"));
    try_->setFont(looks::font(looks::k_text, true));
    try_->setMinimumHeight(looks::k_target);
    connect(try_, &QPushButton::clicked, this, &FindingSheet::wants_try);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(12, 0, 12, 8);
    column->setSpacing(8);
    column->addWidget(mend_);
    column->addWidget(try_);
    column->addWidget(text_);
}

void FindingSheet::show_finding(const Finding& finding) {
    const bool has_mend = finding.mend.has_value();
    mend_->set_html(has_mend ? headed(tr("Mend:"), escaped(core::mend_words(finding))) : QString());
    mend_->setVisible(has_mend);
    try_->setVisible(has_mend && finding.mend->can_be_taken());
    text_->set_html(all_of(finding));
}

void FindingSheet::set_ready(bool ready) {
    try_->setEnabled(ready);
    try_->setToolTip(ready ? tr("Makes the change, and shows before and after")
                           : tr("Wait until the findings are those of the job as it is now"));
}

int FindingSheet::height_at(int width) const {
    layout()->activate();
    return layout()->totalHeightForWidth(width);
}

}  // namespace sillwright::app

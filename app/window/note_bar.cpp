#include "app/window/note_bar.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <algorithm>

#include "app/looks.h"

namespace sillwright::app {

namespace {

/// Slow readers manage ten letters a second; the rest is for looking up.
constexpr int k_letter_ms = 100;
constexpr int k_least_ms = 8'000;

}  // namespace

NoteBar::NoteBar(QWidget* parent) : QWidget(parent), sentence_{new QLabel(this)} {
    setObjectName(QStringLiteral("noteBar"));
    sentence_->setObjectName(QStringLiteral("note"));
    sentence_->setWordWrap(true);
    sentence_->setTextFormat(Qt::PlainText);
    sentence_->setFont(looks::font(looks::k_text, true));
    sentence_->setTextInteractionFlags(Qt::TextSelectableByMouse | Qt::TextSelectableByKeyboard);
    auto* away = new QPushButton(tr("Close"), this);
    away->setObjectName(QStringLiteral("closeNote"));
    away->setAccessibleName(tr("Close this note"));
    away->setMinimumSize(looks::k_target, looks::k_target);
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(12, 2, 4, 2);
    row->addWidget(sentence_, 1);
    row->addWidget(away);
    connect(away, &QPushButton::clicked, this, &QWidget::hide);
    patience_.setSingleShot(true);
    connect(&patience_, &QTimer::timeout, this, &QWidget::hide);
    hide();
}

void NoteBar::say(const QString& sentence) {
    sentence_->setText(sentence);
    sentence_->setAccessibleName(sentence);
    show();
    patience_.start(std::max(k_least_ms, static_cast<int>(sentence.size()) * k_letter_ms));
}

QString NoteBar::sentence() const {
    return isHidden() ? QString() : sentence_->text();
}

}  // namespace sillwright::app

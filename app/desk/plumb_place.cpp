#include "app/desk/plumb_place.h"

#include <QEvent>
#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLineEdit>
#include <QPainter>
#include <QToolButton>

#include "app/looks.h"

namespace sillwright::app {

namespace {

QToolButton* make_step(const QString& name, const QString& sign, const QString& what, QWidget* parent) {
    auto* button = new QToolButton(parent);
    button->setObjectName(name);
    button->setText(sign);
    button->setAccessibleName(what);
    button->setToolTip(what);
    button->setAutoRaise(true);
    button->setFocusPolicy(Qt::StrongFocus);
    button->setFont(looks::font(looks::k_number, true));
    button->setFixedSize(looks::k_target, looks::k_target);
    return button;
}

}  // namespace

PlumbPlace::PlumbPlace(QWidget* parent)
    : QWidget(parent),
      before_{make_step(QStringLiteral("stationBefore"), QStringLiteral("−"), tr("Station before"), this)},
      field_{new QLineEdit(this)},
      beyond_{make_step(QStringLiteral("stationBeyond"), QStringLiteral("+"), tr("Station beyond"), this)} {
    setObjectName(QStringLiteral("plumbPlace"));
    field_->setObjectName(QStringLiteral("placeField"));
    field_->setAccessibleName(tr("Place along the car: a length or a station"));
    field_->setToolTip(tr("Type a length or a station's name"));
    field_->setFont(looks::font(looks::k_text, true));
    field_->setAlignment(Qt::AlignCenter);
    field_->setFrame(false);
    field_->setMinimumHeight(looks::k_target);
    field_->setStyleSheet(QStringLiteral("background: transparent; border: none;"));  // the rounded paper is seen
    field_->setMinimumWidth(0);
    field_->installEventFilter(this);
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(0);
    row->addWidget(before_);
    row->addWidget(field_, 1);
    row->addWidget(beyond_);
    connect(before_, &QToolButton::clicked, this, [this] { emit stepped(-1); });
    connect(beyond_, &QToolButton::clicked, this, [this] { emit stepped(1); });
    connect(field_, &QLineEdit::returnPressed, this, [this] { emit typed(field_->text()); });
}

void PlumbPlace::set_words(const QString& words) {
    const bool typing = field_->hasFocus() && field_->isModified();
    words_ = words;
    if (!typing) {
        put_back();
    }
}

void PlumbPlace::set_steps(bool before, bool beyond) {
    before_->setEnabled(before);
    beyond_->setEnabled(beyond);
}

void PlumbPlace::put_back() {
    field_->setText(words_);  // not modified, so
    field_->setCursorPosition(0);
    if (field_->hasFocus()) {
        field_->selectAll();
    }
}

bool PlumbPlace::eventFilter(QObject* watched, QEvent* event) {
    if (watched == field_) {
        if (event->type() == QEvent::FocusOut) {
            put_back();
        } else if (event->type() == QEvent::KeyPress && static_cast<QKeyEvent*>(event)->key() == Qt::Key_Escape &&
                   field_->isModified()) {
            put_back();
            return true;
        }
    }
    return QWidget::eventFilter(watched, event);
}

void PlumbPlace::paintEvent(QPaintEvent* /*event*/) {
    QPainter painter(this);
    const looks::Colours& colours = looks::colours(looks::tone_of(palette()));
    painter.setRenderHint(QPainter::Antialiasing);
    const double round = height() / 2.0;
    const bool inside = before_->hasFocus() || field_->hasFocus() || beyond_->hasFocus();
    painter.setPen(QPen(inside ? colours.skirt : colours.pencil, inside ? 2.0 : 1.0));
    painter.setBrush(colours.paper);
    painter.drawRoundedRect(QRectF(rect()).adjusted(1.0, 1.0, -1.0, -1.0), round, round);
}

}  // namespace sillwright::app

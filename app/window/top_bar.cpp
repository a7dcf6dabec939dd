#include "app/window/top_bar.h"

#include <QAction>
#include <QEvent>
#include <QHBoxLayout>
#include <QLabel>
#include <QMenuBar>
#include <QToolButton>
#include <algorithm>

#include "app/looks.h"

namespace sillwright::app {

namespace {

constexpr int k_side_text = 24;
constexpr int k_undo_width = 300;

QToolButton* button(const QString& name, QWidget* parent) {
    auto* made = new QToolButton(parent);
    made->setObjectName(name);
    made->setFont(looks::font(looks::k_text));
    made->setMinimumHeight(looks::k_target);
    made->setToolButtonStyle(Qt::ToolButtonTextOnly);
    made->setFocusPolicy(Qt::TabFocus);
    return made;
}

}  // namespace

TopBar::TopBar(QMenuBar* menus, QAction* undo, QAction* print, QWidget* parent)
    : QWidget(parent),
      title_{new QLabel(this)},
      undo_{button(QStringLiteral("undoButton"), this)},
      side_{new QLabel(this)},
      undo_action_{undo} {
    title_->setObjectName(QStringLiteral("title"));
    title_->setFont(looks::font(looks::k_text));
    title_->setAlignment(Qt::AlignCenter);
    title_->setTextFormat(Qt::PlainText);
    title_->installEventFilter(this);
    title_->setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Preferred);
    side_->setObjectName(QStringLiteral("side"));
    side_->setFont(looks::font(k_side_text, true));
    auto* print_button = button(QStringLiteral("printButton"), this);
    print_button->setText(tr("print"));
    print_button->setAccessibleName(tr("Print a drawing"));
    connect(print_button, &QToolButton::clicked, print, &QAction::trigger);
    connect(undo_, &QToolButton::clicked, undo, &QAction::trigger);
    connect(undo, &QAction::changed, this, &TopBar::fit);

    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(4, 4, 12, 4);
    row->setSpacing(8);
    row->addWidget(menus, 0, Qt::AlignVCenter);
    row->addWidget(title_, 1);
    row->addWidget(undo_);
    row->addWidget(print_button);
    row->addSpacing(8);
    row->addWidget(side_);
    fit();
}

void TopBar::show_job(const QString& title, const QString& side) {
    whole_title_ = title;
    side_->setText(side);
    side_->setVisible(!side.isEmpty());
    fit();
}

bool TopBar::eventFilter(QObject* watched, QEvent* event) {
    // The title has what the others leave, which is known only once they are laid out.
    if (watched == title_ && event->type() == QEvent::Resize) {
        fit();
    }
    return QWidget::eventFilter(watched, event);
}

void TopBar::fit() {
    const QFontMetrics metrics(looks::font(looks::k_text));
    title_->setText(metrics.elidedText(whole_title_, Qt::ElideMiddle, std::max(0, title_->width() - 4)));
    title_->setToolTip(whole_title_);
    title_->setAccessibleName(whole_title_);
    QString words = undo_action_->text();
    words.remove(QLatin1Char('&'));
    words = words.trimmed();
    if (words.endsWith(QLatin1Char(':'))) {
        words.chop(1);  // there is nothing to undo
    }
    undo_->setText(QStringLiteral("↶ ") + metrics.elidedText(words, Qt::ElideRight, k_undo_width));
    undo_->setToolTip(words);
    undo_->setAccessibleName(words);
    undo_->setEnabled(undo_action_->isEnabled());
}

}  // namespace sillwright::app

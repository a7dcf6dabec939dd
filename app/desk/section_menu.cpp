#include "app/desk/section_menu.h"

#include <utility>

#include "app/looks.h"

namespace sillwright::app {

SectionMenu::SectionMenu(QWidget* parent) : menu_{new QMenu(parent)} {
    menu_->setObjectName(QStringLiteral("sectionMenu"));
    menu_->setAttribute(Qt::WA_DeleteOnClose);
    menu_->setFont(looks::font(looks::k_text));
    // 40 px with a line of text 20 px high.
    menu_->setStyleSheet(
        QStringLiteral("QMenu::item { padding: 10px 28px; }"
                       "QMenu::item:selected { background: palette(highlight); color: "
                       "palette(highlighted-text); }"));
}

void SectionMenu::add(const QString& name, const QString& text, std::function<void()> what) {
    QAction* action = menu_->addAction(text);
    action->setObjectName(name);
    QObject::connect(action, &QAction::triggered, menu_->parentWidget(), std::move(what), Qt::QueuedConnection);
}

void SectionMenu::add(QAction* action) {
    menu_->addAction(action);
}

void SectionMenu::add_line() {
    if (!menu_->isEmpty()) {
        menu_->addSeparator();
    }
}

void SectionMenu::open(const QPoint& global) {
    menu_->popup(global);
}

}  // namespace sillwright::app

#pragma once

#include <QMenu>
#include <QPointer>
#include <QString>
#include <functional>

namespace sillwright::app {

/// A menu on the paper with rows that a gloved hand can press. It opens without holding
/// up anything else, and goes when it closes.
class SectionMenu {
public:
    explicit SectionMenu(QWidget* parent);

    void add(const QString& name, const QString& text, std::function<void()> what);
    void add(QAction* action);
    /// A line between what is above and below; none at the top.
    void add_line();
    void open(const QPoint& global);

private:
    QPointer<QMenu> menu_;
};

}  // namespace sillwright::app

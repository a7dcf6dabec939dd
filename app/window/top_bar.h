#pragma once

#include <QWidget>

class QLabel;
class QMenuBar;
class QToolButton;
class QAction;

namespace sillwright::app {

/// The menus, and beside them: which job this is and whether it is saved, what undo would undo, print,
/// and the side of the car in large words.
class TopBar : public QWidget {
    Q_OBJECT

public:
    /// `undo` and `print` are shown as buttons; undo with what it undoes.
    TopBar(QMenuBar* menus, QAction* undo, QAction* print, QWidget* parent = nullptr);

    void show_job(const QString& title, const QString& side);

protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    void fit();

    QString whole_title_;
    QLabel* title_;
    QToolButton* undo_;
    QLabel* side_;
    QAction* undo_action_;
};

}  // namespace sillwright::app

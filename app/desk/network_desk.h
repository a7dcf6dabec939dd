#pragma once

#include <QWidget>

class QLabel;
class QPushButton;

namespace sillwright::app {

class Focus;
class NetworkDrawing;
class OpenBook;

/// The drawing of the network; below it what is known of the chosen point, with what can be made of it, and the
/// question that two places alike ask.
class NetworkDesk : public QWidget {
    Q_OBJECT

public:
    NetworkDesk(OpenBook& book, Focus& focus, QWidget* parent = nullptr);

    [[nodiscard]] NetworkDrawing& drawing() { return *drawing_; }

private:
    void follow_book();
    void follow_focus();
    void make_mount();
    void answer(bool here);

    OpenBook& book_;
    Focus& focus_;
    NetworkDrawing* drawing_;
    QWidget* point_row_;
    QLabel* point_words_;
    QPushButton* make_mount_;
    QPushButton* make_all_;
    QWidget* question_row_;
    QLabel* question_;
    QPushButton* here_;
    QPushButton* there_;
};

}  // namespace sillwright::app

#pragma once

#include <QWidget>

class QLabel;
class QPushButton;
class QScrollArea;

namespace sillwright::app {

class BumpsDrawing;
class Focus;
class OpenJob;

/// The strip of bumps: which lines do not run fair along the car, and the move that fairs the chosen one.
class BumpsDesk : public QWidget {
    Q_OBJECT

public:
    /// Both must outlive the desk.
    BumpsDesk(OpenJob& open, Focus& focus, QWidget* parent = nullptr);

    [[nodiscard]] BumpsDrawing& drawing() { return *drawing_; }

protected:
    void showEvent(QShowEvent* event) override;

private:
    void show_job();
    void show_chosen();
    void fair_it();

    OpenJob& open_;
    Focus& focus_;
    BumpsDrawing* drawing_;
    QScrollArea* scroll_;
    QLabel* words_;
    QPushButton* fair_;
};

}  // namespace sillwright::app

#pragma once

#include <QWidget>

class QLabel;
class QLineEdit;

namespace sillwright::app {

class DifferencesDrawing;
class OpenBook;

/// Left against right, and on wheels against on the lift: the differences with their verdicts, and which job is the
/// other side's.
class CompareDesk : public QWidget {
    Q_OBJECT

public:
    explicit CompareDesk(OpenBook& book, QWidget* parent = nullptr);

    [[nodiscard]] DifferencesDrawing& sides() { return *sides_; }
    [[nodiscard]] DifferencesDrawing& set_ups() { return *set_ups_; }

private:
    void follow();
    void choose_other();
    void take_other();

    OpenBook& book_;
    DifferencesDrawing* sides_;
    DifferencesDrawing* set_ups_;
    QLineEdit* other_;
    QLabel* refusal_;
};

}  // namespace sillwright::app

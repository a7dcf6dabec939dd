#pragma once

#include <QWidget>
#include <string>

class QComboBox;
class QLabel;
class QLineEdit;
class QPushButton;

namespace sillwright::app {

class ArcDrawing;
class OpenBook;
class WrappedText;

/// Each door's hinge axis: the targets' arcs, the openings that were found, how sure the door's lower rear corner is in
/// large, what is weak with what to add; which targets are on the door, and whether its hinge is kept from the book.
class HingeDesk : public QWidget {
    Q_OBJECT

public:
    explicit HingeDesk(OpenBook& book, QWidget* parent = nullptr);

    [[nodiscard]] ArcDrawing& drawing() { return *drawing_; }

protected:
    void changeEvent(QEvent* event) override;

private:
    void follow();
    void follow_doors();
    void take_targets();
    void keep();
    [[nodiscard]] std::string door() const;

    OpenBook& book_;
    QComboBox* doors_;
    QLineEdit* targets_;
    QPushButton* keep_;
    QLabel* refusal_;
    QLabel* corner_;
    WrappedText* words_;
    ArcDrawing* drawing_;
};

}  // namespace sillwright::app

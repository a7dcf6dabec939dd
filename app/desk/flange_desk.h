#pragma once

#include <QWidget>

class QLabel;
class QPushButton;
class QScrollArea;
class QSlider;

namespace sillwright::app {

class FlangeDrawing;
class Focus;
class OpenJob;

/// The flange laid flat, with the slider that warms and cools it, and what can be done with the chosen hole.
class FlangeDesk : public QWidget {
    Q_OBJECT

public:
    /// Both must outlive the desk.
    FlangeDesk(OpenJob& open, Focus& focus, QWidget* parent = nullptr);

    [[nodiscard]] FlangeDrawing& drawing() { return *drawing_; }

protected:
    void showEvent(QShowEvent* event) override;

private:
    [[nodiscard]] QWidget* make_slider();
    [[nodiscard]] QWidget* make_row();
    void show_results();
    void show_chosen();
    void show_warmth(int value);
    void make_as_planned();
    void make_all();

    OpenJob& open_;
    Focus& focus_;
    FlangeDrawing* drawing_;
    QScrollArea* scroll_;
    QSlider* warmth_;
    QLabel* warmth_words_;
    QLabel* words_;
    QPushButton* as_planned_;
    QPushButton* all_;
};

}  // namespace sillwright::app

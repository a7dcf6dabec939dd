#pragma once

#include <QWidget>

#include "app/drawings/solid_scene.h"

class QComboBox;
class QLabel;
class QSlider;

namespace sillwright::app {

class SolidCanvas;

/// Why a solid picture cannot be drawn here, in a sentence; empty if it can.
/// Needs a QApplication.
QString why_no_solid_picture();

/// The bodies of a job in the round, and a slider that turns a door. Where the
/// desktop has no OpenGL through X11 a sentence stands in the picture's place;
/// the slider is there all the same.
class SolidView : public QWidget {
    Q_OBJECT

public:
    explicit SolidView(QWidget* parent = nullptr);

    void show_scene(SolidScene scene);
    /// `sentence` instead of bodies.
    void show_sentence(const QString& sentence);

    /// Opening that the slider has set for the door of that index.
    [[nodiscard]] geometry::Angle opening(std::size_t door) const { return openings_.at(door); }

private:
    void choose_door(int index);
    void turn_door(int slider_value);
    void say_angle();

    SolidScene scene_;
    std::vector<geometry::Angle> openings_;
    SolidCanvas* canvas_ = nullptr;  ///< None where there is no solid picture.
    QLabel* sentence_;
    QComboBox* door_;
    QSlider* slider_;
    QLabel* angle_;
};

}  // namespace sillwright::app

#pragma once

#include <QWidget>
#include <optional>
#include <vector>

#include "app/drawings/solid_scene.h"

class QComboBox;
class QLabel;
class QLineEdit;
class QPushButton;

namespace sillwright::app {

class DoorSlider;
class SolidCanvas;

/// Why a solid picture cannot be drawn here, in a sentence; empty if it can be tried.
/// Needs a QApplication.
QString why_no_solid_picture();

/// The bodies of a job in the round, and a slider, a field and a list of doors that turn them. Where the
/// desktop has no X11 a sentence stands in the picture's place; the rest is there all the same.
class SolidView : public QWidget {
    Q_OBJECT

public:
    explicit SolidView(QWidget* parent = nullptr);

    /// Another job: doors shut, all in the picture, the first door chosen.
    void show_scene(SolidScene scene);
    /// The same job after a change: seen as before, doors as they stand.
    void update_scene(SolidScene scene);
    /// `sentence` instead of bodies.
    void show_sentence(const QString& sentence);

    /// Opening of the door of that index.
    [[nodiscard]] geometry::Angle opening(std::size_t door) const { return openings_.at(door); }
    /// Which door the slider turns; none without doors.
    [[nodiscard]] std::optional<std::size_t> door() const;
    [[nodiscard]] const SolidScene& scene() const { return scene_; }

    // Following: none of these signals.
    void turn(const std::string& door, geometry::Angle opening);
    void choose_door(const std::string& door);
    /// For the door that is chosen.
    void show_marks(const DoorMarks& marks);
    void show_dimension(const std::optional<SolidDimension>& dimension);
    void show_section(std::optional<geometry::Length> x);
    void show_chosen(const SolidPart& part);
    void show_note(const QString& words);
    void show_pointed(const QString& words);
    /// With buttons to look from a side and to go to the worst angle, or without.
    void show_buttons(bool shown);

    /// The list of doors and the buttons, for who wants them elsewhere.
    [[nodiscard]] QComboBox* door_choice() { return door_; }
    [[nodiscard]] QWidget* buttons() { return buttons_; }
    /// None where there is no solid picture.
    [[nodiscard]] SolidCanvas* canvas() { return canvas_; }
    /// As seen now, in another size; null where there is no solid picture.
    [[nodiscard]] QImage picture(const QSize& pixels) const;

signals:
    /// By hand.
    void door_turned(const std::string& door, geometry::Angle opening);
    void door_chosen(const std::string& door);
    void pressed(const sillwright::app::SolidPart& part, const Eigen::Vector3d& at_mm);
    void pointed(const sillwright::app::SolidPart& part, const Eigen::Vector3d& at_mm);

private:
    [[nodiscard]] QWidget* make_buttons();
    void take_scene(SolidScene scene);
    void show_door();
    void show_angle();
    void show_place_of_dimension();
    void pose_door(std::size_t door);
    void turn_by_hand(geometry::Angle opening);
    void read_typed();
    void refuse(const QString& sentence);

    SolidScene scene_;
    std::vector<geometry::Angle> openings_;
    std::optional<SolidDimension> dimension_;
    SolidCanvas* canvas_ = nullptr;
    QLabel* sentence_;
    QWidget* buttons_;
    bool with_buttons_ = false;
    QLabel* refused_;
    QComboBox* door_;
    DoorSlider* slider_;
    QLineEdit* angle_;
    QPushButton* worst_;
    DoorMarks marks_;
};

}  // namespace sillwright::app

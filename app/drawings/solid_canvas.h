#pragma once

#include <QImage>
#include <memory>
#include <optional>
#include <vector>

#include "app/drawings/paper.h"
#include "app/drawings/solid_look.h"
#include "app/drawings/solid_painter.h"
#include "app/drawings/solid_pick.h"
#include "app/drawings/solid_scene.h"

namespace sillwright::app {

/// The picture of some bodies in the round. Drag with the left button turns it, with the middle one or two
/// buttons moves it, the wheel zooms; arrows, plus, minus and Home do the same. A press chooses.
///
/// The bodies are drawn by a SolidPainter; what this widget shows of them may lag a picture behind. All else
/// (dimension, mounts, words) is drawn over it for the very picture that is shown.
/// A failure of the graphics is written in the picture's place.
class SolidCanvas : public Paper {
    Q_OBJECT

public:
    explicit SolidCanvas(QWidget* parent = nullptr);
    ~SolidCanvas() override;

    /// Replaces what is shown, looked at as before; bodies start as they were made.
    void show_bodies(const std::vector<SolidBody>& bodies, const std::vector<SolidMount>& mounts);
    /// Places the bodies that swing with a door.
    void set_pose(std::size_t door, const DoorPose& pose);
    /// The dimension, if any; `holds` if the door stands where it was taken, else it is greyed.
    void show_dimension(const std::optional<SolidDimension>& dimension, bool holds);
    /// The section plane at x; none for no plane.
    void show_section(std::optional<geometry::Length> x);
    void show_chosen(const SolidPart& part);
    /// Words in the corners of the sheet: above, what is to be known of the whole; below, what is pointed at.
    void show_note(const QString& words);
    /// As in SolidScene.
    void show_tints(const std::vector<std::string>& words);
    void show_pointed(const QString& words);
    /// Which side of the car the sill is on: for looking from outside.
    void set_right_hand(bool right_hand);

    void look_from(LookFrom from);
    /// Puts all in the middle, shut and as it stands, as large as it goes; so it stays when the size changes.
    void fit();
    [[nodiscard]] const SolidLook& look() const { return look_; }

    /// As seen now, in a picture of another size; waits for it.
    [[nodiscard]] QImage picture(const QSize& pixels) const;
    /// As it is shown while something turns, its edges not smoothed yet; waits for it.
    [[nodiscard]] QImage turning_picture(const QSize& pixels) const;
    /// Waits until what is shown is up to date and fine.
    void settle();

    void draw(QPainter& painter, const QSizeF& sheet) const override;
    [[nodiscard]] QString title() const override;
    [[nodiscard]] QSize sizeHint() const override { return {600, 300}; }
    [[nodiscard]] QSize minimumSizeHint() const override { return {160, 100}; }

signals:
    /// Something was pressed; where, on its surface.
    void pressed(const sillwright::app::SolidPart& part, const Eigen::Vector3d& at_mm);
    /// What is under the pointer now, none on bare paper; where, on its surface.
    void pointed(const sillwright::app::SolidPart& part, const Eigen::Vector3d& at_mm);
    /// A picture was taken over from the painter.
    void painted();

protected:
    void paintEvent(QPaintEvent* event) override;
    void showEvent(QShowEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void changeEvent(QEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void wheelEvent(QWheelEvent* event) override;
    void leaveEvent(QEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void focusInEvent(QFocusEvent* event) override;
    void focusOutEvent(QFocusEvent* event) override;

private:
    [[nodiscard]] SolidPicture picture_of(const QSize& pixels, const SolidLook& look, bool fine) const;
    void want();
    void send_wish();
    void take(const PaintedSolid& solid);
    void look_so(const SolidLook& look);
    void refit();
    [[nodiscard]] SolidPart part_at(const QPointF& point, Eigen::Vector3d& at_mm) const;
    void draw_over(QPainter& painter, const QSizeF& sheet, const PaintedSolid& shown) const;
    void draw_tints(QPainter& painter, const QPointF& corner) const;
    void draw_mounts(QPainter& painter, const QSizeF& sheet, const PaintedSolid& shown) const;
    void draw_name(QPainter& painter, const QPointF& beside, const QString& name, const QPointF& clear_of) const;
    void draw_dimension(QPainter& painter, const QSizeF& sheet, const SolidLook& look) const;

    std::vector<SolidBody> bodies_;
    std::vector<PickedBody> standing_;  ///< As bodies_, where they stand.
    std::vector<SolidMount> mounts_;
    std::optional<SolidDimension> dimension_;
    bool dimension_holds_ = false;
    std::optional<geometry::Length> section_;
    SolidPart chosen_;
    QString note_, pointed_;
    std::vector<std::string> tints_;
    bool right_hand_ = true;
    SolidLook look_;
    bool fitted_ = true;
    std::vector<SolidBounds> fitted_about_;

    QPointF pressed_at_, last_at_;
    bool dragged_ = false;

    bool wish_waits_ = false;
    std::uint64_t number_ = 0;  ///< Of the picture that was wanted last.
    PaintedSolid shown_;
    std::unique_ptr<SolidPainter> painter_;  ///< Last: its thread calls us.
};

}  // namespace sillwright::app

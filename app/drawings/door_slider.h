#pragma once

#include <QSlider>
#include <optional>

#include "app/drawings/solid_scene.h"
#include "geometry/units.h"

namespace sillwright::app {

/// Turns a door: a disc in a groove from shut to the stop. Where the door touches, the groove is hatched;
/// where its gap is worst stands the shape of the finding's state, and a press on it goes there.
///
/// Its value is in tenths of a degree.
class DoorSlider : public QSlider {
    Q_OBJECT

public:
    explicit DoorSlider(QWidget* parent = nullptr);

    void set_opening(geometry::Angle opening);
    void set_marks(const DoorMarks& marks);
    /// Follows without a signal.
    void show_angle(geometry::Angle angle);

    /// Where an angle is on the groove.
    [[nodiscard]] double x_of(geometry::Angle angle) const;
    [[nodiscard]] QSize sizeHint() const override { return {220, 52}; }
    [[nodiscard]] QSize minimumSizeHint() const override { return {90, 52}; }

signals:
    /// By hand: dragged, wheeled, by keys, or a press on the mark of the worst angle, which is exact.
    void turned(geometry::Angle angle);

protected:
    void paintEvent(QPaintEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;
    void wheelEvent(QWheelEvent* event) override;
    void changeEvent(QEvent* event) override;

private:
    [[nodiscard]] geometry::Angle angle_at(double x) const;
    [[nodiscard]] bool on_worst(const QPointF& point) const;
    void turn_by_hand(geometry::Angle angle);

    geometry::Angle opening_;
    geometry::Angle angle_;
    DoorMarks marks_;
};

}  // namespace sillwright::app

#pragma once

#include <QRectF>
#include <optional>

#include "app/drawings/clearance_picture.h"
#include "app/drawings/paper.h"

namespace sillwright::app {

/// How a clearance picture lies on its sheet.
struct ClearanceScale {
    QRectF field;  ///< Between the axes.
    geometry::Angle stop;
    geometry::Length top;  ///< The greatest clearance that is shown.

    [[nodiscard]] double x_of(geometry::Angle angle) const;
    [[nodiscard]] double y_of(geometry::Length clearance) const;
    /// From shut to the stop, however far outside `x` is.
    [[nodiscard]] geometry::Angle angle_at(double x) const;
};
/// None where there is nothing to plot or no room.
std::optional<ClearanceScale> clearance_scale(const ClearancePicture& picture, const QSizeF& sheet);

/// Clearance against the opening of one door: a curve for each body that swings, the needed gap dashed, the least
/// clearance marked and named, what touches hatched, and the opening now as an upright line. Pressing, dragging and
/// the arrow keys turn the door (half a degree; with Shift a tenth; Page up and down five; Home shut, End to the stop).
class ClearancePlot : public Paper {
    Q_OBJECT

public:
    explicit ClearancePlot(QWidget* parent = nullptr);

    void show_picture(ClearancePicture picture);
    void show_opening(geometry::Angle opening);
    [[nodiscard]] const ClearancePicture& picture() const { return picture_; }

    void draw(QPainter& painter, const QSizeF& sheet) const override;
    [[nodiscard]] QString title() const override;
    /// All that it shows, to be read aloud.
    [[nodiscard]] QString words() const;

    [[nodiscard]] QSize sizeHint() const override { return {330, 240}; }
    [[nodiscard]] QSize minimumSizeHint() const override { return {240, 170}; }

signals:
    void wants_opening(geometry::Angle opening);

protected:
    void paintEvent(QPaintEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;

private:
    void turn_to(const QPointF& at);
    void describe();

    ClearancePicture picture_;
};

}  // namespace sillwright::app

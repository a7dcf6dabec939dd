#pragma once

#include <QPainter>
#include <QWidget>

#include "app/drawings/section_picture.h"

namespace sillwright::app {

/// How a section lies on its sheet: one scale for both directions.
struct SectionScale {
    double pixels_per_mm = 1.0;
    QPointF origin;  ///< Of (out, up) = (0, 0) on the sheet.

    [[nodiscard]] QPointF on_sheet(const Eigen::Vector2d& p_mm) const {
        return {origin.x() + pixels_per_mm * p_mm.x(), origin.y() - pixels_per_mm * p_mm.y()};
    }
};

/// The largest scale at which all of the picture is inside `field`, in its
/// middle, but for what a door has more than 30 mm beyond all that stands still. A
/// picture without extent has one millimetre to the pixel.
SectionScale fit(const SectionPicture& picture, const QRectF& field);

/// Draws a section with rulers, scale bar, names and heading on `sheet`.
void draw_section(QPainter& painter, const QRectF& sheet, const SectionPicture& picture);

/// Shows one section, or one sentence where there is none.
class SectionDrawing : public QWidget {
    Q_OBJECT

public:
    explicit SectionDrawing(QWidget* parent = nullptr);

    void show_section(SectionPicture picture);
    /// `sentence` instead of a section.
    void show_sentence(const QString& sentence);

    [[nodiscard]] const QString& sentence() const { return sentence_; }
    [[nodiscard]] const SectionPicture& picture() const { return picture_; }
    [[nodiscard]] QSize sizeHint() const override { return {800, 600}; }
    [[nodiscard]] QSize minimumSizeHint() const override { return {320, 240}; }

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    SectionPicture picture_;
    QString sentence_;
};

}  // namespace sillwright::app

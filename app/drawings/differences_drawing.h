#pragma once

#include "app/drawings/differences_picture.h"
#include "app/drawings/paper.h"

namespace sillwright::app {

/// The differences of two sets of points as a table with bars: how far apart each point is, how far it may be, and
/// the limit as a line through all bars; the verdict in large words above. As high as its rows need.
class DifferencesDrawing : public Paper {
    Q_OBJECT

public:
    explicit DifferencesDrawing(QWidget* parent = nullptr);

    void set_picture(DifferencesPicture picture);
    [[nodiscard]] const DifferencesPicture& picture() const { return picture_; }

    void draw(QPainter& painter, const QSizeF& sheet) const override;
    [[nodiscard]] QString title() const override;
    [[nodiscard]] bool hasHeightForWidth() const override { return true; }
    [[nodiscard]] int heightForWidth(int width) const override;
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override { return {420, 100}; }

protected:
    void resizeEvent(QResizeEvent* event) override;

private:
    /// What is laid out from the sheet's width.
    struct Layout {
        QRectF heading, verdict, words;
        double table = 0.0;  ///< Top of the rows' head.
        double bar_left = 0.0, bar_right = 0.0;
        double bottom = 0.0;
    };
    [[nodiscard]] Layout lay_out(double width) const;
    void draw_row(QPainter& painter, const Layout& layout, std::size_t number, double most_mm) const;

    DifferencesPicture picture_;
};

}  // namespace sillwright::app

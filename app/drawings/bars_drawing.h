#pragma once

#include "app/drawings/bars_picture.h"
#include "app/drawings/paper.h"

namespace sillwright::app {

/// Stacked bars: what each whole is made of, the parts numbered, told apart by hatching and named below the bar. As
/// high as its bars need.
class BarsDrawing : public Paper {
    Q_OBJECT

public:
    explicit BarsDrawing(QWidget* parent = nullptr);

    void set_picture(BarsPicture picture);
    [[nodiscard]] const BarsPicture& picture() const { return picture_; }

    void draw(QPainter& painter, const QSizeF& sheet) const override;
    [[nodiscard]] QString title() const override;
    [[nodiscard]] bool hasHeightForWidth() const override { return true; }
    [[nodiscard]] int heightForWidth(int width) const override;
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override { return {300, 80}; }

    /// Where the bar of that number is drawn on a sheet of the widget's width, and one of its parts.
    [[nodiscard]] QRectF bar_box(std::size_t bar) const;
    [[nodiscard]] QRectF part_box(std::size_t bar, std::size_t part) const;

protected:
    void resizeEvent(QResizeEvent* event) override;

private:
    BarsPicture picture_;
};

}  // namespace sillwright::app

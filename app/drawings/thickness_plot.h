#pragma once

#include "app/drawings/composition.h"
#include "app/drawings/thickness_picture.h"

namespace sillwright::app {

/// How thick the sheet comes out: round the section at the plumb line, with what is needed and the nodes' names; below
/// it the least of each part of the section along the car. A press on those goes there.
class ThicknessPlot : public ComposedPaper {
    Q_OBJECT

public:
    explicit ThicknessPlot(QWidget* parent = nullptr);

    void set_picture(ThicknessPicture picture);
    [[nodiscard]] const ThicknessPicture& picture() const { return picture_; }

    [[nodiscard]] Composition compose(const QSizeF& sheet) const override;
    [[nodiscard]] QString title() const override;
    [[nodiscard]] QSize sizeHint() const override { return {900, 460}; }
    [[nodiscard]] QSize minimumSizeHint() const override;

signals:
    void went(double along_mm);

protected:
    void mousePressEvent(QMouseEvent* event) override;

private:
    ThicknessPicture picture_;
};

}  // namespace sillwright::app

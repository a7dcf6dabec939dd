#pragma once

#include "app/drawings/arc_picture.h"
#include "app/drawings/paper.h"

namespace sillwright::app {

/// The arcs of a door's targets, looking along the hinge axis from above: a circle about the axis through each, the
/// measured places numbered by their opening, and how far they miss the arc, drawn a stated number of times larger.
class ArcDrawing : public Paper {
    Q_OBJECT

public:
    explicit ArcDrawing(QWidget* parent = nullptr);

    void set_picture(ArcPicture picture);
    [[nodiscard]] const ArcPicture& picture() const { return picture_; }

    void draw(QPainter& painter, const QSizeF& sheet) const override;
    [[nodiscard]] QString title() const override;
    [[nodiscard]] QSize sizeHint() const override { return {420, 320}; }
    [[nodiscard]] QSize minimumSizeHint() const override { return {260, 200}; }

private:
    ArcPicture picture_;
};

}  // namespace sillwright::app

#pragma once

#include "app/drawings/composition.h"
#include "app/drawings/platen_picture.h"

namespace sillwright::app {

/// The forming machine from above at true scale: window, clamps, the part with its trim allowance and clamp line, what
/// stands out and by how much, how far the part would have to be set back, and where it could be split.
class PlatenDrawing : public ComposedPaper {
    Q_OBJECT

public:
    explicit PlatenDrawing(QWidget* parent = nullptr);

    void set_picture(PlatenPicture picture);
    [[nodiscard]] const PlatenPicture& picture() const { return picture_; }

    [[nodiscard]] Composition compose(const QSizeF& sheet) const override;
    [[nodiscard]] QString title() const override;
    [[nodiscard]] QSize sizeHint() const override { return {900, 420}; }
    [[nodiscard]] QSize minimumSizeHint() const override { return {560, 250}; }

    /// The same both ways; 0 where nothing is drawn.
    [[nodiscard]] double pixels_for_mm(const QSizeF& sheet) const;

private:
    PlatenPicture picture_;
};

}  // namespace sillwright::app

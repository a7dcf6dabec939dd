#pragma once

#include "app/drawings/composition.h"
#include "app/drawings/rib_picture.h"

namespace sillwright::app {

/// A rib at true scale: the face on its place with its slots and rods, the other face dashed, the level line, how each
/// edge leans, and its sizes.
class RibDrawing : public ComposedPaper {
    Q_OBJECT

public:
    explicit RibDrawing(QWidget* parent = nullptr);

    void set_picture(RibPicture picture);
    [[nodiscard]] const RibPicture& picture() const { return picture_; }

    [[nodiscard]] Composition compose(const QSizeF& sheet) const override;
    [[nodiscard]] QString title() const override;
    [[nodiscard]] QSize sizeHint() const override { return {900, 460}; }
    [[nodiscard]] QSize minimumSizeHint() const override { return {560, 300}; }

    /// The same both ways; 0 where nothing is drawn.
    [[nodiscard]] double pixels_for_mm(const QSizeF& sheet) const;

private:
    RibPicture picture_;
};

}  // namespace sillwright::app

#pragma once

#include "app/drawings/composition.h"
#include "app/drawings/nest_picture.h"

namespace sillwright::app {

/// A sheet of board at true scale with its parts and their labels, what must not be used hatched, and what is left to
/// keep.
class NestDrawing : public ComposedPaper {
    Q_OBJECT

public:
    explicit NestDrawing(QWidget* parent = nullptr);

    void set_picture(NestPicture picture);
    [[nodiscard]] const NestPicture& picture() const { return picture_; }

    [[nodiscard]] Composition compose(const QSizeF& sheet) const override;
    [[nodiscard]] QString title() const override;
    [[nodiscard]] QSize sizeHint() const override { return {900, 500}; }
    [[nodiscard]] QSize minimumSizeHint() const override { return {560, 300}; }

    /// The same both ways; 0 where nothing is drawn.
    [[nodiscard]] double pixels_for_mm(const QSizeF& sheet) const;

private:
    NestPicture picture_;
};

}  // namespace sillwright::app

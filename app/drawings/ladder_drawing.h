#pragma once

#include "app/drawings/composition.h"
#include "app/drawings/ladder_picture.h"

namespace sillwright::app {

/// A dimension as a ladder: a rung for each size, from the painted part down to the buck, with how sure it is; between
/// two rungs what changes it. What is assumed is written slanted, what was measured upright, beside what was expected.
class LadderDrawing : public ComposedPaper {
    Q_OBJECT

public:
    explicit LadderDrawing(QWidget* parent = nullptr);

    void set_picture(LadderPicture picture);
    [[nodiscard]] const LadderPicture& picture() const { return picture_; }

    [[nodiscard]] Composition compose(const QSizeF& sheet) const override;
    [[nodiscard]] QString title() const override;
    [[nodiscard]] QSize sizeHint() const override { return {760, std::max(360, minimumSizeHint().height())}; }
    [[nodiscard]] QSize minimumSizeHint() const override;

private:
    LadderPicture picture_;
};

}  // namespace sillwright::app

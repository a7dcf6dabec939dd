#pragma once

#include "app/drawings/composition.h"
#include "app/drawings/flute_picture.h"

namespace sillwright::app {

/// The flutes on the shelf, which is laid straight: above, all of it, drawn wider across and saying so; below, what
/// cuts each flute and what comes of it, and the base plate at the place where it has least room, at true scale.
class FluteDrawing : public ComposedPaper {
    Q_OBJECT

public:
    explicit FluteDrawing(QWidget* parent = nullptr);

    void set_picture(FlutePicture picture);
    [[nodiscard]] const FlutePicture& picture() const { return picture_; }

    [[nodiscard]] Composition compose(const QSizeF& sheet) const override;
    [[nodiscard]] QString title() const override;
    [[nodiscard]] QSize sizeHint() const override { return {900, 460}; }
    [[nodiscard]] QSize minimumSizeHint() const override;

private:
    FlutePicture picture_;
};

}  // namespace sillwright::app

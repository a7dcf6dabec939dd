#pragma once

#include "app/drawings/assembly_picture.h"
#include "app/drawings/composition.h"

namespace sillwright::app {

/// The buck put together: from above and from the side, every board with its label, the distances to check. Across it
/// may be drawn larger than along, and says so. A press on a rib chooses it.
class AssemblyDrawing : public ComposedPaper {
    Q_OBJECT

public:
    explicit AssemblyDrawing(QWidget* parent = nullptr);

    void set_picture(AssemblyPicture picture);
    [[nodiscard]] const AssemblyPicture& picture() const { return picture_; }

    [[nodiscard]] Composition compose(const QSizeF& sheet) const override;
    [[nodiscard]] QString title() const override;
    [[nodiscard]] QSize sizeHint() const override { return {900, 460}; }
    [[nodiscard]] QSize minimumSizeHint() const override;

    /// The rib next to a place on the sheet; none if nothing is drawn.
    [[nodiscard]] std::optional<std::size_t> rib_at(const QPointF& at, const QSizeF& sheet) const;
    /// By how much across is drawn larger than along; 0 where nothing is drawn.
    [[nodiscard]] int times_across(const QSizeF& sheet) const;

signals:
    void chose(std::size_t rib);

protected:
    void mousePressEvent(QMouseEvent* event) override;

private:
    AssemblyPicture picture_;
};

}  // namespace sillwright::app

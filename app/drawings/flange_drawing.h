#pragma once

#include <optional>

#include "app/desk/item.h"
#include "app/drawings/flange_picture.h"
#include "app/drawings/paper.h"

namespace sillwright::app {

/// The flange laid flat: above, all of it with its mounts and how far they are apart; below, each mount's surroundings
/// at one large true scale: body's hole, part's hole, what is needed, bend, free edge, and how sure the place is.
/// With the warmth the part moves on the body. A part's hole is moved lengthwise under the hand.
class FlangeDrawing : public Paper {
    Q_OBJECT

public:
    explicit FlangeDrawing(QWidget* parent = nullptr);

    void set_picture(FlangePicture picture);
    [[nodiscard]] const FlangePicture& picture() const { return picture_; }
    /// From -1 (as cold as it gets) by 0 (as drawn) to 1 (as hot as it gets).
    void set_warmth(double warmth);
    [[nodiscard]] double warmth() const { return warmth_; }
    void set_marked(const Item& chosen, const Item& pointed);

    void draw(QPainter& painter, const QSizeF& sheet) const override;
    [[nodiscard]] QString title() const override;
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override;

    /// Middle of a part's hole in the widget's pixels, as it is drawn now; empty if there is none.
    [[nodiscard]] QPointF place_of(const std::string& mount) const;
    /// A mount's pane.
    [[nodiscard]] QRectF pane_of(const std::string& mount) const;
    [[nodiscard]] double pixels_for_mm(const QSizeF& sheet) const;

signals:
    void chose(const sillwright::app::Item& item, double along_mm);
    void pointed(const sillwright::app::Item& item);
    /// The hand took hold of a part's hole; it is at `shift_mm` now; it let go; it thought better of it.
    void taken(const std::string& mount);
    void dragged(double shift_mm);
    void dropped();
    void put_back();

protected:
    void paintEvent(QPaintEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;
    void leaveEvent(QEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void focusInEvent(QFocusEvent* event) override;
    void focusOutEvent(QFocusEvent* event) override;

private:
    struct Grip {
        std::size_t hole = 0;
        double offset_mm = 0.0;  ///< From the hole's centre to where it was taken.
        bool moved = false;
    };
    [[nodiscard]] QRectF pane(std::size_t hole, const QSizeF& sheet) const;
    [[nodiscard]] std::optional<std::size_t> hole_at(const QPointF& at) const;
    [[nodiscard]] std::optional<std::size_t> find(const std::string& mount) const;
    [[nodiscard]] double widest_flange_mm() const;
    [[nodiscard]] double grown_mm(const FlangeHole& hole) const;
    [[nodiscard]] double shift_at(std::size_t hole, double x) const;
    void draw_overview(QPainter& painter, const QSizeF& sheet) const;
    void draw_pane(QPainter& painter, const QSizeF& sheet, std::size_t number) const;
    void draw_flange(QPainter& painter, const FlangeHole& hole, const QRectF& view, double pixels) const;
    void draw_words(QPainter& painter, const FlangeHole& hole, const QRectF& below, bool chosen) const;

    FlangePicture picture_;
    double warmth_ = 0.0;
    Item chosen_, pointed_;
    std::optional<Grip> grip_;
};

}  // namespace sillwright::app

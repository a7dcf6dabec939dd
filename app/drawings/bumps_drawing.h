#pragma once

#include <optional>
#include <vector>

#include "app/desk/item.h"
#include "app/drawings/bumps_picture.h"
#include "app/drawings/paper.h"

namespace sillwright::app {

/// One small strip for each named line: how far each station stands off the fair line, drawn many times larger,
/// with the limit as a band. It says which bump a person chose.
class BumpsDrawing : public Paper {
    Q_OBJECT

public:
    explicit BumpsDrawing(QWidget* parent = nullptr);

    void set_picture(BumpsPicture picture);
    [[nodiscard]] const BumpsPicture& picture() const { return picture_; }
    void set_place(std::optional<double> along_mm);
    void set_marked(const Item& chosen, const Item& pointed);

    void draw(QPainter& painter, const QSizeF& sheet) const override;
    [[nodiscard]] QString title() const override;
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override;

    /// Where a bump is drawn; empty if it is not there.
    [[nodiscard]] QPointF place_of(const std::string& node_id) const;
    /// The strip of the line that has a node.
    [[nodiscard]] QRectF strip_of(const std::string& node_id) const;
    /// Times larger than along the car.
    [[nodiscard]] double exaggeration(const QSizeF& sheet) const;

signals:
    void chose(const sillwright::app::Item& item, double along_mm);
    void pointed(const sillwright::app::Item& item);

protected:
    void paintEvent(QPaintEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void leaveEvent(QEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void focusInEvent(QFocusEvent* event) override;
    void focusOutEvent(QFocusEvent* event) override;

private:
    /// Sides of the strips on a sheet: names before, the worst bump in words behind.
    struct Columns {
        double left = 0.0, right = 0.0, along = 1.0;  ///< Pixels; pixels for a millimetre.
    };
    /// A bump's line and its number in it.
    struct Place {
        std::size_t line = 0, bump = 0;
    };
    [[nodiscard]] Columns columns(const QSizeF& sheet) const;
    [[nodiscard]] double top_of(std::size_t line) const;
    [[nodiscard]] double height() const;
    [[nodiscard]] double x(const Columns& columns, double along_mm) const;
    [[nodiscard]] std::optional<Place> bump_at(const QPointF& at) const;
    [[nodiscard]] std::optional<Place> find(const std::string& node_id) const;
    void choose(const Place& place);

    void draw_part(QPainter& painter, const QSizeF& sheet, const QRectF& shown) const;
    void draw_head(QPainter& painter, const QSizeF& sheet) const;
    void draw_line(QPainter& painter, const QSizeF& sheet, std::size_t number) const;
    void draw_numbers(QPainter& painter, const Columns& sides, const BumpsLine& line, double middle) const;
    void draw_bump(QPainter& painter, const QPointF& foot, const QPointF& tip, const BumpMark& bump, bool worst) const;

    BumpsPicture picture_;
    std::optional<double> along_mm_;
    Item chosen_, pointed_;
};

}  // namespace sillwright::app

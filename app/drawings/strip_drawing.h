#pragma once

#include <QPixmap>
#include <QString>
#include <QStringList>
#include <optional>
#include <vector>

#include "app/desk/item.h"
#include "app/drawings/mount_mark.h"
#include "app/drawings/paper.h"
#include "app/drawings/photo_under.h"
#include "app/drawings/strip_picture.h"
#include "app/drawings/strip_scale.h"

namespace sillwright::app {

/// The unrolled strip with its plumb line. It draws what it is given and says what a person wishes.
///
/// What a hand that drags does not change is kept as a picture of its own, so that the rest is painted in a
///   small part of a frame.
class StripDrawing : public Paper {
    Q_OBJECT

public:
    explicit StripDrawing(QWidget* parent = nullptr);

    void set_picture(StripPicture picture);
    [[nodiscard]] const StripPicture& picture() const { return picture_; }
    /// Straightened photos of the car's side, below all else: true along the car, drawn higher as the heights are. What
    /// they show below the fold is cut off.
    void show_photos(std::vector<PhotoUnder> photos);
    /// Where the plumb line hangs, and the words for it; none for no line.
    void set_place(std::optional<double> along_mm, const QString& words);
    void set_marked(const Item& chosen, const Item& pointed);
    /// What is under the pointer; in place of the strip's own words while they are not empty.
    void say(const QString& words);

    void draw(QPainter& painter, const QSizeF& sheet) const override;
    [[nodiscard]] QString title() const override;

    /// The scale on the sheet as it is now; none if there is nothing to draw.
    [[nodiscard]] std::optional<StripScale> scale() const { return scale_of(QSizeF(size())); }
    /// Where the place is written, over the plumb line.
    [[nodiscard]] QRectF place_box(const QSizeF& sheet) const;
    /// What a press there would choose.
    [[nodiscard]] Item item_at(const QPointF& at) const;
    /// The strip's own words: what is drawn larger than it is.
    [[nodiscard]] QStringList words() const { return words_on(QSizeF(size())); }

    [[nodiscard]] QSize minimumSizeHint() const override { return {320, 140}; }
    [[nodiscard]] QSize sizeHint() const override { return {1000, 240}; }

    static constexpr double k_key_step_mm = 10.0;

signals:
    /// To a place along the car.
    void went(double along_mm);
    /// To a neighbouring station: -1 before, 1 beyond.
    void stepped(int by);
    /// Something was chosen, and the place to go to with it.
    void chose(const sillwright::app::Item& item, double along_mm);
    /// The pointer is over a place of the strip.
    void pointed(const sillwright::app::Item& item, double along_mm, double height_mm);
    void pointer_left();
    /// The box of the place has moved.
    void place_moved();

protected:
    void paintEvent(QPaintEvent* event) override;
    void changeEvent(QEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void focusInEvent(QFocusEvent* event) override;
    void focusOutEvent(QFocusEvent* event) override;
    void leaveEvent(QEvent* event) override;

private:
    /// A text with its box, and the line from it to what it names.
    struct Label {
        QString text;
        QRectF box;
        QLineF leader;
        Item item;
        QColor ink;
        bool bold = false;
        std::optional<core::State> state;  ///< Its shape is drawn behind the text.
    };
    /// Labels of one sheet, placed so that none covers another.
    struct Layout {
        std::vector<Label> labels;
        std::vector<QRectF> taken;
    };

    [[nodiscard]] std::optional<StripScale> scale_of(const QSizeF& sheet) const;
    [[nodiscard]] QStringList words_on(const QSizeF& sheet) const;
    [[nodiscard]] MountScale mount_scale(const StripScale& scale) const;
    [[nodiscard]] Layout layout(const StripScale& scale, const QSizeF& sheet) const;
    void lay_line_names(Layout& layout, const StripScale& scale, const QSizeF& sheet) const;
    void lay_mount_names(Layout& layout, const StripScale& scale) const;
    void lay_box_names(Layout& layout, const StripScale& scale) const;

    void draw_ground(QPainter& painter, const QSizeF& sheet) const;
    void draw_photos(QPainter& painter, const StripScale& scale) const;
    void draw_body(QPainter& painter, const StripScale& scale) const;
    void draw_doors(QPainter& painter, const StripScale& scale) const;
    void draw_skirt(QPainter& painter, const QSizeF& sheet) const;
    void draw_over(QPainter& painter, const QSizeF& sheet) const;
    void draw_keep_outs(QPainter& painter, const StripScale& scale) const;
    void draw_lines(QPainter& painter, const StripScale& scale) const;
    void draw_mounts(QPainter& painter, const StripScale& scale) const;
    void draw_labels(QPainter& painter, const Layout& layout) const;
    void draw_front(QPainter& painter, const QSizeF& sheet) const;
    void draw_stations(QPainter& painter, const StripScale& scale, const QRectF& place) const;
    void draw_plumb(QPainter& painter, const StripScale& scale, const QRectF& place) const;
    void draw_words(QPainter& painter, const QSizeF& sheet) const;

    [[nodiscard]] bool marked(const Item& item) const;
    /// Whether a line has the node that is chosen, or pointed at.
    [[nodiscard]] bool holds(const StripLine& line, const Item& item) const;
    [[nodiscard]] Item line_at(const StripScale& scale, const QPointF& at) const;
    [[nodiscard]] double along_of(const Item& item, double along_mm) const;
    [[nodiscard]] bool over_plumb(const QPointF& at) const;
    void go_to_pointer(const QPointF& at);
    void point_at(const QPointF& at);
    void forget(bool ground, bool over);

    StripPicture picture_;
    std::vector<PhotoUnder> photos_;
    std::optional<double> along_mm_;
    QString place_words_;
    QString said_;
    Item chosen_, pointed_;

    std::optional<QPointF> pressed_;  ///< Where, while the button is down.
    bool dragging_ = false;           ///< The plumb line follows the pointer.

    QPixmap ground_;  ///< Kept pictures; null if they must be drawn.
    QPixmap over_;    ///< What lies over the lines, on nothing.
    QPixmap skirt_;
};

}  // namespace sillwright::app

#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/desk/item.h"
#include "app/drawings/label_layout.h"
#include "app/drawings/network_picture.h"
#include "app/drawings/network_scale.h"
#include "app/drawings/paper.h"

namespace sillwright::app {

/// The measured network: from above and from the side at one true scale, with how sure each point is as an ellipse,
/// drawn a stated number of times larger; the reading that is most in conflict thick, with its words; the next
/// reading dashed; what cannot be placed at the edge. It says which point or reading a person chose. The wheel looks
/// closer, dragging moves what is seen, a double click shows the whole again.
class NetworkDrawing : public Paper {
    Q_OBJECT

public:
    explicit NetworkDrawing(QWidget* parent = nullptr);

    void set_picture(NetworkPicture picture);
    [[nodiscard]] const NetworkPicture& picture() const { return picture_; }
    void set_marked(const Item& chosen, const Item& pointed);

    void draw(QPainter& painter, const QSizeF& sheet) const override;
    [[nodiscard]] QString title() const override;
    [[nodiscard]] QSize sizeHint() const override { return {800, 420}; }
    [[nodiscard]] QSize minimumSizeHint() const override { return {420, 220}; }

    /// Where a point is drawn; none if it is not placed.
    [[nodiscard]] std::optional<QPointF> place_of(const std::string& point, NetworkView view) const;
    /// Where the names stand on a sheet of the widget's size: no two touch; one that has no room is left out until its
    /// point is chosen.
    [[nodiscard]] std::vector<QRectF> name_boxes() const;
    /// So many times larger are ellipses drawn; 1 if there are none.
    [[nodiscard]] double exaggeration() const;
    /// How many times closer than the whole.
    [[nodiscard]] double times_closer() const { return closer_; }

signals:
    void chose(const sillwright::app::Item& item);
    void pointed(const sillwright::app::Item& item);

protected:
    void paintEvent(QPaintEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;
    void mouseDoubleClickEvent(QMouseEvent* event) override;
    void wheelEvent(QWheelEvent* event) override;
    void leaveEvent(QEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void focusInEvent(QFocusEvent* event) override;
    void focusOutEvent(QFocusEvent* event) override;

private:
    /// What is laid out once for a picture and a sheet.
    struct Layout {
        QSizeF sheet;
        bool bold = false;
        QRectF drawing, lacks, foot;
        std::optional<NetworkScale> scale;
        std::vector<LabelPlace> names;  ///< Of each point, then of each mirrored one; in the plan, then in the side.
    };
    [[nodiscard]] Layout lay_out(const QSizeF& sheet) const;
    [[nodiscard]] const Layout& layout_for(const QSizeF& sheet) const;
    [[nodiscard]] std::vector<LabelPlace> place_names(const NetworkScale& scale, NetworkView view,
                                                      const std::vector<LabelPlace>& before) const;
    [[nodiscard]] bool readable(const LabelPlace& name) const;
    [[nodiscard]] Item item_at(const QPointF& at) const;

    /// So many times closer than now, what is drawn at `at` staying there.
    void look_closer(double times, const QPointF& at);
    void look_at(double closer, const Eigen::Vector3d& middle_mm);
    void step(bool on);

    void draw_head(QPainter& painter, const Layout& layout) const;
    void draw_lines(QPainter& painter, const NetworkScale& scale) const;
    void draw_ellipses(QPainter& painter, const NetworkScale& scale) const;
    void draw_points(QPainter& painter, const NetworkScale& scale) const;
    void draw_point(QPainter& painter, const QPointF& at, const NetworkPoint& point) const;
    void draw_mirrors(QPainter& painter, const NetworkScale& scale) const;
    void draw_names(QPainter& painter, const Layout& layout) const;
    void draw_foot(QPainter& painter, const Layout& layout) const;
    void draw_lacking(QPainter& painter, const QRectF& room) const;
    void draw_problems(QPainter& painter, const QRectF& room) const;

    NetworkPicture picture_;
    Item chosen_, pointed_;
    double closer_ = 1.0;
    Eigen::Vector3d middle_mm_ = Eigen::Vector3d::Zero();  ///< Of what is seen, if it is not the whole.
    std::optional<QPointF> held_at_;                       ///< Where the hand holds the paper.
    mutable std::optional<Layout> layout_;
};

}  // namespace sillwright::app

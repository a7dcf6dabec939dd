#pragma once

#include <Eigen/Core>
#include <QPixmap>
#include <QString>
#include <memory>
#include <optional>
#include <vector>

#include "app/drawings/paper.h"
#include "geometry/mesh.h"

namespace sillwright::app {

/// From where a scan is seen, in its own frame.
enum class ScanView { above, side, end };

/// A mark on the scan, as it reads.
struct ScanDot {
    Eigen::Vector3d at_mm = Eigen::Vector3d::Zero();
    QString words;
};

/// The corners of a scan as dots, seen along one of its own axes. A press picks the corner that is nearest to the
/// pointer, of those the one towards the eye; the wheel zooms about the pointer, a drag moves the paper.
///
/// Units and frame: millimetres of the scan's own frame.
class ScanDrawing : public Paper {
    Q_OBJECT

public:
    explicit ScanDrawing(QWidget* parent = nullptr);

    void show_scan(std::shared_ptr<const geometry::Mesh> mesh, std::vector<ScanDot> marks);
    void show_sentence(const QString& sentence);
    void set_view(ScanView view);
    /// A place that is about to become a mark.
    void show_picked(const std::optional<Eigen::Vector3d>& at_mm);

    void draw(QPainter& painter, const QSizeF& sheet) const override;
    [[nodiscard]] QString title() const override { return tr("scan with its marks"); }
    [[nodiscard]] QPointF on_paper(const Eigen::Vector3d& p_mm) const;
    [[nodiscard]] QSize sizeHint() const override { return {700, 420}; }
    [[nodiscard]] QSize minimumSizeHint() const override { return {320, 120}; }

public slots:
    void fit();

signals:
    void picked(const Eigen::Vector3d& at_mm);

protected:
    void resizeEvent(QResizeEvent* event) override;
    void wheelEvent(QWheelEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;

private:
    [[nodiscard]] Eigen::Vector2d seen(const Eigen::Vector3d& p_mm) const;
    [[nodiscard]] double depth(const Eigen::Vector3d& p_mm) const;
    [[nodiscard]] std::optional<Eigen::Vector3d> corner_at(const QPointF& p) const;

    std::shared_ptr<const geometry::Mesh> mesh_;
    std::vector<ScanDot> marks_;
    std::optional<Eigen::Vector3d> picked_;
    QString sentence_;
    ScanView view_ = ScanView::above;
    double pixels_ = 1.0;
    QPointF origin_;
    bool own_view_ = false;

    bool pressed_ = false, moved_ = false;
    QPointF pressed_at_, origin_then_;
};

}  // namespace sillwright::app

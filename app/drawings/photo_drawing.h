#pragma once

#include <Eigen/Core>
#include <QImage>
#include <QPixmap>
#include <QString>
#include <optional>
#include <vector>

#include "app/drawings/paper.h"

namespace sillwright::app {

/// A known place in a photo, as it reads.
struct PhotoMark {
    Eigen::Vector2d at_px = Eigen::Vector2d::Zero();
    QString words;  ///< "H3 · off by 0.4 mm"
    bool known = false;
};

/// A photo as it was taken, with its known places. A press on it picks a place, a drag of a place moves it, the wheel
/// zooms about the pointer, a drag elsewhere moves the photo; arrow keys move the chosen place by a pixel, with Shift
/// by ten.
///
/// Units and frame: pixels of the photo, right and down.
class PhotoDrawing : public Paper {
    Q_OBJECT

public:
    explicit PhotoDrawing(QWidget* parent = nullptr);

    /// `photo_per_picture`: pixels of the photo to one of the picture. Another picture is fitted to the widget.
    void show_photo(const QImage& picture, double photo_per_picture, std::vector<PhotoMark> marks);
    /// Instead of a photo.
    void show_sentence(const QString& sentence);
    void choose(std::optional<std::size_t> mark);
    /// Beside the pointer's place: what is written in the corner.
    void say(const QString& words);

    void draw(QPainter& painter, const QSizeF& sheet) const override;
    [[nodiscard]] QString title() const override { return tr("photo with its known points"); }

    [[nodiscard]] QPointF on_paper(const Eigen::Vector2d& p_px) const;
    [[nodiscard]] Eigen::Vector2d from_paper(const QPointF& p) const;
    [[nodiscard]] const QString& said() const { return said_; }
    [[nodiscard]] QSize sizeHint() const override { return {700, 480}; }
    [[nodiscard]] QSize minimumSizeHint() const override { return {320, 140}; }

public slots:
    void fit();

signals:
    void picked(const Eigen::Vector2d& at_px);
    void chose(std::size_t mark);
    void moved(std::size_t mark, const Eigen::Vector2d& to_px);
    void pointed(const Eigen::Vector2d& at_px);
    void delete_wished(std::size_t mark);

protected:
    void resizeEvent(QResizeEvent* event) override;
    void wheelEvent(QWheelEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;

private:
    [[nodiscard]] std::optional<std::size_t> mark_at(const QPointF& p) const;

    QPixmap picture_;
    qint64 key_ = 0;
    double photo_per_picture_ = 1.0;
    std::vector<PhotoMark> marks_;
    std::optional<std::size_t> chosen_;
    QString sentence_, said_;

    double pixels_ = 1.0;  ///< Of the paper, for one of the photo.
    QPointF origin_;       ///< Of the photo's upper left corner.
    bool own_view_ = false;

    enum class Press { none, waiting, paper, mark } press_ = Press::none;
    QPointF pressed_at_, origin_then_;
    std::size_t held_ = 0;
};

}  // namespace sillwright::app

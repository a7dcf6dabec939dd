#pragma once

#include <QImage>
#include <QPixmap>
#include <QWidget>

#include "geometry/result.h"

class QPushButton;
class QSlider;

namespace sillwright::app {

/// A photo to lay under a drawing, turned as the camera was held; a very large one is made smaller.
/// Errors: unreadable_file, with the file and what would be right.
geometry::Result<QPixmap> read_photo(const QString& file);

/// A photo as a picture: how many of its pixels, turned as the camera was held, make one of the picture.
struct ReadPicture {
    QImage picture;
    double photo_per_picture = 1.0;
};
/// As read_photo; may be used in any thread.
geometry::Result<ReadPicture> read_picture(const QString& file);

/// What can be done with a photo that lies under a drawing; seen while there is one.
class PhotoBar : public QWidget {
    Q_OBJECT

public:
    explicit PhotoBar(QWidget* parent = nullptr);

    /// The button that lays one; stands elsewhere.
    [[nodiscard]] QPushButton* lay_button() const { return lay_; }
    [[nodiscard]] QPushButton* move_button() const { return move_; }
    [[nodiscard]] QPushButton* scale_button() const { return scale_; }

    /// A photo was laid; it was taken away.
    void begin(double opacity);
    void end();

signals:
    void opacity_changed(double opacity);
    void taken_away();

private:
    QPushButton* button(const QString& name, const QString& text, const QString& help);

    QPushButton *lay_, *move_, *scale_;
    QSlider* opacity_;
};

}  // namespace sillwright::app

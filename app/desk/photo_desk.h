#pragma once

#include <Eigen/Core>
#include <QWidget>
#include <memory>
#include <optional>
#include <string>

#include "core/survey/underlay.h"

class QComboBox;
class QLabel;
class QLineEdit;
class QPushButton;

namespace sillwright::app {

class PhotoDrawing;
class Underlays;
struct LaidPhoto;

/// The photos of the job: which plane each shows, and the known points that straighten it.
class PhotoDesk : public QWidget {
    Q_OBJECT

public:
    explicit PhotoDesk(Underlays& underlays, QWidget* parent = nullptr);

    [[nodiscard]] PhotoDrawing& drawing() { return *drawing_; }
    /// Puts the file beside the job and begins with it. Refused in words if the job was never saved.
    void add(const QString& file);

private:
    QWidget* make_top();
    QWidget* make_point();
    void follow();
    void show_point();
    void ask_for_photo();
    void set_plane();
    void type(bool across, QLineEdit* field);
    void point(const Eigen::Vector2d& at_px);
    [[nodiscard]] const core::survey::Photo* photo() const;
    [[nodiscard]] std::shared_ptr<const LaidPhoto> laid() const;

    Underlays& underlays_;
    PhotoDrawing* drawing_;
    QComboBox *photos_, *plane_, *book_point_;
    QLineEdit *across_, *up_;
    QLabel *across_name_, *which_, *words_;
    QPushButton *delete_photo_, *delete_point_;
    QWidget* point_row_;
    std::string chosen_;                ///< Name of the photo.
    std::optional<std::size_t> point_;  ///< Of its points.
};

}  // namespace sillwright::app

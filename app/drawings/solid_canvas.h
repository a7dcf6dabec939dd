#pragma once

#include <QOpenGLWidget>
#include <memory>
#include <optional>
#include <vector>

#include "app/drawings/solid_scene.h"

namespace sillwright::app {

/// OpenCASCADE's picture of some bodies, inside a widget: drag with the left
/// button turns it, with the middle one moves it, the wheel zooms.
///
/// Precondition: why_no_solid_picture() is empty. AA_ShareOpenGLContexts was set
///   before the QApplication, or moving the widget to another window breaks its
///   textures.
/// A failure of the graphics is written in the picture's place.
class SolidCanvas : public QOpenGLWidget {
    Q_OBJECT

public:
    explicit SolidCanvas(QWidget* parent = nullptr);
    ~SolidCanvas() override;

    /// Replaces what is shown, and fits it into the window.
    void show_bodies(const std::vector<SolidBody>& bodies);
    /// Places one body; index as in show_bodies.
    void set_pose(std::size_t body, const DoorPose& pose);

    [[nodiscard]] QSize sizeHint() const override { return {600, 300}; }
    [[nodiscard]] QSize minimumSizeHint() const override { return {240, 160}; }

protected:
    void initializeGL() override;
    void paintGL() override;
    void mousePressEvent(QMouseEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void wheelEvent(QWheelEvent* event) override;

private:
    void pass_on_buttons(QMouseEvent* event);

    struct Viewer;  ///< All that is OpenCASCADE's.
    std::unique_ptr<Viewer> viewer_;
    std::vector<SolidBody> bodies_;  ///< Kept: a new context needs them again.
    std::vector<std::optional<DoorPose>> poses_;
    QString failure_;
};

}  // namespace sillwright::app

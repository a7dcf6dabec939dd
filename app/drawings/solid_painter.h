#pragma once

#include <QImage>
#include <QSize>
#include <QString>
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <vector>

#include "app/drawings/solid_look.h"
#include "app/drawings/solid_scene.h"
#include "app/looks.h"

namespace sillwright::app {

/// One body of a picture, where it stands.
struct PaintedBody {
    SolidRole role = SolidRole::body;
    std::shared_ptr<const geometry::Mesh> mesh;
    DoorPose pose = DoorPose::Identity();
    bool chosen = false;
    std::shared_ptr<const std::vector<int>> tints{};  ///< As in SolidBody.
};

/// All that is to be seen in a picture: a plain value.
struct SolidPicture {
    std::vector<PaintedBody> bodies;
    std::optional<geometry::Length> section;  ///< Where the section plane stands, x of the car; none for no plane.
    std::vector<Eigen::Vector3d> watched_mm;  ///< Places of which to tell whether a body hides them.
    SolidBounds about;                        ///< What the section plane's frame goes round.
    SolidLook look;
    looks::Tone tone = looks::Tone::light;
    QSize pixels;
    bool fine = true;          ///< With smooth edges, which takes longer.
    std::uint64_t number = 0;  ///< The wisher's own, to know the picture by.
};

/// A picture as it was drawn; or why it could not be.
struct PaintedSolid {
    QImage image;     ///< Null if it failed.
    QString failure;  ///< A sentence.
    SolidLook look;   ///< This, fine and number as they were asked for.
    bool fine = true;
    std::uint64_t number = 0;
    std::vector<bool> hidden;  ///< As many as the places that were watched; empty if not fine.
    bool in_software = false;  ///< No graphics hardware drew it.
};

/// Draws solids with OpenCASCADE into images, off the screen and in a thread of its own: the window
/// stays free while it draws, and its other drawings need no OpenGL.
///
/// It has its own connection to the X server and its own window there, never shown.
class SolidPainter {
public:
    /// `done` is called in the painter's own thread for every picture drawn.
    explicit SolidPainter(std::function<void(PaintedSolid)> done);
    /// Waits for the picture that is being drawn.
    ~SolidPainter();

    /// Draws it as soon as the one before is done; one that waited is forgotten: only the latest counts.
    /// Once nothing new has come for a moment, one that was not fine is drawn again, fine.
    void want(SolidPicture picture);
    /// Draws it at once, and waits; `done` is not called.
    [[nodiscard]] PaintedSolid now(SolidPicture picture);

private:
    class Studio;
    std::unique_ptr<Studio> studio_;
};

}  // namespace sillwright::app

#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <optional>
#include <vector>

#include "app/drawings/solid_look.h"
#include "app/drawings/solid_scene.h"

namespace sillwright::app {

/// A body as the pointer meets it.
struct PickedBody {
    std::shared_ptr<const geometry::Mesh> mesh;
    SolidBounds bounds;  ///< Of the mesh as it is, unmoved.
    DoorPose pose = DoorPose::Identity();
};

struct SolidHit {
    std::size_t body = 0;
    Eigen::Vector3d at_mm = Eigen::Vector3d::Zero();  ///< On its surface, where it stands.
};

/// What is seen at a point of the sheet: the first body from the eye, and where; none on bare paper.
/// Either side of a triangle counts.
std::optional<SolidHit> hit_at(const std::vector<PickedBody>& bodies, const SolidLook& look, const QPointF& point,
                               const QSizeF& sheet);

}  // namespace sillwright::app

#include "app/print/solid_lines.h"

#include <gtest/gtest.h>

#include <cmath>
#include <memory>

namespace sillwright::app::print {
namespace {

/// A box between two corners, faces outward.
std::shared_ptr<const geometry::Mesh> box(const Eigen::Vector3d& low, const Eigen::Vector3d& high) {
    auto mesh = std::make_shared<geometry::Mesh>();
    for (int i = 0; i < 8; ++i) {
        mesh->points.emplace_back((i & 1) != 0 ? high.x() : low.x(), (i & 2) != 0 ? high.y() : low.y(),
                                  (i & 4) != 0 ? high.z() : low.z());
    }
    mesh->triangles = {{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4},
                       {2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}};
    return mesh;
}

double drawn(const std::vector<SolidLine>& lines, SolidRole role) {
    double length = 0.0;
    for (const SolidLine& line : lines) {
        length += line.role == role ? line.line.length() : 0.0;
    }
    return length;
}

// Of a box seen from a corner nine of its twelve edges are seen.
TEST(SolidLines, LeavesOutWhatIsHidden) {
    SolidScene scene;
    scene.bodies.push_back({"box", SolidRole::skirt, box({-50.0, -50.0, -50.0}, {50.0, 50.0, 50.0}), std::nullopt});
    SolidLook look;
    look.around = geometry::degrees(45.0);
    look.above = geometry::degrees(35.26);  // All edges look equally long.
    look.across = geometry::millimetres(300.0);
    const QSizeF sheet(600.0, 600.0);
    const double edge = 100.0 / look.mm_per_pixel(sheet) * std::sqrt(2.0 / 3.0);
    EXPECT_NEAR(drawn(solid_lines(scene, look, sheet), SolidRole::skirt), 9.0 * edge, 0.08 * edge);
    // A larger one before it hides it all.
    const Eigen::Vector3d before = 200.0 * look.to_eye();
    scene.bodies.push_back({"cover", SolidRole::body,
                            box(before - Eigen::Vector3d::Constant(120.0), before + Eigen::Vector3d::Constant(120.0)),
                            std::nullopt});
    EXPECT_EQ(drawn(solid_lines(scene, look, sheet), SolidRole::skirt), 0.0);
}

}  // namespace
}  // namespace sillwright::app::print

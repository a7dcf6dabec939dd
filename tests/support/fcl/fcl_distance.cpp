#include "tests/support/fcl/fcl_distance.h"

#include <fcl/geometry/bvh/BVH_model.h>
#include <fcl/math/bv/OBBRSS.h>
#include <fcl/narrowphase/detail/primitive_shape_algorithm/triangle_distance.h>
#include <fcl/narrowphase/distance.h>

#include <array>
#include <limits>
#include <vector>

namespace sillwright::tests {

struct FclBody::Model {
    fcl::BVHModel<fcl::OBBRSS<double>> bodies;
};

FclBody::FclBody(const geometry::Mesh& mesh) : model_{std::make_unique<Model>()} {
    std::vector<fcl::Triangle> triangles;
    triangles.reserve(mesh.triangles.size());
    for (const geometry::Triangle& t : mesh.triangles) {
        triangles.emplace_back(static_cast<std::size_t>(t[0]), static_cast<std::size_t>(t[1]),
                               static_cast<std::size_t>(t[2]));
    }
    model_->bodies.beginModel();
    model_->bodies.addSubModel(mesh.points, triangles);
    model_->bodies.endModel();
}

FclBody::~FclBody() = default;
FclBody::FclBody(FclBody&&) noexcept = default;
FclBody& FclBody::operator=(FclBody&&) noexcept = default;

FclNearest fcl_distance(const FclBody& fixed, const FclBody& moving, const Eigen::Isometry3d& place,
                        double nearer_than_mm) {
    const fcl::DistanceRequest<double> request(true);  // With nearest points; no error allowed.
    fcl::DistanceResult<double> result;
    result.min_distance = nearer_than_mm;
    const Eigen::Isometry3d still = Eigen::Isometry3d::Identity();
    fcl::distance(&fixed.model().bodies, still, &moving.model().bodies, place, request, result);
    FclNearest nearest{result.min_distance, result.nearest_points[0], result.nearest_points[1], std::nullopt};
    if (result.o1 != nullptr) {
        nearest.pair = FclPair{static_cast<int>(result.b1), static_cast<int>(result.b2)};
    }
    return nearest;
}

FclNearest fcl_distance(const FclBody& fixed, const FclBody& moving, const Eigen::Isometry3d& place) {
    return fcl_distance(fixed, moving, place, std::numeric_limits<double>::max());
}

double fcl_pair_distance(const FclBody& fixed, const FclBody& moving, const Eigen::Isometry3d& place,
                         const FclPair& pair) {
    const auto corners = [](const FclBody& body, int triangle) {
        const auto& bodies = body.model().bodies;
        const fcl::Triangle& t = bodies.tri_indices[triangle];
        return std::array<Eigen::Vector3d, 3>{bodies.vertices[t[0]], bodies.vertices[t[1]], bodies.vertices[t[2]]};
    };
    const auto a = corners(fixed, pair.fixed);
    const auto b = corners(moving, pair.moving);
    Eigen::Vector3d on_a;
    Eigen::Vector3d on_b;
    return fcl::detail::TriangleDistance<double>::triDistance(a.data(), b.data(), place, on_a, on_b);
}

}  // namespace sillwright::tests

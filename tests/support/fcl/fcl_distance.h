#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <memory>
#include <optional>

#include "geometry/mesh.h"

namespace sillwright::tests {

/// A mesh as the Flexible Collision Library holds it, to check our distances
/// against and to measure beside. Its headers are heavy: they are read in one file.
class FclBody {
public:
    explicit FclBody(const geometry::Mesh& mesh);
    ~FclBody();
    FclBody(FclBody&&) noexcept;
    FclBody& operator=(FclBody&&) noexcept;

    struct Model;
    [[nodiscard]] const Model& model() const { return *model_; }

private:
    std::unique_ptr<Model> model_;
};

/// Two triangles, by their numbers in the meshes.
struct FclPair {
    int fixed = 0, moving = 0;
};

struct FclNearest {
    double distance_mm;
    Eigen::Vector3d on_fixed_mm, on_moving_mm;
    std::optional<FclPair> pair;  ///< None if nothing was nearer than the limit.
};

/// Distance of two bodies, the moving one placed; what is not nearer than
/// `nearer_than_mm` is not looked for, and the answer is then not below that.
FclNearest fcl_distance(const FclBody& fixed, const FclBody& moving, const Eigen::Isometry3d& place,
                        double nearer_than_mm);
/// Without such a limit.
FclNearest fcl_distance(const FclBody& fixed, const FclBody& moving, const Eigen::Isometry3d& place);

/// Distance of two triangles alone: what was nearest at the last pose is a good limit at the next.
double fcl_pair_distance(const FclBody& fixed, const FclBody& moving, const Eigen::Isometry3d& place,
                         const FclPair& pair);

}  // namespace sillwright::tests

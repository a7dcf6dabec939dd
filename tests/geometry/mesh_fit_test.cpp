#include "geometry/mesh_fit.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <random>

namespace sillwright::geometry {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;

/// A hollow strip along x whose height changes along x by `bow` (0: prismatic).
Mesh strip(double bow) {
    Mesh mesh;
    constexpr int k_along = 40;
    constexpr int k_across = 12;
    for (int i = 0; i <= k_along; ++i) {
        for (int j = 0; j <= k_across; ++j) {
            const double x = 30.0 * i;
            const double s = 15.0 * j;
            mesh.points.emplace_back(x, s, 40.0 * std::sin(s / 60.0) + bow * std::sin(x / 150.0));
        }
    }
    for (std::int32_t i = 0; i < k_along; ++i) {
        for (std::int32_t j = 0; j < k_across; ++j) {
            const std::int32_t a = i * (k_across + 1) + j;
            const std::int32_t b = a + k_across + 1;
            mesh.triangles.push_back({a, b, b + 1});
            mesh.triangles.push_back({a, b + 1, a + 1});
        }
    }
    return mesh;
}

struct Moved {
    Matrix3d rotation;
    Vector3d shift;
    std::vector<Vector3d> points;  ///< On the surface once moved by rotation and shift.
};

Moved moved(const Mesh& mesh, double noise_mm) {
    Moved m;
    m.rotation = Eigen::AngleAxisd(0.04, Vector3d(1, 2, -1).normalized()).toRotationMatrix();
    m.shift = Vector3d(12, -8, 6);
    std::mt19937_64 engine{5};
    std::normal_distribution<double> noise(0.0, noise_mm);
    for (const Triangle& t : mesh.triangles) {
        const Vector3d middle =
            (mesh.points[static_cast<std::size_t>(t[0])] + mesh.points[static_cast<std::size_t>(t[1])] +
             mesh.points[static_cast<std::size_t>(t[2])]) /
            3.0;
        if (middle.x() > 100.0 && middle.x() < 1100.0) {
            const Vector3d off =
                noise_mm > 0.0 ? Vector3d(noise(engine), noise(engine), noise(engine)) : Vector3d(0, 0, 0);
            m.points.push_back(m.rotation.transpose() * (middle + off - m.shift));
        }
    }
    return m;
}

double greatest_error(const Moved& m, const MeshFit& fit) {
    double most = 0.0;
    for (const Vector3d& p : m.points) {
        most = std::max(most, (fit.rotation * p + fit.shift_mm - m.rotation * p - m.shift).norm());
    }
    return most;
}

TEST(MeshFit, FindsAKnownMotion) {
    const Mesh mesh = strip(25.0);
    const auto tree = DistanceTree::build(mesh).value();
    const Moved m = moved(mesh, 0.0);
    const auto fit = fit_to_mesh(m.points, tree, Matrix3d::Identity(), Vector3d::Zero()).value();
    EXPECT_TRUE(fit.converged);
    EXPECT_LT(fit.rms_mm, 1e-3);
    EXPECT_LT(greatest_error(m, fit), 0.02);
    EXPECT_GT(fit.share, 0.5);
}

TEST(MeshFit, BearsNoiseWithOutliers) {
    const Mesh mesh = strip(25.0);
    const auto tree = DistanceTree::build(mesh).value();
    Moved m = moved(mesh, 0.3);
    const std::size_t good = m.points.size();
    for (std::size_t i = 0; i < good / 5; ++i) {  // a clamp that was in the way
        m.points.push_back(m.points[i] + Vector3d(0, 0, 30.0 + 0.1 * static_cast<double>(i % 50)));
    }
    const auto fit = fit_to_mesh(m.points, tree, Matrix3d::Identity(), Vector3d::Zero()).value();
    m.points.resize(good);
    EXPECT_TRUE(fit.converged);
    EXPECT_LT(greatest_error(m, fit), 0.5);
    EXPECT_NEAR(fit.rms_mm, 0.3, 0.06);
    EXPECT_LT(fit.share, 0.9) << "the clamp does not count";
}

TEST(MeshFit, SaysThatItCannotTellASlideAlongAPrism) {
    const Mesh mesh = strip(0.0);
    const auto tree = DistanceTree::build(mesh).value();
    const Moved m = moved(mesh, 0.1);
    const auto fit = fit_to_mesh(m.points, tree, Matrix3d::Identity(), Vector3d::Zero()).value();
    // The weakest first; round its own hollow such a strip is weak too.
    ASSERT_FALSE(fit.weak.empty());
    EXPECT_FALSE(fit.weak[0].turn);
    EXPECT_TRUE(fit.weak[0].held);
    EXPECT_GT(std::abs(fit.weak[0].direction.x()), 0.999);
    EXPECT_LT(fit.rms_mm, 0.15);
}

TEST(MeshFit, RefusesWhatIsNotThere) {
    const auto tree = DistanceTree::build(strip(25.0)).value();
    const std::vector<Vector3d> few(5, Vector3d::Zero());
    EXPECT_EQ(fit_to_mesh(few, tree, Matrix3d::Identity(), Vector3d::Zero()).error().code, ErrorCode::invalid_argument);
    std::vector<Vector3d> beside;
    for (int i = 0; i < 40; ++i) {
        beside.emplace_back(-5000.0 - i, 20.0 * i, 100.0);
    }
    EXPECT_EQ(fit_to_mesh(beside, tree, Matrix3d::Identity(), Vector3d::Zero()).error().code, ErrorCode::does_not_fit);
}

}  // namespace
}  // namespace sillwright::geometry

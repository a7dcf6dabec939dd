#include "core/buck/plug_mesh.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <limits>
#include <memory>
#include <string>

#include "core/buck/buck_plan.h"
#include "core/evaluate.h"
#include "core/job_file.h"

namespace sillwright::core {
namespace {

std::shared_ptr<const Evaluation> evaluated(const std::string& sample) {
    const std::filesystem::path folder = std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples";
    return evaluate(read_job(folder / sample).value(), folder, {}, Mends::leave).value();
}

class PlugMesh : public testing::TestWithParam<const char*> {};

TEST_P(PlugMesh, IsClosedAndFacesOutward) {
    const auto evaluation = evaluated(GetParam());
    const PieceBuck& buck = evaluation->buck->pieces.at(0);
    const auto made = plug_mesh(evaluation->job, evaluation->car, buck);
    ASSERT_TRUE(made) << made.error().message;
    EXPECT_EQ(geometry::open_edge_count(made.value()), 0U);
    EXPECT_GT(geometry::volume_mm3(made.value()), 0.0);
}

// A rib's edge lies a skin's thickness below the plug's surface: its outline and the plug's cross-section differ by the
// skin all round, so that the areas differ by the skin times the outline's own length, within the corners.
TEST_P(PlugMesh, StandsASkinOffTheRibs) {
    const auto evaluation = evaluated(GetParam());
    const PieceBuck& buck = evaluation->buck->pieces.at(0);
    const geometry::Mesh mesh = plug_mesh(evaluation->job, evaluation->car, buck).value();
    const double sign = evaluation->job.side == Side::left ? -1.0 : 1.0;
    for (const Rib& rib : buck.ribs) {
        const auto row = std::find_if(mesh.points.begin(), mesh.points.end(),
                                      [&](const Eigen::Vector3d& p) { return std::abs(p.x() - rib.x_mm) < 0.02; });
        if (row == mesh.points.end()) {
            continue;  // Its place is between two rows.
        }
        const double x = row->x();
        double nearest = std::numeric_limits<double>::max();
        for (auto p = row; p != mesh.points.end() && p->x() == x; ++p) {
            const Eigen::Vector2d at(p->z(), sign * p->y());
            if (at.y() > 1.0) {
                nearest = std::min(nearest, in_mm(geometry::nearest_point(rib.outline, at).distance));
                EXPECT_FALSE(geometry::contains(rib.outline, at)) << rib.label;
            }
        }
        EXPECT_NEAR(nearest, buck.skin_mm, 0.05) << rib.label;
    }
}

INSTANTIATE_TEST_SUITE_P(Samples, PlugMesh,
                         testing::Values("estate_a.sillwright", "estate_a_left.sillwright",
                                         "estate_a_flutes.sillwright"));

}  // namespace
}  // namespace sillwright::core

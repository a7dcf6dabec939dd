#include "core/skirt/piece_solid.h"

#include <gtest/gtest.h>

#include <filesystem>

#include "core/job_file.h"
#include "geometry/mesh.h"

namespace sillwright::core {
namespace {

using geometry::millimetres;

TEST(PieceSolid, IsTheSheetOfItsMesh) {
    const auto job = read_job(std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples/estate_a.sillwright");
    ASSERT_TRUE(job) << job.error().message;
    Job even = job.value();
    even.forming = {};  // The same thickness everywhere.
    even.skirt.pieces[0].sheet = Entry{millimetres(3.0), ""};
    std::vector<Finding> findings;
    const auto model = piece_model(even, 0, {}, millimetres(0.02), findings);
    ASSERT_TRUE(model) << model.error().message;
    const auto solid = piece_solid(even.skirt.pieces[0], model.value(), millimetres(0.01));
    ASSERT_TRUE(solid) << solid.error().message;
    EXPECT_TRUE(is_valid(solid.value()).value());
    EXPECT_EQ(solid_count(solid.value()), 1U);
    const geometry::Mesh& mesh = model.value().body->mesh;
    EXPECT_NEAR(kernel_volume_mm3(solid.value()).value(), volume_mm3(mesh), 0.03 * area_mm2(mesh));
    // A sheet of 3 mm: about 3 mm times half the area of all its faces.
    EXPECT_NEAR(volume_mm3(mesh), 1.5 * area_mm2(mesh), 0.03 * volume_mm3(mesh));
}

TEST(PieceSolid, RefusesAFitOfNothing) {
    const auto job = read_job(std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples/estate_a.sillwright");
    std::vector<Finding> findings;
    const auto model = piece_model(job.value(), 0, {}, millimetres(0.02), findings);
    const auto solid = piece_solid(job.value().skirt.pieces[0], model.value(), {});
    ASSERT_FALSE(solid);
    EXPECT_EQ(solid.error().message.substr(0, 21), "skirt piece \"skirt\": ");
}

}  // namespace
}  // namespace sillwright::core

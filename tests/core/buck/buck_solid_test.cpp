#include "core/buck/buck_solid.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <numbers>

#include "geometry/kernel/shape.h"

namespace sillwright::core {
namespace {

geometry::Profile board(double width, double height, double left = 0.0) {
    const double right = left + width;
    return geometry::make_profile({{{left, 0.0}, {}}, {{right, 0.0}, {}}, {{right, height}, {}}, {{left, height}, {}}},
                                  true)
        .value();
}

/// One rib of 12 mm with its rear face at 300, a spine of 10 mm at the side 40, a base of 18 mm.
BuckPlan plan_of_three() {
    Rib rib;
    rib.label = "R1";
    rib.x_mm = 300.0;
    rib.place_is_front = false;
    rib.thickness_mm = 12.0;
    Spine spine;
    spine.label = "S1";
    spine.side_mm = 40.0;
    spine.thickness_mm = 10.0;
    PieceBuck buck;
    buck.ribs = {rib};
    buck.spines = {spine};
    buck.base = BaseBoard{"B1", 0.0, 600.0, 0.0, 100.0, 18.0};
    return {{buck}};
}

std::vector<CutPart> three_parts() {
    std::vector<CutPart> parts(3);
    parts[0].label = "R1";
    parts[0].outline = board(80.0, 60.0);
    parts[0].holes = {{{20.0, 30.0}, 6.0, "datum rod 1"}};
    parts[1].label = "S1";
    parts[1].outline = board(500.0, 30.0);
    parts[2].label = "B1";
    parts[2].outline =
        board(600.0, 100.0, -600.0);  // Of a base on the right-hand side, seen from above: x to the left.
    return parts;
}

Eigen::AlignedBox3d box_of(const geometry::Shape& shape) {
    Eigen::AlignedBox3d box;
    const geometry::Mesh mesh = geometry::mesh_of(shape, geometry::millimetres(0.1)).value();
    for (const Eigen::Vector3d& p : mesh.points) {
        box.extend(p);
    }
    return box;
}

void expect_box(const geometry::NamedShape& part, const Eigen::Vector3d& low, const Eigen::Vector3d& high) {
    const Eigen::AlignedBox3d box = box_of(part.shape);
    EXPECT_TRUE(box.min().isApprox(low, 1e-9)) << part.name << ": " << box.min().transpose();
    EXPECT_TRUE(box.max().isApprox(high, 1e-9)) << part.name << ": " << box.max().transpose();
}

TEST(BuckSolid, StandsEachBoardInItsPlace) {
    const auto shapes = buck_solids(Job{}, plan_of_three(), three_parts());
    ASSERT_TRUE(shapes) << shapes.error().message;
    ASSERT_EQ(shapes.value().size(), 3U);
    expect_box(shapes.value()[0], {288.0, 0.0, 0.0}, {300.0, 60.0, 80.0});
    expect_box(shapes.value()[1], {0.0, 0.0, 35.0}, {500.0, 30.0, 45.0});
    expect_box(shapes.value()[2], {0.0, -18.0, 0.0}, {600.0, 0.0, 100.0});
    EXPECT_NEAR(geometry::kernel_volume_mm3(shapes.value()[0].shape).value(),
                (80.0 * 60.0 - 9.0 * std::numbers::pi) * 12.0, 1e-3);
}

TEST(BuckSolid, IsTheMirrorOnTheOtherSideOfTheCar) {
    Job job;
    job.side = Side::left;
    const auto shapes = buck_solids(job, plan_of_three(), three_parts());
    ASSERT_TRUE(shapes) << shapes.error().message;
    expect_box(shapes.value()[0], {288.0, -60.0, 0.0}, {300.0, 0.0, 80.0});
    EXPECT_GT(geometry::kernel_volume_mm3(shapes.value()[0].shape).value(), 0.0);
}

TEST(BuckSolid, NamesThePartThatIsNone) {
    std::vector<CutPart> parts = three_parts();
    parts[0].holes[0].at_mm = {0.0, 30.0};
    const auto shapes = buck_solids(Job{}, plan_of_three(), parts);
    ASSERT_FALSE(shapes);
    EXPECT_THAT(shapes.error().message, testing::HasSubstr("Buck part R1"));
}

}  // namespace
}  // namespace sillwright::core

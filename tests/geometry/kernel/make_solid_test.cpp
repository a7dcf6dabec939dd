#include "geometry/kernel/make_solid.h"

#include <gtest/gtest.h>

#include <chrono>
#include <cmath>
#include <fstream>
#include <iterator>
#include <numbers>
#include <ostream>

#include "geometry/kernel/step_file.h"
#include "geometry/sheet_ring.h"
#include "tests/support/example_lofts.h"

namespace sillwright::geometry {
namespace {

constexpr Length k_tolerance = millimetres(0.02);
constexpr Length k_fit = millimetres(0.005);

struct Body {
    std::string name;
    RingBody body;
    RingMesh mesh;
};

Body sheet(const std::string& name, const Loft& loft, const SheetFaces& faces) {
    RingBody body = sheet_ring(loft, faces, layout_of_sheet(loft, faces, 0.5 * k_tolerance).value()).value();
    RingMesh mesh = mesh_of(body, k_tolerance).value();
    return {name, std::move(body), std::move(mesh)};
}

Body solid(const std::string& name, const Loft& loft) {
    RingBody body = solid_ring(loft, layout_of_solid(loft, 0.5 * k_tolerance).value()).value();
    RingMesh mesh = mesh_of(body, k_tolerance).value();
    return {name, std::move(body), std::move(mesh)};
}

void PrintTo(const Body& body, std::ostream* out) {
    *out << body.name;
}

std::vector<Body> bodies() {
    using namespace examples;
    const SheetFaces outward{millimetres(3.0), millimetres(0.0)};
    const SheetFaces both{millimetres(1.5), millimetres(-2.5)};
    return {sheet("skirt", skirt(), outward),
            sheet("fluted skirt", fluted_skirt(), outward),
            sheet("fluted, both sides", fluted_skirt(), both),
            sheet("awkward", awkward(), both),
            solid("panel", panel()),
            solid("panel clockwise", panel(true))};
}

class MakeSolidOf : public testing::TestWithParam<Body> {};

TEST_P(MakeSolidOf, IsValidAndKeepsItsVolumeThroughAStepFile) {
    const auto begin = std::chrono::steady_clock::now();
    const auto made = make_solid(GetParam().body, GetParam().mesh, k_fit);
    const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
    ASSERT_TRUE(made.has_value()) << made.error().message;
    RecordProperty("milliseconds", static_cast<int>(1000.0 * seconds));
    RecordProperty("faces", static_cast<int>(face_count(made.value())));
    EXPECT_EQ(solid_count(made.value()), 1U);
    EXPECT_TRUE(is_valid(made.value()).value());
    const double volume = kernel_volume_mm3(made.value()).value();
    const Mesh& mesh = GetParam().mesh.mesh;
    EXPECT_NEAR(volume, volume_mm3(mesh), in_mm(mesh.deviation + k_fit) * area_mm2(mesh));

    const auto path = std::filesystem::temp_directory_path() / "sillwright_make_solid_test.stp";
    ASSERT_TRUE(write_step(path, {{GetParam().name, made.value()}}).has_value());
    const auto back = read_step(path);
    ASSERT_TRUE(back.has_value()) << back.error().message;
    EXPECT_EQ(solid_count(back.value()), 1U);
    EXPECT_TRUE(is_valid(back.value()).value());
    EXPECT_NEAR(kernel_volume_mm3(back.value()).value() / volume, 1.0, 1e-6);
    std::filesystem::remove(path);
}

INSTANTIATE_TEST_SUITE_P(Bodies, MakeSolidOf, testing::ValuesIn(bodies()));

// Closed form (Steiner): t L + t^2 turn / 2, as in the test of sheet_ring.
TEST(MakeSolid, PrismHasItsVolume) {
    using examples::node;
    const std::vector<LoftNode> nodes{node("a", 0, 0), node("b", 0, 100, 10), node("c", 100, 100)};
    const Loft loft = Loft::make({{millimetres(0.0), nodes}, {millimetres(500.0), nodes}}, {}, false).value();
    const Body body = sheet("angle", loft, {millimetres(3.0), millimetres(0.0)});
    const Shape shape = make_solid(body.body, body.mesh, k_fit).value();
    const double area = 3.0 * (180.0 + 5.0 * std::numbers::pi) + 9.0 * std::numbers::pi / 4.0;
    EXPECT_NEAR(kernel_volume_mm3(shape).value() / (area * 500.0), 1.0, 1e-9);
    EXPECT_EQ(face_count(shape), 10U);  // three strips a face, two edges, two ends
}

TEST(MakeSolid, RefusesWhatItCannotMake) {
    const Body body = solid("panel", examples::panel());
    EXPECT_FALSE(make_solid(body.body, body.mesh, millimetres(0.0)).has_value());
    RingBody no_curves = body.body;
    no_curves.curves = nullptr;
    EXPECT_FALSE(make_solid(no_curves, body.mesh, k_fit).has_value());
    RingMesh other = body.mesh;  // a mesh of something else: the volumes do not agree
    for (auto& p : other.mesh.points) {
        p.y() *= 1.1;
    }
    const auto wrong = make_solid(body.body, other, k_fit);
    ASSERT_FALSE(wrong.has_value());
    EXPECT_EQ(wrong.error().code, ErrorCode::kernel_failure);
    EXPECT_NE(wrong.error().message.find("volume"), std::string::npos);
}

}  // namespace
}  // namespace sillwright::geometry

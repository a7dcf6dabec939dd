#include "core/skirt/end_cap.h"

#include <gtest/gtest.h>

#include "core/drawn_loft.h"
#include "core/skirt/surface.h"
#include "tests/core/swing/swing_world.h"

namespace sillwright::core {
namespace {

using geometry::millimetres;
using swing_world::Corner;
using swing_world::mm;

constexpr geometry::Length k_fine = millimetres(0.02);

/// A channel open to the car: 100 wide, 80 high, from along -200 to 1300.
const std::vector<Corner> k_channel{
    {"top return end", 0, 100}, {"shelf edge", 100, 100}, {"lower edge", 100, 20}, {"flange end", 0, 20}};

geometry::RingBody sheet_of(const Piece& piece, const Job& job) {
    const auto line = loft_of(job, piece.drawn, false, "piece").value();
    const auto faces = sheet_faces(piece).value();
    const auto layout = geometry::layout_of_sheet(line, faces, millimetres(0.01)).value();
    return geometry::sheet_ring(line, faces, layout).value();
}

struct Extent {
    double from, to;
};
Extent extent_along(const geometry::Mesh& mesh) {
    Extent extent{1e9, -1e9};
    for (const geometry::Triangle& triangle : mesh.triangles) {
        for (const auto corner : triangle) {
            const double along = mesh.points[static_cast<std::size_t>(corner)].x();
            extent = {std::min(extent.from, along), std::max(extent.to, along)};
        }
    }
    return extent;
}

class EndCap : public testing::TestWithParam<End> {};

TEST_P(EndCap, FillsTheChannelWithinTheSheet) {
    for (const DrawnFace face : {DrawnFace::inside, DrawnFace::outside}) {
        Piece piece = swing_world::piece("skirt", k_channel);
        piece.drawn_face = face;
        const Job job = swing_world::job(piece, swing_world::door(swing_world::hinge(0), 110));
        const auto cap = end_cap(sheet_of(piece, job), GetParam(), millimetres(3), k_fine);
        ASSERT_TRUE(cap) << cap.error().message;
        // The inside: 100 x 80 where it is drawn; 3 less on three of the four sides where the outside is.
        const double area = face == DrawnFace::inside ? 100.0 * 80.0 : 97.0 * 74.0;
        EXPECT_NEAR(geometry::volume_mm3(cap.value()), 3.0 * area, 1e-6);
        EXPECT_EQ(geometry::open_edge_count(cap.value()), 0U);
        const Extent along = extent_along(cap.value());
        EXPECT_NEAR(along.from, GetParam() == End::front ? -200.0 : 1297.0, 1e-9);
        EXPECT_NEAR(along.to, GetParam() == End::front ? -197.0 : 1300.0, 1e-9);
    }
}

INSTANTIATE_TEST_SUITE_P(BothEnds, EndCap, testing::Values(End::front, End::rear));

TEST(EndCaps, TaperedChannelByTheMeanOfItsAreas) {
    // Two stations, 1000 apart, 100 wide at the front and 200 at the rear: the width at x is 100 + x / 10.
    Job job;
    job.stations = {{"1", mm(0), {}}, {"2", mm(1000), {}}};
    Piece piece = swing_world::piece("skirt", k_channel);
    piece.drawn = swing_world::straight("skirt", k_channel, 1, 2);
    for (const std::size_t i : {1U, 2U}) {
        piece.drawn.sections[1].nodes[i].out = mm(200);
    }
    const auto cap = end_cap(sheet_of(piece, job), End::front, millimetres(10), k_fine);
    ASSERT_TRUE(cap);
    EXPECT_NEAR(geometry::volume_mm3(cap.value()), 10.0 * 80.0 * (100.0 + 10.0 / 2 / 10.0), 1e-6);
}

TEST(EndCaps, APieceShorterThanThePlateIsRefused) {
    Job job;
    job.stations = {{"1", mm(0), {}}, {"2", mm(2.5), {}}};
    Piece piece = swing_world::piece("skirt", k_channel);
    piece.drawn = swing_world::straight("skirt", k_channel, 1, 2);
    const auto cap = end_cap(sheet_of(piece, job), End::rear, millimetres(3), k_fine);
    ASSERT_FALSE(cap);
    EXPECT_EQ(cap.error().code, geometry::ErrorCode::does_not_fit);
    EXPECT_NE(cap.error().message.find("shorter than its end cap"), std::string::npos);
    EXPECT_NE(cap.error().message.find("Make it longer"), std::string::npos);
}

TEST(EndCaps, TheModelHasThemWhereTheJobSaysSo) {
    Piece piece = swing_world::piece("skirt", k_channel);
    const auto volume = [&] {
        const Job job = swing_world::job(piece, swing_world::door(swing_world::hinge(0), 210));
        const CarModel car = swing_world::model_of(job);
        EXPECT_EQ(geometry::open_edge_count(car.pieces[0].body->mesh), 0U);
        return geometry::volume_mm3(car.pieces[0].body->mesh);
    };
    const double open = volume();
    piece.front_closed = true;
    EXPECT_NEAR(volume() - open, 3.0 * 100.0 * 80.0, 1e-3);
    piece.rear_closed = true;
    EXPECT_NEAR(volume() - open, 2 * 3.0 * 100.0 * 80.0, 1e-3);
}

}  // namespace
}  // namespace sillwright::core

#include "geometry/ring_mesh.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <ostream>

#include "geometry/sheet_ring.h"
#include "tests/support/example_lofts.h"

namespace sillwright::geometry {
namespace {

const SheetFaces k_faces{millimetres(3.0), millimetres(0.0), RingFace::outside};

RingBody sheet_body(const Loft& loft, double sagitta_mm, const SheetFaces& faces = k_faces) {
    return sheet_ring(loft, faces, layout_of_sheet(loft, faces, millimetres(sagitta_mm)).value()).value();
}

RingBody solid_body(const Loft& loft, double sagitta_mm) {
    return solid_ring(loft, layout_of_solid(loft, millimetres(sagitta_mm)).value()).value();
}

/// A tube of circular outline whose radius and centre follow the car.
RingBody circle_body(std::size_t n, const std::function<double(double)>& radius, double length_mm) {
    RingBody body;
    body.point_count = n;
    body.strips = {{RingFace::outside, StripShape::arc, 0, 0, 0, n}};
    body.key_places = {millimetres(0.0), millimetres(length_mm)};
    body.outline = [=](Length along, Ring& ring) -> Status {
        ring.points_mm.clear();
        const double r = radius(in_mm(along));
        for (std::size_t i = 0; i < n; ++i) {
            const double a = 2.0 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(n);
            ring.points_mm.emplace_back(r * std::cos(a), r * std::sin(a));
        }
        ring.sagitta = millimetres(r * (1.0 - std::cos(std::numbers::pi / static_cast<double>(n))));
        return std::monostate{};
    };
    return body;
}

double distance_to_chain(const Eigen::Vector2d& p, const std::vector<Eigen::Vector2d>& chain) {
    double best = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < chain.size(); ++i) {
        const Eigen::Vector2d& a = chain[i];
        const Eigen::Vector2d d = chain[(i + 1) % chain.size()] - a;
        const double length = d.squaredNorm();
        const double t = length > 0.0 ? std::clamp((p - a).dot(d) / length, 0.0, 1.0) : 0.0;
        best = std::min(best, (p - a - t * d).squaredNorm());
    }
    return std::sqrt(best);
}

/// The cut of the mesh's side between two rows by the plane at t of the way.
std::vector<Eigen::Vector2d> cut(const RingMesh& m, std::size_t row, double t) {
    const auto at = [&](std::size_t r, std::size_t i) -> Eigen::Vector2d {
        const Eigen::Vector3d& p = m.mesh.points[r * m.point_count + i % m.point_count];
        return {p.y(), p.z()};
    };
    std::vector<Eigen::Vector2d> chain;
    for (std::size_t i = 0; i < m.point_count; ++i) {
        chain.emplace_back((1.0 - t) * at(row, i) + t * at(row + 1, i));
        chain.emplace_back((1.0 - t) * at(row, i) + t * at(row + 1, i + 1));  // the quad's diagonal
    }
    return chain;
}

/// Greatest distance either way between mesh and true surface, sampled: 50 cuts of
/// every `every`th interval, all points of the cut, against a much finer outline.
double sampled_deviation(const RingMesh& m, const RingBody& fine, std::size_t every) {
    double worst = 0.0;
    Ring truth;
    for (std::size_t row = 0; row + 1 < m.rows.size(); row += every) {
        for (int k = 0; k <= 50; ++k) {
            const double t = k / 50.0;
            EXPECT_TRUE(fine.outline(m.rows[row] + t * (m.rows[row + 1] - m.rows[row]), truth).has_value());
            const auto chain = cut(m, row, t);
            for (const auto& p : chain) {
                worst = std::max(worst, distance_to_chain(p, truth.points_mm));
            }
            for (const auto& p : truth.points_mm) {
                worst = std::max(worst, distance_to_chain(p, chain));
            }
        }
    }
    return worst;
}

void expect_sound(const RingMesh& m, double tolerance_mm) {
    EXPECT_EQ(open_edge_count(m.mesh), 0U);
    EXPECT_GT(volume_mm3(m.mesh), 0.0);
    EXPECT_LE(in_mm(m.mesh.deviation), tolerance_mm);
    ASSERT_EQ(m.places.size(), m.mesh.triangles.size());
    for (const Triangle& t : m.mesh.triangles) {
        EXPECT_TRUE(t[0] != t[1] && t[1] != t[2] && t[2] != t[0]);
    }
}

struct Body {
    std::string name;
    RingBody coarse, fine;
};

void PrintTo(const Body& body, std::ostream* out) {
    *out << body.name;
}

std::vector<Body> bodies() {
    using namespace examples;
    const SheetFaces inward{millimetres(0.0), millimetres(-3.0), RingFace::inside};
    const SheetFaces both{millimetres(1.5), millimetres(-2.5), RingFace::outside};
    return {
        {"skirt", sheet_body(skirt(), 0.03), sheet_body(skirt(), 1e-4)},
        {"skirt, sheet to the right", sheet_body(skirt(), 0.03, inward), sheet_body(skirt(), 1e-4, inward)},
        {"fluted skirt", sheet_body(fluted_skirt(), 0.03), sheet_body(fluted_skirt(), 1e-4)},
        {"fluted skirt, both sides", sheet_body(fluted_skirt(), 0.03, both), sheet_body(fluted_skirt(), 1e-4, both)},
        {"awkward", sheet_body(awkward(), 0.03), sheet_body(awkward(), 1e-4)},
        {"awkward, both sides", sheet_body(awkward(), 0.03, both), sheet_body(awkward(), 1e-4, both)},
        {"panel", solid_body(panel(), 0.03), solid_body(panel(), 1e-4)},
        {"panel clockwise", solid_body(panel(true), 0.03), solid_body(panel(true), 1e-4)},
    };
}

class RingMeshOf : public testing::TestWithParam<Body> {};

TEST_P(RingMeshOf, IsSoundAndStaysWithinItsDeviation) {
    const RingMesh m = mesh_of(GetParam().coarse, millimetres(0.06)).value();
    expect_sound(m, 0.06);
    const std::size_t every = std::max<std::size_t>(1, m.rows.size() / 12);
    const double sampled = sampled_deviation(m, GetParam().fine, every);
    EXPECT_LE(sampled, in_mm(m.mesh.deviation) + 1e-4);  // the fine outline's own sagitta
    EXPECT_GE(sampled, 0.2 * in_mm(m.mesh.deviation));   // and the bound is no idle one
}

INSTANTIATE_TEST_SUITE_P(Bodies, RingMeshOf, testing::ValuesIn(bodies()));

// Closed form: a ring of n points on a circle has the area n/2 sin(2 pi / n) r^2.
TEST(RingMesh, PrismHasItsVolume) {
    const std::size_t n = 40;
    const RingMesh m = mesh_of(circle_body(
                                   n, [](double) { return 20.0; }, 300.0),
                               millimetres(0.1))
                           .value();
    const double area = 0.5 * n * std::sin(2.0 * std::numbers::pi / n) * 400.0;
    EXPECT_NEAR(volume_mm3(m.mesh), area * 300.0, 1e-7);
    EXPECT_EQ(m.rows.size(), 2U);
    // Sagitta of a 40-gon: r (1 - cos(pi / 40)), the whole deviation of a prism.
    EXPECT_NEAR(in_mm(m.mesh.deviation), 20.0 * (1.0 - std::cos(std::numbers::pi / 40.0)), 1e-12);
}

// Closed form: ball of radius 50 between 30 mm either side of its middle:
// V = pi (r^2 h - 2 a^3 / 3), h = 60, a = 30.
TEST(RingMesh, BarrelConvergesOnItsVolume) {
    const auto radius = [](double s) { return std::sqrt(2500.0 - (s - 30.0) * (s - 30.0)); };
    const double volume = std::numbers::pi * (2500.0 * 60.0 - 2.0 * 27000.0 / 3.0);
    const RingMesh m = mesh_of(circle_body(700, radius, 60.0), millimetres(0.002)).value();
    expect_sound(m, 0.002);
    EXPECT_NEAR(volume_mm3(m.mesh), volume, 0.002 * area_mm2(m.mesh));
    EXPECT_LT(volume_mm3(m.mesh), volume);  // chords lie inside
}

TEST(RingMesh, TapersToAPointsWidthAndStaysClosed) {
    // One strip has no width in the front half.
    RingBody body;
    body.point_count = 5;
    body.strips = {{RingFace::outside, StripShape::line, 0, 1, 0, 5}};
    body.key_places = {millimetres(0.0), millimetres(50.0), millimetres(100.0)};
    body.outline = [](Length along, Ring& ring) -> Status {
        const double w = std::max(0.0, in_mm(along) - 50.0) / 10.0;
        ring = {{{0.0, 0.0}, {10.0, 0.0}, {10.0, 10.0}, {10.0 - w, 10.0}, {0.0, 10.0}}, Length{}};
        return std::monostate{};
    };
    const RingMesh m = mesh_of(body, millimetres(0.01)).value();
    expect_sound(m, 0.01);
    EXPECT_NEAR(volume_mm3(m.mesh), 10000.0, 1e-9);  // a block of 10 x 10 x 100
}

TEST(RingMesh, RowsAreAtKeyPlacesAndTrianglesKnowTheirs) {
    const Loft loft = examples::skirt();
    const RingMesh m = mesh_of(sheet_body(loft, 0.01), millimetres(0.02)).value();
    for (const Length key : loft.key_places()) {
        EXPECT_TRUE(std::binary_search(m.rows.begin(), m.rows.end(), key));
    }
    std::size_t caps = 0;
    for (std::size_t t = 0; t < m.places.size(); ++t) {
        const TrianglePlace& place = m.places[t];
        const double from = in_mm(m.rows[place.part == RingMeshPart::rear_cap ? m.rows.size() - 1 : place.interval]);
        const double to = in_mm(place.part == RingMeshPart::side        ? m.rows[place.interval + 1]
                                : place.part == RingMeshPart::front_cap ? m.rows.front()
                                                                        : m.rows.back());
        for (const std::int32_t corner : m.mesh.triangles[t]) {
            const double along = m.mesh.points[static_cast<std::size_t>(corner)].x();
            EXPECT_TRUE(along >= from && along <= to);
        }
        caps += place.part == RingMeshPart::side ? 0U : 1U;
    }
    EXPECT_EQ(caps, 2 * (m.point_count - 2));  // a polygon of n corners has n - 2 triangles
    // The first strip runs from the free end to "shelf inner", on the outside.
    EXPECT_EQ(strip_of(m, 0).face, RingFace::outside);
    EXPECT_EQ(strip_of(m, 0).shape, StripShape::line);
    EXPECT_EQ(loft.names()[strip_of(m, 0).to_node], "shelf inner");
    EXPECT_EQ(strip_of(m, 1).shape, StripShape::arc);
    EXPECT_EQ(loft.names()[strip_of(m, 1).from_node], "shelf inner");
    EXPECT_EQ(strip_of(m, m.point_count - 1).face, RingFace::edge);
}

TEST(RingMesh, RemeshTouchesNothingOutsideTheReach) {
    const Loft loft = examples::skirt();
    const auto layout = layout_of_sheet(loft, k_faces, millimetres(0.01)).value();
    const RingMesh before = mesh_of(sheet_ring(loft, k_faces, layout).value(), millimetres(0.02)).value();
    for (const std::size_t station : {0U, 1U, 4U, 8U}) {
        SCOPED_TRACE(station);
        const Eigen::Vector2d p = loft.sections()[station].nodes[3].p_mm + Eigen::Vector2d(1.5, -2.0);
        const MovedLoft moved = loft.moved("lower edge", station, p).value();
        const RingBody body = sheet_ring(moved.loft, k_faces, layout).value();
        const Remeshed after = remesh(before, body, moved.changed).value();
        const Mesh& mesh = after.ring_mesh.mesh;
        ASSERT_EQ(mesh.points.size(), before.mesh.points.size());
        const double from = in_mm(loft.sections()[station < 3 ? 0 : station - 3].along);
        const double to = in_mm(loft.sections()[std::min<std::size_t>(station + 3, 8)].along);
        std::size_t moved_points = 0;
        for (std::size_t i = 0; i < mesh.points.size(); ++i) {
            if (mesh.points[i] != before.mesh.points[i]) {
                ++moved_points;
                EXPECT_GE(mesh.points[i].x(), from);
                EXPECT_LE(mesh.points[i].x(), to);
            }
        }
        EXPECT_GT(moved_points, 0U);
        expect_sound(after.ring_mesh, 0.2);
        // Every row is where a new outline is, so the remeshed rows are not stale anywhere.
        Ring ring;
        for (std::size_t row = 0; row < before.rows.size(); ++row) {
            ASSERT_TRUE(body.outline(before.rows[row], ring).has_value());
            for (std::size_t i = 0; i < ring.points_mm.size(); ++i) {
                const Eigen::Vector3d& q = mesh.points[row * before.point_count + i];
                EXPECT_EQ(Eigen::Vector2d(q.y(), q.z()), ring.points_mm[i]);
            }
        }
        // Triangles with a moved corner are all in the ranges.
        ASSERT_TRUE(after.same_triangles || after.changed.front().to == mesh.triangles.size());
        for (std::size_t t = 0; t < mesh.triangles.size() && after.same_triangles; ++t) {
            const bool said = std::any_of(after.changed.begin(), after.changed.end(),
                                          [&](const TriangleRange& r) { return r.from <= t && t < r.to; });
            for (const std::int32_t corner : mesh.triangles[t]) {
                const auto i = static_cast<std::size_t>(corner);
                EXPECT_TRUE(said || mesh.points[i] == before.mesh.points[i]);
            }
        }
        const RingBody fine = sheet_body(moved.loft, 1e-3);
        const std::size_t every = before.rows.size() / 3;
        EXPECT_LE(sampled_deviation(after.ring_mesh, fine, every), in_mm(mesh.deviation) + 1e-3);
    }
}

TEST(RingMesh, RemeshWithNothingChangedIsTheSame) {
    const Loft loft = examples::skirt();
    const RingBody body = sheet_body(loft, 0.01);
    const RingMesh before = mesh_of(body, millimetres(0.02)).value();
    const Remeshed after = remesh(before, body, {millimetres(0.0), millimetres(1600.0)}).value();
    EXPECT_EQ(after.ring_mesh.mesh.points, before.mesh.points);
    EXPECT_EQ(after.ring_mesh.mesh.triangles, before.mesh.triangles);
    EXPECT_EQ(after.ring_mesh.mesh.deviation, before.mesh.deviation);
    EXPECT_TRUE(after.same_triangles);
}

TEST(RingMesh, RefusesWhatIsNoBody) {
    const auto round = [](double) { return 20.0; };
    const auto code = [](const RingBody& body, double tolerance) {
        const auto m = mesh_of(body, millimetres(tolerance));
        EXPECT_FALSE(m.has_value());
        EXPECT_FALSE(m.has_value() || m.error().message.empty());
        return m.has_value() ? ErrorCode::kernel_failure : m.error().code;
    };
    EXPECT_EQ(code(circle_body(40, round, 100.0), 0.0), ErrorCode::invalid_argument);
    EXPECT_EQ(code(circle_body(40, round, 100.0), std::nan("")), ErrorCode::invalid_argument);
    RingBody no_strips = circle_body(40, round, 100.0);
    no_strips.strips.clear();
    EXPECT_EQ(code(no_strips, 0.1), ErrorCode::invalid_argument);
    // Chords that are coarser than the tolerance cannot be mended by rows.
    EXPECT_EQ(code(circle_body(6, round, 100.0), 0.1), ErrorCode::does_not_fit);
    // A step in the radius cannot be followed.
    EXPECT_EQ(code(circle_body(
                       400, [](double s) { return s < 33.3 ? 20.0 : 25.0; }, 100.0),
                   0.01),
              ErrorCode::does_not_fit);
    RingBody bow_tie = circle_body(4, round, 100.0);
    bow_tie.outline = [](Length, Ring& ring) -> Status {
        ring = {{{0.0, 0.0}, {10.0, 10.0}, {10.0, 0.0}, {0.0, 11.0}}, Length{}};
        return std::monostate{};
    };
    EXPECT_EQ(code(bow_tie, 0.1), ErrorCode::does_not_fit);
}

}  // namespace
}  // namespace sillwright::geometry

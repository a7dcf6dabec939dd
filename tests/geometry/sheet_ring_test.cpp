#include "geometry/sheet_ring.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>

#include "geometry/parallel.h"
#include "tests/support/example_lofts.h"

namespace sillwright::geometry {
namespace {

using examples::node;

constexpr double k_pi = std::numbers::pi;

std::vector<LoftSection> prism(const std::vector<LoftNode>& nodes, double length_mm) {
    return {{millimetres(0.0), nodes}, {millimetres(length_mm), nodes}};
}

RingMesh sheet_mesh(const Loft& loft, const SheetFaces& faces, double tolerance_mm) {
    const auto layout = layout_of_sheet(loft, faces, millimetres(0.5 * tolerance_mm)).value();
    return mesh_of(sheet_ring(loft, faces, layout).value(), millimetres(tolerance_mm)).value();
}

// An angle 100 + 100 mm long, square, bend radius 10 to the right, sheet 3 mm to
// the left, so outside the bend. Closed form (Steiner): area = t L + t^2 turn / 2,
// L = 2 * 90 + 10 pi / 2.
TEST(SheetRing, StraightPrismIsAreaTimesLength) {
    const Loft loft =
        Loft::make(prism({node("a", 0, 0), node("b", 0, 100, 10), node("c", 100, 100)}, 500.0), {}, false).value();
    const double line = 180.0 + 5.0 * k_pi;
    const double outward = 3.0 * line + 9.0 * k_pi / 4.0;
    const double inward = 3.0 * line - 9.0 * k_pi / 4.0;
    const RingMesh left = sheet_mesh(loft, {millimetres(3.0), millimetres(0.0)}, 0.001);
    EXPECT_NEAR(volume_mm3(left.mesh), outward * 500.0, in_mm(left.mesh.deviation) * area_mm2(left.mesh));
    EXPECT_NEAR(volume_mm3(left.mesh) / (outward * 500.0), 1.0, 1e-4);
    const RingMesh right = sheet_mesh(loft, {millimetres(0.0), millimetres(-3.0)}, 0.001);
    EXPECT_NEAR(volume_mm3(right.mesh) / (inward * 500.0), 1.0, 1e-4);
}

// A sharp square corner: outside it a quarter disc of radius 3, inside the mitre.
// By hand: legs 100 x 3 either side; outside + pi 9 / 4, inside - 9.
TEST(SheetRing, SharpCornerIsRoundOutsideAndMitredInside) {
    const Loft loft =
        Loft::make(prism({node("a", 0, 0), node("b", 0, 100), node("c", 100, 100)}, 200.0), {}, false).value();
    const RingMesh left = sheet_mesh(loft, {millimetres(3.0), millimetres(0.0)}, 0.001);
    EXPECT_NEAR(volume_mm3(left.mesh), (600.0 + 9.0 * k_pi / 4.0) * 200.0, 0.001 * area_mm2(left.mesh));
    const RingMesh right = sheet_mesh(loft, {millimetres(0.0), millimetres(-3.0)}, 0.001);
    EXPECT_NEAR(volume_mm3(right.mesh), 591.0 * 200.0, 1e-6);  // all flat, so exact
    EXPECT_EQ(open_edge_count(left.mesh), 0U);
    EXPECT_EQ(open_edge_count(right.mesh), 0U);
}

// Cavalieri: sections shifted sideways along the car keep their area, so a bow in
// plan leaves the volume at area times length.
TEST(SheetRing, BowInPlanKeepsTheVolume) {
    std::vector<LoftSection> sections;
    for (int i = 0; i <= 8; ++i) {
        const double x = 100.0 * i - 400.0;
        const double bow = std::sqrt(1500.0 * 1500.0 - x * x) - 1500.0;  // a circular arc in plan
        sections.push_back({millimetres(x), {node("a", bow, 0), node("b", bow, 100, 10), node("c", 100 + bow, 100)}});
    }
    const Loft loft = Loft::make(sections, {}, false).value();
    const RingMesh m = sheet_mesh(loft, {millimetres(3.0), millimetres(0.0)}, 0.002);
    const double area = 3.0 * (180.0 + 5.0 * k_pi) + 9.0 * k_pi / 4.0;
    EXPECT_NEAR(volume_mm3(m.mesh), area * 800.0, in_mm(m.mesh.deviation) * area_mm2(m.mesh));
}

// Pappus: an annulus sector's volume is the area that turns times the way of its
// centroid. A square tube 10 x 6 bent in plan to the radius 400: sections across the
// car's axis are its cuts, from 400 - 5 to 400 + 5 in plan measured along out.
TEST(SolidRing, ArcInPlanIsPappus) {
    const double half_angle = 0.5;
    std::vector<LoftSection> sections;
    for (int i = 0; i <= 24; ++i) {
        const double x = 395.0 * std::sin(half_angle) * (i / 12.0 - 1.0);
        const double inner = std::sqrt(395.0 * 395.0 - x * x);
        const double outer = std::sqrt(405.0 * 405.0 - x * x);
        sections.push_back(
            {millimetres(x), {node("a", inner, 0), node("b", outer, 0), node("c", outer, 6), node("d", inner, 6)}});
    }
    const Loft loft = Loft::make(sections, {}, true).value();
    const RingMesh m =
        mesh_of(solid_ring(loft, layout_of_solid(loft, millimetres(0.001)).value()).value(), millimetres(0.001))
            .value();
    // Pappus for the whole sector of half angle 0.5 is 60 mm2 * 400 mm * 1 rad; its ends are
    // radial. Ours end square to the car: they lack the wedge between the radius at the
    // inner edge and the cut, on the outer circle: two of (segment + triangle), by plane geometry.
    const double x = 395.0 * std::sin(half_angle);
    const auto under_circle = [&](double r) {  // integral of sqrt(r^2 - x^2) from -x to x
        return x * std::sqrt(r * r - x * x) + r * r * std::asin(x / r);
    };
    const double plan_area = under_circle(405.0) - under_circle(395.0);
    const double pappus_area = 60.0 / 6.0 * 400.0 * 2.0 * half_angle;
    const double xo = 405.0 * std::sin(half_angle);
    const auto wedge_top = [](double r, double from, double to) {  // circle's integral over [from, to]
        const auto f = [r](double t) { return 0.5 * (t * std::sqrt(r * r - t * t) + r * r * std::asin(t / r)); };
        return f(to) - f(from);
    };
    const double radial_side = (xo * xo - x * x) / (2.0 * std::tan(half_angle));
    EXPECT_NEAR(pappus_area - 2.0 * (wedge_top(405.0, x, xo) - radial_side), plan_area, 1e-9);
    // Akima through a station every 7.9 mm of arc over radius 400 is nearer than 1e-3 mm.
    EXPECT_NEAR(volume_mm3(m.mesh), 6.0 * plan_area, (in_mm(m.mesh.deviation) + 1e-3) * area_mm2(m.mesh));
    EXPECT_NEAR(volume_mm3(m.mesh) / (6.0 * plan_area), 1.0, 1e-4);
}

// A strip 30 x 3 in section that rises by 0.2 a millimetre: its volume is area times
// length, and square to itself the sheet is t cos(lean).
TEST(SheetRing, ThicknessIsMeasuredInTheSectionPlane) {
    std::vector<LoftSection> sections;
    for (int i = 0; i <= 8; ++i) {
        const double x = 50.0 * i;
        sections.push_back({millimetres(x), {node("a", 30, 0.2 * x), node("b", 0, 0.2 * x)}});
    }
    const Loft loft = Loft::make(sections, {}, false).value();
    const RingMesh m = sheet_mesh(loft, {millimetres(0.0), millimetres(-3.0)}, 0.01);
    EXPECT_NEAR(volume_mm3(m.mesh), 90.0 * 400.0, 1e-6);
    // The two faces are planes leaning by atan 0.2; their distance by hand.
    const double square = 3.0 * std::cos(std::atan(0.2));
    const Eigen::Vector3d normal(-std::sin(std::atan(0.2)), 0.0, std::cos(std::atan(0.2)));
    double low = std::numeric_limits<double>::infinity();
    double high = -low;
    for (const auto& p : m.mesh.points) {
        low = std::min(low, normal.dot(p));
        high = std::max(high, normal.dot(p));
    }
    EXPECT_NEAR(high - low, square, 1e-9);
}

// Closed form: frustum of a square pyramid, V = L/3 (A1 + A2 + sqrt(A1 A2)).
TEST(SolidRing, TaperIsTheFrustum) {
    const Loft loft =
        Loft::make({{millimetres(0.0), {node("a", 0, 0), node("b", 10, 0), node("c", 10, 10), node("d", 0, 10)}},
                    {millimetres(90.0), {node("a", 0, 0), node("b", 20, 0), node("c", 20, 20), node("d", 0, 20)}}},
                   {}, true)
            .value();
    const auto layout = layout_of_solid(loft, millimetres(0.01)).value();
    const RingMesh m = mesh_of(solid_ring(loft, layout).value(), millimetres(0.01)).value();
    EXPECT_NEAR(volume_mm3(m.mesh), 30.0 * (100.0 + 400.0 + 200.0), 1e-8);
    EXPECT_EQ(open_edge_count(m.mesh), 0U);
}

double distance_to_line(const Eigen::Vector2d& p, const std::vector<Eigen::Vector2d>& line) {
    double best = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        const Eigen::Vector2d d = line[i + 1] - line[i];
        const double length = d.squaredNorm();
        const double t = length > 0.0 ? std::clamp((p - line[i]).dot(d) / length, 0.0, 1.0) : 0.0;
        best = std::min(best, (p - line[i] - t * d).norm());
    }
    return best;
}

// Every point of a parallel is at its distance from the drawn line, never nearer.
TEST(SheetRing, FacesAreParallelsOfTheDrawnLine) {
    for (const Loft& loft : {examples::skirt(), examples::fluted_skirt(), examples::awkward()}) {
        const SheetFaces faces{millimetres(2.5), millimetres(-1.5)};
        const auto layout = layout_of_sheet(loft, faces, millimetres(0.01)).value();
        const RingBody body = sheet_ring(loft, faces, layout).value();
        const std::vector<std::size_t> fine(loft.names().size(), 200);
        Ring ring;
        std::vector<Corner> corners;
        for (double s = in_mm(loft.front()); s <= in_mm(loft.rear()); s += 17.0) {
            ASSERT_TRUE(body.outline(millimetres(s), ring).has_value());
            ASSERT_TRUE(find_corners(loft.nodes_at(millimetres(s)), loft.names(), false, corners).has_value());
            std::vector<Eigen::Vector2d> line;
            append_parallel(corners, 0.0, fine, line);
            std::size_t point = 0;
            for (std::size_t i = 0; i < layout.left.size(); ++i) {
                for (std::size_t k = 0; k <= layout.left[i]; ++k) {
                    EXPECT_NEAR(distance_to_line(ring.points_mm[point++], line), 2.5, 1e-3);
                }
            }
            for (; point < ring.points_mm.size(); ++point) {
                EXPECT_NEAR(distance_to_line(ring.points_mm[point], line), 1.5, 1e-3);
            }
        }
    }
}

TEST(SheetRing, VanishingStraightNamesPlaceNodesAndWhatFits) {
    // A groove 4 mm wide with sharp corners: each of the two corners at its foot takes
    // the thickness, so 2 mm is the most that fits on its inside, by hand.
    const std::vector<LoftNode> groove{node("start", 0, 40),  node("lip", 0, 10),  node("foot", 10, 10),
                                       node("foot 2", 10, 6), node("lip 2", 0, 6), node("end", 0, -20)};
    const Loft loft = Loft::make(prism(groove, 100.0), {}, false).value();
    const SheetFaces faces{millimetres(0.0), millimetres(-2.5)};
    const auto layout = layout_of_sheet(loft, faces, millimetres(0.01));
    ASSERT_FALSE(layout.has_value());
    EXPECT_EQ(layout.error().code, ErrorCode::does_not_fit);
    for (const char* words : {"foot", "foot 2", "station 1", "2.00 mm or less fits"}) {
        EXPECT_NE(layout.error().message.find(words), std::string::npos) << layout.error().message;
    }
    EXPECT_TRUE(layout_of_sheet(loft, {millimetres(0.0), millimetres(-1.9)}, millimetres(0.01)).has_value());
}

TEST(SheetRing, RefusesWrongInput) {
    const Loft open = examples::skirt();
    const Loft closed = examples::panel();
    const SheetFaces faces{millimetres(3.0), millimetres(0.0)};
    EXPECT_FALSE(layout_of_sheet(closed, faces, millimetres(0.01)).has_value());
    EXPECT_FALSE(layout_of_sheet(open, {millimetres(0.0), millimetres(0.0)}, millimetres(0.01)).has_value());
    EXPECT_FALSE(layout_of_sheet(open, faces, millimetres(0.0)).has_value());
    EXPECT_FALSE(sheet_ring(open, faces, RingLayout{}).has_value());
    EXPECT_FALSE(solid_ring(open, RingLayout{}).has_value());
    EXPECT_FALSE(solid_ring(closed, RingLayout{}).has_value());
}

// Against the exact parallels of geometry/parallel.h, which are made another way: the
// ring's points lie on them, and they lie on the ring's chords within the sagitta.
TEST(SheetRing, FacesAgreeWithTheExactParallels) {
    const SheetFaces faces{millimetres(2.5), millimetres(-1.5)};
    for (const Loft& loft : {examples::skirt(), examples::fluted_skirt(), examples::awkward()}) {
        const auto layout = layout_of_sheet(loft, faces, millimetres(0.01)).value();
        const RingBody body = sheet_ring(loft, faces, layout).value();
        Ring ring;
        for (double s = in_mm(loft.front()); s <= in_mm(loft.rear()); s += 43.0) {
            SCOPED_TRACE(s);
            ASSERT_TRUE(body.outline(millimetres(s), ring).has_value());
            const Profile line = loft.section_at(millimetres(s)).value();
            std::size_t left_points = 0;
            for (const std::size_t count : layout.left) {
                left_points += count + 1;
            }
            for (const bool left : {true, false}) {
                const Parallel exact = parallel(line, left ? faces.left : faces.right).value();
                ASSERT_EQ(exact.chains.size(), 1U);
                const auto middle = ring.points_mm.begin() + static_cast<std::ptrdiff_t>(left_points);
                const std::vector<Eigen::Vector2d> face(left ? ring.points_mm.begin() : middle,
                                                        left ? middle : ring.points_mm.end());
                for (const Eigen::Vector2d& p : face) {
                    EXPECT_LE(in_mm(nearest_point(exact.chains.front(), p).distance), 1e-6);
                }
                const auto along_chain = polyline(exact.chains.front(), millimetres(1e-3)).value();
                for (const Eigen::Vector2d& p : along_chain) {
                    EXPECT_LE(distance_to_line(p, face), in_mm(ring.sagitta) + 1e-6);
                }
            }
        }
    }
}

// The exact curves and the chords are two ways to the same outline: end for end, and
// the middle of every arc.
TEST(SheetRing, CurvesAreTheOutlineOfTheStrips) {
    const SheetFaces faces{millimetres(2.5), millimetres(-1.5)};
    for (const Loft& loft : {examples::skirt(), examples::fluted_skirt(), examples::awkward(), examples::panel()}) {
        const RingBody body =
            loft.closed() ? solid_ring(loft, layout_of_solid(loft, millimetres(0.01)).value()).value()
                          : sheet_ring(loft, faces, layout_of_sheet(loft, faces, millimetres(0.01)).value()).value();
        Ring ring;
        std::vector<StripCurve> curves;
        for (double s = in_mm(loft.front()); s <= in_mm(loft.rear()); s += 31.0) {
            ASSERT_TRUE(body.outline(millimetres(s), ring).has_value());
            ASSERT_TRUE(body.curves(millimetres(s), curves).has_value());
            ASSERT_EQ(curves.size(), body.strips.size());
            const std::size_t n = ring.points_mm.size();
            for (std::size_t k = 0; k < curves.size(); ++k) {
                const RingStrip& strip = body.strips[k];
                const std::size_t last = (strip.first_segment + strip.segment_count) % n;
                EXPECT_NEAR((curves[k].from_mm - ring.points_mm[strip.first_segment]).norm(), 0.0, 1e-10);
                EXPECT_NEAR((curves[k].to_mm - ring.points_mm[last]).norm(), 0.0, 1e-10);
                // The rational quadratic at its middle: (f + 2 w m + t) / (2 + 2 w), half-way round the arc.
                if (strip.shape == StripShape::arc && strip.segment_count % 2 == 0) {
                    const double w = curves[k].weight;
                    const Eigen::Vector2d middle =
                        (curves[k].from_mm + 2.0 * w * curves[k].middle_mm + curves[k].to_mm) / (2.0 + 2.0 * w);
                    EXPECT_NEAR((middle - ring.points_mm[strip.first_segment + strip.segment_count / 2]).norm(), 0.0,
                                1e-9);
                }
            }
        }
    }
}

TEST(SheetRing, StripsSayWhichFace) {
    const Loft loft = examples::skirt();
    const SheetFaces faces{millimetres(0.0), millimetres(-3.0), RingFace::inside};
    const RingBody body = sheet_ring(loft, faces, layout_of_sheet(loft, faces, millimetres(0.01)).value()).value();
    EXPECT_EQ(body.strips.front().face, RingFace::inside);
    EXPECT_EQ(body.strips.back().face, RingFace::edge);
    std::size_t outside = 0;
    for (const RingStrip& strip : body.strips) {
        outside += strip.face == RingFace::outside ? 1U : 0U;
    }
    EXPECT_EQ(outside, 9U);  // five straights, four bends
}

}  // namespace
}  // namespace sillwright::geometry

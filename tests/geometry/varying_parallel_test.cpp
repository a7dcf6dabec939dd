#include "geometry/varying_parallel.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>

#include "geometry/polygon_triangles.h"
#include "geometry/profile.h"
#include "geometry/sheet_ring.h"

namespace sillwright::geometry {
namespace {

constexpr double k_pi = std::numbers::pi;

struct Node {
    double x, y, radius;
};

std::vector<ProfileNode> nodes_of(const std::vector<Node>& places) {
    std::vector<ProfileNode> nodes;
    for (const Node& place : places) {
        nodes.push_back({{place.x, place.y}, millimetres(place.radius)});
    }
    return nodes;
}

std::vector<Corner> corners_of(const std::vector<Node>& places) {
    std::vector<std::string> names;
    for (std::size_t i = 0; i < places.size(); ++i) {
        names.push_back(std::string("n") + std::to_string(i));
    }
    std::vector<Corner> corners;
    EXPECT_TRUE(find_corners(nodes_of(places), names, false, corners));
    return corners;
}

/// A square corner, 100 and 100 long, that turns right (outside on the left), and the same turned left.
const std::vector<Node> k_right{{0, 0, 0}, {0, 100, 10}, {100, 100, 0}};
const std::vector<Node> k_left{{100, 100, 0}, {0, 100, 10}, {0, 0, 0}};

double distance_mm(const std::vector<Eigen::Vector2d>& line, const Eigen::Vector2d& p) {
    double least = 1e9;
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        const Eigen::Vector2d way = line[i + 1] - line[i];
        const double at =
            way.squaredNorm() > 0.0 ? std::clamp((p - line[i]).dot(way) / way.squaredNorm(), 0.0, 1.0) : 0.0;
        least = std::min(least, (line[i] + at * way - p).norm());
    }
    return least;
}

double greatest_distance_mm(const std::vector<Eigen::Vector2d>& of, const std::vector<Eigen::Vector2d>& from) {
    double most = 0.0;
    for (const Eigen::Vector2d& p : of) {
        most = std::max(most, distance_mm(from, p));
    }
    return most;
}

// By hand: the rounding of 10 takes 10 of each 100, a tenth of the way.
TEST(VaryingParallel, MarksOfARoundingAreItsShareOfTheStraights) {
    const auto marks = corner_marks(corners_of(k_right), plain_marks(3));
    EXPECT_NEAR(marks[1].before, 0.9, 1e-12);
    EXPECT_DOUBLE_EQ(marks[1].at, 1.0);
    EXPECT_NEAR(marks[1].behind, 1.1, 1e-12);
    EXPECT_DOUBLE_EQ(marks[0].behind, 0.0);
    EXPECT_DOUBLE_EQ(marks[2].before, 2.0);
}

// A node in the straight after the corner, 40 of 100 on: the rounding takes 10 of these 40.
TEST(VaryingParallel, ANodeOnTheStraightDividesItsMarks) {
    const auto marks = corner_marks(corners_of({{0, 0, 0}, {0, 100, 10}, {40, 100, 0}, {100, 100, 0}}), plain_marks(4));
    EXPECT_NEAR(marks[1].behind, 1.25, 1e-12);
    EXPECT_DOUBLE_EQ(marks[2].at, 2.0);
}

TEST(VaryingParallel, LinePlacesAreAsLongAsTheProfile) {
    const std::vector<Node> places{{0, 0, 0}, {0, 100, 10}, {40, 100, 0}, {100, 100, 20}, {160, 40, 0}};
    const auto along = line_places(corners_of(places), plain_marks(5));
    EXPECT_NEAR(in_mm(along.back().along), in_mm(length(make_profile(nodes_of(places), false).value())), 1e-9);
    EXPECT_DOUBLE_EQ(along.front().mark, 0.0);
    EXPECT_DOUBLE_EQ(along.back().mark, 4.0);
    for (std::size_t i = 1; i < along.size(); ++i) {
        EXPECT_GT(along[i].along, along[i - 1].along);
        EXPECT_GE(along[i].mark, along[i - 1].mark);
    }
    // By hand: up 90, the quarter circle 5 pi, its middle at mark 1; then 30 to the node.
    EXPECT_NEAR(in_mm(along[2].along), 90.0 + 2.5 * k_pi, 1e-9);
    EXPECT_DOUBLE_EQ(along[2].mark, 1.0);
    EXPECT_NEAR(in_mm(along[4].along), 90.0 + 5.0 * k_pi + 30.0, 1e-9);
    EXPECT_DOUBLE_EQ(along[4].mark, 2.0);
}

// Laws that are the same everywhere give the parallel of sheet_ring, on either side, also where a rounding is too
// tight.
TEST(VaryingParallel, OneDistanceIsTheParallel) {
    for (const double offset : {4.0, -4.0, 12.0, -12.0}) {
        for (const double radius : {10.0, 0.0, 3.0}) {
            std::vector<Node> places = k_right;
            places[1].radius = radius;
            const auto corners = corners_of(places);
            std::vector<Eigen::Vector2d> truth;
            append_parallel(corners, offset, {0, 200, 0}, truth);
            const OffsetRow row{{0.0}, {offset}};
            const auto found = varying_parallel(corners, plain_marks(3), row, millimetres(1e-4));
            EXPECT_LT(greatest_distance_mm(found, truth), 1e-3) << offset << " " << radius;
            EXPECT_LT(greatest_distance_mm(truth, found), 1e-3) << offset << " " << radius;
        }
    }
}

// By hand: from 4 at the first node to 2 at the corner; half-way up the straight it is 3 to the left.
TEST(VaryingParallel, AStraightIsAWedge) {
    const OffsetRow row{{0.0, 1.0, 2.0}, {4.0, 2.0, 2.0}};
    const auto face = varying_parallel(corners_of(k_right), plain_marks(3), row, millimetres(1e-3));
    EXPECT_NEAR(face.front().x(), -4.0, 1e-12);
    EXPECT_LT(distance_mm(face, {-3.0, 50.0}), 1e-9);
    EXPECT_LT(distance_mm(face, {50.0, 102.0}), 1e-9);
    EXPECT_NEAR(face.back().y(), 102.0, 1e-12);
}

// By hand: the law bends at mark 0.4, 40 mm up, from 4 to 2; there it has a point within the step of parts.
TEST(VaryingParallel, ABendOfTheLawIsMetWithinTheTolerance) {
    const OffsetRow row{{0.0, 0.4, 2.0}, {4.0, 2.0, 2.0}};
    const double tolerance = 0.01;
    const auto corners = corners_of(k_right);
    const auto face = varying_parallel(corners, plain_marks(3), row, millimetres(tolerance));
    for (double up = 0.0; up <= 90.0; up += 0.5) {
        const double offset = up < 40.0 ? 4.0 - 2.0 * up / 40.0 : 2.0;
        EXPECT_LT(distance_mm(face, {-offset, up}), tolerance + 1e-9) << up;
    }
}

// On a rounding the point at its middle stands at the corner's own distance: centre (10, 90), radius 10 + 3.
TEST(VaryingParallel, TheMiddleOfARoundingHasTheNodesDistance) {
    const OffsetRow row{{0.0, 1.0, 2.0}, {5.0, 3.0, 4.0}};
    const auto face = varying_parallel(corners_of(k_right), plain_marks(3), row, millimetres(1e-4));
    const double reach = 13.0 / std::sqrt(2.0);
    EXPECT_LT(distance_mm(face, {10.0 - reach, 90.0 + reach}), 2e-4);
}

// What is reported holds against points of the face that are set out a hundred times closer.
TEST(VaryingParallel, TheReportedDeviationHolds) {
    const OffsetRow row{{0.0, 0.3, 0.7, 0.95, 1.0, 1.06, 1.4, 2.0}, {4.0, 3.1, 2.7, 2.5, 2.2, 2.4, 3.0, 3.6}};
    for (const auto& places : {k_right, k_left}) {
        const auto corners = corners_of(places);
        const auto dense = varying_parallel(corners, plain_marks(3), row, millimetres(1e-5));
        for (const double tolerance : {0.1, 0.02, 0.005}) {
            FaceLayout layout;
            widen(layout, corners, plain_marks(3), row, millimetres(tolerance));
            std::vector<Eigen::Vector2d> face;
            const Length off = append_varying_parallel(corners, plain_marks(3), row, layout, face);
            EXPECT_LE(in_mm(off), tolerance);
            EXPECT_LE(greatest_distance_mm(dense, face), in_mm(off) + 1e-4);
        }
    }
}

// A rounding of 1 to the left under a face at about 4 to the left: it is taken as large as the face needs, and the face
// goes over from one to the other without a jump.
TEST(VaryingParallel, ATightHollowRoundingIsPassedWithoutAJump) {
    std::vector<Node> places = k_left;
    const OffsetRow row{{0.0, 0.9, 1.1, 2.0}, {4.0, 4.0, 3.5, 3.5}};
    std::vector<Eigen::Vector2d> before;
    const FaceLayout layout{{0, 12, 0}, {{}, {}}};
    for (double radius = 3.0; radius < 4.6; radius += 0.01) {
        places[1].radius = radius;
        std::vector<Eigen::Vector2d> face;
        append_varying_parallel(corners_of(places), plain_marks(3), row, layout, face);
        for (std::size_t i = 0; i < before.size(); ++i) {
            EXPECT_LT((face[i] - before[i]).norm(), 0.05) << radius << " " << i;
        }
        before = face;
    }
}

TEST(VaryingParallel, CurvesJoinAndPassThroughThePoints) {
    const OffsetRow row{{0.0, 0.3, 1.0, 1.4, 2.0}, {4.0, 3.1, 2.2, 3.0, 3.6}};
    const auto corners = corners_of(k_right);
    FaceLayout layout;
    widen(layout, corners, plain_marks(3), row, millimetres(0.01));
    std::vector<StripCurve> curves;
    append_varying_curves(corners, plain_marks(3), row, layout, curves);
    std::vector<Eigen::Vector2d> face;
    append_varying_parallel(corners, plain_marks(3), row, layout, face);
    EXPECT_LT((curves.front().from_mm - face.front()).norm(), 1e-12);
    EXPECT_LT((curves.back().to_mm - face.back()).norm(), 1e-12);
    for (std::size_t i = 1; i < curves.size(); ++i) {
        EXPECT_LT((curves[i].from_mm - curves[i - 1].to_mm).norm(), 1e-12);
    }
    for (const StripCurve& curve : curves) {
        const Eigen::Vector2d middle =
            (curve.from_mm + 2.0 * curve.weight * curve.middle_mm + curve.to_mm) / (2.0 + 2.0 * curve.weight);
        EXPECT_LT(distance_mm(face, middle), 0.011);
    }
}

}  // namespace
}  // namespace sillwright::geometry

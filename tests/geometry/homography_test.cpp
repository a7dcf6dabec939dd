#include "geometry/homography.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <random>

namespace sillwright::geometry {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector2d;

std::vector<PlanePair> pairs(const std::vector<Vector2d>& from, const std::vector<Vector2d>& to) {
    std::vector<PlanePair> all;
    for (std::size_t i = 0; i < from.size(); ++i) {
        all.push_back({from[i], to[i]});
    }
    return all;
}

const std::vector<Vector2d> k_square{{0, 0}, {1, 0}, {1, 1}, {0, 1}};
const std::vector<Vector2d> k_photo{{100, 120}, {900, 150}, {820, 700}, {160, 640}};

// Closed form: exact fractions of the 8 x 8 linear system.
TEST(Homography, TakesTheUnitSquareToATrapezoid) {
    const auto map = Homography::fit(pairs(k_square, {{0, 0}, {4, 0}, {3, 2}, {1, 2}})).value();
    Matrix3d expected;
    expected << 4, 2, 0, 0, 4, 0, 0, 1, 1;
    EXPECT_TRUE(map.matrix().isApprox(expected, 1e-12)) << map.matrix();
    // The diagonals of the trapezoid meet in (2, 4/3).
    EXPECT_LT((*map.map({0.5, 0.5}) - Vector2d(2.0, 4.0 / 3.0)).norm(), 1e-12);
    EXPECT_EQ(map.degrees_of_freedom(), 0);
    EXPECT_FALSE(map.covariance({0.5, 0.5})) << "no sds were given";
}

TEST(Homography, TakesTheUnitSquareToAPhoto) {
    const auto map = Homography::fit(pairs(k_square, k_photo)).value();
    Matrix3d expected;
    expected << 448100.0 / 613, 170020.0 / 1839, 100, 11340.0 / 613, 1195000.0 / 1839, 120, -47.0 / 613, 373.0 / 1839,
        1;
    EXPECT_LT((map.matrix() - expected).cwiseAbs().maxCoeff(), 1e-9) << map.matrix();
    EXPECT_LT((*map.map({0.5, 0.5}) - Vector2d(481.360614, 427.207161)).cwiseAbs().maxCoeff(), 5e-7);
}

TEST(Homography, ReadsAPlateOf400By300InAPhoto) {
    const auto plate = pairs({{0, 0}, {400, 0}, {400, 300}, {0, 300}}, k_photo);
    const auto there = Homography::fit(plate).value();
    EXPECT_LT((*there.back({500, 400}) - Vector2d(210.055414, 134.089780)).cwiseAbs().maxCoeff(), 5e-7);
    const auto back = Homography::fit(pairs(k_photo, {{0, 0}, {400, 0}, {400, 300}, {0, 300}})).value();
    EXPECT_LT((*back.map({500, 400}) - Vector2d(210.055414, 134.089780)).cwiseAbs().maxCoeff(), 5e-7);
}

// Laws: straight stays straight; there and back is where one was; a change of the unit of the photo changes nothing.
TEST(Homography, KeepsStraightsAndLeadsBack) {
    const auto map = Homography::fit(pairs(k_square, k_photo)).value();
    const Vector2d a = *map.map({0.1, 0.2});
    const Vector2d b = *map.map({0.5, 0.4});
    const Vector2d c = *map.map({0.9, 0.6});
    EXPECT_NEAR((b - a).x() * (c - a).y() - (b - a).y() * (c - a).x(), 0.0, 1e-7);
    EXPECT_LT((*map.back(b) - Vector2d(0.5, 0.4)).norm(), 1e-12);
    std::vector<PlanePair> scaled = pairs(k_square, k_photo);
    for (PlanePair& pair : scaled) {
        pair.from = 25.4 * pair.from + Vector2d(1e4, -2e4);
    }
    const auto other = Homography::fit(scaled).value();
    EXPECT_LT((*other.map(25.4 * Vector2d(0.5, 0.4) + Vector2d(1e4, -2e4)) - b).norm(), 1e-6);
}

TEST(Homography, TakesAMirroredPhoto) {
    std::vector<Vector2d> mirrored = k_photo;
    for (Vector2d& p : mirrored) {
        p.x() = 1000.0 - p.x();
    }
    EXPECT_TRUE(Homography::fit(pairs(k_square, mirrored)));
}

TEST(Homography, HasNoPlaceBeyondTheHorizon) {
    const auto map = Homography::fit(pairs(k_square, {{0, 0}, {4, 0}, {3, 2}, {1, 2}})).value();
    EXPECT_TRUE(map.map({0.0, -0.99}));
    EXPECT_FALSE(map.map({0.0, -1.0})) << "1 + y is 0 there";
    EXPECT_FALSE(map.map({0.0, -2.0}));
}

TEST(Homography, RefusesWhatDoesNotFixAPlane) {
    EXPECT_EQ(Homography::fit(pairs({{0, 0}, {1, 0}, {1, 1}}, {{0, 0}, {1, 0}, {1, 1}})).error().code,
              ErrorCode::invalid_argument);
    const auto line = Homography::fit(pairs({{0, 0}, {1, 0}, {2, 0}, {0, 1}}, k_square));
    ASSERT_FALSE(line);
    EXPECT_EQ(line.error().code, ErrorCode::does_not_fit);
    EXPECT_NE(line.error().message.find("1, 2 and 3"), std::string::npos) << line.error().message;
    EXPECT_FALSE(Homography::fit(pairs(k_square, {{0, 0}, {1, 0}, {2, 0}, {0, 1}}))) << "in the other plane";
    EXPECT_FALSE(Homography::fit(pairs({{0, 0}, {0, 0}, {1, 0}, {0, 1}}, k_square))) << "twice the same";
    // Six points, five of them on one line: still no four in general position.
    const std::vector<Vector2d> five{{0, 0}, {1, 1}, {2, 2}, {3, 3}, {4, 4}, {0, 3}};
    EXPECT_FALSE(Homography::fit(pairs(five, five)));
    // Two lines of three are enough.
    const std::vector<Vector2d> two{{0, 0}, {1, 0}, {2, 0}, {0, 1}, {1, 1.1}, {2, 1.2}};
    EXPECT_TRUE(Homography::fit(pairs(two, two)));
    // Two neighbours mixed up: the square would be torn.
    EXPECT_EQ(Homography::fit(pairs(k_square, {k_photo[1], k_photo[0], k_photo[2], k_photo[3]})).error().code,
              ErrorCode::does_not_fit);
    EXPECT_FALSE(Homography::fit(pairs(k_square, {{0, 0}, {1, 0}, {1, 1}, {0, std::nan("")}})));
    auto negative = pairs(k_square, k_photo);
    negative[2].sd_to = -1.0;
    EXPECT_EQ(Homography::fit(negative).error().code, ErrorCode::invalid_argument);
}

/// A photo of a plate 1200 x 400 mm with points near its corners, taken from the side.
std::vector<PlanePair> clicked(const Homography& plate_to_photo, std::mt19937_64& engine, double sd_px, double sd_mm) {
    std::normal_distribution<double> noise;
    std::vector<PlanePair> all;
    for (const Vector2d& p : std::vector<Vector2d>{{0, 0}, {1200, 0}, {1200, 400}, {0, 400}, {600, 390}, {500, 20}}) {
        const Vector2d px = *plate_to_photo.map(p) + sd_px * Vector2d(noise(engine), noise(engine));
        all.push_back({px, p + sd_mm * Vector2d(noise(engine), noise(engine)), sd_px, sd_mm});
    }
    return all;
}

// Monte Carlo: the stated covariance is met, inside the points and outside.
TEST(Homography, StatesItsErrorTruly) {
    const auto plate = Homography::fit(pairs({{0, 0}, {1200, 0}, {1200, 400}, {0, 400}},
                                             {{400, 900}, {3500, 1200}, {3300, 2200}, {500, 2400}}))
                           .value();
    const std::vector<Vector2d> places{{600, 200}, {100, 350}, {1500, 200}, {600, -300}};
    std::vector<double> squares(places.size(), 0.0);
    std::vector<double> stated(places.size(), 0.0);
    constexpr int k_runs = 2000;
    double chi = 0.0;
    std::mt19937_64 engine{14};
    for (int run = 0; run < k_runs; ++run) {
        const auto map = Homography::fit(clicked(plate, engine, 1.5, 0.4)).value();
        chi += map.sum_of_squares() / k_runs;
        for (std::size_t i = 0; i < places.size(); ++i) {
            const Vector2d px = *plate.map(places[i]);
            squares[i] += (*map.map(px) - places[i]).squaredNorm() / k_runs;
            stated[i] += map.covariance(px)->trace() / k_runs;
        }
    }
    EXPECT_NEAR(chi, 4.0, 0.3) << "12 numbers less 8: sd of the mean is sqrt(8 / 2000) = 0.06";
    for (std::size_t i = 0; i < places.size(); ++i) {
        // sd of a variance from 2000 samples is about 3 %; of a root half that.
        EXPECT_NEAR(std::sqrt(squares[i] / stated[i]), 1.0, 0.08) << i;
    }
    EXPECT_GT(stated[2], stated[0]) << "it grows outside the points";
    EXPECT_GT(stated[3], stated[0]);
}

}  // namespace
}  // namespace sillwright::geometry

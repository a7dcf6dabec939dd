#include "geometry/natural_spline.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

// Expected values in closed form; agreement with scipy is in tests/reference/fairness_reference_test.cpp.
namespace sillwright::geometry {
namespace {

NaturalSpline through(const std::vector<double>& at, const std::vector<double>& value) {
    std::vector<Length> places;
    for (const double s : at) {
        places.push_back(millimetres(s));
    }
    return NaturalSpline::through(places, value).value();
}

TEST(NaturalSpline, IsTheStraightThroughTwoPlacesAndBeyondThem) {
    const NaturalSpline line = through({100.0, 300.0}, {10.0, 14.0});
    EXPECT_DOUBLE_EQ(line.value(millimetres(200.0)), 12.0);
    EXPECT_DOUBLE_EQ(line.value(millimetres(0.0)), 8.0);
    EXPECT_DOUBLE_EQ(line.value(millimetres(400.0)), 16.0);
}

// Held at 0, 1, 0 over 0, 1, 2: with equal spacing 1 and no second derivative at the ends the one equation is
// 4 m = 6 (0 - 2 + 0), m = -3; so y = x - (x^3 - x) / 2 = (3 x - x^3) / 2 up to the middle, and mirrored beyond.
TEST(NaturalSpline, IsTheBeamOnThreeSupports) {
    const NaturalSpline beam = through({0.0, 1.0, 2.0}, {0.0, 1.0, 0.0});
    for (const double x : {0.0, 0.25, 0.5, 0.75, 1.0}) {
        EXPECT_NEAR(beam.value(millimetres(x)), (3.0 * x - x * x * x) / 2.0, 1e-15);
        EXPECT_NEAR(beam.value(millimetres(2.0 - x)), (3.0 * x - x * x * x) / 2.0, 1e-15);
    }
    // The slope at the front end is 3/2, and it goes on straight.
    EXPECT_NEAR(beam.value(millimetres(-2.0)), -3.0, 1e-15);
    EXPECT_NEAR(beam.value(millimetres(4.0)), -3.0, 1e-15);
}

// More points taken from a natural spline, its ends and its one knot among them, have that same spline.
TEST(NaturalSpline, GivesBackItsOwnCurveFromMorePointsOfIt) {
    const auto beam = [](double x) {
        const double s = x <= 1.0 ? x : 2.0 - x;
        return (3.0 * s - s * s * s) / 2.0;
    };
    const std::vector<double> at{0.0, 0.3, 1.0, 1.2, 1.9, 2.0};
    std::vector<double> value;
    for (const double x : at) {
        value.push_back(beam(x));
    }
    const NaturalSpline spline = through(at, value);
    for (int i = 0; i <= 40; ++i) {
        EXPECT_NEAR(spline.value(millimetres(i / 20.0)), beam(i / 20.0), 1e-14);
    }
}

TEST(NaturalSpline, RefusesWhatIsNoLine) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const std::vector<std::pair<std::vector<Length>, std::vector<double>>> wrong{
        {{}, {}},
        {{millimetres(1.0)}, {1.0}},
        {{millimetres(1.0), millimetres(2.0)}, {1.0}},
        {{millimetres(2.0), millimetres(1.0)}, {1.0, 2.0}},
        {{millimetres(1.0), millimetres(1.0)}, {1.0, 2.0}},
        {{millimetres(1.0), millimetres(2.0)}, {1.0, nan}}};
    for (const auto& [places, values] : wrong) {
        const auto spline = NaturalSpline::through(places, values);
        ASSERT_FALSE(spline);
        EXPECT_EQ(spline.error().code, ErrorCode::invalid_argument);
        EXPECT_FALSE(spline.error().message.empty());
    }
}

}  // namespace
}  // namespace sillwright::geometry

#include "core/survey/equations.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "tests/core/survey/shop_net.h"

namespace sillwright::core::survey {
namespace {

using geometry::degrees;
using geometry::in_rad;
using geometry::radians;
using tests::add;
using tests::mm;
using tests::reading;

TEST(Equations, HeldCoordinatesAreNoUnknowns) {
    const tests::ShopNet net = tests::shop_net();
    const Equations made = equations_of(net.book, net.truth);
    EXPECT_EQ(made.unknowns.start.size(), 3 * 7 - 6);
    EXPECT_EQ(made.equations.size(), net.book.readings.size());
    EXPECT_EQ(made.unknowns.points.at("A").parameter, (std::array{k_fixed, k_fixed, k_fixed}));
    EXPECT_EQ(made.unknowns.points.at("B").parameter[1], k_fixed);
    for (const auto& equation : made.equations) {  // true places give what was read
        std::vector<double> values, partials(equation.parameters.size());
        for (const int parameter : equation.parameters) {
            values.push_back(made.unknowns.start[parameter]);
        }
        EXPECT_NEAR(equation.computed(values, partials), equation.observed, 1e-9);
    }
}

TEST(Equations, ACoordinateWithAnSdIsObserved) {
    tests::ShopNet net = tests::shop_net();
    net.book.points[0].sd = mm(2.0);
    const Equations made = equations_of(net.book, net.truth);
    EXPECT_EQ(made.unknowns.start.size(), 3 * 7 - 3);
    const auto own = std::count_if(made.sources.begin(), made.sources.end(),
                                   [](const EquationSource& source) { return !source.reading; });
    EXPECT_EQ(own, 3);
    net.book.points[0].sd = mm(0.0);  // as if it were not there
    EXPECT_EQ(equations_of(net.book, net.truth).unknowns.start.size(), 3 * 7 - 6);
}

TEST(Equations, LeansGaugesAndGapsBringTheirOwnUnknowns) {
    tests::ShopNet net = tests::shop_net();
    const Eigen::Index before = equations_of(net.book, net.truth).unknowns.start.size();
    net.book.set_ups = {{"wheels", true, {}, {}, {}, {}}, {"lift", false, {}, {}, {}, {}}};
    Reading height = reading(ReadingKind::height, {"A", "H1"}, -180.0);
    height.set_up = "lift";
    add(net.book, height);
    Equations made = equations_of(net.book, net.truth);
    EXPECT_NE(made.waiting.back().find("\"lift\""), std::string::npos) << "nothing says how it leans";
    net.truth.lean_rad["lift"] = {0.01, 0.0};
    made = equations_of(net.book, net.truth);
    EXPECT_EQ(made.unknowns.start.size(), before + 2);
    EXPECT_EQ(parameter_words(made.unknowns, made.unknowns.leans.at("lift").parameter[0]), "roll of set-up lift");

    // Two readings of one laying-on share its tilt; a third is of another.
    for (const char* trace : {"a", "a", "b"}) {
        Reading gauge = reading(ReadingKind::gauge, {"H1", "H2"}, -50.0);
        gauge.up = mm(-20.0);
        gauge.trace = trace;
        add(net.book, gauge);
    }
    add(net.book, reading(ReadingKind::gap, {"sill"}, 4.1));
    add(net.book, reading(ReadingKind::gap, {"sill"}, 4.3));
    add(net.book, reading(ReadingKind::depth, {"sill"}, 12.0));
    made = equations_of(net.book, net.truth);
    EXPECT_EQ(made.unknowns.start.size(), before + 2 + 2 + 2);
    EXPECT_EQ(made.unknowns.tilts.size(), 2U);
    EXPECT_EQ(made.unknowns.spots.size(), 2U);
}

TEST(Equations, AGivenLeanIsHeldOrObserved) {
    tests::ShopNet net = tests::shop_net();
    const Eigen::Index before = equations_of(net.book, net.truth).unknowns.start.size();
    net.book.set_ups = {{"lift", false, degrees(1.0), degrees(-0.5), {}, {}}};
    Equations made = equations_of(net.book, net.truth);
    EXPECT_EQ(made.unknowns.start.size(), before);
    EXPECT_DOUBLE_EQ(made.unknowns.leans.at("lift").start[0], in_rad(degrees(1.0)));
    net.book.set_ups[0].lean_sd = degrees(0.1);
    made = equations_of(net.book, net.truth);
    EXPECT_EQ(made.unknowns.start.size(), before + 2);
}

TEST(Equations, AReadingWaitsForItsPoint) {
    tests::ShopNet net = tests::shop_net();
    net.truth.at_mm.erase("H4");
    const Equations made = equations_of(net.book, net.truth);
    for (std::size_t i = 0; i < net.book.readings.size(); ++i) {
        const auto& points = net.book.readings[i].points;
        const bool waits = std::find(points.begin(), points.end(), "H4") != points.end();
        EXPECT_EQ(made.waiting[i].empty(), !waits);
    }
}

// The partial derivatives of a whole equation, by differences, where a point and a lean are among the unknowns.
TEST(Equations, DerivativesAgreeWithDifferences) {
    tests::ShopNet net = tests::shop_net();
    net.book.set_ups = {{"lift", false, {}, {}, {}, {}}};
    net.truth.lean_rad["lift"] = {0.02, -0.01};
    Reading slope = reading(ReadingKind::slope, {"H1", "H2"}, 0.0);
    slope.value.reset();
    slope.angle = radians(0.1);
    add(net.book, slope);
    add(net.book, reading(ReadingKind::offset, {"A", "B", "H3"}, -90.0));
    const Equations made = equations_of(net.book, net.truth);
    for (const auto& equation : made.equations) {
        std::vector<double> values, partials(equation.parameters.size()), ignored(equation.parameters.size());
        for (const int parameter : equation.parameters) {
            values.push_back(made.unknowns.start[parameter]);
        }
        equation.computed(values, partials);
        for (std::size_t k = 0; k < values.size(); ++k) {
            constexpr double k_h = 1e-5;
            const double kept = values[k];
            values[k] = kept + k_h;
            const double more = equation.computed(values, ignored);
            values[k] = kept - k_h;
            const double less = equation.computed(values, ignored);
            values[k] = kept;
            // Cut-off and rounding of the difference: 1e-6 of the derivative, 1e-7.
            EXPECT_NEAR(partials[k], (more - less) / (2.0 * k_h), 1e-7 + 1e-6 * std::abs(partials[k]));
        }
    }
}

}  // namespace
}  // namespace sillwright::core::survey

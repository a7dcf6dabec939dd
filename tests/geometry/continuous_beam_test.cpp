#include "geometry/continuous_beam.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numeric>
#include <random>

namespace sillwright::geometry {
namespace {

constexpr double k_ei = 2.2e9;
constexpr double k_span = 300.0;
constexpr double k_w = 0.1;

Length mm(double value) {
    return millimetres(value);
}

std::vector<BeamSupport> even(std::size_t count) {
    std::vector<BeamSupport> supports;
    for (std::size_t i = 0; i < count; ++i) {
        supports.push_back({mm(k_span * static_cast<double>(i)), std::nullopt, false});
    }
    return supports;
}

ContinuousBeam beam(std::vector<BeamSupport> supports, double from, double to) {
    return ContinuousBeam::make({{mm(from), mm(to), k_ei}}, std::move(supports)).value();
}

ContinuousBeam even_beam(std::size_t supports) {
    return beam(even(supports), 0.0, k_span * static_cast<double>(supports - 1));
}

BeamLoads all_over(const ContinuousBeam& on) {
    return {{{on.front(), on.rear(), k_w}}, {}};
}

void expect_part(double found, double wanted) {
    EXPECT_NEAR(found, wanted, 1e-9 * std::max(1.0, std::abs(wanted)));
}

/// Deflection in parts of w L⁴ / EI.
double in_parts(double deflection) {
    return deflection * k_ei / (k_w * std::pow(k_span, 4));
}

// Civil Engineering Formulas, table 2.1: moments over the supports of equal spans under an even load, in parts of w L².
TEST(ContinuousBeam, MomentsOverTwoToSevenSupports) {
    const std::vector<std::vector<double>> published{{0, 0},
                                                     {0, 1.0 / 8, 0},
                                                     {0, 1.0 / 10, 1.0 / 10, 0},
                                                     {0, 3.0 / 28, 2.0 / 28, 3.0 / 28, 0},
                                                     {0, 4.0 / 38, 3.0 / 38, 3.0 / 38, 4.0 / 38, 0},
                                                     {0, 11.0 / 104, 8.0 / 104, 9.0 / 104, 8.0 / 104, 11.0 / 104, 0}};
    for (const auto& row : published) {
        SCOPED_TRACE(std::to_string(row.size()) + " supports");
        const ContinuousBeam on = even_beam(row.size());
        const BeamState state = on.under(all_over(on)).value();
        for (std::size_t i = 0; i < row.size(); ++i) {
            expect_part(state.support_moments_n_mm()[i], -row[i] * k_w * k_span * k_span);
        }
    }
}

// engineersedge.com, beam on three supports, even load: 3/8, 1.25; M 9/128; 0.00541 at 0.4215 L from the end (this is
// the two-span case; three spans have 0.0069).
TEST(ContinuousBeam, TwoEqualSpans) {
    const ContinuousBeam on = even_beam(3);
    const BeamState state = on.under(all_over(on)).value();
    expect_part(state.reactions_n()[0], 0.375 * k_w * k_span);
    expect_part(state.reactions_n()[1], 1.25 * k_w * k_span);
    expect_part(state.reactions_n()[2], 0.375 * k_w * k_span);
    expect_part(state.most_moment().value, 9.0 / 128 * k_w * k_span * k_span);
    const BeamExtreme most = state.most_deflection();
    EXPECT_NEAR(in_parts(most.value), 0.00541, 1e-5);
    const double at = in_mm(most.at) / k_span;
    EXPECT_NEAR(std::min(at, 2.0 - at), 0.4215, 1e-4);
    // The same source: v = w / (48 EI) (L³ x - 3 L x³ + 2 x⁴).
    for (const double x : {0.0, 31.0, 126.45, 250.0, 300.0}) {
        const double v =
            k_w / (48 * k_ei) * (std::pow(k_span, 3) * x - 3 * k_span * std::pow(x, 3) + 2 * std::pow(x, 4));
        EXPECT_NEAR(state.deflection_mm(mm(x)), v, 1e-12);
    }
    // The place from the closed form: 1 - 9 r² + 8 r³ = 0 has the root (1 + sqrt 33) / 16.
    EXPECT_NEAR(std::min(at, 2.0 - at), (1.0 + std::sqrt(33.0)) / 16.0, 1e-9);
}

// piping-designer.com 2403: R 0.400, 1.100; M +0.080, -0.100, +0.025; 0.0069 at 0.446 L.
TEST(ContinuousBeam, ThreeEqualSpans) {
    const ContinuousBeam on = even_beam(4);
    const BeamState state = on.under(all_over(on)).value();
    expect_part(state.reactions_n()[0], 0.4 * k_w * k_span);
    expect_part(state.reactions_n()[1], 1.1 * k_w * k_span);
    expect_part(state.most_moment().value, 0.08 * k_w * k_span * k_span);
    expect_part(state.moment_n_mm(mm(1.5 * k_span)), 0.025 * k_w * k_span * k_span);
    EXPECT_NEAR(in_parts(state.most_deflection().value), 0.0069, 5e-5);
    const double at = in_mm(state.most_deflection().at) / k_span;
    EXPECT_NEAR(std::min(at, 3.0 - at), 0.446, 5e-4);
}

// piping-designer.com 2404: two spans of three loaded, on one side: R 0.383, 1.200, 0.450, -0.033; 0.0059 at 0.430 L.
TEST(ContinuousBeam, TwoOfThreeSpansLoadedOnOneSide) {
    const BeamState state = even_beam(4).under({{{mm(0), mm(2 * k_span), k_w}}, {}}).value();
    const double whole = k_w * k_span;
    EXPECT_NEAR(state.reactions_n()[0] / whole, 0.383, 5e-4);
    EXPECT_NEAR(state.reactions_n()[1] / whole, 1.200, 5e-4);
    EXPECT_NEAR(state.reactions_n()[2] / whole, 0.450, 5e-4);
    EXPECT_NEAR(state.reactions_n()[3] / whole, -0.033, 5e-4);
    EXPECT_NEAR(in_parts(state.most_deflection().value), 0.0059, 5e-5);
    EXPECT_NEAR(in_mm(state.most_deflection().at) / k_span, 0.430, 1e-3);
}

// piping-designer.com 2405: the two outer spans loaded: R .450, .550; M .1013, -.050; 0.0099 at 0.479 L.
TEST(ContinuousBeam, OuterSpansLoaded) {
    const BeamState state =
        even_beam(4).under({{{mm(0), mm(k_span), k_w}, {mm(2 * k_span), mm(3 * k_span), k_w}}, {}}).value();
    const double whole = k_w * k_span;
    expect_part(state.reactions_n()[0], 0.45 * whole);
    expect_part(state.reactions_n()[1], 0.55 * whole);
    EXPECT_NEAR(state.most_moment().value / (whole * k_span), 0.1013, 5e-5);
    expect_part(state.support_moments_n_mm()[1], -0.05 * whole * k_span);
    EXPECT_NEAR(in_parts(state.most_deflection().value), 0.0099, 5e-5);
    const double at = in_mm(state.most_deflection().at) / k_span;
    EXPECT_NEAR(std::min(at, 3.0 - at), 0.479, 1e-3);
}

// Any text on strength of materials (Roark, table 8): from memory.
TEST(ContinuousBeam, OfOneSpan) {
    const double whole = k_w * k_span * k_span;
    const ContinuousBeam simple = even_beam(2);
    const BeamState hung = simple.under(all_over(simple)).value();
    expect_part(in_parts(hung.most_deflection().value), 5.0 / 384);
    expect_part(hung.most_moment().value, whole / 8);
    EXPECT_NEAR(in_mm(hung.most_deflection().at), k_span / 2, 1e-6);

    std::vector<BeamSupport> held = even(2);
    held[0].holds_rotation = held[1].holds_rotation = true;
    const ContinuousBeam fixed = beam(held, 0, k_span);
    const BeamState clamped = fixed.under(all_over(fixed)).value();
    expect_part(in_parts(clamped.most_deflection().value), 1.0 / 384);
    expect_part(clamped.support_moments_n_mm()[0], -whole / 12);
    expect_part(clamped.most_moment().value, whole / 24);

    held[0].holds_rotation = false;
    const ContinuousBeam propped = beam(held, 0, k_span);
    const BeamState half = propped.under(all_over(propped)).value();
    expect_part(half.reactions_n()[0], 0.375 * k_w * k_span);
    EXPECT_NEAR(in_parts(half.most_deflection().value), 1.0 / 185, 2e-5);
    EXPECT_NEAR(in_mm(half.most_deflection().at) / k_span, 0.4215, 1e-4);

    const BeamState middle = simple.under({{}, {{mm(k_span / 2), newtons(1000)}}}).value();
    expect_part(middle.most_deflection().value, 1000 * std::pow(k_span, 3) / (48 * k_ei));
    const BeamState clamped_middle = fixed.under({{}, {{mm(k_span / 2), newtons(1000)}}}).value();
    expect_part(clamped_middle.most_deflection().value, 1000 * std::pow(k_span, 3) / (192 * k_ei));
}

TEST(ContinuousBeam, VeryCloseSupportsHoldTheRotation) {
    const double close = 0.01;
    const ContinuousBeam on =
        beam({{mm(-close), {}, false}, {mm(0), {}, false}, {mm(k_span), {}, false}, {mm(k_span + close), {}, false}},
             -close, k_span + close);
    const BeamState state = on.under({{{mm(0), mm(k_span), k_w}}, {}}).value();
    // The end spans still give by close / L of the whole.
    EXPECT_NEAR(state.support_moments_n_mm()[1] / (-k_w * k_span * k_span / 12), 1.0, close / k_span * 2);
    EXPECT_NEAR(in_parts(state.most_deflection().value) * 384, 1.0, close / k_span * 10);
}

// A cantilever: w L⁴ / 8 EI, P L³ / 3 EI; an overhang on two supports: P a² (L + a) / 3 EI at its tip.
TEST(ContinuousBeam, FreeEnds) {
    const ContinuousBeam front = beam({{mm(k_span), {}, true}}, 0, k_span);
    const ContinuousBeam rear = beam({{mm(0), {}, true}}, 0, k_span);
    for (const ContinuousBeam* one : {&front, &rear}) {
        const double tip = one == &front ? 0.0 : k_span;
        const BeamState state = one->under(all_over(*one)).value();
        expect_part(in_parts(state.deflection_mm(mm(tip))), 1.0 / 8);
        expect_part(state.support_moments_n_mm()[0], -k_w * k_span * k_span / 2);
        expect_part(state.reactions_n()[0], k_w * k_span);
        const BeamState point = one->under({{}, {{mm(tip), newtons(40)}}}).value();
        expect_part(point.deflection_mm(mm(tip)), 40 * std::pow(k_span, 3) / (3 * k_ei));
        expect_part(point.worst_deflection().value, 40 * std::pow(k_span, 3) / (3 * k_ei));
    }
    const double a = 120;
    const ContinuousBeam over = beam(even(2), -a, k_span + a);
    for (const double tip : {-a, k_span + a}) {
        const BeamState state = over.under({{}, {{mm(tip), newtons(40)}}}).value();
        expect_part(state.deflection_mm(mm(tip)), 40 * a * a * (k_span + a) / (3 * k_ei));
        // Between the supports it rises: P a L² / (9 sqrt 3 EI).
        expect_part(state.least_deflection().value, -40 * a * k_span * k_span / (9 * std::sqrt(3.0) * k_ei));
    }
}

// A beam of two stiffnesses on two supports, load in the middle: by Mohr's theorem, P L³ / 96 (1/EI₁ + 1/EI₂) there.
TEST(ContinuousBeam, StiffnessThatChanges) {
    const auto on = ContinuousBeam::make({{mm(0), mm(150), k_ei}, {mm(150), mm(300), 3 * k_ei}}, even(2)).value();
    const BeamState state = on.under({{}, {{mm(150), newtons(50)}}}).value();
    expect_part(state.deflection_mm(mm(150)), 50 * std::pow(300.0, 3) / 96 * (1 / k_ei + 1 / (3 * k_ei)));
}

// A stiff beam on springs: a rigid bar, whose reactions are those of even forces and turning about the middle.
TEST(ContinuousBeam, OnSpringsThatAreSofterThanIt) {
    const auto on = ContinuousBeam::make({{mm(0), mm(600), 1e18}},
                                         {{mm(0), 10.0, false}, {mm(300), 10.0, false}, {mm(600), 10.0, false}})
                        .value();
    const BeamState state = on.under({{}, {{mm(450), newtons(60)}}}).value();
    // 60/3 each, and a moment of 60 · 150 taken by the outer two.
    EXPECT_NEAR(state.reactions_n()[0], 20 - 15, 1e-6);
    EXPECT_NEAR(state.reactions_n()[1], 20, 1e-6);
    EXPECT_NEAR(state.reactions_n()[2], 20 + 15, 1e-6);
    EXPECT_NEAR(state.deflection_mm(mm(600)), 3.5, 1e-6);
}

// A spring under the middle of a simple span: both give the same, k d = R and d = (P - R) L³ / 48 EI.
TEST(ContinuousBeam, OnASpringBetweenTwoSupports) {
    const double k = 25.0;
    std::vector<BeamSupport> supports{{mm(0), {}, false}, {mm(150), k, false}, {mm(300), {}, false}};
    const BeamState state = beam(supports, 0, 300).under({{}, {{mm(150), newtons(80)}}}).value();
    const double soft = std::pow(300.0, 3) / (48 * k_ei);
    const double r = 80 * soft / (soft + 1 / k);
    EXPECT_NEAR(state.reactions_n()[1], r, 1e-9);
    EXPECT_NEAR(state.deflection_mm(mm(150)), r / k, 1e-12);
}

struct RandomBeam {
    ContinuousBeam on;
    BeamLoads a, b;
};

RandomBeam random_beam(std::mt19937& dice) {
    const auto between = [&dice](double low, double high) {
        return low + (high - low) * static_cast<double>(dice()) / static_cast<double>(std::mt19937::max());
    };
    std::vector<BeamSupport> supports;
    double at = 0.0;
    const std::size_t n = 2 + dice() % 8;
    for (std::size_t i = 0; i < n; ++i) {
        supports.push_back({mm(at), {}, dice() % 5 == 0});
        if (dice() % 3 == 0) {
            supports.back().stiffness_n_per_mm = between(5, 500);
        }
        at += between(60, 400);
    }
    const double front = dice() % 2 == 0 ? 0.0 : -between(1, 150);
    const double rear = in_mm(supports.back().at) + (dice() % 2 == 0 ? 0.0 : between(1, 150));
    std::vector<BeamStretch> stretches;
    const std::size_t parts = 1 + dice() % 5;
    for (std::size_t i = 0; i < parts; ++i) {
        const double share = static_cast<double>(parts);
        stretches.push_back({mm(front + (rear - front) * static_cast<double>(i) / share),
                             mm(front + (rear - front) * static_cast<double>(i + 1) / share), k_ei * between(0.3, 3)});
    }
    const auto loads = [&] {
        BeamLoads some;
        for (std::size_t i = 0; i < 1 + dice() % 3; ++i) {
            const double from = between(front, rear);
            some.spread.push_back({mm(from), mm(between(from, rear)), between(-1, 1)});
            some.points.push_back({mm(between(front, rear)), newtons(between(-500, 500))});
        }
        some.points.push_back({supports[n / 2].at, newtons(between(-500, 500))});
        return some;
    };
    BeamLoads a = loads();
    BeamLoads b = loads();
    return {ContinuousBeam::make(stretches, supports).value(), std::move(a), std::move(b)};
}

double total(const BeamLoads& loads, double about, bool moment) {
    double sum = 0.0;
    for (const SpreadLoad& load : loads.spread) {
        const double force = load.n_per_mm * in_mm(load.to - load.from);
        sum += moment ? force * (in_mm(load.from + load.to) / 2 - about) : force;
    }
    for (const PointLoad& load : loads.points) {
        sum += in_newtons(load.force) * (moment ? in_mm(load.at) - about : 1.0);
    }
    return sum;
}

TEST(ContinuousBeam, IsInBalanceAndRestsOnItsSupports) {
    std::mt19937 dice(11);
    for (int i = 0; i < 300; ++i) {
        SCOPED_TRACE(i);
        const RandomBeam one = random_beam(dice);
        const BeamState state = one.on.under(one.a).value();
        const auto& supports = one.on.supports();
        double up = 0.0;
        double about = 0.0;
        bool held = false;
        for (std::size_t k = 0; k < supports.size(); ++k) {
            up += state.reactions_n()[k];
            about += state.reactions_n()[k] * in_mm(supports[k].at);
            held = held || supports[k].holds_rotation;
            const double sunk =
                supports[k].stiffness_n_per_mm ? state.reactions_n()[k] / *supports[k].stiffness_n_per_mm : 0.0;
            EXPECT_NEAR(state.deflection_mm(supports[k].at), sunk, 1e-9 * (1 + std::abs(sunk)));
            if (supports[k].holds_rotation) {
                EXPECT_NEAR(state.slope(supports[k].at), 0.0, 1e-12);
            }
            // From before and from behind the same place and the same slope are reached.
            const Length before = supports[k].at - mm(1e-7);
            if (before > one.on.front() && supports[k].at < one.on.rear()) {
                EXPECT_NEAR(state.slope(before), state.slope(supports[k].at), 1e-9);
                EXPECT_NEAR(state.deflection_mm(before), state.deflection_mm(supports[k].at), 1e-7);
            }
        }
        EXPECT_NEAR(up, total(one.a, 0, false), 1e-9 * 2000);
        if (!held) {
            EXPECT_NEAR(about, total(one.a, 0, true), 1e-9 * 2e6);
        }
        // Nothing goes beyond the extremes.
        for (double s = in_mm(one.on.front()); s <= in_mm(one.on.rear()); s += 7.3) {
            EXPECT_LE(state.deflection_mm(mm(s)), state.most_deflection().value + 1e-12);
            EXPECT_GE(state.deflection_mm(mm(s)), state.least_deflection().value - 1e-12);
            EXPECT_LE(state.moment_n_mm(mm(s)), state.most_moment().value + 1e-6);
            EXPECT_GE(state.moment_n_mm(mm(s)), state.least_moment().value - 1e-6);
        }
    }
}

TEST(ContinuousBeam, LoadsAddUp) {
    std::mt19937 dice(12);
    for (int i = 0; i < 200; ++i) {
        SCOPED_TRACE(i);
        const RandomBeam one = random_beam(dice);
        BeamLoads both = one.a;
        both.spread.insert(both.spread.end(), one.b.spread.begin(), one.b.spread.end());
        both.points.insert(both.points.end(), one.b.points.begin(), one.b.points.end());
        const BeamState a = one.on.under(one.a).value();
        const BeamState b = one.on.under(one.b).value();
        const BeamState sum = one.on.under(both).value();
        for (double s = in_mm(one.on.front()); s <= in_mm(one.on.rear()); s += 17.0) {
            const double wanted = a.deflection_mm(mm(s)) + b.deflection_mm(mm(s));
            EXPECT_NEAR(sum.deflection_mm(mm(s)), wanted, 1e-9 * (1 + std::abs(wanted)));
            EXPECT_NEAR(sum.moment_n_mm(mm(s)), a.moment_n_mm(mm(s)) + b.moment_n_mm(mm(s)), 1e-4);
        }
    }
}

// Maxwell: what a load here does there, the same load there does here.
TEST(ContinuousBeam, IsReciprocal) {
    std::mt19937 dice(13);
    for (int i = 0; i < 100; ++i) {
        const RandomBeam one = random_beam(dice);
        const double size = in_mm(one.on.rear() - one.on.front());
        const Length p = one.on.front() + mm(0.23 * size);
        const Length q = one.on.front() + mm(0.71 * size);
        const double there = one.on.under({{}, {{p, newtons(100)}}}).value().deflection_mm(q);
        const double here = one.on.under({{}, {{q, newtons(100)}}}).value().deflection_mm(p);
        EXPECT_NEAR(here, there, 1e-10 * (1 + std::abs(there)));
    }
}

TEST(ContinuousBeam, RefusesWhatCannotStandOrIsNoNumber) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const std::vector<BeamStretch> one{{mm(0), mm(600), k_ei}};
    const auto refused = [](const auto& result) {
        return result.has_value() ? std::optional<ErrorCode>{} : std::optional{result.error().code};
    };
    EXPECT_EQ(refused(ContinuousBeam::make({}, even(2))), ErrorCode::invalid_argument);
    EXPECT_EQ(refused(ContinuousBeam::make(one, {})), ErrorCode::invalid_argument);
    EXPECT_EQ(refused(ContinuousBeam::make(one, {{mm(100), {}, false}})), ErrorCode::does_not_fit);
    EXPECT_EQ(refused(ContinuousBeam::make(one, {{mm(100), {}, false}, {mm(100), {}, false}})),
              ErrorCode::invalid_argument);
    EXPECT_EQ(refused(ContinuousBeam::make(one, {{mm(-1), {}, false}, {mm(100), {}, false}})),
              ErrorCode::invalid_argument);
    EXPECT_EQ(refused(ContinuousBeam::make({{mm(0), mm(600), nan}}, even(2))), ErrorCode::invalid_argument);
    EXPECT_EQ(refused(ContinuousBeam::make({{mm(0), mm(600), 0}}, even(2))), ErrorCode::invalid_argument);
    EXPECT_EQ(refused(ContinuousBeam::make({{mm(0), mm(200), k_ei}, {mm(300), mm(600), k_ei}}, even(2))),
              ErrorCode::invalid_argument);
    EXPECT_EQ(refused(ContinuousBeam::make(one, {{mm(0), -3.0, false}, {mm(100), {}, false}})),
              ErrorCode::invalid_argument);
    const ContinuousBeam on = even_beam(3);
    EXPECT_EQ(refused(on.under({{}, {{mm(700), newtons(1)}}})), ErrorCode::invalid_argument);
    EXPECT_EQ(refused(on.under({{{mm(50), mm(40), 1}}, {}})), ErrorCode::invalid_argument);
    EXPECT_EQ(refused(on.under({{{mm(50), mm(90), nan}}, {}})), ErrorCode::invalid_argument);
}

}  // namespace
}  // namespace sillwright::geometry

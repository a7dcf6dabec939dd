#include "geometry/loft.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <ostream>

namespace sillwright::geometry {
namespace {

LoftNode node(const std::string& name, double out, double up, double radius = 0.0) {
    return {name, {out, up}, millimetres(radius)};
}

/// A plain skirt: six names at nine stations, slightly curved and tapered.
std::vector<LoftSection> skirt(std::size_t stations = 9) {
    std::vector<LoftSection> sections;
    for (std::size_t i = 0; i < stations; ++i) {
        const double s = 200.0 * static_cast<double>(i);
        const double bow = 12.0 * std::sin(s / 500.0);
        sections.push_back({millimetres(s),
                            {node("top return end", 2.0 + bow, 172.0), node("shelf inner", 12.0 + bow, 170.0, 6.0),
                             node("shelf edge", 62.0 + bow, 150.0 + s / 100.0, 12.0),
                             node("lower edge", 70.0 + bow, 30.0 - s / 200.0, 15.0),
                             node("flange root", 30.0 + bow, 20.0, 8.0), node("flange end", -10.0 + bow, 21.0)}});
    }
    return sections;
}

std::vector<LoftSection> with_flute(std::size_t first, std::size_t last) {
    auto sections = skirt();
    for (std::size_t i = first; i <= last; ++i) {
        auto& nodes = sections[i].nodes;
        const Eigen::Vector2d a = nodes[2].p_mm;
        const Eigen::Vector2d d = nodes[3].p_mm;
        const Eigen::Vector2d in = 6.0 * Eigen::Vector2d(d.y() - a.y(), a.x() - d.x()).normalized();
        nodes.insert(nodes.begin() + 3, {{"flute top", a + 0.45 * (d - a) + in, millimetres(3.0)},
                                         {"flute foot", a + 0.55 * (d - a) + in, millimetres(3.0)}});
    }
    return sections;
}

std::size_t number_of(const Loft& loft, const std::string& name) {
    return static_cast<std::size_t>(std::find(loft.names().begin(), loft.names().end(), name) - loft.names().begin());
}

/// Distance of p from the straight a-b; the foot must lie within.
double off_straight(const Eigen::Vector2d& p, const Eigen::Vector2d& a, const Eigen::Vector2d& b) {
    const Eigen::Vector2d u = (b - a).normalized();
    const double along = (p - a).dot(u);
    EXPECT_GT(along, 0.0);
    EXPECT_LT(along, (b - a).norm());
    return std::abs(u.x() * (p - a).y() - u.y() * (p - a).x());
}

TEST(Loft, PassesThroughItsSections) {
    const auto sections = skirt();
    const Loft loft = Loft::make(sections, {}, false).value();
    for (const LoftSection& section : sections) {
        const auto nodes = loft.nodes_at(section.along);
        ASSERT_EQ(nodes.size(), section.nodes.size());
        for (std::size_t k = 0; k < nodes.size(); ++k) {
            EXPECT_NEAR((nodes[k].p_mm - section.nodes[k].p_mm).norm(), 0.0, 1e-12);
            EXPECT_NEAR(in_mm(nodes[k].radius), in_mm(section.nodes[k].radius), 1e-12);
        }
    }
    EXPECT_EQ(loft.key_places().size(), sections.size());
    EXPECT_EQ(loft.front(), millimetres(0.0));
    EXPECT_EQ(loft.rear(), millimetres(1600.0));
}

TEST(Loft, FollowsTheGuideLinesBetween) {
    const auto sections = skirt();
    const Loft loft = Loft::make(sections, {}, false).value();
    std::vector<Length> places;
    std::vector<double> up;
    for (const auto& section : sections) {
        places.push_back(section.along);
        up.push_back(section.nodes[3].p_mm.y());
    }
    const GuideLine line = GuideLine::through(places, up).value();
    for (double s = 0.0; s <= 1600.0; s += 13.0) {
        EXPECT_EQ(loft.nodes_at(millimetres(s))[3].p_mm.y(), line.value(millimetres(s)));
    }
}

TEST(Loft, RadiusNeverFallsBelowZero) {
    auto sections = skirt();
    for (std::size_t i = 0; i < sections.size(); ++i) {
        sections[i].nodes[3].radius = millimetres(i == 4 ? 14.0 : 0.0);  // Akima dips beside a peak with a slope
    }
    sections[3].nodes[3].radius = millimetres(0.5);
    const Loft loft = Loft::make(sections, {}, false).value();
    for (double s = 0.0; s <= 1600.0; s += 1.0) {
        EXPECT_GE(in_mm(loft.nodes_at(millimetres(s))[3].radius), 0.0);
    }
}

TEST(Loft, FeatureRunsOutOnTheStraightBetweenItsNeighbours) {
    const Loft loft = Loft::make(with_flute(2, 5),
                                 {{"flute top", millimetres(320.0)},
                                  {"flute foot", millimetres(330.0)},
                                  {"flute top", millimetres(1090.0)},
                                  {"flute foot", millimetres(1120.0)}},
                                 false)
                          .value();
    EXPECT_EQ(loft.names(), (std::vector<std::string>{"top return end", "shelf inner", "shelf edge", "flute top",
                                                      "flute foot", "lower edge", "flange root", "flange end"}));
    for (const double s : {0.0, 100.0, 250.0, 320.0, 1120.0, 1121.0, 1400.0, 1600.0}) {
        SCOPED_TRACE(s);
        const auto n = loft.nodes_at(millimetres(s));
        EXPECT_NEAR(off_straight(n[3].p_mm, n[2].p_mm, n[5].p_mm), 0.0, 1e-10);
        EXPECT_NEAR(off_straight(n[4].p_mm, n[2].p_mm, n[5].p_mm), 0.0, 1e-10);
        EXPECT_EQ(in_mm(n[3].radius), 0.0);
        EXPECT_EQ(in_mm(n[4].radius), 0.0);
        // Ratios from the fullest station: 0.45 of the straight and 6 mm square
        // into it, so hypot(0.45 L, 6), 0.1 L, hypot(0.45 L, 6), by hand: the middle of the two is the middle of all.
        EXPECT_NEAR(((n[3].p_mm + n[4].p_mm) / 2.0 - (n[2].p_mm + n[5].p_mm) / 2.0).norm(), 0.0, 1e-9);
    }
    for (const double s : {320.0, 330.0, 1090.0, 1120.0}) {  // nothing jumps
        const auto before = loft.nodes_at(millimetres(s - 1e-7));
        const auto behind = loft.nodes_at(millimetres(s + 1e-7));
        for (std::size_t k = 0; k < before.size(); ++k) {
            EXPECT_NEAR((before[k].p_mm - behind[k].p_mm).norm(), 0.0, 1e-6);
        }
    }
    EXPECT_TRUE(loft.present_at(3, millimetres(600.0)));
    EXPECT_FALSE(loft.present_at(3, millimetres(1100.0)));
    EXPECT_EQ(loft.key_places().size(), 13U);
}

// Each of two neighbouring features ends on a straight to the other's line: the
// run-outs lean on one another.
TEST(Loft, StaggeredRunOutsAreSolvedTogether) {
    auto sections = skirt();
    for (std::size_t i = 0; i < sections.size(); ++i) {
        auto& nodes = sections[i].nodes;
        const Eigen::Vector2d a = nodes[2].p_mm;
        const Eigen::Vector2d d = nodes[3].p_mm;
        std::vector<LoftNode> more;
        if (i <= 5) {
            more.push_back({"upper crease", a + 0.4 * (d - a) + Eigen::Vector2d(4.0, 0.0), {}});
        }
        if (i >= 3) {
            more.push_back({"lower crease", a + 0.6 * (d - a) + Eigen::Vector2d(5.0, 0.0), {}});
        }
        nodes.insert(nodes.begin() + 3, more.begin(), more.end());
    }
    const Loft loft =
        Loft::make(sections, {{"upper crease", millimetres(1100.0)}, {"lower crease", millimetres(500.0)}}, false)
            .value();
    const auto at_upper = loft.nodes_at(millimetres(1100.0));
    EXPECT_NEAR(off_straight(at_upper[3].p_mm, at_upper[2].p_mm, at_upper[4].p_mm), 0.0, 1e-10);
    const auto at_lower = loft.nodes_at(millimetres(500.0));
    EXPECT_NEAR(off_straight(at_lower[4].p_mm, at_lower[3].p_mm, at_lower[5].p_mm), 0.0, 1e-10);
    const auto front = loft.nodes_at(millimetres(0.0));
    EXPECT_NEAR(off_straight(front[4].p_mm, front[3].p_mm, front[5].p_mm), 0.0, 1e-10);
}

TEST(Loft, EndOfTheLineWithoutANeighbourCollapses) {
    auto sections = skirt();
    for (std::size_t i = 5; i < sections.size(); ++i) {
        sections[i].nodes.pop_back();
    }
    const Loft loft = Loft::make(sections, {{"flange end", millimetres(900.0)}}, false).value();
    for (const double s : {900.0, 1000.0, 1600.0}) {
        const auto n = loft.nodes_at(millimetres(s));
        EXPECT_NEAR((n[5].p_mm - n[4].p_mm).norm(), 0.0, 1e-12);
    }
}

TEST(Loft, ClosedOutlineRunsOutRoundTheCorner) {
    std::vector<LoftSection> sections;
    for (int i = 0; i < 4; ++i) {
        std::vector<LoftNode> nodes{node("a", 0, 0), node("b", 40, 0), node("c", 40, 60), node("d", 0, 60)};
        if (i < 2) {
            nodes.push_back(node("bulge", -9, 30));
        }
        sections.push_back({millimetres(100.0 * i), nodes});
    }
    const Loft loft = Loft::make(sections, {{"bulge", millimetres(150.0)}}, true).value();
    const auto n = loft.nodes_at(millimetres(250.0));
    EXPECT_NEAR((n[4].p_mm - Eigen::Vector2d(0.0, 30.0)).norm(), 0.0, 1e-12);  // half-way from d to a, by symmetry
}

TEST(Loft, MoveIsTheSameAsMakingAnewAndIsLocal) {
    const Loft loft = Loft::make(skirt(), {}, false).value();
    auto sections = skirt();
    sections[4].nodes[2].p_mm += Eigen::Vector2d(3.0, -2.0);
    const Loft anew = Loft::make(sections, {}, false).value();
    const MovedLoft moved = loft.moved("shelf edge", 4, sections[4].nodes[2].p_mm).value();
    EXPECT_GE(in_mm(moved.changed.from), 200.0);
    EXPECT_LE(in_mm(moved.changed.to), 1400.0);
    for (double s = 0.0; s <= 1600.0; s += 1.0) {
        const auto before = loft.nodes_at(millimetres(s));
        const auto after = moved.loft.nodes_at(millimetres(s));
        const auto expected = anew.nodes_at(millimetres(s));
        for (std::size_t k = 0; k < before.size(); ++k) {
            EXPECT_EQ(after[k].p_mm, expected[k].p_mm);
            const bool outside = s < in_mm(moved.changed.from) || s > in_mm(moved.changed.to);
            if (outside || k != 2) {
                EXPECT_EQ(after[k].p_mm, before[k].p_mm);
            }
        }
    }
}

TEST(Loft, MoveBesideARunOutReportsAllThatMoves) {
    const std::vector<RunOut> run_outs{{"flute top", millimetres(320.0)},
                                       {"flute foot", millimetres(330.0)},
                                       {"flute top", millimetres(1090.0)},
                                       {"flute foot", millimetres(1120.0)}};
    const Loft loft = Loft::make(with_flute(2, 5), run_outs, false).value();
    for (const std::size_t station : {0U, 1U, 4U, 8U}) {
        auto sections = with_flute(2, 5);
        sections[station].nodes[2].p_mm += Eigen::Vector2d(1.0, 1.0);
        const Loft anew = Loft::make(sections, run_outs, false).value();
        const MovedLoft moved = loft.moved("shelf edge", station, sections[station].nodes[2].p_mm).value();
        for (double s = 0.0; s <= 1600.0; s += 1.0) {
            const bool outside = s < in_mm(moved.changed.from) || s > in_mm(moved.changed.to);
            const auto after = moved.loft.nodes_at(millimetres(s));
            const auto expected = anew.nodes_at(millimetres(s));
            const auto before = loft.nodes_at(millimetres(s));
            for (std::size_t k = 0; k < after.size(); ++k) {
                EXPECT_EQ(after[k].p_mm, expected[k].p_mm);
                if (outside) {
                    EXPECT_EQ(after[k].p_mm, before[k].p_mm) << "station " << station << " at " << s;
                }
            }
        }
    }
}

TEST(Loft, MoveThatChangesNothingSaysSo) {
    const auto sections = skirt();
    const Loft loft = Loft::make(sections, {}, false).value();
    const MovedLoft moved = loft.moved("shelf edge", 4, sections[4].nodes[2].p_mm).value();
    EXPECT_EQ(moved.changed.from, moved.changed.to);
    EXPECT_FALSE(loft.moved("no such", 4, {0.0, 0.0}).has_value());
    EXPECT_FALSE(loft.moved("shelf edge", 9, {0.0, 0.0}).has_value());
    EXPECT_FALSE(loft.moved("shelf edge", 4, {std::nan(""), 0.0}).has_value());
    EXPECT_FALSE(loft.moved("shelf edge", 4, sections[4].nodes[1].p_mm + Eigen::Vector2d(1.0, 0.0)).has_value());
}

struct Refused {
    std::string name;
    std::vector<LoftSection> sections;
    std::vector<RunOut> run_outs;
    std::vector<std::string> said;  ///< Words that the message must have.
    bool closed = false;
};

void PrintTo(const Refused& refused, std::ostream* out) {
    *out << refused.name;
}

std::vector<Refused> refused() {
    std::vector<Refused> cases;
    const auto add = [&](const std::string& name, auto change, std::vector<std::string> said,
                         std::vector<RunOut> run_outs = {}) {
        auto sections = skirt();
        change(sections);
        cases.push_back({name, sections, std::move(run_outs), std::move(said), false});
    };
    add("one station", [](auto& s) { s.resize(1); }, {"two or more"});
    add("falling", [](auto& s) { s[3].along = s[2].along; }, {"station 4", "station 3"});
    add("place not finite", [](auto& s) { s[3].along = millimetres(std::nan("")); }, {"station 4"});
    add("node not finite", [](auto& s) { s[3].nodes[1].p_mm.x() = std::numeric_limits<double>::infinity(); },
        {"station 4", "shelf inner"});
    add("negative radius", [](auto& s) { s[3].nodes[1].radius = millimetres(-1.0); }, {"station 4", "shelf inner"});
    add("twice", [](auto& s) { s[5].nodes[2].name = "lower edge"; }, {"station 6", "lower edge"});
    add("other order", [](auto& s) { std::swap(s[5].nodes[2].name, s[5].nodes[3].name); },
        {"station 6", "shelf edge", "lower edge"});
    add("no run-out", [](auto& s) { s[8].nodes.erase(s[8].nodes.begin() + 4); },
        {"station 9", "flange root", "1400.00 mm", "1600.00 mm"});
    add("run-out elsewhere", [](auto& s) { s[8].nodes.erase(s[8].nodes.begin() + 4); }, {"flange root", "1400.00 mm"},
        {{"flange root", millimetres(1300.0)}});
    add("run-out of nothing", [](auto&) {}, {"bead", "700.00 mm"}, {{"bead", millimetres(700.0)}});
    add("goes and comes", [](auto& s) { s[4].nodes.erase(s[4].nodes.begin() + 4); },
        {"station 5", "station 6", "flange root"});
    add("radius too large", [](auto& s) { s[4].nodes[3].radius = millimetres(200.0); }, {"station 5", "lower edge"});
    add("turns back", [](auto& s) { s[4].nodes[5].p_mm = s[4].nodes[3].p_mm; }, {"station 5", "flange root"});
    add("crosses itself", [](auto& s) { s[4].nodes[5].p_mm = {50.0, 190.0}; }, {"station 5", "crosses", "flange root"});
    add("few go through",
        [](auto& s) {
            for (auto& node : s[8].nodes) {
                node.name = "other " + node.name;
            }
        },
        {"missing"});
    cases.push_back({"closed with two", skirt(), {}, {"station 1", "3 or more"}, true});
    for (auto& section : cases.back().sections) {
        section.nodes.resize(2);
    }
    return cases;
}

class LoftRefuses : public testing::TestWithParam<Refused> {};

TEST_P(LoftRefuses, WithStationAndNode) {
    const auto loft = Loft::make(GetParam().sections, GetParam().run_outs, GetParam().closed);
    ASSERT_FALSE(loft.has_value());
    for (const std::string& words : GetParam().said) {
        EXPECT_NE(loft.error().message.find(words), std::string::npos) << loft.error().message;
    }
}

INSTANTIATE_TEST_SUITE_P(Cases, LoftRefuses, testing::ValuesIn(refused()));

TEST(Loft, TooLargeARadiusIsToldWhatFits) {
    // Two straights of 100 at a right angle: setback = radius, so 100 fits, by hand.
    std::vector<LoftSection> sections(2);
    sections[0] = {millimetres(0.0), {node("a", 0, 100), node("b", 0, 0, 150.0), node("c", 100, 0)}};
    sections[1] = sections[0];
    sections[1].along = millimetres(50.0);
    const auto loft = Loft::make(sections, {}, false);
    ASSERT_FALSE(loft.has_value());
    EXPECT_EQ(loft.error().code, ErrorCode::does_not_fit);
    EXPECT_NE(loft.error().message.find("100.00 mm or less fits at 'b'"), std::string::npos) << loft.error().message;
}

// Two legs of 100 at a right angle with a bend of 10: 2 * 90 + 10 pi / 2, by hand.
TEST(Loft, SectionIsTheProfileOfItsNodes) {
    std::vector<LoftSection> sections(2);
    sections[0] = {millimetres(0.0), {node("a", 0, 100), node("b", 0, 0, 10.0), node("c", 100, 0)}};
    sections[1] = sections[0];
    sections[1].along = millimetres(50.0);
    const Loft loft = Loft::make(sections, {}, false).value();
    EXPECT_NEAR(in_mm(length(loft.section_at(millimetres(20.0)).value())), 180.0 + 5.0 * std::numbers::pi, 1e-9);
}

TEST(Loft, SaysWhereAPlaceIs) {
    const Loft loft = Loft::make(skirt(), {}, false).value();
    EXPECT_EQ(loft.place(millimetres(400.0)), "400.00 mm (station 3)");
    EXPECT_EQ(loft.place(millimetres(450.0)), "450.00 mm (between stations 3 and 4)");
    EXPECT_EQ(number_of(loft, "lower edge"), 3U);
}

}  // namespace
}  // namespace sillwright::geometry

#include "tests/support/nest_ribs.h"

#include <cmath>
#include <numbers>

#include "geometry/seeded_draw.h"

namespace sillwright::tests {

using Eigen::Vector2d;
using geometry::Polygon;

namespace {

void add_arc(Polygon& ring, const Vector2d& centre, double radius, double from_deg, double to_deg) {
    constexpr int k_steps = 8;
    for (int i = 0; i <= k_steps; ++i) {
        const double a = (from_deg + (to_deg - from_deg) * i / k_steps) * std::numbers::pi / 180.0;
        ring.emplace_back(centre + radius * Vector2d{std::cos(a), std::sin(a)});
    }
}

}  // namespace

std::vector<Polygon> example_ribs(std::size_t count, std::uint64_t seed) {
    geometry::SeededDraw draw(seed, 1);
    const auto between = [&draw](double low, double high) { return low + (high - low) * draw.uniform(); };
    std::vector<Polygon> ribs;
    for (std::size_t k = 0; k < count; ++k) {
        const double length = between(560, 640), height = between(165, 195), fall = between(10, 40);
        const double left_leg = between(90, 130), right_leg = between(90, 130), hollow = between(50, 90);
        const double round = between(20, 45), slot = 12.15;
        Polygon ring{{0, 0}, {left_leg, 0}, {left_leg + between(5, 25), hollow}};
        const double low = ring.back().x(), high = length - right_leg - between(5, 25);
        for (int i = 1; i <= 3; ++i) {
            const double x = low + (high - low) * i / 4.0, top = hollow + 0.45 * (height - fall - hollow);
            ring.insert(ring.end(),
                        {{x - slot / 2, hollow}, {x - slot / 2, top}, {x + slot / 2, top}, {x + slot / 2, hollow}});
        }
        ring.insert(ring.end(), {{high, hollow}, {length - right_leg, 0}, {length, 0}});
        add_arc(ring, {length - round, height - fall - round}, round, 0, 80);
        add_arc(ring, {round, height - round}, round, 90, 180);
        ribs.push_back(std::move(ring));
    }
    return ribs;
}

geometry::NestQuestion rib_question(std::size_t count, std::uint64_t seed) {
    geometry::NestQuestion question;
    question.boards.push_back({{2440.0, 1220.0}, {}, false, std::nullopt});
    for (Polygon& ring : example_ribs(count, seed)) {
        question.parts.push_back({std::move(ring), {0}});
    }
    question.gap = geometry::millimetres(8.0);
    question.margin = geometry::millimetres(10.0);
    return question;
}

}  // namespace sillwright::tests

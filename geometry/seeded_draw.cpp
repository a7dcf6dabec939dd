#include "geometry/seeded_draw.h"

#include <bit>
#include <cmath>

namespace sillwright::geometry {

namespace {

std::uint64_t splitmix(std::uint64_t& state) {
    state += 0x9e3779b97f4a7c15U;
    std::uint64_t z = state;
    z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9U;
    z = (z ^ (z >> 27U)) * 0x94d049bb133111ebU;
    return z ^ (z >> 31U);
}

/// Half the height of the box that holds the ratio of uniforms of the normal law: sqrt(2 / e), rounded up.
constexpr double k_box_half = 0.85778;

}  // namespace

SeededDraw::SeededDraw(std::uint64_t seed, std::uint64_t stream) : state_{} {
    std::uint64_t mixed = stream;
    std::uint64_t state = seed ^ splitmix(mixed);
    for (std::uint64_t& part : state_) {
        part = splitmix(state);
    }
}

std::uint64_t SeededDraw::next() {
    const std::uint64_t result = std::rotl(state_[0] + state_[3], 23) + state_[0];
    const std::uint64_t moved = state_[1] << 17U;
    state_[2] ^= state_[0];
    state_[3] ^= state_[1];
    state_[1] ^= state_[2];
    state_[0] ^= state_[3];
    state_[2] ^= moved;
    state_[3] = std::rotl(state_[3], 45);
    return result;
}

double SeededDraw::uniform() {
    return (static_cast<double>(next() >> 11U) + 0.5) * 0x1p-53;
}

double SeededDraw::normal() {
    for (;;) {
        const double u = uniform();
        const double v = 2.0 * k_box_half * (uniform() - 0.5);
        const double x = u - 0.449871;
        const double y = std::abs(v) + 0.386595;
        const double q = x * x + y * (0.19600 * y - 0.25472 * x);
        if (q < 0.27597 || (q <= 0.27846 && v * v <= -4.0 * u * u * std::log(u))) {
            return v / u;
        }
    }
}

Eigen::Vector2d SeededDraw::in_disc() {
    for (;;) {
        const double x = 2.0 * uniform() - 1.0;
        const double y = 2.0 * uniform() - 1.0;
        if (x * x + y * y <= 1.0) {
            return {x, y};
        }
    }
}

}  // namespace sillwright::geometry

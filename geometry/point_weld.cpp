#include "geometry/point_weld.h"

#include <algorithm>
#include <bit>

namespace sillwright::geometry {

namespace {

constexpr std::size_t k_least_slots = 64;

/// A large odd number whose bits look random (2^64 over the golden ratio): one
/// multiplication by it carries every bit upward.
constexpr std::uint64_t k_mix = 0x9E3779B97F4A7C15U;

std::uint64_t hash(const Eigen::Vector3d& p) {
    std::uint64_t h = 0;
    for (int k = 0; k < 3; ++k) {
        h = (h ^ std::bit_cast<std::uint64_t>(p[k])) * k_mix;
        h ^= h >> 32U;
    }
    return h * k_mix;
}

}  // namespace

PointWeld::PointWeld(std::size_t expected) {
    slots_.resize(std::bit_ceil(std::max(k_least_slots, 2 * expected)));
    points_.reserve(expected);
}

std::int32_t PointWeld::number_of(const Eigen::Vector3d& p) {
    if (2 * points_.size() >= slots_.size()) {
        grow();
    }
    const Eigen::Vector3d key = p.array() + 0.0;  // minus zero becomes zero
    const std::uint64_t h = hash(key);
    const auto mark = static_cast<std::uint32_t>(h);
    const std::size_t mask = slots_.size() - 1;
    for (std::size_t i = static_cast<std::size_t>(h >> 32U) & mask;; i = (i + 1) & mask) {
        Slot& slot = slots_[i];
        if (slot.number < 0) {
            slot = {mark, static_cast<std::int32_t>(points_.size())};
            points_.push_back(key);
            return slot.number;
        }
        if (slot.mark == mark && points_[static_cast<std::size_t>(slot.number)] == key) {
            return slot.number;
        }
    }
}

void PointWeld::grow() {
    std::vector<Slot> old(2 * slots_.size());
    old.swap(slots_);
    const std::size_t mask = slots_.size() - 1;
    for (const Slot& slot : old) {
        if (slot.number < 0) {
            continue;
        }
        std::size_t i = static_cast<std::size_t>(hash(points_[static_cast<std::size_t>(slot.number)]) >> 32U) & mask;
        while (slots_[i].number >= 0) {
            i = (i + 1) & mask;
        }
        slots_[i] = slot;
    }
}

}  // namespace sillwright::geometry

#pragma once

#include <Eigen/Core>
#include <cstdint>

namespace sillwright::geometry {

/// Random numbers that are the same on every machine: the standard library's distributions are not.
///
/// Numbers come from whole-number arithmetic, sums, products, quotients and roots, which IEEE 754 fixes to the last
/// bit;
///   a logarithm only decides on some of the normal ones, and would have to be wrong in its last bits to matter.
/// Source: xoshiro256++ and splitmix64: D. Blackman, S. Vigna, ACM Trans. Math. Softw. 47 (2021) 36 (from memory).
class SeededDraw {
public:
    /// `stream` tells apart sequences of one seed, such as those of numbered draws.
    SeededDraw(std::uint64_t seed, std::uint64_t stream);

    std::uint64_t next();
    /// Between 0 and 1, neither of them: the middle of one of 2^53 equal parts.
    double uniform();
    /// Mean 0, standard deviation 1. Source: ratio of uniforms, with the bounds of J. L. Leva, ACM Trans. Math. Softw.
    /// 18
    ///   (1992) 449 (from memory).
    double normal();
    /// Even over the disc of radius 1, by drawing from its square until a point lies in it.
    Eigen::Vector2d in_disc();

private:
    std::uint64_t state_[4];
};

}  // namespace sillwright::geometry

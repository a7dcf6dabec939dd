#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <utility>
#include <vector>

namespace sillwright::geometry {

/// Gives equal points one number. Equal means equal in every bit, except that
/// minus zero is zero: nothing is moved, so closed stays closed.
class PointWeld {
public:
    /// Room for about `expected` different points; grows when there are more.
    explicit PointWeld(std::size_t expected);

    /// The number of `p`, counted from 0 in the order of first sight.
    /// Precondition: finite, fewer than 2^31 points so far.
    std::int32_t number_of(const Eigen::Vector3d& p);

    [[nodiscard]] const std::vector<Eigen::Vector3d>& points() const { return points_; }
    /// Hands the points over; the weld is not to be used after that.
    std::vector<Eigen::Vector3d> take_points() { return std::move(points_); }

private:
    struct Slot {
        std::uint32_t mark = 0;    ///< Part of the hash: most unequal points are told apart by it.
        std::int32_t number = -1;  ///< Negative: the slot is free.
    };
    void grow();

    std::vector<Slot> slots_;  ///< A power of two, at most half full.
    std::vector<Eigen::Vector3d> points_;
};

}  // namespace sillwright::geometry

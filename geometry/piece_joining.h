#pragma once

#include <Eigen/Core>
#include <functional>
#include <vector>

#include "geometry/profile.h"
#include "geometry/segment.h"
#include "geometry/units.h"

namespace sillwright::geometry {

/// Ends of pieces this near are one joint: both curves of a crossing are cut at
/// their own points nearest to it, each up to 1e-6 mm off, and a dropped crumb
/// may lie between.
constexpr Length k_joint = millimetres(3e-6);

/// A stretch of a longer segment between two cuts. Millimetres.
struct Piece {
    std::size_t whole_index;  ///< Which of the cut segments, in their order.
    Segment whole;
    double from, to;  ///< Fractions of the whole.
    Segment segment;
    Eigen::Vector2d start, end;
};

Piece make_piece(const Segment& whole, std::size_t whole_index, double from, double to);

/// Whether two ends are one joint.
bool meet(const Eigen::Vector2d& a, const Eigen::Vector2d& b);

/// Takes out pieces that lead nowhere, until all that is left continues at both
/// ends or ends where `may_end_at` says so. Returns the longest piece taken out.
Length prune(std::vector<Piece>& pieces, const std::function<bool(const Eigen::Vector2d&)>& may_end_at);

/// Pieces joined end to end, each used once; neighbours from one whole made one
/// again. A piece goes on along its own whole where it can, else to the nearest
/// start.
///
/// Shape: `pieces` in the order of their wholes and cuts. Chains with a free
///   start come first, then loops, both by their first piece. A loop is closed
///   where it first comes back to its start, so that two loops which touch stay two.
std::vector<std::vector<Piece>> join(const std::vector<Piece>& pieces);

/// A chain of one or more pieces as a profile; closed if its ends meet. A gap at
/// a joint is closed by running the earlier piece on along itself, or back.
Profile profile_of(const std::vector<Piece>& chain);

}  // namespace sillwright::geometry

#include "geometry/piece_joining.h"

#include <gtest/gtest.h>

namespace sillwright::geometry {
namespace {

using Eigen::Vector2d;

Segment line(const Vector2d& from, const Vector2d& to) {
    return {LineSegment{from, to}, 0};
}

std::vector<Piece> whole_pieces(const std::vector<Segment>& segments) {
    std::vector<Piece> pieces;
    for (std::size_t i = 0; i < segments.size(); ++i) {
        pieces.push_back(make_piece(segments[i], i, 0.0, 1.0));
    }
    return pieces;
}

bool nowhere(const Vector2d&) {
    return false;
}

const std::vector<Segment> k_triangle{line({0, 0}, {4, 0}), line({4, 0}, {0, 3}), line({0, 3}, {0, 0})};

TEST(PieceJoining, PruningTakesATailOffALoop) {
    std::vector<Segment> segments = k_triangle;
    segments.push_back(line({4, 0}, {6, 0}));
    segments.push_back(line({6, 0}, {7, 0}));
    std::vector<Piece> pieces = whole_pieces(segments);
    EXPECT_EQ(prune(pieces, nowhere), millimetres(2.0));
    EXPECT_EQ(pieces.size(), 3U);
}

TEST(PieceJoining, PruningLeavesWhatMayEnd) {
    std::vector<Piece> pieces = whole_pieces({line({0, 0}, {4, 0}), line({4, 0}, {8, 0})});
    EXPECT_EQ(prune(pieces, [](const Vector2d& p) { return p.x() == 0.0 || p.x() == 8.0; }), Length{});
    EXPECT_EQ(pieces.size(), 2U);
    EXPECT_EQ(prune(pieces, [](const Vector2d& p) { return p.x() == 0.0; }), millimetres(4.0));
    EXPECT_TRUE(pieces.empty());
}

TEST(PieceJoining, StretchesOfOneWholeBecomeOneAgain) {
    std::vector<Piece> pieces{make_piece(k_triangle[0], 0, 0.0, 0.25), make_piece(k_triangle[0], 0, 0.25, 1.0)};
    pieces.push_back(make_piece(k_triangle[1], 1, 0.0, 1.0));
    pieces.push_back(make_piece(k_triangle[2], 2, 0.0, 1.0));
    const auto chains = join(pieces);
    ASSERT_EQ(chains.size(), 1U);
    const Profile triangle = profile_of(chains[0]);
    EXPECT_TRUE(triangle.closed);
    EXPECT_EQ(triangle.segments.size(), 3U);
    EXPECT_DOUBLE_EQ(in_mm(length(triangle)), 12.0);  // 3-4-5
}

TEST(PieceJoining, TwoLoopsThatTouchStayTwo) {
    std::vector<Segment> segments = k_triangle;
    for (const Segment& s : k_triangle) {
        segments.push_back(line(-start_point(s), -end_point(s)));  // touches the first at the origin
    }
    const auto chains = join(whole_pieces(segments));
    ASSERT_EQ(chains.size(), 2U);
    EXPECT_TRUE(profile_of(chains[0]).closed);
    EXPECT_TRUE(profile_of(chains[1]).closed);
}

TEST(PieceJoining, AGapWithinTheJointIsClosedAlongThePiece) {
    const auto chains = join(whole_pieces({line({0, 0}, {4 - 1e-6, 0}), line({4, 0}, {4, 5})}));
    ASSERT_EQ(chains.size(), 1U);
    const Profile chain = profile_of(chains[0]);
    EXPECT_FALSE(chain.closed);
    EXPECT_LE((end_point(chain.segments[0]) - Vector2d{4, 0}).norm(), 1e-12);
}

TEST(PieceJoining, AFullCircleIsAChainOfItsOwn) {
    const Segment circle{ArcSegment{{0, 0}, 5.0, radians(0.3), degrees(360.0)}, 0};
    std::vector<Piece> pieces = whole_pieces({circle});
    EXPECT_EQ(prune(pieces, nowhere), Length{});
    ASSERT_EQ(join(pieces).size(), 1U);
    EXPECT_TRUE(profile_of(join(pieces)[0]).closed);
}

}  // namespace
}  // namespace sillwright::geometry

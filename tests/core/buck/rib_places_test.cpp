#include "core/buck/rib_places.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/core/buck/hand_plug.h"

namespace sillwright::core {
namespace {

using geometry::millimetres;

/// A crown on a parabola out = 150 + b x (1000 - x): its bend is 2 b everywhere, so R = 1 / 2b.
geometry::Loft bowed(double b) {
    std::vector<std::vector<HandNode>> sections;
    for (int i = 0; i <= 10; ++i) {
        const double x = 100.0 * i;
        sections.push_back(u_section(5, 150.0 + b * x * (1000.0 - x)));
    }
    return hand_line(sections);
}

Piece with_stations(const geometry::Loft& line) {
    Piece piece;
    for (std::size_t i = 0; i < line.sections().size(); ++i) {
        piece.drawn.sections.push_back({std::to_string(i + 1), {}, {}});
    }
    return piece;
}

TEST(RibPlaces, StandAtTheStations) {
    const auto line = bowed(0.0);
    const auto places = rib_places(with_stations(line), line, {});
    ASSERT_EQ(places.size(), 11U);
    EXPECT_EQ(places[3].station, "4");
    EXPECT_NEAR(in_mm(places[3].along), 300.0, 1e-9);
}

/// Akima's slopes are exact for a parabola on even places, so the chord error is s² / 8R.
TEST(RibPlaces, ChordErrorIsSquareOfTheBayOverEightR) {
    const double b = 2e-5;
    const auto line = bowed(b);
    for (const double s : {200.0, 400.0}) {
        const ChordError error = chord_error(line, millimetres(300), millimetres(300 + s));
        // eight places miss the middle by an eighteenth of the bay: 1 % of the error
        EXPECT_NEAR(in_mm(error.error), s * s * 2.0 * b / 8.0, 0.015 * s * s * 2.0 * b / 8.0);
        EXPECT_EQ(error.node, "n2");
    }
}

TEST(RibPlaces, AreTheFewestThatHoldAChordError) {
    const auto line = bowed(2e-5);
    const Piece piece = with_stations(line);
    // s² 4e-5 / 8 <= 0.8 mm: s <= 400, so three bays
    EXPECT_EQ(rib_places(piece, line, millimetres(0.8)).size(), 4U);
    const auto fine = rib_places(piece, line, millimetres(0.05));
    EXPECT_EQ(fine.size(), 11U);
    EXPECT_EQ(fine[1].station, "2");
    for (std::size_t i = 0; i + 1 < fine.size(); ++i) {
        EXPECT_LE(in_mm(chord_error(line, fine[i].along, fine[i + 1].along).error), 0.05);
    }
    const auto straight = bowed(0.0);
    EXPECT_EQ(rib_places(with_stations(straight), straight, millimetres(0.01)).size(), 2U);
    EXPECT_EQ(rib_places(piece, line, millimetres(1e-9)).size(), k_most_ribs);
}

}  // namespace
}  // namespace sillwright::core

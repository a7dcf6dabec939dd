#include "app/link/arcs_of_hinge.h"

#include <gtest/gtest.h>

#include <cmath>

namespace sillwright::app {
namespace {

using Eigen::Vector3d;

// An upright axis at (200, 50); T1 stands 600 mm behind it, T2 900, each at three openings: by hand.
TEST(ArcsOfHinge, ShowsTheTargetsAsSeenAlongTheAxis) {
    core::survey::Book book;
    book.hinges = {{"front door", {"T1", "T2"}, {}}};
    core::survey::Results results;
    core::survey::HingeOutcome hinge;
    hinge.door = "front door";
    hinge.axis.emplace();
    hinge.axis->lower_mm = {200.0, 50.0, 0.0};
    hinge.axis->upper_mm = {200.0, 50.0, 400.0};
    for (const auto& [name, radius] : {std::pair{"T2", 900.0}, std::pair{"T1", 600.0}}) {
        for (int opening = 1; opening <= 3; ++opening) {
            const double angle = 0.3 * (opening - 1);
            core::survey::PlacedPoint point;
            point.name = std::string(name) + "/" + std::to_string(opening);
            point.at_mm = Vector3d(200.0 + radius * std::cos(angle), 50.0 + radius * std::sin(angle), 120.0);
            results.solution.points.push_back(point);
            hinge.axis->misses.push_back({name, opening, {0.5, 0.0, 0.3}, 1.0});
        }
    }
    hinge.axis->suspect = 4;
    const ArcPicture picture = arcs_of_hinge(book, results, hinge);
    ASSERT_TRUE(picture.axis);
    ASSERT_EQ(picture.targets.size(), 2U);
    EXPECT_EQ(picture.targets[0].name, "T1") << "in the order of the book";
    for (const ArcPlace& place : picture.targets[0].places) {
        EXPECT_NEAR(place.at_mm.norm(), 600.0, 1e-9);
        EXPECT_NEAR(place.miss_mm.x(), 0.5, 1e-12) << "along";
    }
    EXPECT_NEAR(picture.targets[0].places[1].at_mm.y(), 600.0 * std::sin(0.3), 1e-9) << "out is down";
    EXPECT_TRUE(picture.targets[0].places[1].suspect);
}

TEST(ArcsOfHinge, WithoutAnAxisSaysWhatToMeasure) {
    core::survey::HingeOutcome hinge;
    hinge.lacks = "Measure T1 at three openings.";
    const ArcPicture picture = arcs_of_hinge({}, {}, hinge);
    EXPECT_FALSE(picture.axis);
    EXPECT_EQ(picture.words, "Measure T1 at three openings.");
    hinge.axis.emplace();
    hinge.axis->upper_mm = {0.0, 0.0, 400.0};
    hinge.axis->from_pins = true;
    EXPECT_FALSE(arcs_of_hinge({}, {}, hinge).axis);
}

}  // namespace
}  // namespace sillwright::app

#include "core/survey/photo.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/typed.h"

namespace sillwright::core::survey {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector2d;
using Eigen::Vector3d;
using geometry::in_mm;
using geometry::millimetres;

PlacedPoint placed(const std::string& name, const Vector3d& at_mm, double sd_mm) {
    PlacedPoint point;
    point.name = name;
    point.at_mm = at_mm;
    point.covariance_mm2 = sd_mm * sd_mm * Matrix3d::Identity();
    return point;
}

/// A section photo taken square on at 5 px/mm: right = 100 + 5 out, down = 900 - 5 up. Closed form.
Vector2d square_on(const Vector2d& p_mm) {
    return {100.0 + 5.0 * p_mm.x(), 900.0 - 5.0 * p_mm.y()};
}

struct Scene {
    Job job;
    Photo photo;
    Solution solution;

    Scene() {
        job.stations.push_back({"3", entry(millimetres(380.0)), {}});
        photo.name = "photo 1";
        photo.path = "a.png";
        photo.station = "3";
        const std::vector<Vector2d> places{{0, 0}, {120, 0}, {120, 150}, {0, 150}};
        const std::vector<std::string> names{"A", "B", "C", "D"};
        for (std::size_t i = 0; i < 4; ++i) {
            solution.points.push_back(placed(names[i], {380.0, places[i].x(), places[i].y()}, 0.3));
            add(names[i], square_on(places[i]));
        }
    }
    void add(const std::string& name, const Vector2d& px) {
        PhotoPoint point;
        point.point = name;
        point.right_px = px.x();
        point.down_px = px.y();
        photo.points.push_back(point);
    }
    [[nodiscard]] RectifiedPhoto rectified() const { return rectify(job, photo, solution); }
};

TEST(Photo, IsStraightenedByFourPointsOfTheBook) {
    const Scene scene;
    const auto photo = scene.rectified();
    ASSERT_TRUE(photo.map) << photo.lacks;
    EXPECT_LT((*photo.map->map(square_on({60, 40})) - Vector2d(60, 40)).norm(), 1e-9);
    EXPECT_TRUE(photo.cautions.empty());
    for (const RectifiedPoint& point : photo.points) {
        ASSERT_TRUE(point.residual_mm);
        EXPECT_LT(point.residual_mm->norm(), 1e-9) << "nothing checks four points";
        EXPECT_NEAR(point.sd_mm, 0.3, 1e-12);
    }
}

TEST(Photo, TakesTypedPlacesBesideTheBooks) {
    Scene scene;
    scene.add("", square_on({60, 75}));
    EXPECT_EQ(scene.rectified().points[4].lacks, "Choose a point of the measuring book, or type both of its numbers.");
    scene.photo.points[4].across = typed_entry("60", BareUnit::mm).value();
    scene.photo.points[4].up = typed_entry("78", BareUnit::mm).value();
    const auto photo = scene.rectified();
    ASSERT_TRUE(photo.map);
    ASSERT_TRUE(photo.points[4].residual_mm);
    EXPECT_LT(photo.points[4].residual_mm->y(), -1.0) << "3 mm too high as typed, part of it taken up by the others";
    EXPECT_GT(photo.rms_mm, 0.5);
    ASSERT_EQ(photo.cautions.size(), 1U);
    EXPECT_NE(photo.cautions[0].find("point 5 is off most"), std::string::npos) << photo.cautions[0];
}

TEST(Photo, SaysThatItsErrorGrowsOutsideThePoints) {
    const auto photo = Scene().rectified();
    const double inside = in_mm(*photo.sd_at(square_on({60, 75})));
    const double beside = in_mm(*photo.sd_at(square_on({200, 75})));
    const double far = in_mm(*photo.sd_at(square_on({400, 75})));
    EXPECT_GT(inside, k_pick_sd_px / 5.0) << "the hand alone";
    EXPECT_LT(inside, 1.0);
    EXPECT_GT(beside, inside);
    EXPECT_GT(far, in_mm(k_trace_limit));
    EXPECT_GT(far, beside);
}

TEST(Photo, SaysWhatItLacks) {
    Scene three;
    three.photo.points.pop_back();
    EXPECT_FALSE(three.rectified().map);
    EXPECT_NE(three.rectified().lacks.find("there are 3"), std::string::npos) << three.rectified().lacks;

    Scene unknown;
    unknown.photo.points[2].point = "Z";
    EXPECT_EQ(unknown.rectified().points[2].lacks, "The measuring book does not place Z yet.");
    EXPECT_NE(unknown.rectified().lacks.find("1 more without a known place"), std::string::npos);

    Scene line;
    line.solution.points[2].at_mm = Vector3d(380.0, 240.0, 0.0);
    const Vector2d px = square_on({240, 0});
    line.photo.points[2].right_px = px.x();
    line.photo.points[2].down_px = px.y();
    EXPECT_NE(line.rectified().lacks.find("A, B and C lie on one line"), std::string::npos) << line.rectified().lacks;

    Scene mixed;
    std::swap(mixed.photo.points[0].point, mixed.photo.points[1].point);
    EXPECT_NE(mixed.rectified().lacks.find("mixed up"), std::string::npos) << mixed.rectified().lacks;

    Scene nowhere;
    nowhere.photo.station = "9";
    EXPECT_NE(nowhere.rectified().lacks.find("\"9\""), std::string::npos);
    EXPECT_FALSE(nowhere.rectified().map);

    const auto none = rectify(Job{}, Photo{}, Solution{});
    EXPECT_FALSE(none.map);
    EXPECT_FALSE(none.lacks.empty());
}

TEST(Photo, WarnsOfAPointThatIsNotInThePlane) {
    Scene scene;
    scene.solution.points[1].at_mm.x() = 420.0;
    const auto photo = scene.rectified();
    ASSERT_EQ(photo.cautions.size(), 1U);
    EXPECT_NE(photo.cautions[0].find("B lies 40.0 mm along the car"), std::string::npos) << photo.cautions[0];
}

TEST(Photo, OfTheSideReadsAlongAndUp) {
    Scene scene;
    scene.photo.plane = PhotoPlane::elevation;
    scene.photo.station.clear();
    for (std::size_t i = 0; i < 4; ++i) {
        Vector3d& at = scene.solution.points[i].at_mm;
        at = Vector3d(at.y(), 60.0, at.z());
    }
    const auto photo = scene.rectified();
    ASSERT_TRUE(photo.map) << photo.lacks;
    EXPECT_LT((*photo.map->map(square_on({60, 40})) - Vector2d(60, 40)).norm(), 1e-9);
}

}  // namespace
}  // namespace sillwright::core::survey

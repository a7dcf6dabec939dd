#include "core/edit/underlay_edit.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "core/drawn_loft.h"
#include "core/job_file.h"
#include "geometry/profile.h"
#include "tests/core/survey/scan_world.h"

namespace sillwright::core {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;
using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;
using tests::scan_world;
using tests::ScanWorld;

TEST(UnderlayEdit, KeepsAPhotoWithItsPointsThroughTheFile) {
    Job job;
    job.stations.push_back({"3", {millimetres(380), ""}, {}});
    job = add_photo(job, {"a.png", std::string(64, 'a')}, survey::PhotoPlane::section, "3").value().job;
    job = pick_photo_point(job, "photo 1", {10.5, 20.25}).value().job;
    job = name_photo_point(job, "photo 1", 0, "A").value().job;
    job = pick_photo_point(job, "photo 1", {30, 40}).value().job;
    job = type_photo_point(job, "photo 1", 1, PhotoNumber::across, "1 1/2\"").value().job;
    const auto typed = type_photo_point(job, "photo 1", 1, PhotoNumber::up, "22");
    EXPECT_EQ(typed.value().words, "type the place of point 2 of photo 1");
    job = typed.value().job;
    const auto again = parse_job(job_text(job), "a.sillwright");
    ASSERT_TRUE(again) << again.error().message;
    EXPECT_EQ(again.value().photos, job.photos);
    EXPECT_NEAR(in_mm(job.photos[0].points[1].across->value), 38.1, 1e-12);
    job = type_photo_point(job, "photo 1", 0, PhotoNumber::up, "5").value().job;
    EXPECT_TRUE(job.photos[0].points[0].point.empty()) << "typed numbers take the place of the book's";
    job = move_photo_point(job, "photo 1", 0, {11, 12}).value().job;
    EXPECT_EQ(job.photos[0].points[0].right_px, 11.0);
    job = set_photo_plane(job, "photo 1", survey::PhotoPlane::elevation, "").value().job;
    job = delete_photo_point(job, "photo 1", 0).value().job;
    EXPECT_EQ(job.photos[0].points.size(), 1U);
    EXPECT_FALSE(delete_photo_point(job, "photo 1", 7));
    EXPECT_FALSE(type_photo_point(job, "photo 1", 0, PhotoNumber::up, "twelve"));
    EXPECT_FALSE(pick_photo_point(job, "photo 9", {0, 0}));
    EXPECT_TRUE(delete_photo(job, "photo 1").value().job.photos.empty());
}

TEST(UnderlayEdit, KeepsAScanWithItsMarks) {
    Job job = add_scan({}, {"s.stl", ""}, BareUnit::in).value().job;
    job = mark_scan(job, "scan 1", "A", {1, 2, 3}).value().job;
    job = mark_scan(job, "scan 1", "A", {4, 5, 6}).value().job;
    ASSERT_EQ(job.scans[0].marks.size(), 1U);
    EXPECT_EQ(job.scans[0].marks[0].y, 5.0);
    job = fit_scan(job, "scan 1", true).value().job;
    job = type_scan_deviation(job, "scan 1", "0.4").value().job;
    job = set_scan_unit(job, "scan 1", BareUnit::mm).value().job;
    const auto again = parse_job(job_text(job), "a.sillwright");
    ASSERT_TRUE(again) << again.error().message;
    EXPECT_EQ(again.value().scans, job.scans);
    EXPECT_FALSE(type_scan_deviation(job, "scan 1", "0"));
    EXPECT_FALSE(mark_scan(job, "scan 1", "", {1, 2, 3}));
    EXPECT_FALSE(delete_scan_mark(job, "scan 1", "B"));
    EXPECT_TRUE(delete_scan_mark(job, "scan 1", "A").value().job.scans[0].marks.empty());
    EXPECT_TRUE(delete_scan(job, "scan 1").value().job.scans.empty());
}

std::vector<ScanProfile> profiles(const ScanWorld& world, const std::vector<std::size_t>& stations) {
    survey::Scan scan;
    const auto solution = tests::marked(world, scan, 4);
    const auto placed = survey::place_scan(world.job, scan, world.scan, solution, nullptr);
    std::vector<Length> along;
    for (const std::size_t i : stations) {
        along.push_back(world.job.stations[i].along.value);
    }
    const auto cuts = survey::cut_scan(*placed.mesh, along);
    std::vector<ScanProfile> all;
    for (std::size_t i = 0; i < stations.size(); ++i) {
        all.push_back({world.job.stations[stations[i]].name, cuts[i].lines.at(0)});
    }
    return all;
}

/// Largest distance of a body section's line from where it was before.
double off(const ScanWorld& world, const Job& after, std::size_t station) {
    const auto body = loft_of(after, after.body, false, "body");
    EXPECT_TRUE(body) << body.error().message;
    const Length along = world.job.stations[station].along.value;
    const auto truth = world.body.section_at(along).value();
    const auto line = geometry::polyline(body.value().section_at(along).value(), millimetres(0.05)).value();
    double most = 0.0;
    for (const Vector2d& p : line) {
        most = std::max(most, in_mm(geometry::nearest_point(truth, p).distance));
    }
    return most;
}

TEST(UnderlayEdit, DrawsTheWholeBodyFromAScan) {
    const ScanWorld world = scan_world(0.03);
    const auto all = profiles(world, {1, 2, 3, 4, 5, 6, 7, 8});
    EXPECT_FALSE(draw_from_scan(world.job, all, millimetres(0.4), false)) << "drawn sections are not overwritten";
    Job bare = world.job;
    bare.body = {};
    const auto drawn = draw_from_scan(bare, all, millimetres(0.4), false);
    ASSERT_TRUE(drawn) << drawn.error().message;
    EXPECT_NE(drawn.value().words.find("draw stations 2, 3, 4, 5, 6, 7, 8 and 9 from the scan, within 0."),
              std::string::npos)
        << drawn.value().words;
    const auto& sections = drawn.value().job.body.sections;
    ASSERT_EQ(sections.size(), 8U);
    EXPECT_EQ(sections[0].nodes.front().name, "p1");
    for (const Section& section : sections) {
        EXPECT_EQ(section.nodes.size(), sections[0].nodes.size());
    }
    for (std::size_t i = 1; i <= 8; ++i) {
        EXPECT_LT(off(world, drawn.value().job, i), 0.4 + 4 * 0.03 + 0.15) << i;
    }
}

TEST(UnderlayEdit, DrawsOneSectionWithTheNamesOfItsNeighbours) {
    const ScanWorld world = scan_world(0.03);
    const auto one = profiles(world, {4});
    const auto refused = draw_from_scan(world.job, one, millimetres(0.4), false);
    ASSERT_FALSE(refused);
    EXPECT_NE(refused.error().message.find("drawn at station 5 already"), std::string::npos);
    const auto drawn = draw_from_scan(world.job, one, millimetres(0.4), true);
    ASSERT_TRUE(drawn) << drawn.error().message;
    const Job& after = drawn.value().job;
    ASSERT_EQ(after.body.sections.size(), world.job.body.sections.size());
    for (const Node& node : world.job.body.sections[4].nodes) {
        const auto& nodes = after.body.sections[4].nodes;
        EXPECT_TRUE(std::any_of(nodes.begin(), nodes.end(), [&](const Node& n) { return n.name == node.name; }))
            << node.name;
    }
    EXPECT_LT(off(world, after, 4), 0.4 + 4 * 0.03 + 0.15);
    // The neighbours keep their shape.
    EXPECT_LT(off(world, after, 3), 1e-6);
    EXPECT_LT(off(world, after, 5), 1e-6);
}

TEST(UnderlayEdit, RefusesWhatItCannotDraw) {
    const ScanWorld world = scan_world(0.0);
    EXPECT_FALSE(draw_from_scan(world.job, {}, millimetres(0.4), true));
    EXPECT_FALSE(draw_from_scan(world.job, {{"77", {{0, 0}, {1, 1}}}}, millimetres(0.4), true));
    EXPECT_FALSE(draw_from_scan(world.job, {{"3", {}}}, millimetres(0.4), true));
    EXPECT_FALSE(draw_from_scan(world.job, {{"3", {{0, 0}, {1, 1}}}}, millimetres(0.0), true));
    const ScanWorld noisy = scan_world(0.1);
    Job bare = noisy.job;
    bare.body = {};
    const auto fussy = draw_from_scan(bare, profiles(noisy, {2, 3}), millimetres(0.01), false);
    ASSERT_FALSE(fussy);
    EXPECT_NE(fussy.error().message.find("Allow a larger deviation"), std::string::npos);
}

}  // namespace
}  // namespace sillwright::core

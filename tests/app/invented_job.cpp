#include "tests/app/invented_job.h"

#include <cmath>
#include <memory>
#include <utility>

namespace sillwright::app {

using core::Finding;
using core::State;
using geometry::degrees;
using geometry::in_rad;
using geometry::millimetres;

namespace {

Finding falling_short() {
    Finding finding;
    finding.id = "swing/front door/moving";
    finding.title = "Front door moving, to skirt";
    finding.stage = core::Stage::swing;
    finding.state = State::falls_short;
    finding.found = 1.8954321098765432;
    finding.required = 4.0000000000000009;
    finding.margin = -2.1045678901234577;
    finding.place.words = "at 3.9 · 700 mm, door at 6.2°";
    finding.place.along = millimetres(700.1234567890123);
    finding.place.on_part_mm = Eigen::Vector3d(700.25, 131.5, 118.75);
    finding.place.on_other_mm = Eigen::Vector3d(700.5, 131.125, 120.625);
    finding.place.door_angle = degrees(6.2);
    finding.why = "The hem of the cladding dips as it swings out, and meets the rise of the shelf.";
    finding.formula = "least distance over the opening, less both meshes' deviation";
    finding.source = "common practice, no source";
    finding.inputs = {{"sheet", "3 mm"}, {"paint", "0.12 mm"}};
    finding.mend = core::Mend{"Lower the shelf edge by 2.1 mm at stations 3 to 5.",
                              {{"s4-shelf-edge", Eigen::Vector2d(0.0, -2.1045678901234577)}},
                              0.00000012};
    return finding;
}

Finding close_one() {
    Finding finding;
    finding.id = "reach/H2/edge";
    finding.title = "H2, hole to the flange's free edge";
    finding.state = State::close;
    finding.found = 10.6;
    finding.required = 10.0;
    finding.margin = 0.6;
    finding.place.words = "at 2.1 · 310 mm";
    return finding;
}

Finding holding() {
    Finding finding;
    finding.id = "reach/H4/angle";
    finding.title = "H4, flange to seat";
    finding.state = State::holds;
    finding.unit = core::Unit::deg;
    finding.at_least = false;
    finding.found = 0.75;
    finding.required = 3.0;
    finding.margin = 2.25;
    return finding;
}

Finding not_measured() {
    Finding finding;
    finding.id = "swing/rear door/moving";
    finding.title = "Rear door moving, to skirt";
    finding.stage = core::Stage::swing;
    finding.missing = {"the two hinge pins of the rear door"};
    return finding;
}

SectionPicture section(geometry::Length along) {
    SectionPicture picture;
    picture.title = "section at " + std::to_string(static_cast<int>(geometry::in_mm(along))) + " mm";
    picture.lines = {
        {SectionRole::body,
         {{-30, 128},
          {40, 126},
          {58, 118},
          {66, 104},
          {66, 62},
          {62, 22},
          {54, 15},
          {26, 15},
          {22, -14},
          {16, -14},
          {14, 15},
          {-30, 19}},
         false,
         "sill"},
        {SectionRole::door,
         {{78, 146}, {100, 146}, {114, 136}, {119, 122}, {114, 119}, {104, 121}},
         true,
         "front door"},
        {SectionRole::door_limit, {{72, 117}, {90, 115}, {114, 113}, {128, 115}, {150, 120}}, false, "door limit"},
        {SectionRole::skirt_inside,
         {{72, 116}, {138, 112}, {148, 106}, {152, 96}, {142, 24}, {136, 17}, {64, 13}, {40, 14}},
         false,
         ""},
        {SectionRole::skirt_outside,
         {{72, 120}, {140, 116}, {152, 108}, {156, 96}, {146, 22}, {138, 13}, {64, 9}, {40, 10}},
         false,
         ""},
        {SectionRole::mount_axis, {{52, 40}, {52, 0}}, false, ""},
    };
    picture.points = {
        {SectionRole::skirt_outside, {72, 120}, "top return end", {0, 1}},
        {SectionRole::skirt_outside, {140, 116}, "shelf edge", {0.5, 1}},
        {SectionRole::skirt_outside, {152, 108}, "bead", {1, 0.8}},
        {SectionRole::skirt_outside, {146, 22}, "knee", {1, 0.1}},
        {SectionRole::skirt_outside, {138, 13}, "lower edge", {0.5, -1}},
        {SectionRole::skirt_outside, {64, 9}, "flange root", {0, 1}},
        {SectionRole::skirt_outside, {40, 10}, "flange end", {0, 1}},
        {SectionRole::mount_axis, {52, 15}, "H4", {0, 0}},
    };
    return picture;
}

/// An open strip: `outline` (out, up) run along the car from `from` to `to`.
std::shared_ptr<const geometry::Mesh> strip(const std::vector<Eigen::Vector2d>& outline, double from, double to) {
    geometry::Mesh mesh;
    constexpr int steps = 40;
    for (int i = 0; i <= steps; ++i) {
        const double t = static_cast<double>(i) / steps;
        const double bow = 12.0 * 4.0 * t * (1.0 - t);
        for (const Eigen::Vector2d& p : outline) {
            mesh.points.emplace_back(from + t * (to - from), 700.0 + p.x() + bow, p.y());
        }
    }
    const auto n = static_cast<std::int32_t>(outline.size());
    for (std::int32_t i = 0; i < steps; ++i) {
        for (std::int32_t k = 0; k + 1 < n; ++k) {
            const std::int32_t a = i * n + k;
            mesh.triangles.push_back({a, a + n, a + 1});
            mesh.triangles.push_back({a + 1, a + n, a + n + 1});
        }
    }
    return std::make_shared<const geometry::Mesh>(std::move(mesh));
}

/// A turn about the upright line at (along, out).
DoorPose turn_about(double along, double out, geometry::Angle angle) {
    const double c = std::cos(in_rad(angle));
    const double s = std::sin(in_rad(angle));
    DoorPose pose;
    pose << c, -s, 0, along - c * along + s * out,  //
        s, c, 0, out - s * along - c * out,         //
        0, 0, 1, 0;
    return pose;
}

}  // namespace

CheckedJob invented_job() {
    CheckedJob checked;
    checked.job.vehicle = "Estate A";
    checked.job.revision = "C";
    checked.job.date = "2026-05-04";
    checked.job.stations = {
        {"2", {millimetres(350), ""}, {}}, {"1", {millimetres(100), ""}, {}}, {"3", {millimetres(700.5), ""}, {}}};
    checked.file = "jobs/Estate A.sillwright";
    checked.sha256 = std::string(64, 'a');
    checked.findings = {holding(), not_measured(), falling_short(), close_one()};
    checked.curves = [] {
        return std::vector<ClearanceCurve>{
            {"swing/front door/moving",
             "front door",
             "lower edge",
             "skirt",
             {{degrees(0.1), millimetres(6.3000000000000007)}, {degrees(70), millimetres(41.1)}}}};
    };
    checked.door_limits = [] {
        return std::vector<DoorLimit>{{"front door", "2", millimetres(350), {{{72.1, 117.2}, {150.3, 120.4}}}}};
    };
    checked.section_at = [](geometry::Length along) -> geometry::Result<SectionPicture> { return section(along); };
    const SectionPicture shown = section(millimetres(350));
    SolidScene scene;
    scene.bodies = {
        {"sill", SolidRole::body, strip(shown.lines[0].points_mm, -100, 2000), {}},
        {"front door", SolidRole::door, strip({{80, 600}, {100, 146}, {119, 122}, {104, 121}}, 150, 1050), 0, "front door"},
        {"skirt", SolidRole::skirt, strip(shown.lines[4].points_mm, 0, 1900), {}}};
    scene.doors = {{"front door", degrees(68), [](geometry::Angle angle) { return turn_about(150, 780, angle); }}};
    checked.solids = [scene] { return scene; };
    return checked;
}

}  // namespace sillwright::app

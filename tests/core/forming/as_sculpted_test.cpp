#include "core/forming/as_sculpted.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <chrono>
#include <cmath>
#include <filesystem>
#include <functional>

#include "core/drawn_loft.h"
#include "core/job_file.h"
#include "core/typed.h"
#include "geometry/mesh_file.h"
#include "geometry/profile.h"
#include "geometry/seeded_draw.h"
#include "tests/core/forming/chain_world.h"
#include "tests/core/mounts/fitting_world.h"
#include "tests/core/small_job.h"

namespace sillwright::core {
namespace {

using Eigen::Vector2d;
using geometry::in_mm;
using geometry::millimetres;
using testing::Contains;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;

constexpr double k_exact = 1e-6;
/// Points of a dense prototype stand some tenth of a millimetre apart.
constexpr double k_dense_mm = 0.1;

Job estate() {
    const auto job = read_job(std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples/estate_a.sillwright");
    EXPECT_TRUE(job.has_value());
    Job found = job ? job.value() : Job{};
    const Job chain = chain_job();
    found.forming = chain.forming;
    found.forming.generations[2].shrink_across = 0.003;  // along and across are not the same
    found.forming.sculpted.sd = mm(0.2);
    found.skirt.pieces[0].sheet = mm(3);
    found.skirt.pieces[0].flutes.clear();
    found.skirt.pieces[0].recesses.clear();
    return found;
}

double ratio_across(const Job& job) {
    return chain_size(chain_of(job), true).ratio;
}

geometry::Loft line_of(const Job& job) {
    auto line = loft_of(job, job.skirt.pieces[0].drawn, false, "skirt");
    EXPECT_TRUE(line.has_value()) << (line ? "" : line.error().message);
    return std::move(line).value();
}

/// The drawn line's profile in a section.
geometry::Profile profile_of(const Section& section) {
    std::vector<geometry::ProfileNode> nodes;
    for (const Node& node : section.nodes) {
        nodes.push_back({{in_mm(node.out.value), in_mm(node.up.value)}, node.radius.value});
    }
    auto profile = geometry::make_profile(nodes, false);
    EXPECT_TRUE(profile.has_value()) << (profile ? "" : profile.error().message);
    return std::move(profile).value();
}

Section& section_of(Job& job, const std::string& station) {
    auto& sections = job.skirt.pieces[0].drawn.sections;
    return *std::find_if(sections.begin(), sections.end(), [&](const Section& one) { return one.station == station; });
}

double face_offset(const Job& job) {
    const bool male = job.forming.mould == MouldKind::male;
    const bool inside = job.skirt.pieces[0].drawn_face == DrawnFace::inside;
    return male == inside ? 0.0 : (male ? -3.0 : 3.0);
}

/// Points on the mould's face of a profile, at the plug's size, bumped by `bump` of the way round.
GaugeLine gauged(const Job& job, const std::string& station, const geometry::Profile& profile,
                 const std::function<double(double)>& bump, double step_mm = k_dense_mm) {
    GaugeLine line{station, {}, {}};
    double way = 0.0;
    for (const geometry::Segment& segment : profile.segments) {
        const double length = in_mm(geometry::length(segment));
        const int count = std::max(1, static_cast<int>(length / step_mm));
        for (int i = 0; i <= count; ++i) {
            const double fraction = static_cast<double>(i) / count;
            const Vector2d run = geometry::direction_at(segment, fraction);
            const Vector2d p = geometry::point_at(segment, fraction) +
                               (face_offset(job) + bump(way + fraction * length)) * Vector2d(-run.y(), run.x());
            line.points.push_back({mm(p.x() / ratio_across(job)), mm(p.y() / ratio_across(job)), {}});
        }
        way += length;
    }
    return line;
}

double no_bump(double /*way*/) {
    return 0.0;
}

AsSculpted sculpted_of(const Job& job) {
    return as_sculpted(job, job.skirt.pieces[0], line_of(job), chain_of(job));
}

std::vector<Finding> findings_of(const Job& job) {
    return sculpted_findings(job, job.skirt.pieces[0], sculpted_of(job), Mends::look_for);
}

/// Proud by up to 1.8 mm here and low by 0.9 there.
double two_bumps(double way) {
    return 1.8 * std::exp(-std::pow((way - 90.0) / 12.0, 2)) - 0.9 * std::exp(-std::pow((way - 230.0) / 10.0, 2));
}

TEST(AsSculpted, KnownBumpsComeBackForEveryMouldAndFace) {
    for (const MouldKind mould : {MouldKind::male, MouldKind::female}) {
        for (const DrawnFace face : {DrawnFace::inside, DrawnFace::outside}) {
            Job job = estate();
            job.forming.mould = mould;
            job.skirt.pieces[0].drawn_face = face;
            for (Section& section : job.skirt.pieces[0].drawn.sections) {
                for (Node& node : section.nodes) {
                    // so that a hollow rounding is left with a bump and a sheet on it
                    node.radius = node.name == "shelf inner" || node.name == "bead" ? mm(8) : node.radius;
                }
            }
            const geometry::Profile profile = profile_of(section_of(job, "5"));
            job.forming.sculpted.lines = {gauged(job, "5", profile, two_bumps)};
            const AsSculpted found = sculpted_of(job);
            EXPECT_THAT(found.missing, IsEmpty());
            ASSERT_THAT(found.stations, SizeIs(1));
            const auto& points = found.stations[0].points;
            ASSERT_EQ(points.size(), job.forming.sculpted.lines[0].points.size());
            std::size_t k = 0;
            double way = 0.0, most = 0.0;
            for (const geometry::Segment& segment : profile.segments) {
                const double length = in_mm(geometry::length(segment));
                const int count = std::max(1, static_cast<int>(length / k_dense_mm));
                for (int i = 0; i <= count; ++i, ++k) {
                    const double bump = two_bumps(way + length * i / count);
                    ASSERT_NEAR(in_mm(points[k].proud), bump, k_exact) << k;
                    most = std::max(most, bump);
                }
                way += length;
            }
            EXPECT_GT(most, 1.79);
        }
    }
}

TEST(AsSculpted, SaysWhereToCutAndWhereToAdd) {
    Job job = estate();
    job.forming.sculpted.lines = {gauged(job, "4", profile_of(section_of(job, "4")), two_bumps)};
    const Finding finding = named(findings_of(job), "forming/skirt/sculpted");
    EXPECT_NEAR(*finding.found, 1.8, 1e-4);
    // By hand: 2 sqrt(0.2² + 0.6²).
    EXPECT_NEAR(*finding.required, 2.0 * std::sqrt(0.40), 1e-12);
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_THAT(finding.why, HasSubstr("cut 1.8 mm at 4.0 · 610 mm"));
    EXPECT_THAT(finding.inputs, Contains(testing::Field(&Input::value, HasSubstr("add 0.9 mm"))));
    EXPECT_FALSE(finding.formula.empty());
    EXPECT_FALSE(finding.source.empty());
}

/// The section of a station with its nodes moved.
Section moved(Section section, const std::vector<std::pair<std::string, Vector2d>>& by_mm) {
    for (const auto& [name, by] : by_mm) {
        for (Node& node : section.nodes) {
            if (node.name == name) {
                node.out = mm(in_mm(node.out.value) + by.x());
                node.up = mm(in_mm(node.up.value) + by.y());
            }
        }
    }
    return section;
}

const std::vector<std::pair<std::string, Vector2d>> k_as_built{{"shelf edge", {1.2, -0.8}},
                                                               {"bead", {1.5, 0.6}},
                                                               {"knee", {-1.1, 0.7}},
                                                               {"lower edge", {0.9, -1.0}},
                                                               {"shelf inner", {0.4, 1.1}}};

TEST(SculptedJob, NodesComeWhereThePrototypeHasThem) {
    for (const MouldKind mould : {MouldKind::male, MouldKind::female}) {
        Job job = estate();
        job.forming.mould = mould;
        job.forming.sculpted.replaces = true;
        std::vector<Section> truth;
        for (const char* station : {"3", "7"}) {
            truth.push_back(moved(section_of(job, station), k_as_built));
            job.forming.sculpted.lines.push_back(gauged(job, station, profile_of(truth.back()), no_bump));
        }
        const auto laid = sculpted_job(job);
        ASSERT_TRUE(laid.has_value()) << laid.error().message;
        Job after = laid.value();
        for (const Section& want : truth) {
            const Section& got = section_of(after, want.station);
            for (std::size_t i = 1; i + 1 < want.nodes.size(); ++i) {
                EXPECT_NEAR(in_mm(got.nodes[i].out.value), in_mm(want.nodes[i].out.value), 0.05) << want.nodes[i].name;
                EXPECT_NEAR(in_mm(got.nodes[i].up.value), in_mm(want.nodes[i].up.value), 0.05) << want.nodes[i].name;
                EXPECT_EQ(got.nodes[i].radius, want.nodes[i].radius);
            }
        }
        EXPECT_EQ(section_of(after, "4"), section_of(job, "4")) << "not measured there";
        for (const SculptedStation& station : sculpted_of(after).stations) {
            for (const SculptedPoint& point : station.points) {
                EXPECT_NEAR(in_mm(point.proud), 0.0, 0.01) << point.strip;
            }
        }
    }
}

TEST(SculptedJob, NodesWithoutPointsOnTheirStraightsStay) {
    Job job = estate();
    job.forming.sculpted.replaces = true;
    const Section truth = moved(section_of(job, "5"), {{"shelf edge", {0.0, -1.0}}, {"shelf inner", {0.0, -1.0}}});
    GaugeLine line = gauged(job, "5", profile_of(truth), no_bump);
    // Of the shelf alone.
    std::erase_if(line.points, [&](const GaugePoint& point) {
        return in_mm(point.out.value) < 95.0 || in_mm(point.out.value) > 135.0 || in_mm(point.up.value) < 100.0;
    });
    job.forming.sculpted.lines = {line};
    auto laid = sculpted_job(job);
    ASSERT_TRUE(laid.has_value()) << laid.error().message;
    Job after = laid.value();
    const Section& was = section_of(job, "5");
    const Section& now = section_of(after, "5");
    for (std::size_t i = 0; i < was.nodes.size(); ++i) {
        const bool of_shelf = was.nodes[i].name == "shelf edge" || was.nodes[i].name == "shelf inner";
        EXPECT_EQ(now.nodes[i] == was.nodes[i], !of_shelf) << was.nodes[i].name;
    }
    // On the next straight's old line, where that meets the shelf a millimetre lower.
    const auto node = [&](const Section& section, const std::string& name) {
        const auto found =
            std::find_if(section.nodes.begin(), section.nodes.end(), [&](const Node& one) { return one.name == name; });
        return Vector2d(in_mm(found->out.value), in_mm(found->up.value));
    };
    const Vector2d next = node(was, "bead") - node(was, "shelf edge");
    const Vector2d step = node(now, "shelf edge") - node(was, "shelf edge");
    EXPECT_NEAR(next.x() * step.y() - next.y() * step.x(), 0.0, 1e-6);
    EXPECT_LT(step.y(), -0.5);
}

TEST(SculptedJob, IsTheJobItselfUnlessItReplaces) {
    Job job = estate();
    job.forming.sculpted.lines = {gauged(job, "5", profile_of(section_of(job, "5")), two_bumps)};
    EXPECT_EQ(sculpted_job(job).value(), job);
    job.forming.sculpted.replaces = true;
    EXPECT_NE(sculpted_job(job).value(), job);
    job.forming.sculpted.lines.clear();
    EXPECT_EQ(sculpted_job(job).value(), job);
}

TEST(SculptedJob, ASparseNoisyGaugeStillLaysTheSection) {
    Job job = estate();
    job.forming.sculpted.replaces = true;
    job.forming.sculpted.sd = mm(0.3);
    const Section truth = moved(section_of(job, "5"), {{"bead", {2.0, 0.0}}, {"knee", {2.0, 0.0}}});
    geometry::SeededDraw draw(7, 1);
    job.forming.sculpted.lines = {gauged(
        job, "5", profile_of(truth), [&](double) { return 0.3 * draw.normal(); }, 4.0)};
    auto laid = sculpted_job(job);
    ASSERT_TRUE(laid.has_value()) << laid.error().message;
    Job after = laid.value();
    // The face, some twenty points: 0.3 / sqrt(20), five times that with the lever to its ends.
    for (std::size_t i = 0; i < truth.nodes.size(); ++i) {
        if (truth.nodes[i].name == "bead" || truth.nodes[i].name == "knee") {
            EXPECT_NEAR(in_mm(section_of(after, "5").nodes[i].out.value), in_mm(truth.nodes[i].out.value), 0.6);
        }
    }
}

TEST(SculptedJob, RefusesWithTheStation) {
    Job job = estate();
    job.forming.sculpted.replaces = true;
    auto& sections = job.skirt.pieces[0].drawn.sections;
    const GaugeLine line = gauged(job, "5", profile_of(section_of(job, "5")), no_bump);
    sections.erase(sections.begin() + 4);
    job.forming.sculpted.lines = {line};
    auto laid = sculpted_job(job);
    ASSERT_FALSE(laid.has_value());
    EXPECT_EQ(laid.error().code, geometry::ErrorCode::does_not_fit);
    EXPECT_THAT(laid.error().message, HasSubstr("Station 5: skirt has no section there"));

    job = estate();
    job.forming.sculpted.replaces = true;
    // The face far inside: shelf edge and bead have no room for their roundings.
    Section crushed = section_of(job, "5");
    GaugeLine face{"5", {}, {}};
    for (int i = 0; i < 40; ++i) {
        face.points.push_back({mm(134.0), mm(45.0 + i), {}});
    }
    job.forming.sculpted.lines = {face};
    laid = sculpted_job(job);
    ASSERT_FALSE(laid.has_value());
    EXPECT_THAT(laid.error().message, HasSubstr("Station 5: no section of skirt goes through"));

    job = estate();
    job.forming.sculpted.replaces = true;
    job.forming.sculpted.lines = {line};
    job.forming.generations[1].shrink_across.reset();
    laid = sculpted_job(job);
    ASSERT_FALSE(laid.has_value());
    EXPECT_THAT(laid.error().message, HasSubstr("shrinkage of female mould, across"));
}

TEST(AsSculpted, MovedNodesAreItsMend) {
    Job job = estate();
    const Section truth = moved(section_of(job, "5"), {{"bead", {2.0, 0.3}}, {"knee", {2.0, 0.0}}});
    job.forming.sculpted.lines = {gauged(job, "5", profile_of(truth), no_bump, 1.0)};
    const Finding finding = named(findings_of(job), "forming/skirt/sculpted");
    ASSERT_TRUE(finding.mend);
    EXPECT_THAT(finding.mend->words, HasSubstr("On the bench: cut 2.0 mm"));
    expect_taken(job, "forming/skirt/sculpted", findings_of);
}

// A narrow bump on the shelf: a straight through its points goes under it by a tenth of its height.
TEST(AsSculpted, ABumpThatNoStraightFollowsIsBenchWork) {
    Job job = estate();
    const auto bump = [](double way) { return 4.0 * std::exp(-std::pow((way - 50.0) / 4.0, 2)); };
    job.forming.sculpted.lines = {gauged(job, "5", profile_of(section_of(job, "5")), bump)};
    const Finding finding = named(findings_of(job), "forming/skirt/sculpted");
    ASSERT_TRUE(finding.mend);
    EXPECT_FALSE(finding.mend->can_be_taken());
    EXPECT_THAT(finding.mend->words, HasSubstr("cut 4.0 mm"));
}

TEST(AsSculpted, LeavesOutWhatIsBeyondTheEndsAndInFlutes) {
    Job job = estate();
    const geometry::Profile profile = profile_of(section_of(job, "5"));
    const auto add = [&](const Vector2d& p) {
        job.forming.sculpted.lines[0].points.push_back(
            {mm(p.x() / ratio_across(job)), mm(p.y() / ratio_across(job)), {}});
    };
    job.forming.sculpted.lines = {GaugeLine{"5", {}, {}}};
    const geometry::Segment& last = profile.segments.back();
    add(geometry::end_point(last) + 15.0 * geometry::direction_at(last, 1.0));  // the mould goes on
    add(geometry::end_point(last) - 5.0 * geometry::direction_at(last, 1.0));
    EXPECT_THAT(sculpted_of(job).stations[0].points, SizeIs(1));
    // In a flute 20 mm in from the shelf edge.
    const Section& section = section_of(job, "5");
    const auto node = [&](const std::string& name) {
        const auto found =
            std::find_if(section.nodes.begin(), section.nodes.end(), [&](const Node& one) { return one.name == name; });
        return Vector2d(in_mm(found->out.value), in_mm(found->up.value));
    };
    const Vector2d in = (node("shelf inner") - node("shelf edge")).normalized();
    add(node("shelf edge") + 20.0 * in + Vector2d(0.0, -4.0));
    add(node("shelf edge") + 40.0 * in);
    EXPECT_THAT(sculpted_of(job).stations[0].points, SizeIs(3));
    Flute flute;
    flute.name = "1";
    flute.offset = mm(20);
    flute.width = mm(18);
    flute.depth = mm(4);
    flute.bottom_radius = mm(4);
    job.skirt.pieces[0].flutes = {flute};
    EXPECT_THAT(sculpted_of(job).stations[0].points, SizeIs(2));
}

TEST(AsSculpted, WhatIsMissingIsListed) {
    Job job = estate();
    EXPECT_THAT(findings_of(job), IsEmpty()) << "nothing was measured";
    job.forming.sculpted.lines = {gauged(job, "5", profile_of(section_of(job, "5")), no_bump, 5.0)};
    job.forming.sculpted.sd.reset();
    Finding finding = named(findings_of(job), "forming/skirt/sculpted");
    EXPECT_EQ(finding.state, State::not_measured);
    EXPECT_THAT(finding.missing, Contains("the standard deviation of a place on the prototype"));
    EXPECT_TRUE(finding.found) << "how far it is off is known";
    job.forming.generations[2].shrink_across.reset();
    finding = named(findings_of(job), "forming/skirt/sculpted");
    EXPECT_THAT(finding.missing, Contains("shrinkage of male mould, across"));
    job = estate();
    job.scans.push_back({});
    job.scans.back().name = "plug";
    job.forming.sculpted.scan = "plug";
    EXPECT_THAT(sculpted_of(job).missing, Contains("the scan plug, placed by its marks"));
}

/// A prototype's scan: the drawn line's surface at the plug's size with the shelf edge moved, in a frame of its own.
struct Scanned {
    Job job;
    survey::Solution solution;
    Eigen::Matrix3d turn = Eigen::AngleAxisd(0.7, Eigen::Vector3d(1, 2, 3).normalized()).toRotationMatrix();
    Eigen::Vector3d shift{310, -75, 40};

    /// Of a place at the part's size.
    [[nodiscard]] Eigen::Vector3d on_scan(const Eigen::Vector3d& p) const {
        const double along = chain_size(chain_of(job), false).ratio;
        const Eigen::Vector3d plug(p.x() / along, p.y() / ratio_across(job), p.z() / ratio_across(job));
        return turn * plug + shift;
    }
};

TEST(AsSculpted, AScanIsPlacedScaledAndCut) {
    TestFolder folder;
    Scanned world;
    world.job = estate();
    Job& job = world.job;
    job.forming.generations[2].shrink_across = 0.002;  // as along: its marks then fit exactly
    job.side = Side::right;
    job.zero_to_midplane.reset();
    Job built = job;
    for (Section& section : built.skirt.pieces[0].drawn.sections) {
        section = moved(section, {{"bead", {1.4, 0.2}}, {"knee", {1.4, 0.0}}});
    }
    const geometry::Loft line = line_of(built);
    geometry::Mesh mesh;
    constexpr int k_rows = 300, k_columns = 400;
    for (int row = 0; row < k_rows; ++row) {
        const auto along = line.front() + (line.rear() - line.front()) * (static_cast<double>(row) / (k_rows - 1));
        const geometry::Profile profile = line.section_at(along).value();
        const double length = in_mm(geometry::length(profile));
        std::size_t segment = 0;
        double before = 0.0;
        for (int column = 0; column < k_columns; ++column) {
            const double way = length * column / (k_columns - 1);
            while (segment + 1 < profile.segments.size() &&
                   way > before + in_mm(geometry::length(profile.segments[segment]))) {
                before += in_mm(geometry::length(profile.segments[segment++]));
            }
            const double part = (way - before) / in_mm(geometry::length(profile.segments[segment]));
            const Vector2d p = geometry::point_at(profile.segments[segment], std::clamp(part, 0.0, 1.0));
            mesh.points.push_back(world.on_scan({in_mm(along), p.x(), p.y()}));
        }
    }
    for (int row = 0; row + 1 < k_rows; ++row) {
        for (int column = 0; column + 1 < k_columns; ++column) {
            const int a = row * k_columns + column;
            mesh.triangles.push_back({a, a + 1, a + k_columns});
            mesh.triangles.push_back({a + 1, a + k_columns + 1, a + k_columns});
        }
    }
    ASSERT_TRUE(geometry::write_mesh(mesh, folder.path() / "plug.ply", geometry::MeshFormat::ply_binary,
                                     geometry::FileUnit::millimetre));
    survey::Scan scan;
    scan.name = "plug";
    scan.path = "plug.ply";
    scan.fitted = true;  // not to be heeded: it would hide what is asked
    for (const Eigen::Vector3d& at : {Eigen::Vector3d(50, 140, 110), {1850, 140, 112}, {900, 60, 20}, {400, 150, 60}}) {
        survey::PlacedPoint point;
        point.name = "M" + std::to_string(scan.marks.size());
        point.at_mm = at;
        world.solution.points.push_back(point);
        const Eigen::Vector3d seen = world.on_scan(at);
        scan.marks.push_back({point.name, seen.x(), seen.y(), seen.z(), {}});
    }
    job.scans = {scan};
    job.forming.sculpted.scan = "plug";

    const auto placed = sculpted_scan(job, folder.path(), world.solution, chain_of(job));
    ASSERT_TRUE(placed.has_value()) << placed.error().message;
    EXPECT_FALSE(placed.value().sd) << "four marks that fit exactly say nothing of noise";
    const AsSculpted found = as_sculpted(job, job.skirt.pieces[0], line_of(job), chain_of(job), &placed.value());
    EXPECT_THAT(found.missing, IsEmpty());
    // At its two rims a plane need not cut it.
    ASSERT_GE(found.stations.size() + 2, job.stations.size());
    double most = 0.0;
    for (const SculptedStation& station : found.stations) {
        EXPECT_GT(station.points.size(), 200U) << station.station;
        for (const SculptedPoint& point : station.points) {
            most = std::max(most, in_mm(point.proud));
        }
    }
    // Square to a face that leans by some 5 degrees; facets of a third of a millimetre; rows 6 mm apart.
    EXPECT_NEAR(most, 1.4, 0.08);

    job.forming.sculpted.replaces = true;
    auto laid = sculpted_job(job, &placed.value());
    ASSERT_TRUE(laid.has_value()) << laid.error().message;
    Job after = laid.value();
    const Section& want = section_of(built, "5");
    for (std::size_t i = 0; i < want.nodes.size(); ++i) {
        if (want.nodes[i].name == "bead" || want.nodes[i].name == "knee") {
            EXPECT_NEAR(in_mm(section_of(after, "5").nodes[i].out.value), in_mm(want.nodes[i].out.value), 0.2);
        }
    }
    world.solution.points.resize(2);
    const auto loose = sculpted_scan(job, folder.path(), world.solution, chain_of(job));
    ASSERT_FALSE(loose.has_value());
    EXPECT_THAT(loose.error().message, HasSubstr("Three marks are needed"));
}

TEST(AsSculpted, IsQuick) {
    Job job = estate();
    for (Section& section : job.skirt.pieces[0].drawn.sections) {
        job.forming.sculpted.lines.push_back(gauged(job, section.station, profile_of(section), two_bumps, 5.0));
    }
    const geometry::Loft line = line_of(job);
    const auto begin = std::chrono::steady_clock::now();
    const auto found = as_sculpted(job, job.skirt.pieces[0], line, chain_of(job));
    const auto findings = sculpted_findings(job, job.skirt.pieces[0], found, Mends::leave);
    const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - begin;
    EXPECT_THAT(findings, SizeIs(1));
    RecordProperty("milliseconds", std::to_string(took.count()));
    EXPECT_LT(took.count(), 100.0) << "of 10 on a machine of its own";
}

}  // namespace
}  // namespace sillwright::core

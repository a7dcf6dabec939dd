// Our DXF files as two independent programs read them: ezdxf with its auditor,
// and GDAL's ogrinfo.
#include <gtest/gtest.h>
#include <stdlib.h>

#include <cmath>
#include <cstdio>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <numbers>
#include <random>
#include <string>

#include "geometry/dxf_file.h"
#include "geometry/file_text.h"
#include "tests/support/command.h"

namespace sillwright::geometry {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

using tests::count;
using tests::Output;
using tests::run;

/// A profile and its closed forms: length is the sum of chords and of radius *
/// |sweep|; area is the polygon's (shoelace) and of each arc its segment,
/// radius^2 / 2 * (sweep - sin sweep), to the side that the sweep's sign says.
struct Sample {
    Profile profile;
    double length_mm = 0.0;
    double area_mm2 = 0.0;
};

void add_line(Sample& sample, const Eigen::Vector2d& from, const Eigen::Vector2d& to) {
    sample.profile.segments.push_back({LineSegment{from, to}, 0});
    sample.length_mm += (to - from).norm();
    sample.area_mm2 += (from.x() * to.y() - to.x() * from.y()) / 2.0;
}

void add_arc(Sample& sample, const Eigen::Vector2d& from, const Eigen::Vector2d& to, double sweep) {
    // Half the chord is radius * sin(|sweep| / 2); the centre is radius * cos(sweep / 2) off the chord's middle, to
    // its left for a positive sweep.
    const Eigen::Vector2d chord = to - from;
    const double radius = chord.norm() / 2.0 / std::sin(std::abs(sweep) / 2.0);
    const Eigen::Vector2d left = Eigen::Vector2d{-chord.y(), chord.x()}.normalized();
    const double side = sweep > 0.0 ? 1.0 : -1.0;
    const Eigen::Vector2d centre = (from + to) / 2.0 + side * radius * std::cos(sweep / 2.0) * left;
    const Eigen::Vector2d spoke = from - centre;
    sample.profile.segments.push_back(
        {ArcSegment{centre, radius, radians(std::atan2(spoke.y(), spoke.x())), radians(sweep)}, 0});
    sample.length_mm += radius * std::abs(sweep);
    sample.area_mm2 +=
        (from.x() * to.y() - to.x() * from.y()) / 2.0 + radius * radius / 2.0 * (sweep - std::sin(sweep));
}

/// Corners round a centre anywhere in a 5 m square, joined by lines and arcs
/// of any sweep up to 340 degrees either way.
Sample random_sample(std::mt19937& random) {
    std::uniform_real_distribution<double> place(-2500.0, 2500.0), size(5.0, 300.0), sweep_deg(1.0, 340.0),
        part(0.0, 1.0);
    const int corners = 3 + static_cast<int>(8.0 * part(random));
    const Eigen::Vector2d centre{place(random), place(random)};
    std::vector<Eigen::Vector2d> points;
    for (int i = 0; i < corners; ++i) {
        const double angle = 2.0 * std::numbers::pi * (i + 0.8 * part(random)) / corners;
        points.push_back(centre + size(random) * Eigen::Vector2d{std::cos(angle), std::sin(angle)});
    }
    Sample sample;
    sample.profile.closed = part(random) < 0.7;
    const std::size_t last = points.size() - (sample.profile.closed ? 0 : 1);
    for (std::size_t i = 0; i < last; ++i) {
        const Eigen::Vector2d& to = points[(i + 1) % points.size()];
        if (part(random) < 0.5) {
            add_line(sample, points[i], to);
        } else {
            const double sign = part(random) < 0.5 ? -1.0 : 1.0;
            add_arc(sample, points[i], to, in_rad(degrees(sign * sweep_deg(random))));
        }
    }
    return sample;
}

class DxfReference : public testing::Test {
protected:
    void SetUp() override {
        std::string name = (fs::temp_directory_path() / "sillwright_dxf_XXXXXX").string();
        ASSERT_NE(::mkdtemp(name.data()), nullptr);
        folder_ = name;
        drawing_.layers = {{"CUT_OUTSIDE", 1}, {"CUT_INSIDE", 2}, {"POCKET", 3}, {"DRILL", 4},
                           {"ENGRAVE", 5},     {"SHEET_EDGE", 8}, {"NOTE", 7}};
        for (const DrawingLayer& layer : drawing_.layers) {
            expected_["layers"][layer.name] = layer.colour;
        }
        expected_["entities"] = json::array();
    }
    void TearDown() override { fs::remove_all(folder_); }

    void add(const std::string& layer, DrawnShape shape, json wanted) {
        wanted["layer"] = layer;
        expected_["entities"].push_back(std::move(wanted));
        drawing_.entities.push_back({layer, std::move(shape)});
    }

    void write_and_compare(const Eigen::Vector2d& least, const Eigen::Vector2d& most) {
        expected_["$EXTMIN"] = {least.x(), least.y(), 0.0};
        expected_["$EXTMAX"] = {most.x(), most.y(), 0.0};
        const std::string dxf = (folder_ / "drawing.dxf").string();
        const std::string wanted = (folder_ / "expected.json").string();
        const auto text = dxf_text(drawing_);
        ASSERT_TRUE(text) << text.error().message;
        ASSERT_TRUE(write_file(dxf, text.value()));
        ASSERT_TRUE(write_file(wanted, expected_.dump()));
        const Output ezdxf = run("/usr/bin/python3 " SILLWRIGHT_SOURCE_DIR "/tests/reference/dxf_against_ezdxf.py " +
                                 dxf + " " + wanted);
        EXPECT_EQ(ezdxf.status, 0) << ezdxf.text;
        EXPECT_EQ(ezdxf.text, "agree: " + std::to_string(drawing_.entities.size()) + " entities\n");
        const Output gdal = run("ogrinfo -ro -al " + dxf);
        EXPECT_EQ(gdal.status, 0) << gdal.text;
        EXPECT_EQ(count(gdal.text, "OGRFeature(entities):"), drawing_.entities.size());
        EXPECT_EQ(count(gdal.text, "ERROR"), 0U) << gdal.text;
        EXPECT_EQ(count(gdal.text, "Warning"), 0U) << gdal.text;
    }

    fs::path folder_;
    Drawing drawing_;
    json expected_;
};

TEST_F(DxfReference, EveryKindOfEntityIsReadBack) {
    // Lengths and areas by hand: Pythagoras 3-4-5; a quarter and three quarters of a circle; a slot.
    const double pi = std::numbers::pi;
    const Profile slot{{{LineSegment{{0, 0}, {30, 0}}, 0},
                        {ArcSegment{{30, 10}, 10, degrees(-90), degrees(180)}, 0},
                        {LineSegment{{30, 20}, {0, 20}}, 0},
                        {ArcSegment{{0, 10}, 10, degrees(90), degrees(180)}, 0}},
                       true};
    const Profile ring{{{ArcSegment{{100, 50}, 6.5, degrees(30), degrees(-360)}, 0}}, true};
    add("SHEET_EDGE", DrawnLine{{0, 0}, {30, 40}}, {{"kind", "LINE"}, {"length_mm", 50.0}});
    add("ENGRAVE", DrawnArc{{50, 20}, millimetres(8), degrees(10), degrees(90)},
        {{"kind", "ARC"}, {"length_mm", 4.0 * pi}});
    add("ENGRAVE", DrawnArc{{50, 20}, millimetres(8), degrees(10), degrees(-270)},
        {{"kind", "ARC"}, {"length_mm", 12.0 * pi}});
    add("DRILL", DrawnCircle{{20, 30}, millimetres(2.5)},
        {{"kind", "CIRCLE"}, {"length_mm", 5.0 * pi}, {"area_mm2", 6.25 * pi}});
    add("CUT_OUTSIDE", shape_of(slot).value(),
        {{"kind", "LWPOLYLINE"}, {"length_mm", 60.0 + 20.0 * pi}, {"area_mm2", 600.0 + 100.0 * pi}});
    add("CUT_INSIDE", shape_of(ring).value(), {{"kind", "CIRCLE"}, {"length_mm", 13.0 * pi}, {"area_mm2", 42.25 * pi}});
    add("DRILL", DrawnPoint{{-20, 90}}, {{"kind", "POINT"}});
    for (const char* words : {"RIB 4", "Schwelle \xC3\x9F 50 % \xCE\x94 2 \xE2\x82\xAC", "A \\U+0041 %%c ^J \\"}) {
        add("NOTE", DrawnText{{10, 10}, millimetres(5), degrees(-30), words, TextPlace::middle},
            {{"kind", "TEXT"}, {"words", words}});
    }
    write_and_compare({-20, 0}, {106.5, 90});
}

TEST_F(DxfReference, RandomProfilesKeepTheirLengthsAndAreas) {
    std::mt19937 random(20260101);
    Eigen::AlignedBox2d box;
    for (int i = 0; i < 300; ++i) {
        const Sample sample = random_sample(random);
        json wanted{{"kind", "LWPOLYLINE"}, {"length_mm", sample.length_mm}};
        if (sample.profile.closed) {
            wanted["area_mm2"] = sample.area_mm2;
        }
        const auto shape = shape_of(sample.profile);
        ASSERT_TRUE(shape) << shape.error().message;
        add("CUT_OUTSIDE", shape.value(), wanted);
        // The box by a fine walk: 20 000 steps of a turn miss a top by radius / 8 * (2 pi / 20000)^2, under 1e-4 mm.
        for (const Segment& segment : sample.profile.segments) {
            if (const auto* line = std::get_if<LineSegment>(&segment.shape)) {
                box.extend(line->from);
                box.extend(line->to);
                continue;
            }
            const auto& arc = std::get<ArcSegment>(segment.shape);
            constexpr int k_steps = 20000;
            for (int step = 0; step <= k_steps; ++step) {
                const double angle = in_rad(arc.start) + in_rad(arc.sweep) * step / k_steps;
                box.extend(arc.centre + arc.radius_mm * Eigen::Vector2d{std::cos(angle), std::sin(angle)});
            }
        }
    }
    write_and_compare(box.min(), box.max());
}

TEST_F(DxfReference, AnEmptyDrawingIsSound) {
    write_and_compare({0, 0}, {0, 0});
}

/// The script must be able to fail: a wrong length is reported.
TEST_F(DxfReference, AWrongLengthIsFound) {
    add("NOTE", DrawnLine{{0, 0}, {30, 40}}, {{"kind", "LINE"}, {"length_mm", 50.002}});
    expected_["$EXTMIN"] = {0, 0, 0};
    expected_["$EXTMAX"] = {30, 40, 0};
    const std::string dxf = (folder_ / "drawing.dxf").string();
    const std::string wanted = (folder_ / "expected.json").string();
    ASSERT_TRUE(write_file(dxf, dxf_text(drawing_).value()));
    ASSERT_TRUE(write_file(wanted, expected_.dump()));
    EXPECT_EQ(
        run("/usr/bin/python3 " SILLWRIGHT_SOURCE_DIR "/tests/reference/dxf_against_ezdxf.py " + dxf + " " + wanted)
            .status,
        1);
}

}  // namespace
}  // namespace sillwright::geometry

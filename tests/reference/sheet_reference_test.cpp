// Sections of sheets against shapely's polygons (an independent library).
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <numbers>
#include <random>
#include <string>
#include <vector>

#include "geometry/sheet_section.h"

namespace sillwright::geometry {
namespace {

using Eigen::Vector2d;
using nlohmann::json;

/// Chords of the lines that shapely gets: what they lack of a rounding of 5 is a hundred thousandth of it.
constexpr double k_chord_mm = 1e-4;
/// What was asked for, of each number; of the product, of the greater second moment.
constexpr double k_part = 1e-4;

class Dice {
public:
    double between(double low, double high) {
        return low + (high - low) * static_cast<double>(engine_() >> 11) * 0x1p-53;
    }
    std::size_t count(std::size_t low, std::size_t high) { return low + engine_() % (high - low + 1); }

private:
    std::mt19937_64 engine_{20260314};
};

struct Case {
    std::string name;
    Profile line;
    std::vector<FacesAt> faces;  ///< One: constant.
};

SheetFaces faces(double left, double right) {
    return {millimetres(left), millimetres(right)};
}

/// A line that goes on and turns by less than a right angle at each corner, all ways; some corners are sharp.
Profile wandering(Dice& dice) {
    std::vector<ProfileNode> nodes{{{0, 0}, {}}};
    double course = dice.between(-0.5, 0.5);
    const std::size_t n = dice.count(2, 7);
    for (std::size_t i = 0; i < n; ++i) {
        const double size = dice.between(30, 80);
        nodes.push_back({nodes.back().p_mm + size * Vector2d{std::cos(course), std::sin(course)},
                         millimetres(dice.count(0, 4) == 0 ? 0.0 : dice.between(4, 12))});
        // Back towards the start's course, so that it does not come round on itself.
        course = course > 0.0 ? dice.between(-0.7, 0.1) : dice.between(-0.1, 0.7);
    }
    return make_profile(nodes, false).value();
}

/// A skirt: return, shelf with graduated flutes, face, flange.
Profile fluted(std::size_t count, double widest, double depth, double radius) {
    std::vector<ProfileNode> nodes{{{0, 120}, {}}, {{20, 119}, millimetres(6)}};
    double at = 32;
    for (std::size_t i = 0; i < count; ++i) {
        const double width = widest * (0.6 + 0.4 * static_cast<double>(i + 1) / static_cast<double>(count));
        const auto place = [&](double x, double down, double r) {
            nodes.push_back({{at + x, 119 - 0.03 * (at + x - 20) - down}, millimetres(r)});
        };
        place(0, 0, 0);
        place(0.5, depth, radius);
        place(width - 0.5, depth, radius);
        place(width, 0, 0);
        at += width + 9;
    }
    nodes.push_back({{at + 8, 119 - 0.03 * (at - 12)}, millimetres(5)});
    nodes.push_back({{at + 18, 106}, millimetres(8)});
    nodes.push_back({{at + 9, 12}, millimetres(6)});
    nodes.push_back({{at - 60, 16}, millimetres(20)});
    nodes.push_back({{at - 95, 15}, {}});
    return make_profile(nodes, false).value();
}

std::vector<Case> constant_cases() {
    Dice dice;
    std::vector<Case> cases;
    for (int i = 0; i < 30; ++i) {
        const double t = dice.between(1.5, 4);
        const double left = i % 3 == 0 ? t : i % 3 == 1 ? 0.0 : dice.between(0.2, 0.8) * t;
        cases.push_back({"wandering " + std::to_string(i), wandering(dice), {{{}, faces(left, left - t)}}});
    }
    for (std::size_t count = 1; count <= 4; ++count) {
        for (const double left : {3.0, 0.0}) {
            cases.push_back(
                {std::to_string(count) + " flutes", fluted(count, 22, 6, 1.5), {{{}, faces(left, left - 3)}}});
            // Roundings that a sheet of 3 uses up on their hollow side above; these it does not.
            const double thin = left > 0.0 ? 2.0 : 0.0;
            cases.push_back(
                {std::to_string(count) + " deep flutes", fluted(count, 26, 9, 4), {{{}, faces(thin, thin - 2)}}});
        }
    }
    return cases;
}

std::vector<Case> changing_cases() {
    Dice dice;
    std::vector<Case> cases = constant_cases();
    for (Case& one : cases) {
        const double whole = in_mm(length(one.line));
        const double side = in_mm(one.faces.front().faces.left) > 0.0 ? 1.0 : 0.0;
        one.faces.clear();
        for (const double at : {0.1, 0.35, 0.5, 0.8}) {
            const double t = dice.between(1.2, 3.0);
            one.faces.push_back({millimetres(at * whole), faces(side * t, (side - 1.0) * t)});
        }
    }
    return cases;
}

double interpolated(const std::vector<FacesAt>& faces_at, double s, bool left) {
    const auto value = [left](const FacesAt& at) { return in_mm(left ? at.faces.left : at.faces.right); };
    if (s <= in_mm(faces_at.front().along)) {
        return value(faces_at.front());
    }
    for (std::size_t i = 1; i < faces_at.size(); ++i) {
        const double from = in_mm(faces_at[i - 1].along);
        const double to = in_mm(faces_at[i].along);
        if (s <= to) {
            return std::lerp(value(faces_at[i - 1]), value(faces_at[i]), (s - from) / (to - from));
        }
    }
    return value(faces_at.back());
}

json asked(const Case& one) {
    json points = json::array();
    json left = json::array();
    json right = json::array();
    const auto add = [&](const Vector2d& p, double s) {
        points.push_back({p.x(), p.y()});
        left.push_back(interpolated(one.faces, s, true));
        right.push_back(interpolated(one.faces, s, false));
    };
    double start = 0.0;
    add(start_point(one.line.segments.front()), 0.0);
    for (const Segment& segment : one.line.segments) {
        const double size = in_mm(length(segment));
        std::size_t parts = 1;
        if (const auto* arc = std::get_if<ArcSegment>(&segment.shape)) {
            const double step = std::sqrt(8.0 * k_chord_mm / (arc->radius_mm + 4.0));
            parts = static_cast<std::size_t>(std::ceil(std::abs(in_rad(arc->sweep)) / step));
        }
        std::vector<double> at;
        for (std::size_t k = 1; k <= parts; ++k) {
            at.push_back(static_cast<double>(k) / static_cast<double>(parts));
        }
        for (const FacesAt& face : one.faces) {
            const double part = (in_mm(face.along) - start) / size;
            if (part > 1e-9 && part < 1.0 - 1e-9) {
                at.push_back(part);
            }
        }
        std::sort(at.begin(), at.end());
        for (const double part : at) {
            add(point_at(segment, part), start + part * size);
        }
        start += size;
    }
    return {{"line", points}, {"left", left}, {"right", right}};
}

json answered_by_shapely(const std::vector<Case>& cases) {
    json question = json::array();
    for (const Case& one : cases) {
        question.push_back(asked(one));
    }
    const std::filesystem::path folder = std::filesystem::path{testing::TempDir()};
    const std::string name = "sillwright_sheet_" + std::to_string(std::random_device{}());
    const std::filesystem::path in = folder / (name + "_cases.json");
    const std::filesystem::path out = folder / (name + "_results.json");
    std::ofstream{in} << question;
    const std::string command = "/usr/bin/python3 '" SILLWRIGHT_SOURCE_DIR
                                "/tests/reference/sheet_against_shapely.py' '" +
                                in.string() + "' '" + out.string() + "'";
    const int status = std::system(command.c_str());  // NOLINT(cert-env33-c)
    json results;
    if (status == 0) {
        results = json::parse(std::ifstream{out}, nullptr, false);
    }
    std::filesystem::remove(in);
    std::filesystem::remove(out);
    if (!results.is_array()) {
        ADD_FAILURE() << "The checker did not run (status " << status << "): " << command;
    }
    return results;
}

void expect_agreement(const AreaMoments& found, const json& wanted, double& worst) {
    const double area = wanted["area"];
    const double greatest = std::max(wanted["xx"].get<double>(), wanted["yy"].get<double>());
    const double reach = std::sqrt(greatest / area);
    const auto expect = [&worst](double ours, double theirs, double scale) {
        EXPECT_NEAR(ours, theirs, k_part * scale);
        worst = std::max(worst, std::abs(ours - theirs) / scale);
    };
    expect(found.area_mm2, area, area);
    expect(found.centroid_mm.x(), wanted["x"], reach);
    expect(found.centroid_mm.y(), wanted["y"], reach);
    expect(found.xx_mm4, wanted["xx"], wanted["xx"]);
    expect(found.yy_mm4, wanted["yy"], wanted["yy"]);
    expect(found.xy_mm4, wanted["xy"], greatest);
}

TEST(SheetReference, ConstantThicknessAgreesWithShapely) {
    const std::vector<Case> cases = constant_cases();
    const json answers = answered_by_shapely(cases);
    ASSERT_EQ(answers.size(), cases.size());
    double worst = 0.0;
    for (std::size_t i = 0; i < cases.size(); ++i) {
        SCOPED_TRACE(cases[i].name);
        const auto found = sheet_moments(cases[i].line, cases[i].faces.front().faces);
        ASSERT_TRUE(found) << found.error().message;
        expect_agreement(found.value(), answers[i], worst);
    }
    RecordProperty("worst_part", std::to_string(worst));
}

TEST(SheetReference, ChangingThicknessAgreesWithShapely) {
    const std::vector<Case> cases = changing_cases();
    const json answers = answered_by_shapely(cases);
    ASSERT_EQ(answers.size(), cases.size());
    double worst = 0.0;
    for (std::size_t i = 0; i < cases.size(); ++i) {
        SCOPED_TRACE(cases[i].name);
        const auto found = sheet_moments(cases[i].line, cases[i].faces, millimetres(k_chord_mm));
        ASSERT_TRUE(found) << found.error().message;
        expect_agreement(found.value(), answers[i], worst);
    }
    RecordProperty("worst_part", std::to_string(worst));
}

}  // namespace
}  // namespace sillwright::geometry

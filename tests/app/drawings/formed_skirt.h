#pragma once

#include <cmath>

#include "app/drawings/flute_picture.h"
#include "app/drawings/ladder_picture.h"
#include "app/drawings/platen_picture.h"
#include "app/drawings/thickness_picture.h"
#include "app/length_words.h"

/// Pictures of an invented skirt, 1900 mm long and 110 mm wide seen along the draw direction, made by hand.
namespace sillwright::app {

inline std::vector<Eigen::Vector2d> turned_rectangle(double length_mm, double width_mm, double degrees) {
    const double turn = degrees * M_PI / 180.0;
    const Eigen::Vector2d along(std::cos(turn), std::sin(turn));
    const Eigen::Vector2d across(-along.y(), along.x());
    std::vector<Eigen::Vector2d> points;
    for (const auto& [u, v] : {std::pair{-0.5, -0.5}, {0.5, -0.5}, {0.5, 0.5}, {-0.5, 0.5}}) {
        points.emplace_back(u * length_mm * along + v * width_mm * across);
    }
    return points;
}

/// In a window of 2200 by 700 mm with clamps of 25 mm all round: 2020 mm of need in 2150, less the turn.
inline PlatenPicture part_that_fits() {
    PlatenPicture picture;
    picture.piece = "skirt";
    picture.machine = "large";
    picture.window_mm = {2200.0, 700.0};
    picture.free_mm = {2150.0, 650.0};
    picture.part_mm = turned_rectangle(1900.0, 110.0, 0.0);
    picture.mould_mm = turned_rectangle(1940.0, 150.0, 0.0);
    picture.need_mm = turned_rectangle(2080.0, 290.0, 0.0);
    picture.state = core::State::holds;
    picture.verdict = "70 mm to spare";
    picture.set_up = "not turned · draw tilted 4.0° down · mould 112 mm high";
    for (int i = 0; i < 8; ++i) {
        picture.mounts.push_back({"H" + std::to_string(i + 1), {-900.0 + 257.0 * i, -45.0}});
    }
    return picture;
}

/// In a window of 1800 by 610 mm: turned by 12 degrees and still too long.
inline PlatenPicture part_too_long() {
    PlatenPicture picture = part_that_fits();
    picture.machine = "small";
    picture.window_mm = {1800.0, 610.0};
    picture.free_mm = {1750.0, 560.0};
    picture.part_mm = turned_rectangle(1900.0, 110.0, 12.0);
    picture.mould_mm = turned_rectangle(1940.0, 150.0, 12.0);
    picture.need_mm = turned_rectangle(1940.0, 150.0, 12.0);
    picture.state = core::State::falls_short;
    picture.verdict = "178 mm too long";
    picture.set_up = "turned 12.0° · draw tilted 4.0° down · mould 112 mm high";
    const double half = 0.5 * (1940.0 * std::cos(12.0 * M_PI / 180.0) + 150.0 * std::sin(12.0 * M_PI / 180.0));
    picture.excess = {{PlatenExcess::Side::left, half - 875.0, "89.3 past the left clamp"},
                      {PlatenExcess::Side::right, half - 875.0, "89.3 past the right clamp"}};
    picture.mounts.clear();
    const double turn = 12.0 * M_PI / 180.0;
    const Eigen::Vector2d along(std::cos(turn), std::sin(turn));
    const Eigen::Vector2d across(-along.y(), along.x());
    const auto line = [&](double u, const std::string& words) {
        return PlatenLine{u * along - 75.0 * across, u * along + 75.0 * across, words};
    };
    picture.set_backs = {line(-860.0, "set back 90"), line(860.0, "set back 90")};
    picture.splits = {line(-250.0, "split at 4 · 700 mm")};
    return picture;
}

inline ThicknessPicture thinned_skirt() {
    ThicknessPicture picture;
    picture.piece = "skirt";
    picture.place = "at 3.9 · 700 mm";
    picture.along_mm = 700.0;
    picture.rear_mm = 1900.0;
    picture.sheet_mm = 4.0;
    picture.draw_ratio = 1.83;
    picture.limits = "Predicted for cold contact without slip, plane strain: measure the first part.";
    picture.nodes = {{"top return end", 0.0}, {"shelf inner", 21.0}, {"shelf edge", 81.0},   {"bead", 96.0},
                     {"knee", 180.0},         {"lower edge", 195.0}, {"flange root", 263.0}, {"flange end", 299.0}};
    for (int i = 0; i <= 120; ++i) {
        const double at = 299.0 * i / 120.0;
        const double off = std::abs(at - 138.0);
        const double thickness = off < 42.0 ? 3.7 : 1.55 + 2.15 * std::exp(-(off - 42.0) / 60.0);
        picture.round.push_back({at, thickness});
    }
    picture.needs = {{0.0, 21.0, 1.5}, {21.0, 81.0, 2.2}, {81.0, 263.0, 1.5}, {263.0, 299.0, 2.0}};
    picture.least = ThicknessPoint{299.0, 1.72};
    picture.least_state = core::State::falls_short;
    const auto course = [](double level) {
        std::vector<ThicknessPoint> points;
        for (int i = 0; i <= 40; ++i) {
            points.push_back({1900.0 * i / 40.0, level + 0.15 * (1.0 - std::cos(0.3 * i))});
        }
        return points;
    };
    picture.parts = {{"flange", 1.72, 0.09, 2.0, 40.0, 4.65, core::State::falls_short, "1 · 40 mm", course(1.72)},
                     {"shelf", 2.31, 0.12, 2.2, 620.0, 3.81, core::State::close, "3.8 · 620 mm", course(2.31)},
                     {"bead", 3.62, 0.18, 1.5, 1200.0, 1.66, core::State::holds, "6 · 1200 mm", course(3.62)},
                     {"flute 1", 2.28, 0.12, 2.2, 900.0, 3.86, core::State::close, "5 · 900 mm", {}},
                     {"rest", 2.44, 0.12, 1.5, 300.0, 2.46, core::State::holds, "2 · 300 mm", course(2.44)}};
    return picture;
}

inline std::string in_tenths(double mm) {
    return shortest_words(geometry::millimetres(mm), core::BareUnit::mm);
}

inline FlutePicture three_flutes() {
    FlutePicture picture;
    picture.piece = "skirt";
    for (int i = 0; i <= 20; ++i) {
        picture.inner.push_back({95.0 * i, 84.0 - 0.6 * i});
    }
    const auto flute = [](const std::string& name, double inward, double width, core::State state) {
        FluteRow row;
        row.name = name;
        row.front_mm = 60.0;
        row.rear_mm = 1830.0;
        row.width_mm = width;
        for (int i = 0; i <= 10; ++i) {
            row.middle.push_back({60.0 + width / 2.0 + (1770.0 - width) * i / 10.0, inward});
        }
        row.state = state;
        row.bit = "round-nose 24";
        row.depth = "6";
        row.passes = "2";
        row.mould_width = in_tenths(width);
        row.seen = in_tenths(width - 3.1);
        row.fence = in_tenths(75.0 - inward);
        row.wood_left = "6";
        row.land = "8.4";
        return row;
    };
    picture.rows = {flute("flute 1", 16.0, 20.8, core::State::holds), flute("flute 2", 41.0, 18.0, core::State::close),
                    flute("flute 3", 64.0, 15.2, core::State::falls_short)};
    picture.rows[2].bit.clear();
    picture.rows[2].missing = {"the thickness of the plug's board"};
    picture.rows[2].wood_left.clear();
    picture.rows[2].land.clear();
    BasePlate plate;
    plate.flute = "flute 3";
    plate.along_mm = 1780.0;
    plate.middle_mm = 64.0;
    plate.radius_mm = 75.0;
    plate.needed_mm = 77.0;
    plate.room_mm = 71.2;
    plate.inner = true;
    plate.shelf_mm = 72.8;
    plate.state = core::State::falls_short;
    plate.words = "base plate 5.8 mm short of room at flute 3";
    picture.plate = plate;
    return picture;
}

inline LadderPicture length_ladder() {
    LadderPicture picture;
    picture.piece = "skirt";
    picture.dimension = "length over all";
    picture.rungs = {{"painted part", 1900.24, 1.42, std::nullopt, "paint and sheet come off: 0.24", false},
                     {"part", 1900.0, 1.42, std::nullopt, "shrank 0.60 % along", true},
                     {"male mould, hot", 1911.47, 0.95, std::nullopt, "grew 0.11 % by its heat", true},
                     {"male mould", 1909.37, 0.95, 1908.9, "shrank 0.21 % along", false},
                     {"female mould", 1913.39, 0.42, 1913.1, "shrank 0.19 % along", false},
                     {"plug", 1917.03, 0.3, std::nullopt, "skin comes off: 6.00", true},
                     {"buck", 1911.03, 0.3, std::nullopt, "", false}};
    return picture;
}

}  // namespace sillwright::app

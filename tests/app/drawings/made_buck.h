#pragma once

#include <cmath>

#include "app/drawings/assembly_picture.h"
#include "app/drawings/nest_picture.h"
#include "app/drawings/rib_picture.h"

/// Pictures of a buck, invented.
namespace sillwright::app {

/// 120 wide and 150 high, its upper left corner cut off; the other face 3 mm smaller all round.
inline RibPicture made_rib() {
    RibPicture picture;
    picture.label = "R3";
    picture.where = "station 3 · 375 mm";
    picture.about =
        "Front face on its place · seen from the front · up on the car is to the right, out is up · board mdf 12, "
        "11.93 mm thick · the other face is dashed";
    picture.number = 3;
    picture.count = 10;
    picture.outline_mm = {{0.0, 0.0}, {120.0, 0.0}, {120.0, 150.0}, {40.0, 150.0}, {0.0, 100.0}};
    picture.far_mm = {{3.0, 0.0}, {117.0, 0.0}, {117.0, 147.0}, {41.0, 147.0}, {3.0, 99.0}};
    picture.laps = {{35.0, 12.1, 48.0, "S1: 12.08 wide, 48 deep"}, {85.0, 12.1, 52.0, "S2: 12.08 wide, 52 deep"}};
    picture.pins_mm = {{60.0, 110.0}, {60.0, 80.0}};
    picture.pin_mm = 6.0;
    picture.level_mm = 40.0;
    picture.edges = {{{120.0, 75.0}, "bevel 4.2°", false},
                     {{80.0, 150.0}, "bevel 3.0 to 5.5°", false},
                     {{20.0, 125.0}, "gap 0.8 mm", true},
                     {{0.0, 50.0}, "square", false}};
    return picture;
}

/// 1900 long with ribs every 190, the last one at 1900.
inline AssemblyPicture made_buck(int ribs = 11) {
    AssemblyPicture picture;
    picture.piece = "Buck of skirt";
    picture.about = "11 ribs · 2 spines · base board · size of the plug: +0.62 % along, +0.62 % across";
    picture.notes = {
        "A rib goes into its own place alone: R4 in the place of R5 stands 4 mm off the base, and no "
        "other shows less."};
    for (int i = 0; i < ribs; ++i) {
        const double x = 1900.0 * i / (ribs - 1);
        picture.ribs.push_back({"R" + std::to_string(i + 1), x, x + 12.0, 0.0, 120.0 + i, 150.0, i == 3});
    }
    picture.spines = {{"S1", -10.0, 1922.0, 35.0, 12.0, 60.0}, {"S2", -10.0, 1922.0, 85.0, 12.0, 60.0}};
    picture.base = AssemblyBase{"B", -20.0, 1932.0, -20.0, 150.0, 12.0};
    picture.checks = {{"B1 to B4: 1944.6", Eigen::Vector2d(0.0, 0.0), Eigen::Vector2d(1912.0, 130.0)},
                      {"B2 to B3: 1944.6", Eigen::Vector2d(0.0, 130.0), Eigen::Vector2d(1912.0, 0.0)},
                      {"rod 1 of R1 to rod 2 of R11: 1902.3", {}, {}}};
    picture.state = core::State::holds;
    return picture;
}

/// 14 parts of 120 by 150 in rows on a board of 2440 by 1220.
inline NestPicture made_nest() {
    NestPicture picture;
    picture.board = "mdf 12";
    picture.number = 1;
    picture.count = 2;
    picture.verdict = "2 sheets · none fewer by area";
    picture.state = core::State::holds;
    picture.about = "mdf 12, number 1 · 2440 × 1220 mm · 14 parts on 9 % of it · gap 8";
    picture.size_mm = {2440.0, 1220.0};
    picture.margin_mm = 10.0;
    for (int i = 0; i < 14; ++i) {
        const Eigen::Vector2d corner(200.0 + 140.0 * (i % 7), 100.0 + 170.0 * (i / 7));
        NestPart part;
        part.label = "R" + std::to_string(i + 1);
        for (const Eigen::Vector2d& p_mm : made_rib().outline_mm) {
            part.outline_mm.emplace_back(corner + p_mm);
        }
        picture.parts.push_back(part);
    }
    picture.parts.front().inside_mm = {{{250.0, 150.0}, {280.0, 150.0}, {280.0, 180.0}, {250.0, 180.0}}};
    picture.defects = {{{0.0, 0.0}, {80.0, 60.0}, "corner"}};
    picture.off_cuts = {{{0.0, 500.0}, {2440.0, 1220.0}, "off-cut to keep, 2440 × 720"}};
    return picture;
}

}  // namespace sillwright::app

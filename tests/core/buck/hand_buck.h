#pragma once

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>
#include <string>
#include <vector>

#include "core/buck/buck_plan.h"
#include "core/buck/cut_part.h"
#include "core/buck/nesting.h"
#include "core/buck/sheet_drawing.h"
#include "core/job.h"

/// A buck with numbers that were chosen by hand, where its parts lie on a sheet, and in words for an independent judge
/// (tests/reference/buck_sheets.py) what is wanted of any buck.
namespace sillwright::core {

inline constexpr double k_hand_thickness_mm = 11.93;

inline Entry entry_of(double mm) {
    return {geometry::millimetres(mm), ""};
}

inline Job hand_buck_job() {
    Job job;
    job.vehicle = "Estate A";
    job.revision = "C";
    job.date = "2026-03-14";
    Piece piece;
    piece.name = "skirt";
    job.skirt.pieces.push_back(piece);
    Board board;
    board.name = "mdf 12";
    board.length = entry_of(2440);
    board.width = entry_of(1220);
    board.thickness_1 = entry_of(11.9);
    board.thickness_2 = entry_of(12.0);
    board.thickness_3 = entry_of(11.9);
    board.defects.push_back({"knot", entry_of(2000), entry_of(800), entry_of(100), entry_of(50)});
    job.buck.boards.push_back(board);
    job.buck.bit = "flat 6";
    return job;
}

/// Three ribs, 300 mm apart, of a section that grows, on two spines; datum rods at (0, 60) and (40, 60).
inline BuckPlan hand_buck_plan(const Job& job) {
    const double fit = geometry::in_mm(job.buck.fit.value);
    const double extra = geometry::in_mm(job.buck.slot_extra.value);
    const double width = k_hand_thickness_mm + fit;
    PieceBuck buck;
    const std::vector<double> sides{-22.0, 48.0};
    const std::vector<double> heights{62.0, 45.0};
    const std::vector<std::vector<double>> splits{{28.0, 32.0, 36.0}, {24.0, 20.0, 16.0}};
    for (std::size_t i = 0; i < 3; ++i) {
        Rib rib;
        rib.label = "R" + std::to_string(i + 1);
        rib.station = std::to_string(i + 1);
        rib.x_mm = 300.0 * static_cast<double>(i);
        rib.along = geometry::millimetres(500.0 + rib.x_mm);
        rib.thickness_mm = k_hand_thickness_mm;
        const double more = 8.0 * static_cast<double>(i);
        rib.outline = geometry::make_profile({{{-70, 0}, {}},
                                              {{110 + more, 0}, {}},
                                              {{110 + more, 90}, geometry::millimetres(12)},
                                              {{10, 140 + more}, geometry::millimetres(25)},
                                              {{-70, 110}, geometry::millimetres(8)}},
                                             true)
                          .value();
        rib.far_outline = rib.outline;
        rib.bevels.push_back(
            {"bead to knee", geometry::degrees(2.0), geometry::degrees(3.5), geometry::millimetres(0.6)});
        for (std::size_t k = 0; k < sides.size(); ++k) {
            rib.laps.push_back({sides[k], width, splits[k][i] + extra});
        }
        rib.pins_mm = {{0.0, 75.0}, {40.0, 75.0}};
        rib.level_mm = 60.0;
        buck.ribs.push_back(rib);
    }
    for (std::size_t k = 0; k < sides.size(); ++k) {
        Spine spine{"S" + std::to_string(k + 1), sides[k], k_hand_thickness_mm, -25.0, 640.0, heights[k], {}, {}};
        for (std::size_t i = 0; i < buck.ribs.size(); ++i) {
            const Rib& rib = buck.ribs[i];
            spine.laps.push_back({0.5 * (rib.front_mm() + rib.rear_mm()), width, heights[k] - splits[k][i] + extra});
            spine.rib_labels.push_back(rib.label);
        }
        buck.spines.push_back(spine);
    }
    return {{buck}};
}

/// Ribs turned by nothing, a quarter and 200 degrees; spines above them.
inline Nesting hand_nesting(const std::vector<CutPart>& parts) {
    NestedSheet sheet{"mdf 12", 1, {}, {}, 0.0, {}};
    const std::vector<double> turned{0.0, 90.0, 200.0, 0.0, 180.0};
    const std::vector<Eigen::Vector2d> moved{{100, 20}, {500, 100}, {820, 250}, {60, 400}, {720, 620}};
    for (std::size_t i = 0; i < parts.size(); ++i) {
        sheet.parts.push_back({i, geometry::degrees(turned.at(i)), moved.at(i)});
    }
    Nesting nesting;
    nesting.sheets.push_back(sheet);
    nesting.gap_mm = 8.0;
    return nesting;
}

/// What is wanted of sheets, from the plan alone: areas by closed forms, of outlines, slots and reliefs.
inline nlohmann::json intent_of(const Job& job, const BuckPlan& plan, const Nesting& nesting,
                                const std::vector<std::string>& files) {
    using geometry::in_mm;
    const double bit = cutting_diameter(job) ? in_mm(*cutting_diameter(job)) : 0.0;
    const double relief = bit > 0.0 ? 0.5 * bit + in_mm(k_relief_room) : 0.0;
    // Of a square corner relieved half-way between its edges: two segments of a quarter turn of the circle.
    const double relief_area = relief * relief * (std::numbers::pi / 2.0 - 1.0);
    const bool diagonal = job.buck.relief == CornerRelief::diagonal;
    nlohmann::json intent;
    intent["unit"] = job.buck.unit == DrawingUnit::inches ? "in" : "mm";
    intent["release"] = job.buck.release == core::DxfRelease::older ? "AC1009" : "AC1015";
    intent["margin"] = in_mm(job.buck.margin.value);
    intent["gap"] = nesting.gap_mm;
    intent["bit"] = bit;
    intent["relief"] = relief;
    intent["fit"] = in_mm(job.buck.fit.value);
    intent["depth_room"] = 2.0 * in_mm(job.buck.slot_extra.value);
    intent["sheets"] = nlohmann::json::array();
    for (std::size_t i = 0; i < nesting.sheets.size(); ++i) {
        const auto board = std::find_if(job.buck.boards.begin(), job.buck.boards.end(),
                                        [&](const Board& one) { return one.name == nesting.sheets[i].board; });
        nlohmann::json sheet{{"file", files.at(i)},
                             {"length", in_mm(board->length->value)},
                             {"width", in_mm(board->width->value)},
                             {"defects", nlohmann::json::array()}};
        for (const BoardDefect& defect : board->defects) {
            sheet["defects"].push_back({in_mm(defect.along->value), in_mm(defect.across->value),
                                        in_mm(defect.length->value), in_mm(defect.width->value)});
        }
        intent["sheets"].push_back(sheet);
    }
    const auto add = [&](const std::string& label, nlohmann::json part, double area, const std::vector<Slot>& slots) {
        for (const Slot& slot : slots) {
            area -= slot.width_mm * slot.depth_mm;
        }
        part["area"] = area;
        if (diagonal || slots.empty() || relief == 0.0) {
            part["cut_area"] = area - 2.0 * static_cast<double>(slots.size()) * relief_area;
        }
        intent["parts"][label] = part;
    };
    for (const PieceBuck& buck : plan.pieces) {
        for (const Rib& rib : buck.ribs) {
            // Its least side: of where its outline begins or ends a straight, or of an arc's leftmost point.
            double low = 1e9;
            for (const geometry::Segment& segment : rib.outline.segments) {
                low = std::min(low, start_point(segment).x());
                if (const auto* arc = std::get_if<geometry::ArcSegment>(&segment.shape)) {
                    const Eigen::Vector2d left = arc->centre - Eigen::Vector2d(arc->radius_mm, 0.0);
                    if (geometry::in_mm(distance_to(segment, left)) < 1e-9) {
                        low = std::min(low, left.x());
                    }
                }
            }
            add(rib.label,
                {{"kind", "rib"},
                 {"piece", buck.piece},
                 {"low", low},
                 {"front", rib.front_mm()},
                 {"rear", rib.rear_mm()}},
                geometry::enclosed_area_mm2(rib.outline), rib.laps);
        }
        for (const Spine& spine : buck.spines) {
            add(spine.label,
                {{"kind", "spine"},
                 {"side", spine.side_mm},
                 {"thickness", spine.thickness_mm},
                 {"front", spine.front_mm}},
                (spine.rear_mm - spine.front_mm) * spine.height_mm, spine.laps);
            for (const std::string& rib : spine.rib_labels) {
                intent["pairs"].push_back({rib, spine.label});
            }
        }
        if (buck.base) {
            add(buck.base->label, {{"kind", "base"}},
                (buck.base->rear_mm - buck.base->front_mm) * (buck.base->high_mm - buck.base->low_mm), {});
        }
    }
    return intent;
}

}  // namespace sillwright::core

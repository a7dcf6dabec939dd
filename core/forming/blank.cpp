#include "core/forming/blank.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <utility>

#include "core/drawn_loft.h"
#include "core/finding_state.h"
#include "core/forming/machine_table.h"
#include "core/material.h"
#include "core/number_text.h"

namespace sillwright::core {

using geometry::in_deg;
using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;

namespace {

/// A size that is above a step, or above how many go in, by no more than this is at it: rounding of sums of lengths.
constexpr double k_rounding_mm = 1e-6;
constexpr double k_mm3_per_m3 = 1e9;

Length rounded_up(double mm) {
    const double step = in_mm(k_blank_step);
    return millimetres(std::ceil((mm - k_rounding_mm) / step) * step);
}

int times(Length part, Length whole) {
    return static_cast<int>(std::floor((in_mm(whole) + k_rounding_mm) / in_mm(part)));
}

std::string size_text(Length length, Length width) {
    return fixed_text(in_mm(length), 0) + " × " + fixed_text(in_mm(width), 0) + " mm";
}

/// A stock size with both its numbers.
bool is_known(const StockSheet& stock) {
    return stock.length && stock.width;
}

void take_stock(const Job& job, Blank& blank) {
    for (const StockSheet& stock : stock_of(job.forming)) {
        if (!is_known(stock)) {
            continue;
        }
        const StockYield there = stock_yield(blank.length, blank.width, stock.length->value, stock.width->value);
        if (there.parts == 0 || there.yield <= blank.yield.value_or(0.0)) {
            continue;
        }
        blank.stock = stock.name;
        blank.parts_per_sheet = there.parts;
        blank.turned = there.turned;
        blank.yield = there.yield;
        blank.price_per_part = stock.price ? std::optional(*stock.price / there.parts) : std::nullopt;
    }
}

std::string share_text(double share) {
    return fixed_text(100.0 * share, 0) + " %";
}

std::string parts_text(int parts) {
    return std::to_string(parts) + (parts == 1 ? " part" : " parts");
}

void list_sizes(Finding& finding, const Job& job, const Blank& blank) {
    for (const StockSheet& stock : stock_of(job.forming)) {
        if (!is_known(stock)) {
            finding.inputs.push_back({"sheet " + stock.name, "its size is not known"});
            continue;
        }
        const StockYield there = stock_yield(blank.length, blank.width, stock.length->value, stock.width->value);
        std::string words =
            there.parts == 0 ? "none" : parts_text(there.parts) + ", " + share_text(there.yield) + " used";
        if (stock.price && there.parts > 0) {
            words += ", " + fixed_text(*stock.price / there.parts, 2) + " each";
        }
        finding.inputs.push_back({"sheet " + stock.name, words});
    }
}

std::string decided(bool is, const std::string& words) {
    return is ? words : std::string("not decided");
}

std::string known(bool is, const std::string& words) {
    return is ? words : std::string("not known");
}

/// As it is seen from above: over a male mould the outside of the part, in a female one its inside.
std::string turn_text(const Job& job, const Platen& platen) {
    const bool outside_seen = job.forming.mould.value_or(MouldKind::male) == MouldKind::male;
    const bool as_drawn = outside_seen == (job.side == Side::left);
    const double turn = as_drawn ? in_deg(platen.yaw) : -in_deg(platen.yaw);
    if (turn == 0.0) {
        return "none";
    }
    return degree_text(geometry::degrees(std::abs(turn))) + (turn > 0.0 ? " anticlockwise" : " clockwise") +
           " from above, the front end to the left before it is turned";
}

std::string set_back_text(const Platen& platen) {
    if (platen.window_mm.isZero()) {
        return "not known";
    }
    if (platen.excess <= Length{}) {
        return "none";
    }
    if (!platen.set_back) {
        return "none makes it go in";
    }
    return "front " + mm_text(platen.set_back->front) + ", rear " + mm_text(platen.set_back->rear) +
           ", upper long edge " + mm_text(platen.set_back->shelf) + ", lower long edge " +
           mm_text(platen.set_back->flange);
}

std::string splits_text(const Job& job, const Platen& platen) {
    std::string words;
    for (std::size_t i = 0; i < platen.split_stations.size(); ++i) {
        words += (i == 0 ? "" : "; ") + at_place_words(job, platen.split_stations[i]) + ", lapped to " +
                 mm_text(platen.split_laps[i]);
    }
    return words.empty() ? std::string("none") : words;
}

std::string mould_text(const Forming& forming) {
    if (!forming.mould) {
        return "not decided";
    }
    return *forming.mould == MouldKind::male ? "male" : "female";
}

geometry::Angle least_draft(const DrawPlan& draw) {
    const auto least = std::min_element(draw.strips.begin(), draw.strips.end(),
                                        [](const StripDraft& a, const StripDraft& b) { return a.least < b.least; });
    return least == draw.strips.end() ? geometry::Angle{} : least->least;
}

/// At which the mould runs that the sheet is formed on.
std::optional<geometry::Temperature> mould_temperature(const Forming& forming) {
    std::optional<geometry::Temperature> hot;
    for (const Generation& one : forming.generations) {
        if (one.kind == GenerationKind::sheet) {
            hot = one.hot;
        }
    }
    return hot;
}

/// The need over all: as it lies, or straight where it does not go in, so that another machine can be asked for it.
/// Precondition: the clamp distance is known.
Eigen::Vector2d size_of(const Platen& platen, const Forming& forming) {
    if (platen.excess <= Length{}) {
        return platen.size_mm;
    }
    const Eigen::Rotation2Dd back(-geometry::in_rad(platen.yaw));
    Eigen::Vector2d low = back * platen.mould_mm.front();
    Eigen::Vector2d high = low;
    for (const Eigen::Vector2d& p : platen.mould_mm) {
        low = low.cwiseMin(back * p);
        high = high.cwiseMax(back * p);
    }
    const double clamps = 2.0 * in_mm(forming.clamp_distance->value);
    return high - low + Eigen::Vector2d(clamps, clamps);
}

}  // namespace

StockYield stock_yield(Length length, Length width, Length stock_length, Length stock_width) {
    const int along = times(length, stock_length) * times(width, stock_width);
    const int across = times(width, stock_length) * times(length, stock_width);
    const int parts = std::max(along, across);
    const double share = in_mm(length) * in_mm(width) / (in_mm(stock_length) * in_mm(stock_width));
    return {parts, across > along, parts * share};
}

Blank blank(const Job& job, const Piece& piece, const Platen& platen) {
    Blank blank;
    blank.missing = platen.missing;
    blank.thickness = piece.sheet ? piece.sheet->value : Length{};
    const Machine* const machine = machine_of(job.forming);
    if (!blank.missing.empty() || machine == nullptr || !machine->clamp_margin) {
        return blank;
    }
    const double clamps = 2.0 * in_mm(machine->clamp_margin->value);
    const Eigen::Vector2d size = size_of(platen, job.forming);
    blank.length = rounded_up(size.x() + clamps);
    blank.width = rounded_up(size.y() + clamps);
    if (const auto density = numbers_of(job.skirt.material).density_kg_per_m3) {
        blank.mass_kg = in_mm(blank.length) * in_mm(blank.width) * in_mm(blank.thickness) / k_mm3_per_m3 * *density;
    }
    take_stock(job, blank);
    return blank;
}

std::vector<Finding> blank_findings(const Job& job, const Piece& piece, const Blank& blank) {
    Finding finding;
    finding.id = "forming/" + piece.name + "/blank";
    finding.title = piece.name + ", blank from a stock sheet";
    finding.stage = Stage::forming;
    finding.unit = Unit::none;
    finding.formula =
        "room needed between the clamps + clamp margin all round, rounded up to 5 mm; parts = rows × columns of the "
        "better way round >= 1; no saw cut is counted";
    finding.source = "common practice, no source";
    finding.place.words = "whole part";
    finding.missing = blank.missing;
    if (!blank.missing.empty()) {
        finding.state = state_of(std::nullopt, 0.0, blank.missing);
        finding.why = "The sheet for a part cannot be sized yet.";
        return {finding};
    }
    finding.found = blank.parts_per_sheet;
    finding.required = 1.0;
    finding.margin = *finding.found - *finding.required;
    finding.state = state_of(finding.margin, 0.0, {});
    finding.inputs = {
        {"blank", size_text(blank.length, blank.width) + " of " + mm_text(blank.thickness)},
        {"mass of the blank", known(blank.mass_kg.has_value(), fixed_text(blank.mass_kg.value_or(0), 3) + " kg")}};
    list_sizes(finding, job, blank);
    if (blank.price_per_part) {
        finding.inputs.push_back({"price of the sheet for a part", fixed_text(*blank.price_per_part, 2)});
    }
    if (blank.parts_per_sheet > 0) {
        finding.why = "A sheet " + blank.stock + " gives " + parts_text(blank.parts_per_sheet) + "; " +
                      share_text(*blank.yield) + " of it is used.";
    } else {
        finding.why = "No sheet of the sizes known gives the blank of one part.";
        finding.mend = Mend{"Order a sheet of at least " + size_text(blank.length, blank.width) +
                                ", or pull the part back or split it.",
                            {},
                            std::nullopt};
    }
    return {finding};
}

std::vector<Input> moulder_lines(const Job& job, const Piece& piece, const DrawPlan& draw, const Platen& platen,
                                 const Blank& blank) {
    const Forming& forming = job.forming;
    const Machine* const machine = machine_of(forming);
    const bool sized = blank.missing.empty() && blank.length > Length{};
    const auto temperature = mould_temperature(forming);
    const auto free = [](const Eigen::Vector2d& size) {
        return size_text(millimetres(size.x()), millimetres(size.y()));
    };
    return {
        {"sheet, cut to", known(sized, size_text(blank.length, blank.width))},
        {"sheet thickness", known(piece.sheet.has_value(), mm_text(blank.thickness))},
        {"material", decided(!job.skirt.material.name.empty(), job.skirt.material.name)},
        {"mass of the blank", known(blank.mass_kg.has_value(), fixed_text(blank.mass_kg.value_or(0.0), 3) + " kg")},
        {"stock sheet", known(!blank.stock.empty(), blank.stock + ", " + parts_text(blank.parts_per_sheet) +
                                                        (blank.turned ? ", lengths across" : ", lengths along"))},
        {"machine", decided(!forming.machine.empty(), forming.machine)},
        {"opening of the clamp frame", known(!platen.window_mm.isZero(), free(platen.window_mm))},
        {"clamps take at each side",
         known(machine != nullptr && machine->clamp_margin.has_value(),
               machine != nullptr && machine->clamp_margin ? mm_text(machine->clamp_margin->value) : std::string())},
        {"turn on the platen", known(!platen.window_mm.isZero(), turn_text(job, platen))},
        {"tilt of the draw direction, up from straight outward", degree_text(platen.tilt)},
        {"mould", mould_text(forming)},
        {"height of the mould", mm_text(platen.height)},
        {"clamp line from the mould's foot",
         decided(forming.clamp_distance.has_value(),
                 forming.clamp_distance ? mm_text(forming.clamp_distance->value) : std::string())},
        {"sheet and mould beyond the trim line", mm_text(forming.trim_allowance.value)},
        {"set back", set_back_text(platen)},
        {"splits", splits_text(job, platen)},
        {"draft needed", decided(draw.needed.has_value(), draw.needed ? degree_text(*draw.needed) : std::string())},
        {"draft, the least of a strip", known(!draw.strips.empty(), degree_text(least_draft(draw)))},
        {"mould temperature",
         known(temperature.has_value(),
               temperature ? fixed_text(geometry::in_celsius(*temperature), 0) + " °C" : std::string())},
    };
}

}  // namespace sillwright::core

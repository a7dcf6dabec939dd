#include "core/forming/forming_sheet.h"

#include <optional>
#include <utility>

#include "core/number_text.h"

namespace sillwright::core {

using geometry::Length;

namespace {

std::string mm(Length length) {
    return mm_text(length, 1);
}

std::string maybe_mm(const std::optional<Length>& length) {
    return length ? mm(*length) : "not known";
}

std::string percent_text(double part, int decimals) {
    return fixed_text(100.0 * part, decimals) + " %";
}

std::string plus_minus(Length value, Length sd) {
    return mm_text(value, 2) + " ± " + mm_text(2.0 * sd, 2);
}

void note_missing(SheetPart& part, const std::vector<std::string>& missing) {
    for (const std::string& lack : missing) {
        part.notes.push_back("Not decided or measured yet: " + lack + ".");
    }
}

SheetPart draw_part(const PieceForming& forming) {
    SheetPart part{"Draw direction and draft", {}, {}};
    const DrawPlan& draw = forming.draw;
    part.lines.push_back({"tilt, up from straight outward", degree_text(draw.tilt, 1)});
    part.lines.push_back({"best tilt", degree_text(draw.best, 1) + ", least draft " + degree_text(draw.best_draft, 1)});
    if (draw.from && draw.to) {
        part.lines.push_back(
            {"tilts with draft enough", degree_text(*draw.from, 1) + " to " + degree_text(*draw.to, 1)});
    }
    for (const StripDraft& strip : draw.strips) {
        const std::string name = strip.from == strip.to ? strip.from : strip.from + " to " + strip.to;
        part.lines.push_back({"draft, " + name, degree_text(strip.least, 1) + " at " + mm(strip.along)});
    }
    for (const Undercut& undercut : draw.undercuts) {
        part.notes.push_back("Undercut at " + undercut.strip + ", " + mm(undercut.depth) + " deep, from " +
                             mm(undercut.from) + " to " + mm(undercut.to) + ".");
    }
    note_missing(part, draw.missing);
    return part;
}

SheetPart machine_part(const Job& job, const PieceForming& forming) {
    SheetPart part{"Machine and sheet", {}, {}};
    const Piece& piece = job.skirt.pieces[forming.piece];
    part.lines = moulder_lines(job, piece, forming.draw, forming.platen, forming.blank);
    note_missing(part, forming.platen.missing);
    note_missing(part, forming.blank.missing);
    return part;
}

SheetPart thickness_part(const PieceForming& forming) {
    SheetPart part{"Thickness as formed, the thinnest places", {}, {}};
    const Thinning& thinning = forming.thinning;
    for (const ThinPlace& place : thinning.places) {
        part.lines.push_back({place.name, plus_minus(place.thickness, place.sd) + ", needs " +
                                              mm_text(place.needed, 2) + ", at " + mm(place.along)});
    }
    if (!thinning.places.empty()) {
        part.lines.push_back({"area formed, of the area clamped", fixed_text(thinning.draw_ratio, 2)});
        part.notes.push_back(
            "Computed section by section, with a mould that the sheet sticks to; no plug, no slip, ends not counted. "
            "Measure the first part.");
    }
    note_missing(part, thinning.missing);
    return part;
}

/// From the part's size to the plug's, along and across; the part's own where the chain is not known.
struct PlugSize {
    double along = 1.0, across = 1.0;
    bool known = false;
};

PlugSize plug_size(const std::vector<ChainStep>& chain) {
    const ChainSize along = chain_size(chain, false);
    const ChainSize across = chain_size(chain, true);
    if (!along.missing.empty() || !across.missing.empty()) {
        return {};
    }
    return {1.0 / along.ratio, 1.0 / across.ratio, true};
}

std::string lane_words(const LaneRow& row, const PlugSize& plug) {
    const auto fence = [&](Length from_edge) {
        return from_edge < Length{} ? mm(-from_edge * plug.across) + " inward of it" : mm(from_edge * plug.across);
    };
    return mm(row.edge_offset * plug.across) + " from the edge, fence at " +
           (row.fence ? fence(*row.fence) : "not known");
}

SheetPart flute_part(const FluteLane& lane, const PlugSize& plug) {
    SheetPart part{(lane.recess ? "Recess " : "Flute ") + lane.name, {}, {}};
    part.notes.push_back(plug.known ? "Places and widths on the plug, larger than the part by what the chain shrinks."
                                    : "At the part's size: how much larger the plug is, is not known yet.");
    part.lines.push_back({"bit", lane.bit.empty() ? "none fits" : lane.bit});
    part.lines.push_back({"width on the plug", mm(lane.mould_width * plug.across)});
    part.lines.push_back({"width seen on the part", mm(lane.part_width)});
    part.lines.push_back(
        {"depth",
         mm(lane.depth) + (lane.passes == 1 ? " in one pass" : " in " + std::to_string(lane.passes) + " passes")});
    part.lines.push_back({"wood left below", maybe_mm(lane.wood_left)});
    part.lines.push_back({"sheet in its bottom", maybe_mm(lane.bottom_thickness)});
    part.lines.push_back({"from, to", mm(lane.front * plug.along) + ", " + mm(lane.rear * plug.along)});
    if (lane.land) {
        part.lines.push_back({"land to the next inward", mm(*lane.land * plug.across)});
    }
    for (std::size_t first = 0; first < lane.rows.size();) {
        const std::string words = lane_words(lane.rows[first], plug);
        std::size_t last = first;
        while (last + 1 < lane.rows.size() && lane_words(lane.rows[last + 1], plug) == words) {
            ++last;
        }
        const std::string from = mm_text(lane.rows[first].along * plug.along, 0);
        part.lines.push_back(
            {first == last ? "at " + from : from + " to " + mm_text(lane.rows[last].along * plug.along, 0), words});
        first = last + 1;
    }
    note_missing(part, lane.missing);
    return part;
}

SheetPart ladder_part(const LadderOf& ladder) {
    SheetPart part{"Ladder: " + ladder.dimension.name, {}, {}};
    for (const Rung& rung : ladder.rungs) {
        part.lines.push_back({rung.generation, plus_minus(rung.value, rung.sd)});
    }
    note_missing(part, ladder.missing);
    return part;
}

SheetPart chain_part(const std::vector<ChainStep>& chain) {
    SheetPart part{"Mould chain: size of each, of the one before it, both cold", {}, {}};
    for (const ChainStep& step : chain) {
        const auto way = [](double size, double sd, bool measured) {
            return percent_text(size, 3) + " ± " + percent_text(2.0 * sd, 3) + (measured ? ", measured" : ", assumed");
        };
        if (step.missing.empty() && step.kind != GenerationKind::plug) {
            part.lines.push_back({step.name + ", along", way(step.along, step.along_sd, step.measured_along)});
            part.lines.push_back({step.name + ", across", way(step.across, step.across_sd, step.measured_across)});
        }
        note_missing(part, step.missing);
    }
    return part;
}

SheetPart ticks_part(const ScribeTicks& ticks) {
    SheetPart part{"Ticks to scribe on the plug, and to measure again on each mould", {}, {}};
    for (const TickLine& line : ticks.lines) {
        for (const TickSize& size : line.sizes) {
            part.lines.push_back({line.name + ", " + size.generation,
                                  mm_text(size.expected, 2) + " ± " + mm_text(size.limit, 2) +
                                      (size.measured ? ", measured " + mm_text(*size.measured, 2) : "")});
        }
    }
    note_missing(part, ticks.missing);
    return part;
}

}  // namespace

std::vector<SheetPart> forming_sheet(const Job& job, const FormingPlan& plan) {
    std::vector<SheetPart> parts;
    const PlugSize plug = plug_size(plan.chain);
    for (const PieceForming& forming : plan.pieces) {
        const std::size_t first = parts.size();
        parts.push_back(draw_part(forming));
        parts.push_back(machine_part(job, forming));
        parts.push_back(thickness_part(forming));
        for (const FluteLane& lane : forming.lanes) {
            parts.push_back(flute_part(lane, plug));
        }
        if (plan.pieces.size() > 1) {
            for (std::size_t i = first; i < parts.size(); ++i) {
                parts[i].title = job.skirt.pieces[forming.piece].name + ": " + parts[i].title;
            }
        }
    }
    if (!plan.chain.empty()) {
        parts.push_back(chain_part(plan.chain));
    }
    for (const PieceForming& forming : plan.pieces) {
        for (const LadderOf& ladder : forming.ladders) {
            if (!ladder.rungs.empty()) {
                parts.push_back(ladder_part(ladder));
            }
        }
        if (!forming.ticks.lines.empty()) {
            parts.push_back(ticks_part(forming.ticks));
        }
    }
    return parts;
}

}  // namespace sillwright::core

#include "core/edit/flute_edit.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <string>
#include <utility>

#include "core/drawn_lacking.h"
#include "core/drawn_loft.h"
#include "core/edit/new_names.h"
#include "core/skirt/fluted_section.h"

namespace sillwright::core {

using geometry::Error;
using geometry::ErrorCode;
using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;

namespace {

/// Of a single rounding that wide and that deep; a half round and walls where it is deeper.
Length single_radius(Length width, Length depth) {
    const double w = in_mm(width);
    const double d = in_mm(depth);
    return millimetres(d < w / 2.0 ? (w * w / 4.0 + d * d) / (2.0 * d) : w / 2.0);
}

/// Whether every drawn section takes its flutes; a piece that is not drawn to its end takes all.
geometry::Status check_sections(const Job& job, const Piece& piece) {
    if (!lacking_for_loft(job, piece.drawn, false, piece.name).empty()) {
        return std::monostate{};
    }
    const auto line = loft_of(job, piece.drawn, false, piece.name);
    if (!line) {
        return line.error();
    }
    for (const Length along : line.value().key_places()) {
        if (const auto nodes = fluted_nodes(piece, line.value(), along); !nodes) {
            return nodes.error();
        }
    }
    return std::monostate{};
}

}  // namespace

geometry::Result<Edit> lay_flutes(const Job& job, std::size_t piece, const FluteRow& row) {
    if (piece >= job.skirt.pieces.size()) {
        return Error{ErrorCode::invalid_argument, "There is no such piece of the skirt in this job."};
    }
    if (row.widths.empty()) {
        return Error{ErrorCode::invalid_argument, "A row of flutes needs the width of one flute or more."};
    }
    for (const Length width : row.widths) {
        if (!(width > Length{}) || !(row.depth > Length{})) {
            return Error{ErrorCode::invalid_argument, "A flute needs a width and a depth greater than zero."};
        }
    }
    Job changed = job;
    Piece& target = changed.skirt.pieces[piece];
    std::set<std::string> taken;
    for (const Flute& flute : target.flutes) {
        taken.insert(flute.name);
    }
    Length offset = row.first_offset;
    for (std::size_t i = 0; i < row.widths.size(); ++i) {
        if (i > 0) {
            offset = offset + 0.5 * (row.widths[i - 1] + row.widths[i]) + row.land;
        }
        Flute flute;
        flute.name = next_name(taken, "flute ");
        taken.insert(flute.name);
        flute.offset = {offset, ""};
        flute.width = {row.widths[i], ""};
        flute.depth = {row.depth, ""};
        flute.bottom_radius = {row.bottom_radius.value_or(single_radius(row.widths[i], row.depth)), ""};
        if (row.front) {
            flute.front = Entry{*row.front, ""};
        }
        if (row.rear) {
            flute.rear = Entry{*row.rear, ""};
        }
        target.flutes.push_back(std::move(flute));
    }
    const std::string words = row.widths.size() == 1
                                  ? "lay " + target.flutes.back().name + " on the shelf"
                                  : "lay " + std::to_string(row.widths.size()) + " flutes on the shelf";
    auto edit = checked_edit(std::move(changed), words);
    if (!edit) {
        return edit;
    }
    if (const auto fits = check_sections(edit.value().job, edit.value().job.skirt.pieces[piece]); !fits) {
        return fits.error();
    }
    return edit;
}

}  // namespace sillwright::core

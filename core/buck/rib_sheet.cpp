#include "core/buck/rib_sheet.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <utility>
#include <variant>

#include "core/buck/inner_room.h"
#include "core/buck/reference_lines.h"
#include "core/buck/rib_label.h"
#include "core/file_name.h"
#include "core/plain_text.h"
#include "geometry/mesh_source.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::DrawnEntity;
using geometry::DrawnLine;
using geometry::DrawnText;
using geometry::millimetres;
using geometry::Result;

namespace {

const std::string k_cut = "CUT_OUTSIDE";
const std::string k_engrave = "ENGRAVE";
const std::string k_note = "NOTE";

/// Letters, largest first. Below 2.5 mm a common engraving bit runs them together
/// (common practice, no source).
constexpr std::array<double, 6> k_letter_heights_mm{6.0, 5.0, 4.0, 3.5, 3.0, 2.5};
/// Letters of the words about the baseline.
constexpr std::array<double, 4> k_small_heights_mm{4.0, 3.5, 3.0, 2.5};
/// What is engraved stays this far from the edge, and from other engraving.
constexpr double k_margin_mm = 3.0;

constexpr double k_tick_every_mm = 10.0;
constexpr double k_tick_mm = 2.0;
constexpr double k_long_tick_mm = 4.0;
constexpr int k_long_tick_each = 5;
constexpr double k_centre_tick_mm = 10.0;

/// Letters of what stands below: the warning's, and the others'.
struct NoteHeights {
    double warning_mm, line_mm;
};
constexpr NoteHeights k_one_rib{5.0, 3.5};
constexpr NoteHeights k_all_ribs{15.0, 8.0};

/// A rib on its own, where its job has it.
struct Rib {
    std::vector<DrawnEntity> entities;
    Eigen::AlignedBox2d box;  ///< All of it, writing included.
    std::vector<std::string> notes;
};

std::string mm_words(double mm) {
    std::string text;
    geometry::append_number(text, std::round(mm * 100.0) / 100.0);
    return text + " mm";
}

DrawnEntity moved(DrawnEntity entity, const Vector2d& by) {
    struct Mover {
        const Vector2d& by;
        void operator()(DrawnLine& line) const {
            line.from_mm += by;
            line.to_mm += by;
        }
        void operator()(geometry::DrawnArc& arc) const { arc.centre_mm += by; }
        void operator()(geometry::DrawnCircle& circle) const { circle.centre_mm += by; }
        void operator()(geometry::DrawnChain& chain) const {
            for (geometry::ChainVertex& vertex : chain.vertices) {
                vertex.p_mm += by;
            }
        }
        void operator()(DrawnText& text) const { text.at_mm += by; }
        void operator()(geometry::DrawnPoint& point) const { point.at_mm += by; }
    };
    std::visit(Mover{by}, entity.shape);
    return entity;
}

/// The chord of the baseline, and ticks above it at whole tens of out.
void add_baseline(Rib& rib, const Stretch& chord, const ReferenceLines& lines) {
    const double up = lines.baseline_up_mm;
    const auto tick = [&](double out, double size) {
        rib.entities.push_back({k_engrave, DrawnLine{{out, up}, {out, up + size}}});
    };
    rib.entities.push_back({k_engrave, DrawnLine{{chord.from_mm, up}, {chord.to_mm, up}}});
    tick(lines.centre_out_mm, k_centre_tick_mm);
    const auto first = static_cast<int>(std::ceil((chord.from_mm + k_margin_mm) / k_tick_every_mm));
    const auto last = static_cast<int>(std::floor((chord.to_mm - k_margin_mm) / k_tick_every_mm));
    for (int i = first; i <= last; ++i) {
        const double out = k_tick_every_mm * i;
        if (std::abs(out - lines.centre_out_mm) > k_tick_mm) {
            tick(out, i % k_long_tick_each == 0 ? k_long_tick_mm : k_tick_mm);
        }
    }
}

struct Spot {
    Vector2d corner_mm;
    double height_mm;
};

/// Where the block fits between two heights of the rib, in the largest letters that do.
template <std::size_t n>
std::optional<Spot> spot_for(const TextBlock& block, const InnerRoom& room, double low_mm, double high_mm,
                             const std::array<double, n>& heights_mm) {
    constexpr double k_step_mm = 1.0;
    for (const double h : heights_mm) {
        const double tall = block.height_mm(h);
        const double wide = block.width_mm(h);
        for (double y = low_mm; y + tall <= high_mm; y += k_step_mm) {
            const auto free = room.widest_between(y - k_margin_mm, y + tall + k_margin_mm);
            if (free && free->width_mm() >= wide + 2.0 * k_margin_mm) {
                return Spot{{0.5 * (free->from_mm + free->to_mm - wide), y}, h};
            }
        }
    }
    return std::nullopt;
}

void add_block(Rib& rib, const TextBlock& block, const std::string& layer, const Spot& spot, Side side) {
    for (DrawnEntity& entity : drawn_block(block, layer, spot.corner_mm, spot.height_mm, side)) {
        rib.entities.push_back(std::move(entity));
    }
    rib.box.extend(spot.corner_mm);
    rib.box.extend(
        Vector2d(spot.corner_mm + Vector2d{block.width_mm(spot.height_mm), block.height_mm(spot.height_mm)}));
}

/// Words about the lines below the baseline if there is room, else in the label.
void add_writing(Rib& rib, const Job& job, const StationOutline& outline, const InnerRoom& room,
                 const ReferenceLines& lines) {
    const TextBlock about{
        {"BASELINE UP " + mm_words(lines.baseline_up_mm), "CENTRE LINE OUT " + mm_words(lines.centre_out_mm)}};
    TextBlock label = rib_label(job, outline);
    const double up = lines.baseline_up_mm;
    if (const auto spot = spot_for(about, room, room.bottom_mm(), up - k_margin_mm, k_small_heights_mm)) {
        add_block(rib, about, k_engrave, *spot, job.side);
    } else {
        label.lines.insert(label.lines.end(), about.lines.begin(), about.lines.end());
    }
    const double low = up + k_centre_tick_mm + k_margin_mm;
    if (const auto spot = spot_for(label, room, low, room.top_mm(), k_letter_heights_mm)) {
        add_block(rib, label, k_engrave, *spot, job.side);
        return;
    }
    const double h = k_small_heights_mm.front();
    const Vector2d beside{rib.box.max().x() + k_margin_mm, rib.box.max().y() - label.height_mm(h)};
    add_block(rib, label, k_note, {beside, h}, job.side);
    rib.notes.push_back("Station " + outline.station +
                        ": the rib has no room for its label, which stands beside it on "
                        "the layer NOTE. Mark the rib by hand.");
}

Result<Rib> drawn_rib(const Job& job, const StationOutline& outline, const InnerRoom& room,
                      const ReferenceLines& lines) {
    auto shape = geometry::shape_of(outline.outline);
    if (!shape) {
        return shape.error();
    }
    Rib rib;
    rib.entities.push_back({k_cut, std::move(shape).value()});
    rib.box = geometry::bounds_mm({{{k_cut, 1}}, rib.entities});
    if (const auto chord = room.widest(lines.baseline_up_mm)) {
        add_baseline(rib, *chord, lines);
    }
    add_writing(rib, job, outline, room, lines);
    return rib;
}

/// The ribs of all outlines; those of one piece share their lines.
Result<std::vector<Rib>> drawn_ribs(const Job& job, const std::vector<StationOutline>& outlines) {
    std::vector<Rib> ribs;
    for (std::size_t first = 0; first < outlines.size();) {
        std::vector<InnerRoom> rooms;
        std::size_t last = first;
        for (; last < outlines.size() && outlines[last].piece == outlines[first].piece; ++last) {
            auto room = InnerRoom::of(outlines[last].outline);
            if (!room) {
                return room.error();
            }
            rooms.push_back(std::move(room).value());
        }
        const std::vector<ReferenceLines> lines = reference_lines(rooms);
        for (std::size_t i = first; i < last; ++i) {
            auto rib = drawn_rib(job, outlines[i], rooms[i - first], lines[i - first]);
            if (!rib) {
                return rib.error();
            }
            ribs.push_back(std::move(rib).value());
        }
        first = last;
    }
    return ribs;
}

geometry::Drawing empty_sheet() {
    return {{{k_cut, 1}, {k_engrave, 5}, {k_note, 3}}, {}};
}

std::vector<std::string> note_lines(const Job& job, const std::vector<StationOutline>& outlines,
                                    const std::string& what) {
    const bool right = job.side == Side::right;
    std::vector<std::string> lines{
        job.vehicle + ", revision " + job.revision + ", " + job.date + ", " + (right ? "RIGHT SIDE" : "LEFT SIDE"),
        what,
        std::string("Seen looking ") + (right ? "forward: the rear face" : "rearward: the front face") +
            " of the rib shows. Out is to the right, up is up, millimetres.",
        "Outline: the mould face, closed by a straight from flange end to top return end.",
        "Cut on CUT_OUTSIDE, mark on ENGRAVE, leave NOTE alone."};
    for (const Piece& piece : job.skirt.pieces) {
        const bool drawn = std::any_of(outlines.begin(), outlines.end(),
                                       [&](const StationOutline& outline) { return outline.piece == piece.name; });
        if (drawn && piece.flange.making == FlangeMaking::bent_after) {
            lines.push_back("Piece " + piece.name + ": " + k_bent_after_note);
        }
    }
    return lines;
}

/// The warning, then the lines, downward from a place.
void add_notes(geometry::Drawing& sheet, Vector2d at, const NoteHeights& heights,
               const std::vector<std::string>& lines) {
    at.y() -= heights.warning_mm;
    sheet.entities.push_back({k_note, DrawnText{at, millimetres(heights.warning_mm), {}, k_part_size_warning}});
    at.y() -= 0.5 * heights.line_mm;
    for (const std::string& line : lines) {
        at.y() -= k_line_pitch * heights.line_mm;
        sheet.entities.push_back({k_note, DrawnText{at, millimetres(heights.line_mm), {}, line}});
    }
}

bool one_piece(const std::vector<StationOutline>& outlines) {
    return std::all_of(outlines.begin(), outlines.end(),
                       [&](const StationOutline& one) { return one.piece == outlines.front().piece; });
}

}  // namespace

Result<std::vector<RibSheet>> rib_sheets(const Job& job, const std::vector<StationOutline>& outlines) {
    auto ribs = drawn_ribs(job, outlines);
    if (!ribs) {
        return ribs.error();
    }
    std::vector<RibSheet> sheets;
    std::vector<std::string> taken{"all_stations"};
    for (std::size_t i = 0; i < outlines.size(); ++i) {
        const StationOutline& outline = outlines[i];
        Rib rib = ribs.value()[i];
        const std::string name = "station_" + outline.station + (one_piece(outlines) ? "" : "_" + outline.piece);
        RibSheet sheet{unique_file_name(name, taken), empty_sheet(), std::move(rib.notes)};
        sheet.drawing.entities = std::move(rib.entities);
        std::string what = "Piece " + outline.piece + ", station " + outline.station + ", along ";
        what += mm_words(geometry::in_mm(outline.along)) + ". x is out, y is up.";
        add_notes(sheet.drawing, {rib.box.min().x(), rib.box.min().y() - 2.0 * k_one_rib.line_mm}, k_one_rib,
                  note_lines(job, {outline}, what));
        sheets.push_back(std::move(sheet));
    }
    return sheets;
}

Result<RibSheet> all_ribs_sheet(const Job& job, const std::vector<StationOutline>& outlines) {
    const auto ribs = drawn_ribs(job, outlines);
    if (!ribs) {
        return ribs.error();
    }
    RibSheet sheet{"all_stations", empty_sheet(), {}};
    double x = 0.0;
    double lowest = 0.0;
    for (const Rib& rib : ribs.value()) {
        const Vector2d by{x - rib.box.min().x(), 0.0};
        for (const DrawnEntity& entity : rib.entities) {
            sheet.drawing.entities.push_back(moved(entity, by));
        }
        lowest = x == 0.0 ? rib.box.min().y() : std::min(lowest, rib.box.min().y());
        x += rib.box.max().x() - rib.box.min().x() + geometry::in_mm(k_rib_gap);
    }
    add_notes(sheet.drawing, {0.0, lowest - geometry::in_mm(k_rib_gap)}, k_all_ribs,
              note_lines(job, outlines,
                         std::to_string(outlines.size()) + " stations side by side, " +
                             mm_words(geometry::in_mm(k_rib_gap)) + " apart. y is up; out is shifted."));
    return sheet;
}

}  // namespace sillwright::core

#include "core/buck/cut_part.h"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <functional>
#include <utility>

#include "core/buck/part_room.h"
#include "core/buck/part_tabs.h"
#include "core/buck/part_words.h"
#include "core/buck/slotted.h"
#include "core/forming/bit_table.h"
#include "core/number_text.h"
#include "core/plain_text.h"
#include "geometry/corner_relief.h"

namespace sillwright::core {

using Eigen::AlignedBox2d;
using Eigen::Vector2d;
using geometry::Error;
using geometry::ErrorCode;
using geometry::in_deg;
using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;
using geometry::Profile;
using geometry::Result;

namespace {

/// A longer name of a vehicle is cut: the whole of it stands in NOTE.
constexpr std::size_t k_vehicle_columns = 22;
constexpr std::size_t k_short_vehicle_columns = 10;
/// The level line's ticks: how high, how far apart, and what is too short to lay a level to.
constexpr double k_tick_mm = 3.0;
constexpr double k_tick_pitch_mm = 20.0;
constexpr double k_least_line_mm = 10.0;
/// A datum line beside its hole: from the hole's edge, and how long.
constexpr double k_beside_hole_mm = 1.0;
constexpr double k_datum_line_mm = 12.0;
/// Kept free beside an engraved line.
constexpr double k_beside_line_mm = 1.0;
/// How far from its slot or its line a label may stand.
constexpr double k_near_mm = 25.0;
/// An edge leans where the two faces differ by more than a bit shows.
constexpr double k_bevel_mm = 0.05;
/// The base line is at height 0 within this.
constexpr double k_level_mm = 1e-6;

std::string number(double mm) {
    return fixed_text(mm, std::abs(mm - std::round(mm)) < 0.05 ? 0 : 1);  // half of the last digit that is written
}

std::string upper(std::string words) {
    std::transform(words.begin(), words.end(), words.begin(),
                   [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
    return words;
}

std::string engraved(const std::string& words) {
    return in_ascii(without_controls(words));
}

std::string board_name(const Job& job, const std::string& name) {
    return name.empty() && !job.buck.boards.empty() ? job.buck.boards.front().name : name;
}

CutPart started(PartKind kind, const PieceBuck& buck, const std::string& label, std::string board, double thickness) {
    CutPart part;
    part.kind = kind;
    part.piece = buck.piece;
    part.label = label;
    part.board = std::move(board);
    part.thickness_mm = thickness;
    return part;
}

/// The outline that is cut.
Result<CutPart> with_relief(const Job& job, CutPart part, const std::vector<Slot>& slots, Result<Profile> finished) {
    if (!finished) {
        return Error{finished.error().code, part.label + ": " + finished.error().message};
    }
    part.finished = std::move(finished).value();
    part.outline = part.finished;
    const auto narrowest = std::ranges::min_element(slots, {}, &Slot::width_mm);
    const auto diameter = cutting_diameter(job);
    if (diameter && narrowest != slots.end() && millimetres(narrowest->width_mm) < *diameter) {
        part.unrelieved = "The bit, " + mm_text(*diameter) + " wide, is wider than the slot at " +
                          mm_text(millimetres(narrowest->at_mm)) + ", " + mm_text(millimetres(narrowest->width_mm)) +
                          " wide.";
    } else if (diameter) {
        const auto kind = job.buck.relief == CornerRelief::diagonal ? geometry::ReliefKind::diagonal
                                                                    : geometry::ReliefKind::along_edge;
        auto cut = geometry::relieved(part.finished, 0.5 * *diameter + k_relief_room, kind);
        if (!cut && cut.error().code != ErrorCode::does_not_fit) {
            return Error{cut.error().code, part.label + ": " + cut.error().message};
        }
        if (cut) {
            part.outline = std::move(cut).value().outline;
        } else {
            part.unrelieved = cut.error().message;
        }
    }
    return part;
}

/// Of a rib from its base line upward, of a spine from its upper edge downward.
std::vector<AlignedBox2d> boxes_of(const std::vector<Slot>& slots, double edge_mm, double way) {
    std::vector<AlignedBox2d> boxes;
    for (const Slot& slot : slots) {
        AlignedBox2d box(Vector2d(slot.at_mm - slot.width_mm / 2.0, edge_mm));
        box.extend(Vector2d(slot.at_mm + slot.width_mm / 2.0, edge_mm + way * slot.depth_mm));
        boxes.push_back(box);
    }
    return boxes;
}

void put_tabs(const Job& job, CutPart& part, std::vector<AlignedBox2d> slots,
              std::function<int(const Vector2d&)> rank) {
    TabWish wish{in_mm(job.buck.tab_width.value), in_mm(job.buck.tab_pitch.value),
                 0.5 * in_mm(cutting_diameter(job).value_or(Length{})), std::move(slots), std::move(rank)};
    part.tabs = tabs_on(part.outline, wish);
}

Lettering words(std::vector<std::string> longest_first) {
    return {std::move(longest_first), {}, {}};
}

/// What all parts say: side, vehicle with revision.
void add_common(const Job& job, std::vector<Lettering>& wanted) {
    wanted.push_back(
        words({job.side == Side::right ? "RIGHT SIDE" : "LEFT SIDE", job.side == Side::right ? "RIGHT" : "LEFT"}));
    const std::string vehicle = upper(engraved(job.vehicle));
    const std::string revision = job.revision.empty() ? "" : "REV " + upper(engraved(job.revision));
    std::vector<std::string> choices;
    for (const std::size_t most : {k_vehicle_columns, k_short_vehicle_columns}) {
        std::string name = wrapped(vehicle, most).front();
        while (!name.empty() && name.back() == ',') {
            name.pop_back();
        }
        const std::string all = name + (name.empty() || revision.empty() ? "" : ", ") + revision;
        if (!all.empty()) {
            choices.push_back(all);
        }
    }
    if (!revision.empty()) {
        choices.push_back(revision);
    }
    if (!choices.empty()) {
        wanted.push_back(words(std::move(choices)));
    }
}

void keep_off_line(PartRoom& room, const Vector2d& from, const Vector2d& to) {
    const Vector2d beside = Vector2d::Constant(k_beside_line_mm);
    room.keep_off(AlignedBox2d(Vector2d(from.cwiseMin(to) - beside), Vector2d(from.cwiseMax(to) + beside)));
}

/// Level line with its ticks at whole twenties of millimetres.
void add_level_line(CutPart& part, PartRoom& room, double level) {
    std::vector<std::pair<Vector2d, Vector2d>> lines;
    for (const Stretch& stretch : room.free(level, level + k_tick_mm)) {
        if (stretch.width_mm() < k_least_line_mm) {
            continue;
        }
        lines.emplace_back(Vector2d(stretch.from_mm, level), Vector2d(stretch.to_mm, level));
        part.lines.push_back({lines.back().first, lines.back().second});
        for (double x = std::ceil(stretch.from_mm / k_tick_pitch_mm) * k_tick_pitch_mm; x <= stretch.to_mm;
             x += k_tick_pitch_mm) {
            part.lines.push_back({{x, level}, {x, level + k_tick_mm}});
        }
    }
    if (lines.empty()) {
        part.left_out.emplace_back("the level line");
    }
    for (const auto& [from, to] : lines) {
        keep_off_line(room, from, to + Vector2d(0.0, k_tick_mm));
    }
}

/// A line through each hole both ways, on both sides of it as far as there is wood.
void add_datum_lines(CutPart& part, PartRoom& room) {
    const PartRoom turned = room.turned();
    std::vector<EngravedLine> lines;
    for (const DrilledHole& hole : part.holes) {
        const double from = 0.5 * hole.diameter_mm + k_beside_hole_mm;
        const double to = from + k_datum_line_mm;
        for (const bool upright : {false, true}) {
            const double across = upright ? hole.at_mm.x() : hole.at_mm.y();
            const double along = upright ? hole.at_mm.y() : hole.at_mm.x();
            const auto at = [&](double a) { return upright ? Vector2d(across, a) : Vector2d(a, across); };
            for (const Stretch& free : (upright ? turned : room).free(across, across)) {
                for (const double way : {-1.0, 1.0}) {
                    const double far = std::clamp(along + way * to, free.from_mm, free.to_mm);
                    const double near = along + way * from;
                    if (free.from_mm <= near && near <= free.to_mm && way * (far - near) > 0.0) {
                        lines.push_back({at(near), at(far)});
                    }
                }
            }
        }
    }
    for (const DrilledHole& hole : part.holes) {
        const Vector2d round = Vector2d::Constant(0.5 * hole.diameter_mm + in_mm(k_engraving_room));
        room.keep_off(AlignedBox2d(Vector2d(hole.at_mm - round), Vector2d(hole.at_mm + round)));
    }
    for (const EngravedLine& line : lines) {
        keep_off_line(room, line.from_mm, line.to_mm);
    }
    part.lines.insert(part.lines.end(), lines.begin(), lines.end());
}

/// Holes for the datum rods.
void add_holes(const Job& job, const Rib& rib, CutPart& part) {
    const auto bit = cutting_diameter(job);
    for (std::size_t i = 0; i < rib.pins_mm.size(); ++i) {
        const bool milled = bit && job.buck.pin.value >= *bit;
        part.holes.push_back({rib.pins_mm[i], in_mm(job.buck.pin.value),
                              "datum rod " + std::to_string(i + 1) + (milled ? ", milled or drilled" : ", drilled")});
    }
}

Lettering station_words_of(const Rib& rib) {
    const std::string along = number(in_mm(rib.along));
    if (rib.station.empty()) {
        return words({"AT " + along + " MM", along});
    }
    const std::string station = upper(engraved(rib.station));
    return words({"STATION " + station + " - " + along, "STA " + station + " - " + along, station + " - " + along});
}

/// How the edges lean, strip by strip: the face that is smaller is the one that is bevelled to.
void add_bevels(const Rib& rib, std::vector<Lettering>& wanted) {
    const std::string face = rib.place_is_front ? "REAR" : "FRONT";
    for (const Bevel& bevel : rib.bevels) {
        const double way = in_mm(bevel.most) > 0.0 ? 1.0 : -1.0;
        const double from = way * in_deg(bevel.from);
        const double to = way * in_deg(bevel.to);
        if (std::abs(in_mm(bevel.most)) < k_bevel_mm) {
            continue;
        }
        const std::string what = way > 0.0 ? "BEVEL " + face + " " : "GAP " + face + " ";
        const std::string one = fixed_text(std::abs(from) > std::abs(to) ? from : to, 1) + " DEG";
        const std::string both =
            fixed_text(from, 1) == fixed_text(to, 1) ? one : fixed_text(from, 1) + " TO " + fixed_text(to, 1) + " DEG";
        const std::string strip = upper(engraved(bevel.strip));
        wanted.push_back(words({what + both + " " + strip, what + one + " " + strip, what + one}));
    }
}

}  // namespace

std::optional<Length> cutting_diameter(const Job& job) {
    const auto bit = job.buck.bit.empty() ? std::nullopt : find_bit(job.forming.router, job.buck.bit);
    const auto form = bit ? form_of(*bit) : std::nullopt;
    return form && form->shape != geometry::BitShape::vee ? std::optional(form->diameter) : std::nullopt;
}

Result<CutPart> cut_rib(const Job& job, const PieceBuck& buck, const Rib& rib) {
    auto made =
        with_relief(job, started(PartKind::rib, buck, rib.label, board_name(job, job.buck.rib_board), rib.thickness_mm),
                    rib.laps, slotted(rib.outline, rib.laps, 0.0));
    if (!made) {
        return made;
    }
    CutPart part = std::move(made).value();
    const bool right = job.side == Side::right;
    part.face_up = right ? "front face" : "rear face";
    add_holes(job, rib, part);
    put_tabs(job, part, boxes_of(rib.laps, 0.0, 1.0), [&](const Vector2d& p) {
        if (std::abs(p.y()) < k_level_mm) {
            return 0;
        }
        const bool leans =
            !rib.far_outline.segments.empty() && nearest_point(rib.far_outline, p).distance > millimetres(k_bevel_mm);
        return leans ? 2 : 1;
    });
    auto room = PartRoom::of(part.outline);
    if (!room) {
        return Error{room.error().code, rib.label + ": " + room.error().message};
    }
    PartRoom free = std::move(room).value();
    add_datum_lines(part, free);
    add_level_line(part, free, rib.level_mm);
    std::vector<Lettering> wanted{words({rib.label})};
    wanted.push_back(
        {{},
         {{"FRONT", right ? MarkWay::to_reader : MarkWay::from_reader}, {"OUT", MarkWay::up}, {"UP", MarkWay::right}},
         {}});
    wanted.push_back(station_words_of(rib));
    wanted.push_back(words({right ? "THIS FACE TO FRONT" : "THIS FACE TO REAR", right ? "FRONT FACE" : "REAR FACE"}));
    add_common(job, wanted);
    add_bevels(rib, wanted);
    for (std::size_t i = 0; i < rib.laps.size() && i < buck.spines.size(); ++i) {
        const Slot& slot = rib.laps[i];
        wanted.push_back({{buck.spines[i].label},
                          {},
                          AlignedBox2d(Vector2d(slot.at_mm - k_near_mm, slot.depth_mm),
                                       Vector2d(slot.at_mm + k_near_mm, slot.depth_mm + k_near_mm))});
    }
    engrave(wanted, in_mm(job.buck.letters.value), free, part);
    return part;
}

Result<CutPart> cut_spine(const Job& job, const PieceBuck& buck, const Spine& spine) {
    const auto sheet = geometry::make_profile({{{spine.front_mm, 0.0}, {}},
                                               {{spine.rear_mm, 0.0}, {}},
                                               {{spine.rear_mm, spine.height_mm}, {}},
                                               {{spine.front_mm, spine.height_mm}, {}}},
                                              true);
    auto made = with_relief(
        job, started(PartKind::spine, buck, spine.label, board_name(job, job.buck.spine_board), spine.thickness_mm),
        spine.laps, sheet ? slotted(sheet.value(), spine.laps, spine.height_mm) : sheet);
    if (!made) {
        return made;
    }
    CutPart part = std::move(made).value();
    const bool right = job.side == Side::right;
    part.face_up = right ? "upper face" : "lower face";
    put_tabs(job, part, boxes_of(spine.laps, spine.height_mm, -1.0),
             [](const Vector2d& p) { return std::abs(p.y()) < k_level_mm ? 0 : 1; });
    auto room = PartRoom::of(part.outline);
    if (!room) {
        return Error{room.error().code, spine.label + ": " + room.error().message};
    }
    std::vector<Lettering> wanted{words({spine.label})};
    wanted.push_back(
        {{},
         {{"FRONT", MarkWay::left}, {"OUT", MarkWay::up}, {"UP", right ? MarkWay::to_reader : MarkWay::from_reader}},
         {}});
    wanted.push_back(words({right ? "THIS FACE UP" : "THIS FACE DOWN", right ? "FACE UP" : "FACE DOWN"}));
    add_common(job, wanted);
    // Beside the slots first: there is room for the rest anywhere.
    std::vector<Lettering> ribs;
    for (std::size_t i = 0; i < spine.laps.size() && i < spine.rib_labels.size(); ++i) {
        const Slot& slot = spine.laps[i];
        ribs.push_back({{spine.rib_labels[i]},
                        {},
                        AlignedBox2d(Vector2d(slot.at_mm - k_near_mm, 0.0),
                                     Vector2d(slot.at_mm + k_near_mm, spine.height_mm - slot.depth_mm))});
    }
    PartRoom free = std::move(room).value();
    engrave(ribs, in_mm(job.buck.letters.value), free, part);
    engrave(wanted, in_mm(job.buck.letters.value), free, part);
    return part;
}

Result<CutPart> cut_base(const Job& job, const PieceBuck& buck) {
    if (!buck.base) {
        return Error{ErrorCode::invalid_argument, "This piece's buck has no base board."};
    }
    const BaseBoard& base = *buck.base;
    const bool right = job.side == Side::right;
    // Seen from outside the car, so that the face is up on which the ribs stand.
    const auto across = [&](double x) { return right ? -x : x; };
    const auto [low, high] = std::minmax({across(base.front_mm), across(base.rear_mm)});
    auto made = with_relief(
        job, started(PartKind::base, buck, base.label, board_name(job, job.buck.base_board), base.thickness_mm), {},
        geometry::make_profile({{{low, base.low_mm}, {}},
                                {{high, base.low_mm}, {}},
                                {{high, base.high_mm}, {}},
                                {{low, base.high_mm}, {}}},
                               true));
    if (!made) {
        return made;
    }
    CutPart part = std::move(made).value();
    part.face_up = "upper face";
    put_tabs(job, part, {}, {});
    auto made_room = PartRoom::of(part.outline);
    if (!made_room) {
        return Error{made_room.error().code, base.label + ": " + made_room.error().message};
    }
    PartRoom room = std::move(made_room).value();
    const AlignedBox2d sheet(Vector2d(low, base.low_mm), Vector2d(high, base.high_mm));
    std::vector<Lettering> labels;
    // What stands there, as a box; its label belongs beside one of its two long sides.
    const auto add_foot = [&](AlignedBox2d foot, const std::string& label, bool upright) {
        foot = foot.intersection(sheet);
        if (foot.isEmpty()) {
            return;
        }
        const Vector2d a = foot.min();
        const Vector2d b = foot.max();
        if (upright) {
            part.lines.push_back({a, {a.x(), b.y()}});
            part.lines.push_back({{b.x(), a.y()}, b});
        } else {
            part.lines.push_back({a, {b.x(), a.y()}});
            part.lines.push_back({{a.x(), b.y()}, b});
        }
        keep_off_line(room, a, b);
        const Vector2d beside = upright ? Vector2d(k_near_mm, 0.0) : Vector2d(0.0, k_near_mm);
        labels.push_back({{label}, {}, AlignedBox2d(Vector2d(a - beside), Vector2d(b + beside))});
    };
    for (const Rib& rib : buck.ribs) {
        AlignedBox2d foot;
        for (const geometry::Segment& segment : rib.outline.segments) {
            for (const Vector2d& p : {start_point(segment), end_point(segment)}) {
                if (std::abs(p.y()) < k_level_mm) {
                    foot.extend(Vector2d(across(rib.front_mm()), p.x()));
                    foot.extend(Vector2d(across(rib.rear_mm()), p.x()));
                }
            }
        }
        add_foot(foot, rib.label, true);
    }
    for (const Spine& spine : buck.spines) {
        AlignedBox2d foot(Vector2d(across(spine.front_mm), spine.side_mm - spine.thickness_mm / 2.0));
        foot.extend(Vector2d(across(spine.rear_mm), spine.side_mm + spine.thickness_mm / 2.0));
        add_foot(foot, spine.label, false);
    }
    std::vector<Lettering> wanted{words({base.label})};
    wanted.push_back(
        {{},
         {{"FRONT", right ? MarkWay::right : MarkWay::left}, {"UP", MarkWay::up}, {"OUT", MarkWay::to_reader}},
         {}});
    wanted.push_back(words({"THIS FACE TO RIBS", "RIBS HERE"}));
    add_common(job, wanted);
    engrave(labels, in_mm(job.buck.letters.value), room, part);
    engrave(wanted, in_mm(job.buck.letters.value), room, part);
    return part;
}

Result<std::vector<CutPart>> cut_parts(const Job& job, const BuckPlan& plan) {
    std::vector<CutPart> parts;
    for (const PieceBuck& buck : plan.pieces) {
        std::vector<Result<CutPart>> made;
        for (const Rib& rib : buck.ribs) {
            made.push_back(cut_rib(job, buck, rib));
        }
        for (const Spine& spine : buck.spines) {
            made.push_back(cut_spine(job, buck, spine));
        }
        if (buck.base) {
            made.push_back(cut_base(job, buck));
        }
        for (Result<CutPart>& one : made) {
            if (one) {
                parts.push_back(std::move(one).value());
            } else if (one.error().code == ErrorCode::kernel_failure) {
                return one.error();
            }
        }
    }
    return parts;
}

}  // namespace sillwright::core

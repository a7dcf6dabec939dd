#include "core/road/drainage.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <string>
#include <utility>

#include "core/drawn_loft.h"
#include "core/edit/field_change.h"
#include "core/finding_state.h"
#include "core/keep_outs/room_mend.h"
#include "core/number_text.h"
#include "core/road/least_change.h"
#include "core/road/low_line.h"
#include "core/skirt/surface.h"
#include "core/swing/swing_mend.h"

namespace sillwright::core {

using Eigen::Vector3d;
using geometry::in_deg;
using geometry::in_mm;
using geometry::in_rad;
using geometry::Length;
using geometry::Loft;
using geometry::millimetres;
using geometry::radians;

namespace {

constexpr const char* k_shelf_inner = "shelf inner";
constexpr const char* k_shelf_edge = "shelf edge";

/// Sections are no further apart than this.
constexpr double k_pitch_mm = 20.0;
/// A smaller margin of the fall is close.
constexpr double k_close_deg = 0.25;
/// A mend's margin is below this.
constexpr double k_mend_slack_deg = 0.005;
constexpr double k_first_raise_mm = 0.05, k_most_raise_mm = 40.0;
/// The search begins this far below what the fall asks for at the stations.
constexpr double k_below_mm = 0.5;
/// Of a margin of standing water, that is called close.
constexpr double k_close_standing_mm = 0.2;
/// A new hole's place is told in whole tenths.
constexpr double k_place_step_mm = 0.1;
constexpr double k_everything = std::numeric_limits<double>::infinity();

std::optional<std::size_t> number_of(const Loft& line, const std::string& name) {
    const auto found = std::find(line.names().begin(), line.names().end(), name);
    return found == line.names().end() ? std::nullopt
                                       : std::optional{static_cast<std::size_t>(found - line.names().begin())};
}

std::vector<Length> places_of(const Loft& line) {
    std::vector<Length> places;
    const auto keys = line.key_places();
    for (std::size_t i = 0; i + 1 < keys.size(); ++i) {
        const Length step = keys[i + 1] - keys[i];
        const int steps = std::max(1, static_cast<int>(std::ceil(in_mm(step) / k_pitch_mm)));
        for (int k = 0; k < steps; ++k) {
            places.push_back(keys[i] + step * (static_cast<double>(k) / steps));
        }
    }
    places.push_back(keys.back());
    return places;
}

struct Fall {
    double degrees;
    std::size_t piece;
    Vector3d edge_mm;
};

void least_fall(std::optional<Fall>& least, const Loft& line, std::size_t piece) {
    const auto inner = number_of(line, k_shelf_inner);
    const auto edge = number_of(line, k_shelf_edge);
    if (!inner || !edge) {
        return;
    }
    for (const Length along : places_of(line)) {
        if (!line.present_at(*inner, along) || !line.present_at(*edge, along)) {
            continue;
        }
        const Eigen::Vector2d from = line.node_at(*inner, along).p_mm;
        const Eigen::Vector2d to = line.node_at(*edge, along).p_mm;
        const double fall = in_deg(radians(std::atan2(from.y() - to.y(), to.x() - from.x())));
        if (!least || fall < least->degrees) {
            least = Fall{fall, piece, {in_mm(along), to.x(), to.y()}};
        }
    }
}

const Node* node_of(const Section& section, const char* name) {
    const auto found =
        std::find_if(section.nodes.begin(), section.nodes.end(), [&](const Node& node) { return node.name == name; });
    return found == section.nodes.end() ? nullptr : &*found;
}

/// Shelf inner nodes raised to the least fall and by `over` more.
std::vector<NodeMove> raised_inner(const Job& job, double over_mm) {
    std::vector<NodeMove> moves;
    for (const Piece& piece : job.skirt.pieces) {
        for (const Section& section : piece.drawn.sections) {
            const Node* const inner = node_of(section, k_shelf_inner);
            const Node* const edge = node_of(section, k_shelf_edge);
            if (inner == nullptr || edge == nullptr) {
                continue;
            }
            const double width = in_mm(edge->out.value - inner->out.value);
            const double fall = in_mm(inner->up.value - edge->up.value);
            const double by = width * std::tan(in_rad(job.road.shelf_fall_least)) - fall + over_mm;
            if (by > 0.0) {
                moves.push_back({inner->id, {0.0, by}});
            }
        }
    }
    return moves;
}

Mend shelf_mend(const Job& job, const CarModel& car, double lacking_deg) {
    const auto margin = [&](double over) -> std::optional<double> {
        const Job after = mended(job, raised_inner(job, over - k_below_mm));
        std::optional<Fall> least;
        for (std::size_t i = 0; i < car.pieces.size(); ++i) {
            if (car.pieces[i].line) {
                const auto loft = loft_of(after, after.skirt.pieces[i].drawn, false, piece_words(job.skirt.pieces[i]));
                if (!loft) {
                    return std::nullopt;
                }
                least_fall(least, loft.value(), i);
            }
        }
        return least ? std::optional(least->degrees - in_deg(job.road.shelf_fall_least)) : std::nullopt;
    };
    if (const auto found = least_change(margin, k_first_raise_mm, k_most_raise_mm, k_mend_slack_deg)) {
        Mend mend{{}, raised_inner(job, found->by - k_below_mm), found->margin};
        mend.words = "Raise " + node_move_words(job, mend.moves) + ".";
        return mend;
    }
    return {"The shelf needs " + degree_text(geometry::degrees(lacking_deg)) +
                " more fall outwards. No raising of its inner edge was found for it.",
            {},
            {}};
}

std::optional<Finding> shelf_finding(const Job& job, const CarModel& car, Mends mends) {
    std::optional<Fall> least;
    for (std::size_t i = 0; i < car.pieces.size(); ++i) {
        if (car.pieces[i].line) {
            least_fall(least, *car.pieces[i].line, i);
        }
    }
    if (!least) {
        return std::nullopt;
    }
    Finding finding;
    finding.id = "mounts/road/shelf fall";
    finding.title = "Water runs off the shelf";
    finding.unit = Unit::deg;
    finding.found = least->degrees;
    finding.required = in_deg(job.road.shelf_fall_least);
    finding.margin = *finding.found - *finding.required;
    finding.state = state_of(finding.margin, k_close_deg, {});
    finding.place.along = millimetres(least->edge_mm.x());
    finding.place.on_part_mm = least->edge_mm;
    finding.place.words = at_place_words(job, *finding.place.along);
    finding.formula =
        "atan2(up of shelf inner - up of shelf edge, out of shelf edge - out of shelf inner) >= least fall";
    finding.source = "fall of 1.5 to 3 degrees: common practice, no source";
    finding.inputs = {{"least fall asked for", degree_text(job.road.shelf_fall_least)}};
    finding.why = least->degrees > 0.0
                      ? "The shelf falls outwards by " + degree_text(geometry::degrees(least->degrees)) + " at least."
                      : "The shelf does not fall outwards: water stands on it or runs to the car.";
    if (finding.state == State::falls_short && mends == Mends::look_for) {
        finding.mend = shelf_mend(job, car, -*finding.margin);
    }
    return finding;
}

/// The lowest inside of one section, and the level at which water leaves it there.
struct Floor {
    Length along;
    double out_mm = 0.0, up_mm = 0.0;
    double leaves_mm = k_everything;  ///< Over the lip towards the flange's end.
    double drain_mm = k_everything;   ///< Through a hole: the floor, if one is there.
};

std::optional<Floor> floor_at(const Loft& line, Length along, const geometry::OffsetLaw& inside) {
    const auto nodes = line.nodes_at(along);
    const geometry::OffsetRow row = inside.at(along);
    const auto lowest = lowest_of_section(nodes, line.names(), row, row);
    if (!lowest) {
        return std::nullopt;
    }
    Floor floor{along, lowest->p_mm.x(), lowest->p_mm.y()};
    double behind = lowest->p_mm.y();
    for (std::size_t i = lowest->node + 1; i < nodes.size(); ++i) {
        behind = std::max(behind, nodes[i].p_mm.y());
    }
    double before = lowest->p_mm.y();
    for (std::size_t i = 0; i < lowest->node; ++i) {
        before = std::max(before, nodes[i].p_mm.y());
    }
    floor.leaves_mm = std::min(before, behind);
    return floor;
}

/// How deep water stands in each section.
std::vector<double> standing(const std::vector<Floor>& floors, bool front_open, bool rear_open, bool drained) {
    const std::size_t n = floors.size();
    std::vector<double> level(n, k_everything);
    const auto out_at = [&](std::size_t i) {
        double out = floors[i].leaves_mm;
        if (drained) {
            out = std::min(out, floors[i].drain_mm);
        }
        if ((i == 0 && front_open) || (i + 1 == n && rear_open)) {
            out = std::min(out, floors[i].up_mm);
        }
        return out;
    };
    double from = k_everything;
    for (std::size_t i = 0; i < n; ++i) {
        from = std::min(out_at(i), std::max(from, floors[i].up_mm));
        level[i] = std::min(level[i], from);
    }
    from = k_everything;
    for (std::size_t i = n; i-- > 0;) {
        from = std::min(out_at(i), std::max(from, floors[i].up_mm));
        level[i] = std::min(level[i], from);
    }
    for (std::size_t i = 0; i < n; ++i) {
        level[i] = std::max(0.0, level[i] - floors[i].up_mm);
    }
    return level;
}

/// The lowest place of a pool.
struct Trap {
    std::size_t piece;
    Floor floor;
    double without_mm, with_mm;  ///< Standing water without the drain holes, and with them.
};

std::vector<Floor> floors_of(const Job& job, const Piece& piece, const Loft& line, const geometry::OffsetLaw& inside) {
    std::vector<Length> places = places_of(line);
    for (const DrainHole& hole : piece.drains) {
        if (hole.along.value >= line.front() && hole.along.value <= line.rear()) {
            places.push_back(hole.along.value);
        }
    }
    std::sort(places.begin(), places.end());
    places.erase(std::unique(places.begin(), places.end()), places.end());
    std::vector<Floor> floors;
    for (const Length along : places) {
        auto floor = floor_at(line, along, inside);
        if (!floor) {
            continue;
        }
        for (const DrainHole& hole : piece.drains) {
            if (hole.along.value == along && hole.size.value >= job.road.drain_least.value) {
                floor->drain_mm = floor->up_mm;
            }
        }
        floors.push_back(*floor);
    }
    return floors;
}

void add_traps(std::vector<Trap>& traps, const Job& job, std::size_t number, const Loft& line,
               const FormedSheet* formed) {
    const Piece& piece = job.skirt.pieces[number];
    const std::optional<Entry> no_paint;
    const auto inside = outward_law(piece, line, formed, no_paint, Surface::inside);
    if (!inside) {
        return;
    }
    const auto floors = floors_of(job, piece, line, *inside);
    const auto without = standing(floors, !piece.front_closed, !piece.rear_closed, false);
    const auto with = standing(floors, !piece.front_closed, !piece.rear_closed, true);
    const std::size_t none = floors.size();
    std::size_t lowest = none;  // Of the pool that is being gone through.
    for (std::size_t i = 0; i <= floors.size(); ++i) {
        if (i < floors.size() && without[i] > 0.0) {
            lowest = lowest == none || floors[i].up_mm < floors[lowest].up_mm ? i : lowest;
        } else if (lowest != none) {
            if (without[lowest] > in_mm(k_standing_most)) {
                traps.push_back({number, floors[lowest], without[lowest], with[lowest]});
            }
            lowest = none;
        }
    }
}

std::vector<Trap> traps_of(const Job& job, const CarModel& car) {
    std::vector<Trap> traps;
    for (std::size_t i = 0; i < car.pieces.size(); ++i) {
        if (car.pieces[i].line) {
            add_traps(traps, job, i, *car.pieces[i].line, car.pieces[i].formed.get());
        }
    }
    return traps;
}

std::optional<Mend> drain_mend(const Job& job, const CarModel& car, const Trap& trap, std::size_t number) {
    const double along = std::round(in_mm(trap.floor.along) / k_place_step_mm) * k_place_step_mm;
    Job after = job;
    after.skirt.pieces[trap.piece].drains.push_back({{millimetres(along), ""}, job.road.drain_least, {}});
    const auto traps = traps_of(after, car);
    if (number >= traps.size()) {
        return std::nullopt;
    }
    const double margin = in_mm(k_standing_most) - traps[number].with_mm;
    if (margin < 0.0) {
        return std::nullopt;
    }
    const std::string text = "{\"along\": " + length_change(job, "", millimetres(along)).json +
                             ", \"size\": " + length_change(job, "", job.road.drain_least.value).json + "}";
    Mend mend{"Drill a drain hole of " + mm_text(job.road.drain_least.value, 1) + " through the lowest line at " +
                  mm_text(millimetres(along), 1) + " along.",
              {},
              margin};
    mend.changes.push_back({"/skirt/pieces/" + std::to_string(trap.piece) + "/drains/-", text});
    return mend;
}

Finding trap_finding(const Job& job, const CarModel& car, const Trap& trap, std::size_t number, Mends mends) {
    Finding finding;
    finding.id = "mounts/road/drain " + std::to_string(number + 1);
    finding.title = "Water in the part, place " + std::to_string(number + 1);
    finding.at_least = false;
    finding.found = trap.with_mm;
    finding.required = in_mm(k_standing_most);
    finding.margin = *finding.required - *finding.found;
    finding.state = state_of(finding.margin, k_close_standing_mm, {});
    finding.place.along = trap.floor.along;
    finding.place.on_part_mm = Vector3d(in_mm(trap.floor.along), trap.floor.out_mm, trap.floor.up_mm);
    finding.place.words = at_place_words(job, trap.floor.along);
    finding.formula =
        "level at which water leaves (open end, lip to the flange's end, drain hole) - lowest inside <= "
        "what may stay";
    finding.source = "common practice, no source";
    finding.inputs = {{"deep without drain holes", mm_text(millimetres(trap.without_mm))},
                      {"least size of a drain hole", mm_text(job.road.drain_least.value)}};
    finding.why = finding.margin < 0.0 ? "Water stands " + mm_text(millimetres(trap.with_mm)) +
                                             " deep inside the part: it rusts the sill, freezes, and smells."
                                       : "Water runs out there; " + mm_text(millimetres(trap.with_mm)) + " stay.";
    if (finding.state == State::falls_short && mends == Mends::look_for) {
        finding.mend = drain_mend(job, car, trap, number);
        if (!finding.mend) {
            finding.mend = Mend{
                "One drain hole is not enough there: put one at each low place, or let the lower edge "
                "fall to an open end.",
                {},
                {}};
        }
    }
    return finding;
}

}  // namespace

std::vector<Finding> drainage_findings(const Job& job, const CarModel& car, Mends mends) {
    std::vector<Finding> findings;
    if (auto shelf = shelf_finding(job, car, mends)) {
        findings.push_back(*std::move(shelf));
    }
    const auto traps = traps_of(job, car);
    for (std::size_t i = 0; i < traps.size(); ++i) {
        findings.push_back(trap_finding(job, car, traps[i], i, mends));
    }
    const bool drawn = std::any_of(car.pieces.begin(), car.pieces.end(),
                                   [](const PieceModel& piece) { return piece.line.has_value(); });
    if (traps.empty() && drawn) {
        Finding finding;
        finding.id = "mounts/road/drain";
        finding.title = "Water in the part";
        finding.state = State::holds;
        finding.formula = "level at which water leaves - lowest inside <= what may stay";
        finding.source = "common practice, no source";
        finding.why = "Nowhere inside the part does more than " + mm_text(k_standing_most) +
                      " of water stand: it runs to an open end or out over the flange.";
        findings.push_back(std::move(finding));
    }
    return findings;
}

}  // namespace sillwright::core

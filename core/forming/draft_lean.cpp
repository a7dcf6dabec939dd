#include "core/forming/draft_lean.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>
#include <utility>

#include "core/car_model.h"
#include "core/drawn_loft.h"
#include "core/edit/field_change.h"
#include "core/forming/mould_faces.h"
#include "core/keep_outs/room_mend.h"
#include "core/number_text.h"
#include "core/road/least_change.h"
#include "core/skirt/flange_face.h"
#include "core/swing/swing_mend.h"
#include "geometry/draft.h"
#include "geometry/section_faces.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::Angle;
using geometry::in_deg;
using geometry::in_mm;
using geometry::in_rad;
using geometry::Loft;

namespace {

/// A strip with more draft faces the draw direction: it is part of the shoulder, not of a wall.
constexpr Angle k_facing = geometry::degrees(20.0);
/// Tilts are set up, and tried, in whole tenths of a degree.
constexpr double k_tilt_step_deg = 0.1;
/// The node that lies against the car moves only for others' sake: it counts as so many.
constexpr double k_kept_weight = 4.0;
/// Less is not said; all of it is moved.
constexpr double k_worth_saying_mm = 0.05;
/// Less is no move.
constexpr double k_least_move_mm = 1e-9;
/// The search: first step, and the steepest wall that is thought of.
constexpr double k_first_step_deg = 0.5, k_most_step_deg = 60.0;
/// On the safe side of rounding, where the flange has just the draft that it needs.
constexpr Angle k_inside = geometry::degrees(1e-7);

/// Nodes of one section that move together.
struct Group {
    std::vector<std::size_t> nodes;
    double weight = 0.0;
    bool stays = false;
    double level = 0.0;  ///< Sum of what is lacking up to it; its move brings it to the fitted one.
};

struct SectionNodes {
    std::vector<const Node*> nodes;
    std::vector<Vector2d> p_mm;
};

SectionNodes nodes_of(const Section& section, bool lies_on) {
    SectionNodes all;
    for (const Node& node : section.nodes) {
        if (lies_on && node.name == k_flange_end) {
            continue;  // Its strip goes on as the one before the root.
        }
        all.nodes.push_back(&node);
        all.p_mm.emplace_back(in_mm(node.out.value), in_mm(node.up.value));
    }
    return all;
}

std::vector<Group> groups_of(const SectionNodes& section, Angle tilt) {
    const auto& p = section.p_mm;
    const Vector2d draw = geometry::draw_direction(tilt);
    std::vector<bool> facing(p.size(), false);  // The strip from this node to the next.
    std::size_t longest = p.size();
    for (std::size_t i = 0; i + 1 < p.size(); ++i) {
        const Vector2d along = p[i + 1] - p[i];
        const Vector2d normal(-along.y(), along.x());
        facing[i] = normal.dot(draw) > std::sin(in_rad(k_facing)) * along.norm();
        const bool longer = longest == p.size() || along.norm() > (p[longest + 1] - p[longest]).norm();
        longest = facing[i] && longer ? i : longest;
    }
    if (longest < p.size()) {
        facing[longest] = false;
    }
    std::vector<Group> groups;
    for (std::size_t i = 0; i < p.size(); ++i) {
        if (i == 0 || !facing[i - 1]) {
            groups.emplace_back();
        }
        Group& group = groups.back();
        group.nodes.push_back(i);
        group.weight += i == 0 ? k_kept_weight : 1.0;
        const std::string& name = section.nodes[i]->name;
        group.stays = group.stays || name == k_flange_root || name == k_flange_end;
    }
    return groups;
}

/// Levels that do not rise, nearest to those of the groups by the sum of squares: neighbours in the wrong order pooled.
std::vector<double> pooled(const std::vector<Group>& groups, std::size_t first, std::size_t last) {
    struct Block {
        double level, weight;
        std::size_t count;
    };
    std::vector<Block> blocks;
    for (std::size_t i = first; i < last; ++i) {
        Block block{groups[i].level, groups[i].weight, 1};
        while (!blocks.empty() && blocks.back().level < block.level) {
            const Block& before = blocks.back();
            const double weight = before.weight + block.weight;
            block = {(before.level * before.weight + block.level * block.weight) / weight, weight,
                     before.count + block.count};
            blocks.pop_back();
        }
        blocks.push_back(block);
    }
    std::vector<double> levels;
    for (const Block& block : blocks) {
        levels.insert(levels.end(), block.count, block.level);
    }
    return levels;
}

/// How far each group of a section must move, to the left of the draw direction.
std::vector<double> group_moves(std::vector<Group>& groups, const SectionNodes& section, Angle tilt, Angle draft) {
    const Vector2d draw = geometry::draw_direction(tilt);
    const Vector2d square(-draw.y(), draw.x());
    for (std::size_t g = 1; g < groups.size(); ++g) {
        const Vector2d along = section.p_mm[groups[g].nodes.front()] - section.p_mm[groups[g - 1].nodes.back()];
        const double lacking = std::abs(along.dot(draw)) * std::tan(in_rad(draft)) + along.dot(square);
        const bool both_stay = groups[g - 1].stays && groups[g].stays;
        groups[g].level = groups[g - 1].level + (both_stay ? std::min(lacking, 0.0) : lacking);
    }
    const auto stays = [](const Group& group) { return group.stays; };
    const auto first_that_stays =
        static_cast<std::size_t>(std::find_if(groups.begin(), groups.end(), stays) - groups.begin());
    std::vector<double> levels = pooled(groups, 0, first_that_stays);
    if (first_that_stays < groups.size()) {
        for (double& level : levels) {
            level = std::max(level, groups[first_that_stays].level);
        }
        std::size_t end = first_that_stays;
        while (end + 1 < groups.size() && groups[end + 1].stays) {
            ++end;
        }
        for (std::size_t g = first_that_stays; g <= end; ++g) {
            levels.push_back(groups[g].level);
        }
        for (const double level : pooled(groups, end + 1, groups.size())) {
            levels.push_back(std::min(level, groups[end].level));
        }
    }
    std::vector<double> moves;
    for (std::size_t g = 0; g < groups.size(); ++g) {
        moves.push_back(levels[g] - groups[g].level);
    }
    return moves;
}

double greatest(const std::vector<NodeMove>& moves) {
    double most = 0.0;
    for (const NodeMove& move : moves) {
        most = std::max(most, move.by_mm.norm());
    }
    return most;
}

/// Tilts at which the flange, that stays, has the draft.
std::optional<geometry::TiltRange> tilts_for_flange(const Job& job, const Piece& piece, const Loft& line, Angle draft) {
    std::vector<Vector2d> normals;
    if (!flange_lies_on(piece, line)) {
        for (const MouldFacesAt& section : mould_faces(job, piece, line).sections) {
            for (const geometry::SectionFace& face : section.faces) {
                if (!face.rounding() && line.names()[face.from] == k_flange_root &&
                    line.names()[face.to] == k_flange_end) {
                    geometry::add_normals(face, normals);
                }
            }
        }
    }
    if (normals.empty()) {
        return geometry::TiltRange{job.forming.tilt_from, job.forming.tilt_to};
    }
    return geometry::LeastDraft(normals).enough(draft + k_inside, job.forming.tilt_from, job.forming.tilt_to);
}

/// The moves of the nodes of one name, and the longest of them, positive if it goes up.
struct NameMoves {
    std::vector<NodeMove> moves;
    double most_mm = 0.0;
};

NameMoves moves_of(const Piece& piece, const std::string& name, const std::vector<NodeMove>& moves) {
    NameMoves all;
    for (const Section& section : piece.drawn.sections) {
        for (const Node& node : section.nodes) {
            const auto move =
                std::find_if(moves.begin(), moves.end(), [&](const NodeMove& one) { return one.node_id == node.id; });
            if (node.name == name && move != moves.end()) {
                all.moves.push_back(*move);
                const double by = std::copysign(move->by_mm.norm(), move->by_mm.y());
                all.most_mm = std::abs(by) > std::abs(all.most_mm) ? by : all.most_mm;
            }
        }
    }
    return all;
}

/// Neighbours that move alike in one breath, with their longest move.
std::string lean_words(const Job& job, const Piece& piece, const Loft& line, const std::vector<NodeMove>& moves) {
    std::string words;
    NameMoves together;
    const auto say = [&] {
        if (std::abs(together.most_mm) >= k_worth_saying_mm) {
            words += (words.empty() ? "Move " : "; ") + node_move_words(job, together.moves);
        }
        together = {};
    };
    for (const std::string& name : line.names()) {
        NameMoves one = moves_of(piece, name, moves);
        if (std::abs(one.most_mm - together.most_mm) >= k_worth_saying_mm) {
            say();
            together.most_mm = one.most_mm;
        }
        together.moves.insert(together.moves.end(), one.moves.begin(), one.moves.end());
    }
    say();
    return words;
}

}  // namespace

std::optional<DrawPlan> plan_after(const Job& after, const Piece& piece) {
    const auto found = std::find_if(after.skirt.pieces.begin(), after.skirt.pieces.end(),
                                    [&](const Piece& one) { return one.name == piece.name; });
    if (found == after.skirt.pieces.end()) {
        return std::nullopt;
    }
    const auto line = loft_of(after, found->drawn, false, piece_words(*found));
    return line ? std::optional(draw_plan(after, *found, line.value())) : std::nullopt;
}

std::vector<NodeMove> leaning_moves(const Piece& piece, Angle tilt, Angle draft) {
    const Vector2d draw = geometry::draw_direction(tilt);
    const Vector2d square(-draw.y(), draw.x());
    std::vector<NodeMove> moves;
    for (const Section& section : piece.drawn.sections) {
        const bool bent = piece.flange.making == FlangeMaking::bent_after;
        const SectionNodes nodes = nodes_of(section, bent);
        auto groups = groups_of(nodes, tilt);
        const auto by = group_moves(groups, nodes, tilt, draft);
        for (std::size_t g = 0; g < groups.size(); ++g) {
            for (const std::size_t node : groups[g].nodes) {
                if (std::abs(by[g]) > k_least_move_mm) {
                    moves.push_back({nodes.nodes[node]->id, by[g] * square});
                }
            }
        }
    }
    return moves;
}

std::optional<LeanAt> lean_tilt(const Job& job, const Piece& piece, const Loft& line, Angle draft) {
    const auto tilts = tilts_for_flange(job, piece, line, draft);
    if (!tilts) {
        return std::nullopt;
    }
    const auto decided = job.forming.tilt;
    if (decided && *decided >= tilts->from && *decided <= tilts->to) {
        return LeanAt{*decided, false};
    }
    const double middle = 0.5 * (in_deg(tilts->from) + in_deg(tilts->to));
    std::vector<double> tries{middle};
    const double first = std::ceil(in_deg(tilts->from) / k_tilt_step_deg);
    const double last = std::floor(in_deg(tilts->to) / k_tilt_step_deg);
    for (double step = first; step <= last; step += 1.0) {
        tries.push_back(step * k_tilt_step_deg);
    }
    std::optional<LeanAt> best;
    double least = std::numeric_limits<double>::infinity();
    for (const double deg : tries) {
        const double most = greatest(leaning_moves(piece, geometry::degrees(deg), draft));
        if (most < least) {
            least = most;
            best = LeanAt{geometry::degrees(deg), decided.has_value()};
        }
    }
    return best;
}

std::optional<Mend> lean_mend(const Job& job, const Piece& piece, const Loft& line, const LeanSearch& search) {
    const auto at = lean_tilt(job, piece, line, search.feasible);
    if (!at) {
        return std::nullopt;
    }
    Mend mend;
    if (at->changes_tilt) {
        mend.changes.push_back(number_change("/forming/tilt_deg", in_deg(at->tilt)));
    }
    const auto moves_for = [&](double by_deg) {
        return leaning_moves(piece, at->tilt, search.from + geometry::degrees(by_deg));
    };
    const auto margin = [&](double by_deg) -> std::optional<double> {
        Job after = mended(job, moves_for(by_deg));
        if (at->changes_tilt) {
            after.forming.tilt = geometry::degrees(in_deg(at->tilt));
        }
        const auto plan = plan_after(after, piece);
        return plan ? std::optional(search.margin(*plan)) : std::nullopt;
    };
    const auto found = least_change(margin, k_first_step_deg, k_most_step_deg, search.slack);
    if (!found) {
        return std::nullopt;
    }
    mend.moves = moves_for(found->by);
    mend.proven_margin = found->margin;
    mend.words = lean_words(job, piece, line, mend.moves);
    if (at->changes_tilt) {
        mend.words += (mend.words.empty() ? "Tilt" : ", and tilt") + std::string(" the draw direction to ") +
                      degree_text(at->tilt, 1);
    }
    mend.words += ".";
    return mend;
}

}  // namespace sillwright::core

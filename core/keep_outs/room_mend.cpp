#include "core/keep_outs/room_mend.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <utility>
#include <vector>

#include "core/drawn_loft.h"
#include "core/number_text.h"
#include "core/swing/swing_mend.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;

namespace {

/// Rounds of moving what is worst; a move reaches two stations.
constexpr int k_most_rounds = 24;
/// Rounds of scaling all moves together to what is needed.
constexpr int k_scale_rounds = 14;
/// Who lacks more needs another part, not a move of nodes.
constexpr double k_most_lacking_mm = 60.0;
/// For the rounds before the last: coarse is quick, and on the safe side, since the deviation is taken off.
constexpr Length k_coarse = millimetres(0.1);
/// A little more than what is lacking, so that rounds end; and at least this much: a node moves its rounding by less
/// than itself.
constexpr double k_eager = 1.05;
constexpr double k_least_extra_mm = 0.05;
/// Less than this is not worth a word.
constexpr double k_worth_saying_mm = 0.05;

using Moves = std::map<std::string, Vector2d>;  // By node id.

std::vector<NodeMove> as_list(const Moves& moves, double scale) {
    std::vector<NodeMove> list;
    for (const auto& [id, by] : moves) {
        list.push_back({id, scale * by});
    }
    return list;
}

/// "2.1 mm", rounded up to a tenth.
std::string rounded_up(double mm) {
    return mm_text(millimetres(std::ceil(std::abs(mm) * 10.0 - 1e-9) / 10.0), 1);
}

std::string way_words(const Vector2d& by) {
    std::string words;
    if (std::abs(by.y()) >= k_worth_saying_mm) {
        words = rounded_up(by.y()) + (by.y() > 0.0 ? " higher" : " lower");
    }
    if (std::abs(by.x()) >= k_worth_saying_mm || words.empty()) {
        words += (words.empty() ? "" : " and ") + rounded_up(by.x()) + (by.x() > 0.0 ? " further out" : " further in");
    }
    return words;
}

class Mending {
public:
    Mending(const Job& job, std::size_t piece, const RoomOf& room) : job_{job}, piece_{piece}, room_{room} {}

    std::optional<Mend> find(const PieceModel& as_it_is) {
        std::optional<Room> worst = room_(as_it_is);
        std::optional<PieceModel> model = as_it_is;
        if (!as_it_is.line || !(worst->margin < 0.0) || worst->margin < -k_most_lacking_mm) {
            return std::nullopt;
        }
        for (int round = 0; worst->margin < 0.0; ++round) {
            if (round == k_most_rounds || !move_away(*model, *worst)) {
                return std::nullopt;
            }
            model = moved(1.0, k_coarse);
            if (!model) {
                return std::nullopt;
            }
            worst = room_(*model);
        }
        return scaled_down();
    }

private:
    /// Adds to the moves what is lacking at the worst place. False if there is no named node.
    bool move_away(const PieceModel& model, const Room& worst) {
        const auto triangle = static_cast<std::size_t>(worst.triangle);
        if (!model.body || !model.body->ring || triangle >= model.body->ring->places.size() ||
            model.body->ring->places[triangle].part != geometry::RingMeshPart::side) {
            return false;
        }
        const auto& strip = geometry::strip_of(*model.body->ring, model.body->ring->places[triangle].segment);
        const std::string& from = model.line->names()[strip.from_node];
        const std::string& to = model.line->names()[strip.to_node];
        const Length along = millimetres(worst.on_part_mm.x());
        std::vector<const Section*> near;  // The last section at or before the place, the first behind it.
        for (const Section& section : job_.skirt.pieces[piece_].drawn.sections) {
            if (station_of(job_, section.station).along.value > along) {
                near.push_back(&section);
                break;
            }
            near.assign(1, &section);
        }
        const double by_mm = std::max(-k_eager * worst.margin, k_least_extra_mm - worst.margin);
        bool any = false;
        for (const Section* section : near) {
            for (const Node& node : section->nodes) {
                if (node.name == from || node.name == to) {
                    const Vector2d none = Vector2d::Zero();
                    moves_.try_emplace(node.id, none).first->second += by_mm * worst.away;
                    any = true;
                }
            }
        }
        return any;
    }

    /// No value where sections cannot be moved that far.
    [[nodiscard]] std::optional<PieceModel> moved(double scale, Length deviation) const {
        std::vector<Finding> unused;
        auto model = piece_model(mended(job_, as_list(moves_, scale)), piece_, {}, deviation, unused);
        return model ? std::optional(std::move(model).value()) : std::nullopt;
    }

    /// All moves made smaller together until hardly anything is left over; proven at full accuracy.
    [[nodiscard]] std::optional<Mend> scaled_down() const {
        double enough = 1.0;
        double short_of = 0.0;
        const auto margin_at = [&](double scale) {
            const auto model = moved(scale, k_check_deviation);
            return model ? std::optional(room_(*model).margin) : std::nullopt;
        };
        auto margin = margin_at(enough);
        std::optional<double> short_margin;
        for (int round = 0; margin && round<k_scale_rounds&& * margin> k_room_overshoot_mm; ++round) {
            // The margin is nearly a straight of the scale: aim just above zero, and halve where that is no use.
            double next = 0.5 * (short_of + enough);
            if (short_margin && round % 3 != 2) {
                const double aim = 0.5 * k_room_overshoot_mm;
                next = short_of + (enough - short_of) * (aim - *short_margin) / (*margin - *short_margin);
            }
            const auto there = margin_at(next);
            if (!there) {
                return std::nullopt;
            }
            if (*there >= 0.0) {
                enough = next;
                margin = there;
            } else {
                short_of = next;
                short_margin = there;
            }
        }
        if (!margin || *margin < 0.0 || *margin > k_room_overshoot_mm) {
            return std::nullopt;
        }
        Mend mend;
        mend.moves = as_list(moves_, enough);
        mend.proven_margin = margin;
        mend.words = "Move " + node_move_words(job_, mend.moves) + ".";
        return mend;
    }

    const Job& job_;
    std::size_t piece_;
    const RoomOf& room_;
    Moves moves_;
};

}  // namespace

std::string node_move_words(const Job& job, const std::vector<NodeMove>& moves) {
    std::vector<std::string> names;
    Vector2d most = Vector2d::Zero();
    std::optional<Length> from;
    Length to = millimetres(-std::numeric_limits<double>::infinity());
    for (const Piece& piece : job.skirt.pieces) {
        for (const Section& section : piece.drawn.sections) {
            for (const Node& node : section.nodes) {
                const auto move = std::find_if(moves.begin(), moves.end(),
                                               [&](const NodeMove& one) { return one.node_id == node.id; });
                if (move == moves.end()) {
                    continue;
                }
                if (std::find(names.begin(), names.end(), node.name) == names.end()) {
                    names.push_back(node.name);
                }
                most = move->by_mm.norm() > most.norm() ? move->by_mm : most;
                const Length along = station_of(job, section.station).along.value;
                from = std::min(from.value_or(along), along);
                to = std::max(to, along);
            }
        }
    }
    std::string words;
    for (const std::string& name : names) {
        words += (words.empty() ? "" : ", ") + name;
    }
    return words + " " + way_words(most) + ", " + station_words(job, from.value_or(to), to);
}

std::optional<Mend> room_mend(const Job& job, std::size_t piece, const PieceModel& as_it_is, const RoomOf& room) {
    return Mending(job, piece, room).find(as_it_is);
}

}  // namespace sillwright::core

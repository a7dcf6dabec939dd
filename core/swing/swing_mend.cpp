#include "core/swing/swing_mend.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <utility>

#include "core/drawn_loft.h"
#include "core/number_text.h"
#include "core/swing/swing_check.h"
#include "core/typed.h"

namespace sillwright::core {

using Eigen::Vector2d;
using Eigen::Vector3d;
using geometry::Angle;
using geometry::AngleState;
using geometry::in_mm;
using geometry::Length;
using geometry::Result;

namespace {

/// Rounds of moving what is worst; a move reaches two stations, a skirt has some twenty.
constexpr int k_most_rounds = 40;

/// Who lacks more needs another part or another door, not a move of nodes.
constexpr double k_most_lacking_mm = 60.0;

/// Rounds of scaling all moves together to what is needed.
constexpr int k_scale_rounds = 12;

/// For the rounds before the last: coarse is quick, and it is on the safe side, since
/// the deviation is taken off the bound.
constexpr Length k_coarse = geometry::millimetres(0.1);

/// A little more than what is lacking, so that rounds end.
constexpr double k_eager = 1.02;
/// And at least this much more: a node moves its rounding by less than itself, so that
/// ever smaller moves would never get there.
constexpr double k_least_extra_mm = 0.02;

using Moves = std::map<std::string, Vector2d>;  // By node id.

std::vector<NodeMove> as_list(const Moves& moves, double scale) {
    std::vector<NodeMove> list;
    for (const auto& [id, by] : moves) {
        list.push_back({id, scale * by});
    }
    return list;
}

/// A trial: the job with moves made, and what becomes of the question.
struct Trial {
    SwingAnswer answer;
    Vector3d on_fixed = Vector3d::Zero();
    Vector2d away = Vector2d::Zero();  // From the door to the skirt, in the section, unit.
    std::string strip_from, strip_to;
    std::optional<std::size_t> piece;
    [[nodiscard]] double margin() const {
        const auto& finding = *answer.finding;
        return finding.margin.value_or(-finding.required.value_or(1.0));
    }
};

class Mending {
public:
    Mending(const Job& job, const CarModel& car, const BodyModel* body, SwingQuestion question,
            const std::filesystem::path& folder, const geometry::Watch& watch)
        : job_{job}, car_{car}, body_{body}, question_{std::move(question)}, folder_{folder}, watch_{watch} {}

    Result<std::optional<Mend>> find() {
        auto start = look(job_, car_);
        if (!start) {
            return start.error();
        }
        lacking_mm_ = -start.value().margin();
        if (!start.value().piece || !car_.pieces[*start.value().piece].line || lacking_mm_ > k_most_lacking_mm ||
            !(lacking_mm_ > 0.0)) {
            return words_only();
        }
        piece_ = *start.value().piece;
        Trial worst = std::move(start).value();
        for (int round = 0; worst.margin() < 0.0; ++round) {
            if (round == k_most_rounds || worst.piece != piece_ || !move_away(worst)) {
                return words_only();
            }
            auto next = attempt(1.0, k_coarse);
            if (!next) {
                return give_up(next.error());
            }
            worst = std::move(next).value();
        }
        return scaled_down();
    }

private:
    /// Adds to the moves what is lacking at the worst place. False if there is no named node.
    bool move_away(const Trial& worst) {
        const Drawn& drawn = job_.skirt.pieces[piece_].drawn;
        const Length along = geometry::millimetres(worst.on_fixed.x());
        std::vector<const Section*> near;  // The last section at or before the place, the first behind it.
        for (const Section& section : drawn.sections) {
            if (station_of(job_, section.station).along.value > along) {
                near.push_back(&section);
                break;
            }
            near.assign(1, &section);
        }
        const double by_mm = std::max(-k_eager * worst.margin(), k_least_extra_mm - worst.margin());
        bool any = false;
        for (const Section* section : near) {
            for (const Node& node : section->nodes) {
                if (node.name == worst.strip_from || node.name == worst.strip_to) {
                    const Vector2d none = Vector2d::Zero();
                    moves_.try_emplace(node.id, none).first->second += by_mm * worst.away;
                    any = true;
                }
            }
        }
        return any;
    }

    Result<Trial> attempt(double scale, Length deviation) {
        const Job job = mended(job_, as_list(moves_, scale));
        std::vector<Finding> unused;
        auto piece = piece_model(job, piece_, folder_, deviation, unused);
        if (!piece) {
            return piece.error();
        }
        CarModel car = car_;
        car.pieces[piece_] = std::move(piece).value();
        return look(job, car);
    }

    Result<Trial> look(const Job& job, const CarModel& car) const {
        auto answered = swing_answer(job, car, question_, body_, watch_);
        if (!answered) {
            return answered.error();
        }
        Trial trial;
        trial.answer = std::move(answered).value();
        if (trial.answer.outcomes.empty()) {
            return trial;
        }
        const SwingOutcome& outcome = trial.answer.outcomes[trial.answer.worst];
        trial.piece = outcome.pair.piece;
        const geometry::PoseDistance near = apart(outcome);
        trial.on_fixed = near.on_fixed_mm;
        const Vector3d away = near.on_fixed_mm - near.on_moving_mm;
        const Vector2d in_section(away.y(), away.z());
        trial.away = in_section.norm() > 0.0 ? Vector2d(in_section.normalized()) : Vector2d(0.0, -1.0);
        if (trial.piece && car.pieces[*trial.piece].line && outcome.pair.fixed->ring) {
            const auto& ring = *outcome.pair.fixed->ring;
            const auto triangle = static_cast<std::size_t>(near.fixed_triangle);
            if (triangle < ring.places.size() && ring.places[triangle].part == geometry::RingMeshPart::side) {
                const auto& strip = geometry::strip_of(ring, ring.places[triangle].segment);
                const auto& names = car.pieces[*trial.piece].line->names();
                trial.strip_from = names[strip.from_node];
                trial.strip_to = names[strip.to_node];
            }
        }
        return trial;
    }

    /// Nearest points; if the bodies touch, those just before they do, which tell the way out.
    static geometry::PoseDistance apart(const SwingOutcome& outcome) {
        const auto& distance = outcome.distance;
        geometry::PoseDistance near{distance.at,           distance.least,          distance.on_fixed_mm,
                                    distance.on_moving_mm, distance.fixed_triangle, distance.moving_triangle};
        if (distance.least > Length{}) {
            return near;
        }
        for (const auto& interval : distance.states) {
            if (interval.state == AngleState::free) {
                const Angle last = interval.from < distance.at ? interval.to : interval.from;
                near =
                    geometry::distance_at(*outcome.pair.fixed->tree, *outcome.pair.moving->tree, outcome.motion, last);
                break;
            }
        }
        return near;
    }

    /// All moves made smaller together until hardly anything is left over; proven at full accuracy.
    Result<std::optional<Mend>> scaled_down() {
        double enough = 1.0;
        double margin = 0.0;
        double short_of = 0.0;
        auto fine = attempt(enough, k_check_deviation);
        if (!fine) {
            return give_up(fine.error());
        }
        margin = fine.value().margin();
        double short_margin = -1e9;
        for (int round = 0; round < k_scale_rounds && margin > k_mend_overshoot_mm; ++round) {
            // The margin is nearly a straight of the scale: aim just above zero, and halve where that is no use.
            double next = 0.5 * (short_of + enough);
            if (short_margin > -1e8) {
                const double aim = 0.25 * k_mend_overshoot_mm;
                next = short_of + (enough - short_of) * (aim - short_margin) / (margin - short_margin);
            }
            auto trial = attempt(next, k_check_deviation);
            if (!trial) {
                return give_up(trial.error());
            }
            if (trial.value().margin() >= 0.0) {
                enough = next;
                margin = trial.value().margin();
            } else {
                short_of = next;
                short_margin = trial.value().margin();
            }
        }
        if (margin < 0.0) {
            return words_only();
        }
        Mend mend;
        mend.moves = as_list(moves_, enough);
        mend.proven_margin = margin;
        mend.words = move_words(mend.moves);
        return std::optional<Mend>{std::move(mend)};
    }

    /// "shelf edge, bead 2.1 mm lower, stations 3 to 5"
    [[nodiscard]] std::string move_words(const std::vector<NodeMove>& moves) const {
        std::vector<std::string> names;
        Vector2d most = Vector2d::Zero();
        std::optional<Length> from;
        Length to;
        for (const Section& section : job_.skirt.pieces[piece_].drawn.sections) {
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
                to = station_of(job_, section.station).along.value;
                from = from.value_or(to);
            }
        }
        std::string words;
        for (const std::string& name : names) {
            words += (words.empty() ? "" : ", ") + name;
        }
        return words + " " + way_words(most) + ", " + station_words(job_, from.value_or(to), to);
    }

    /// "2.1 mm lower and 0.4 mm further in", each rounded up to a tenth.
    static std::string way_words(const Vector2d& by) {
        constexpr double k_worth_saying = 0.05;
        const auto part = [](double mm, const char* more, const char* less) {
            const double rounded_up = std::ceil(std::abs(mm) * 10.0 - 1e-9) / 10.0;
            return mm_text(geometry::millimetres(rounded_up), 1) + " " + (mm > 0.0 ? more : less);
        };
        std::string words;
        if (std::abs(by.y()) >= k_worth_saying) {
            words = part(by.y(), "higher", "lower");
        }
        if (std::abs(by.x()) >= k_worth_saying || words.empty()) {
            words += (words.empty() ? "" : " and ") + part(by.x(), "further out", "further in");
        }
        return words;
    }

    [[nodiscard]] Result<std::optional<Mend>> words_only() const {
        if (!(lacking_mm_ > 0.0)) {
            return std::optional<Mend>{};
        }
        return std::optional<Mend>{Mend{"The gap there needs " + mm_text(geometry::millimetres(lacking_mm_), 1) +
                                            " more. No move of single nodes was found for it.",
                                        {},
                                        {}}};
    }

    [[nodiscard]] Result<std::optional<Mend>> give_up(const geometry::Error& error) const {
        if (error.code == geometry::ErrorCode::stopped) {
            return error;
        }
        return words_only();  // The sections cannot be moved that far.
    }

    const Job& job_;
    const CarModel& car_;
    const BodyModel* body_;
    SwingQuestion question_;
    double lacking_mm_ = 0.0;  // Of the job as it is.
    const std::filesystem::path& folder_;
    const geometry::Watch& watch_;
    std::size_t piece_ = 0;
    Moves moves_;
};

}  // namespace

Job mended(const Job& job, const std::vector<NodeMove>& moves) {
    Job result = job;
    for (Piece& piece : result.skirt.pieces) {
        for (Section& section : piece.drawn.sections) {
            for (Node& node : section.nodes) {
                for (const NodeMove& move : moves) {
                    if (move.node_id == node.id) {
                        node.out = entry(node.out.value + geometry::millimetres(move.by_mm.x()));
                        node.up = entry(node.up.value + geometry::millimetres(move.by_mm.y()));
                    }
                }
            }
        }
    }
    return result;
}

Result<std::optional<Mend>> swing_mend(const Job& job, const CarModel& car, const BodyModel* body,
                                       const Finding& finding, const std::filesystem::path& folder,
                                       const geometry::Watch& watch) {
    for (SwingQuestion& question : swing_questions(job, car)) {
        if (question.id == finding.id) {
            return Mending(job, car, body, std::move(question), folder, watch).find();
        }
    }
    return std::optional<Mend>{};
}

}  // namespace sillwright::core

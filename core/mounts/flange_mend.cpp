#include "core/mounts/flange_mend.h"

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "core/drawn_loft.h"
#include "core/number_text.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::in_mm;
using geometry::Length;
using geometry::Loft;
using geometry::millimetres;

namespace {

/// The search ends once the margin is between zero and this.
constexpr double k_margin_slack = 0.005;
/// First move tried, where the shortfall itself is smaller.
constexpr double k_least_try_mm = 1e-3;
/// Halvings from the longest move to far below the slack.
constexpr int k_halvings = 60;

/// A node moved by so much for every millimetre of the mend.
struct Shift {
    std::size_t section;
    std::string name;
    Vector2d by_mm;
};

/// How a mend moves the flange: which nodes, along the flange or square to it, which way.
struct Way {
    bool root = false, end = false;
    bool square = false;
    double sign = 1.0;
    std::string words;  ///< Before and behind the length: "Let the flange grow by | ".
    std::string tail;
};

std::vector<Way> ways(MountCheck check, const CheckedMount& checked) {
    switch (check) {
        case MountCheck::reach:
        case MountCheck::edge:
        case MountCheck::bend:
            if (checked.bound == FlangeBound::free_edge) {
                return {
                    {false, true, false, 1.0, "Let the flange grow by ", ": move the flange end on along the flange"}};
            }
            if (checked.bound == FlangeBound::bend) {
                return {{true, false, false, -1.0, "Draw the bend back by ",
                         ": move the flange root away from the mount, along the flange"}};
            }
            return {};
        case MountCheck::seat_gap:
            if (checked.found > 0.0) {
                return {{true, true, true, 1.0, "Bring the flange ", " nearer to the body: move its root and end"}};
            }
            return {{true, true, true, -1.0, "Take the flange ", " further from the body: move its root and end"}};
        case MountCheck::seat_angle:
            return {{false, true, true, 1.0, "Tilt the flange: move its end by ", " towards the body"},
                    {false, true, true, -1.0, "Tilt the flange: move its end by ", " away from the body"}};
    }
    return {};
}

/// Sections of the loft before and behind a place, one if it is at a section.
std::vector<std::size_t> sections_round(const Loft& line, Length along) {
    const auto& sections = line.sections();
    const auto behind = std::lower_bound(sections.begin(), sections.end(), along,
                                         [](const geometry::LoftSection& s, Length at) { return s.along < at; });
    if (behind == sections.end()) {
        return {sections.size() - 1};
    }
    const auto number = static_cast<std::size_t>(behind - sections.begin());
    if (number == 0 || behind->along == along) {
        return {number};
    }
    return {number - 1, number};
}

const geometry::LoftNode* node_of(const geometry::LoftSection& section, const std::string& name) {
    const auto found = std::find_if(section.nodes.begin(), section.nodes.end(),
                                    [&name](const geometry::LoftNode& node) { return node.name == name; });
    return found == section.nodes.end() ? nullptr : &*found;
}

std::vector<Shift> shifts(const Loft& line, const FlangeFace& face, Length along, const Way& way) {
    std::vector<Shift> all;
    for (const std::size_t number : sections_round(line, along)) {
        const geometry::LoftSection& section = line.sections()[number];
        const auto flange = face.at(section.along);
        if (!flange || node_of(section, k_flange_root) == nullptr || node_of(section, k_flange_end) == nullptr) {
            continue;
        }
        const Vector2d by = way.sign * (way.square ? flange->inward : flange->direction);
        if (way.root) {
            all.push_back({number, k_flange_root, by});
        }
        if (way.end) {
            all.push_back({number, k_flange_end, by});
        }
    }
    return all;
}

std::optional<Loft> moved(const Loft& line, const std::vector<Shift>& all, double by_mm) {
    Loft result = line;
    for (const Shift& shift : all) {
        const Vector2d p = node_of(result.sections()[shift.section], shift.name)->p_mm + by_mm * shift.by_mm;
        auto next = result.moved(shift.name, shift.section, p);
        if (!next) {
            return std::nullopt;
        }
        result = std::move(next).value().loft;
    }
    return result;
}

/// What is moved, and against what it is checked.
struct Trial {
    const Job& job;
    const Piece& piece;
    const Loft& line;
    const Mount& mount;
    MountCheck check;
    std::vector<Shift> all;
    std::optional<Eigen::Matrix3d> covariance_mm2;
    const FormedSheet* formed;

    [[nodiscard]] std::optional<double> margin(double by_mm) const {
        const auto loft = moved(line, all, by_mm);
        if (!loft) {
            return std::nullopt;
        }
        const auto face = FlangeFace::of(piece, *loft, formed);
        auto found = face ? landing(mount, *face) : std::nullopt;
        if (!found) {
            return std::nullopt;
        }
        found->covariance_mm2 = covariance_mm2;
        return check_mount(check, asked_limits(job), mount, *face, *found).margin;
    }
};

struct Move {
    double by_mm, margin;
};

/// The shortest move by which the margin comes to zero, if growing moves find one.
std::optional<Move> search(const Trial& trial, double shortfall) {
    double low = 0.0;
    double high = std::clamp(shortfall, k_least_try_mm, k_most_move_mm);
    auto margin = trial.margin(high);
    while (margin && *margin < 0.0 && high < k_most_move_mm) {
        low = high;
        high = std::min(2.0 * high, k_most_move_mm);
        margin = trial.margin(high);
    }
    if (!margin || *margin < 0.0) {
        return std::nullopt;
    }
    for (int i = 0; i<k_halvings&& * margin> k_margin_slack; ++i) {
        const double middle = 0.5 * (low + high);
        const auto there = trial.margin(middle);
        if (there && *there >= 0.0) {
            high = middle;
            margin = there;
        } else {
            low = middle;
        }
    }
    return *margin <= k_margin_slack ? std::optional{Move{high, *margin}} : std::nullopt;
}

std::vector<NodeMove> node_moves(const Piece& piece, const std::vector<Shift>& all, double by_mm) {
    std::vector<NodeMove> moves;
    for (const Shift& shift : all) {
        for (const Node& node : piece.drawn.sections[shift.section].nodes) {
            if (node.name == shift.name) {
                moves.push_back({node.id, by_mm * shift.by_mm});
            }
        }
    }
    return moves;
}

}  // namespace

std::optional<Mend> flange_mend(const Job& job, std::size_t piece, const Loft& line, const Mount& mount,
                                MountCheck check, const Landing& landing, const CheckedMount& checked,
                                const FormedSheet* formed) {
    const Piece& drawn = job.skirt.pieces[piece];
    const auto face = FlangeFace::of(drawn, line, formed);
    for (const Way& way : ways(check, checked)) {
        const Length along = millimetres(landing.p_mm.x());
        const Trial trial{job,   drawn, line, mount, check, shifts(line, *face, along, way), landing.covariance_mm2,
                          formed};
        if (trial.all.empty()) {
            continue;
        }
        if (const auto move = search(trial, -checked.margin)) {
            const auto& sections = line.sections();
            return Mend{way.words + mm_text(millimetres(move->by_mm)) + way.tail + " at " +
                            station_words(job, sections[trial.all.front().section].along,
                                          sections[trial.all.back().section].along) +
                            ".",
                        node_moves(drawn, trial.all, move->by_mm), move->margin};
        }
    }
    return std::nullopt;
}

}  // namespace sillwright::core

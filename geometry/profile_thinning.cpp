#include "geometry/profile_thinning.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <utility>

namespace sillwright::geometry {

using Eigen::Vector2d;

namespace {

/// A line that leaves its straight by this part of the deviation allowed has a bend of its own there.
constexpr double k_own_bend = 0.5;
/// Nearer together than this part of the stretch between them two nodes would be one.
constexpr double k_apart = 1e-6;

double distance_to_straight(const Vector2d& p, const Vector2d& a, const Vector2d& b) {
    const Vector2d ab = b - a;
    const double squared = ab.squaredNorm();
    const double share = squared > 0.0 ? std::clamp((p - a).dot(ab) / squared, 0.0, 1.0) : 0.0;
    return (p - a - share * ab).norm();
}

/// A line with the way to each of its points.
struct Way {
    PlaneLine points;
    std::vector<double> run_mm;

    explicit Way(const PlaneLine& line) {
        for (const Vector2d& p : line) {
            const double step = points.empty() ? 0.0 : (p - points.back()).norm();
            if (points.empty() || step > 0.0) {
                run_mm.push_back(points.empty() ? 0.0 : run_mm.back() + step);
                points.push_back(p);
            }
        }
    }
    [[nodiscard]] Vector2d at(double run) const {
        const auto above = std::lower_bound(run_mm.begin(), run_mm.end(), run);
        if (above == run_mm.end()) {
            return points.back();
        }
        const auto i = static_cast<std::size_t>(above - run_mm.begin());
        if (i == 0 || *above == run) {
            return points[i];
        }
        const double share = (run - run_mm[i - 1]) / (run_mm[i] - run_mm[i - 1]);
        return points[i - 1] + share * (points[i] - points[i - 1]);
    }
};

struct Furthest {
    double run_mm = 0.0, distance_mm = 0.0;
};

Furthest furthest_between(const Way& way, double from, double to) {
    const Vector2d a = way.at(from);
    const Vector2d b = way.at(to);
    Furthest furthest;
    auto i =
        static_cast<std::size_t>(std::upper_bound(way.run_mm.begin(), way.run_mm.end(), from) - way.run_mm.begin());
    for (; i < way.points.size() && way.run_mm[i] < to; ++i) {
        const double distance = distance_to_straight(way.points[i], a, b);
        if (distance > furthest.distance_mm) {
            furthest = {way.run_mm[i], distance};
        }
    }
    return furthest;
}

/// Between two neighbouring nodes of all lines.
using Stretch = std::vector<std::pair<double, double>>;

/// Where each line is divided; none if none leaves its straight by more than `most`.
std::optional<std::vector<double>> division(const std::vector<Way>& ways, const Stretch& stretch, double most_mm) {
    std::vector<Furthest> furthest;
    std::size_t worst = 0;
    for (std::size_t i = 0; i < ways.size(); ++i) {
        furthest.push_back(furthest_between(ways[i], stretch[i].first, stretch[i].second));
        if (furthest[i].distance_mm > furthest[worst].distance_mm) {
            worst = i;
        }
    }
    if (furthest[worst].distance_mm <= most_mm) {
        return std::nullopt;
    }
    const auto [from, to] = stretch[worst];
    const double share = (furthest[worst].run_mm - from) / (to - from);
    std::vector<double> runs;
    for (std::size_t i = 0; i < ways.size(); ++i) {
        const auto [a, b] = stretch[i];
        const bool own = i == worst || furthest[i].distance_mm > k_own_bend * most_mm;
        const double run = own ? furthest[i].run_mm : a + share * (b - a);
        runs.push_back(std::clamp(run, a + k_apart * (b - a), b - k_apart * (b - a)));
    }
    return runs;
}

/// The ways to the nodes of each line.
std::vector<std::vector<double>> divided(const std::vector<Way>& ways, double most_mm) {
    std::vector<std::vector<double>> nodes(ways.size());
    std::vector<Stretch> open(1);
    for (std::size_t i = 0; i < ways.size(); ++i) {
        nodes[i].push_back(0.0);
        open[0].emplace_back(0.0, ways[i].run_mm.back());
    }
    while (!open.empty()) {
        const Stretch stretch = std::move(open.back());
        open.pop_back();
        if (const auto runs = division(ways, stretch, most_mm)) {
            Stretch first = stretch;
            Stretch second = stretch;
            for (std::size_t i = 0; i < ways.size(); ++i) {
                first[i].second = (*runs)[i];
                second[i].first = (*runs)[i];
            }
            open.push_back(std::move(second));
            open.push_back(std::move(first));
            continue;
        }
        for (std::size_t i = 0; i < ways.size(); ++i) {
            nodes[i].push_back(stretch[i].second);
        }
    }
    return nodes;
}

double measured(const Way& way, const std::vector<double>& nodes) {
    double most = 0.0;
    for (std::size_t i = 0; i + 1 < nodes.size(); ++i) {
        most = std::max(most, furthest_between(way, nodes[i], nodes[i + 1]).distance_mm);
    }
    return most;
}

}  // namespace

Result<ThinnedLines> thin(std::span<const PlaneLine> lines, Length most) {
    if (lines.empty() || !(in_mm(most) > 0.0)) {
        return Error{ErrorCode::invalid_argument, "To thin lines takes a line, and a deviation above 0."};
    }
    std::vector<Way> ways;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        if (!std::all_of(lines[i].begin(), lines[i].end(), [](const Vector2d& p) { return p.allFinite(); })) {
            return Error{ErrorCode::invalid_argument,
                         "Line " + std::to_string(i + 1) + " has a number that is not one."};
        }
        ways.emplace_back(lines[i]);
        if (ways.back().points.size() < 2) {
            return Error{ErrorCode::invalid_argument,
                         "Line " + std::to_string(i + 1) + " has fewer than two different points."};
        }
    }
    ThinnedLines thinned;
    const auto runs = divided(ways, in_mm(most));
    double deviation = 0.0;
    for (std::size_t i = 0; i < ways.size(); ++i) {
        PlaneLine nodes;
        for (const double run : runs[i]) {
            nodes.push_back(ways[i].at(run));
        }
        deviation = std::max(deviation, measured(ways[i], runs[i]));
        thinned.nodes.push_back(std::move(nodes));
    }
    thinned.deviation = millimetres(deviation);
    return thinned;
}

Length greatest_deviation(const PlaneLine& line, const PlaneLine& nodes) {
    double most = 0.0;
    std::size_t at = 0;
    for (const Vector2d& p : line) {
        // A point belongs to the straight that it is on the way along; the next one once that is nearer.
        while (at + 2 < nodes.size() && distance_to_straight(p, nodes[at + 1], nodes[at + 2]) <
                                            distance_to_straight(p, nodes[at], nodes[at + 1])) {
            ++at;
        }
        if (at + 1 < nodes.size()) {
            most = std::max(most, distance_to_straight(p, nodes[at], nodes[at + 1]));
        }
    }
    return millimetres(most);
}

}  // namespace sillwright::geometry

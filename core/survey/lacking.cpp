#include "core/survey/lacking.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <string>

#include "core/survey/candidates.h"
#include "core/survey/network_problems.h"

namespace sillwright::core::survey {

using Eigen::Vector3d;
using Eigen::VectorXd;

namespace {

/// A free direction leans this much to an axis if a reading along that axis is to stop it.
constexpr double k_leans_to = 0.4;
/// Points whose spread across a line is less than this share of their spread along it lie on one line.
constexpr double k_on_line = 0.05;

bool is_distance(ReadingKind kind) {
    return kind == ReadingKind::tie || kind == ReadingKind::gap || kind == ReadingKind::depth;
}

std::string counted(std::size_t count, const std::string& one, const std::string& several) {
    static const std::array<const char*, 7> k_words{"no", "one", "two", "three", "four", "five", "six"};
    return (count < k_words.size() ? std::string(k_words[count]) : std::to_string(count)) + " " +
           (count == 1 ? one : several);
}

const char* kind_words(ReadingKind kind) {
    switch (kind) {
        case ReadingKind::height:
        case ReadingKind::up:
            return "a height";
        case ReadingKind::offset:
        case ReadingKind::plane:
            return "an offset";
        case ReadingKind::along:
            return "a distance along";
        case ReadingKind::out:
            return "a distance out";
        case ReadingKind::gauge:
            return "a gauge reading";
        case ReadingKind::angle:
        case ReadingKind::slope:
            return "an angle";
        default:
            return "a tie";
    }
}

/// What speaks of one point.
struct Told {
    std::set<int> tied;                      ///< Points that it has a distance to.
    std::vector<std::string> kinds;          ///< Words of its other readings, each once.
    std::set<int> others;                    ///< All that its readings name.
    int free = 0;                            ///< Directions that stay free if all others stood fast.
    Vector3d direction = Vector3d::UnitZ();  ///< The freest.
};

Told told_of(const Network& network, int point, const VectorXd& values) {
    Told told;
    Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
    for (int c = 0; c < 3; ++c) {
        if (network.held[static_cast<std::size_t>(3 * point + c)]) {
            normal(c, c) += 1.0;
        }
    }
    for (const int index : network.numbers_of[static_cast<std::size_t>(point)]) {
        const NetworkNumber& number = network.numbers[static_cast<std::size_t>(index)];
        const NetworkRow row = row_of(network, number, values, false);
        Vector3d by = Vector3d::Zero();
        for (std::size_t i = 0; i < static_cast<std::size_t>(row.size); ++i) {
            if (row.unknowns[i] / 3 == point) {
                by[row.unknowns[i] % 3] = row.by[i];
            }
        }
        normal += by * by.transpose();
        if (number.own >= 0) {
            continue;
        }
        for (const int other : number.points) {
            if (other != point) {
                told.others.insert(other);
            }
        }
        if (is_distance(number.kind)) {
            told.tied.insert(number.points[0] == point ? number.points[1] : number.points[0]);
        } else if (const std::string words = kind_words(number.kind);
                   std::find(told.kinds.begin(), told.kinds.end(), words) == told.kinds.end()) {
            told.kinds.push_back(words);
        }
    }
    const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> eigen(normal);
    for (int i = 0; i < 3; ++i) {
        told.free += eigen.eigenvalues()[i] < 1.0 / (k_unknown_sd_mm * k_unknown_sd_mm) ? 1 : 0;
    }
    told.direction = eigen.eigenvectors().col(0);
    return told;
}

std::vector<std::string> names_of(const Network& network, const std::set<int>& points) {
    std::vector<std::string> names;
    for (const int p : points) {
        names.push_back(network.names[static_cast<std::size_t>(p)]);
    }
    return names;
}

std::string has(const Told& told) {
    std::vector<std::string> parts;
    if (!told.tied.empty()) {
        parts.push_back(counted(told.tied.size(), "tie", "ties"));
    }
    parts.insert(parts.end(), told.kinds.begin(), told.kinds.end());
    return listed(parts, parts.size());
}

bool on_one_line(const std::set<int>& points, const VectorXd& values) {
    Vector3d middle = Vector3d::Zero();
    for (const int p : points) {
        middle += values.segment<3>(3 * p) / static_cast<double>(points.size());
    }
    Eigen::Matrix3d spread = Eigen::Matrix3d::Zero();
    for (const int p : points) {
        const Vector3d d = values.segment<3>(3 * p) - middle;
        spread += d * d.transpose();
    }
    const Vector3d size = Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d>(spread, Eigen::EigenvaluesOnly).eigenvalues();
    return size[1] <= k_on_line * k_on_line * size[2];
}

/// Readings that would stop a movement in this direction.
std::vector<std::string> stops(const Vector3d& direction) {
    std::vector<std::string> stops;
    if (std::abs(direction.z()) > k_leans_to) {
        stops.emplace_back("a height");
    }
    if (std::abs(direction.y()) > k_leans_to) {
        stops.emplace_back("an offset from a string");
    }
    if (std::abs(direction.x()) > k_leans_to) {
        stops.emplace_back("a distance along");
    }
    return stops;
}

std::string alternatives(const std::vector<std::string>& words) {
    std::string text;
    for (std::size_t i = 0; i < words.size(); ++i) {
        text += (i == 0 ? "" : i + 1 == words.size() ? " or " : ", ") + words[i];
    }
    return text;
}

bool has_height(const Told& told) {
    return std::find(told.kinds.begin(), told.kinds.end(), "a height") != told.kinds.end();
}

std::string needs(const Told& told) {
    if (told.free == 3) {
        return "three ties from marks that do not lie on one line, or a height and two ties";
    }
    if (told.free == 2) {
        if (has_height(told)) {
            return "two ties from marks that do not lie in line with it";
        }
        if (told.tied.size() == 1 && told.kinds.empty()) {
            return "two more from marks that do not lie on one line, or a height and one tie";
        }
        return "two more readings, such as a height and a tie from a mark off to the side";
    }
    const std::string tie = told.tied.size() > 1    ? "one more tie from a mark that does not lie on one line with them"
                            : told.tied.size() == 1 ? "one more tie from another mark"
                                                    : "a tie";
    std::vector<std::string> ways = stops(told.direction);
    return ways.empty() ? tie : alternatives(ways) + ", or " + tie;
}

std::string short_of_own(const Network& network, const std::string& name, const Told& told, const VectorXd& values) {
    if (told.others.empty()) {
        return name + " has no readings yet: it needs " + needs(told) + ".";
    }
    if (told.free == 1 && told.tied.size() > 2 && on_one_line(told.tied, values)) {
        return name + " is tied to " + listed(names_of(network, told.tied)) + ", which lie on one line: it needs " +
               needs(told) + ".";
    }
    return name + " has " + has(told) + " only: it needs " + needs(told) + ".";
}

std::string hangs_on_others(const Network& network, const std::string& name, const Told& told, const Freedom& freedom) {
    if (freedom.frame) {
        return name + " is measured, but nothing says yet where along, out and up begin.";
    }
    std::set<int> loose;
    for (const int p : told.others) {
        if (freedom.directions[static_cast<std::size_t>(p)] > 0) {
            loose.insert(p);
        }
    }
    if (loose.empty()) {
        return name + " depends on how the car leans, which no reading fixes.";
    }
    return name + " is measured from " + listed(names_of(network, loose)) + ", which " +
           (loose.size() == 1 ? "is" : "are") +
           " not fixed: it needs one more tie or a height from a mark that is fixed.";
}

}  // namespace

std::vector<LackingPoint> lacking_points(const Network& network, const VectorXd& values, const Freedom& freedom) {
    std::vector<LackingPoint> lacking;
    for (int p = 0; p < network.points(); ++p) {
        if (freedom.directions[static_cast<std::size_t>(p)] == 0) {
            continue;
        }
        const std::string& name = network.names[static_cast<std::size_t>(p)];
        const Told told = told_of(network, p, values);
        lacking.push_back({name, told.free > 0 ? short_of_own(network, name, told, values)
                                               : hangs_on_others(network, name, told, freedom)});
    }
    return lacking;
}

}  // namespace sillwright::core::survey

#include "core/survey/mirrored.h"

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <set>

#include "core/survey/mirror_question.h"
#include "core/survey/network_fit.h"

namespace sillwright::core::survey {

using Eigen::Vector3d;
using Eigen::VectorXd;

namespace {

/// chi-squared, one degree of freedom, 99.9 %: 3.2905 squared.
constexpr double k_alike = 10.83;
/// Sums that differ by less are equal for choosing: neither is likelier.
constexpr double k_equal = 1.0;
/// Images nearer than this need no question: no hand would notice.
constexpr double k_same_place_mm = 5.0;
/// A group of more unknowns is not searched by itself but at once with all.
constexpr std::size_t k_few = 45;
/// Sum a number beyond which an image cannot suit: of few points before they are adjusted; else.
constexpr double k_absurd = 400.0;
constexpr double k_hopeless = 30.0;
/// The same of few points that have been adjusted while the rest stood still: an image that suits needs little more.
constexpr double k_hopeless_adjusted = 4.0;
constexpr int k_iterations = 15;
constexpr int k_rounds = 3;

/// Points that move together: reached from `first` without passing through `wall` or a point that is held.
std::vector<int> group_behind(const Network& network, int first, const std::vector<int>& wall) {
    std::set<int> seen(wall.begin(), wall.end());
    std::vector<int> group{first};
    seen.insert(first);
    for (std::size_t i = 0; i < group.size(); ++i) {
        for (const int q : neighbours_of(network, group[i])) {
            const auto u = static_cast<std::size_t>(3 * q);
            const bool held = network.held[u] && network.held[u + 1] && network.held[u + 2];
            if (!held && seen.insert(q).second) {
                group.push_back(q);
            }
        }
    }
    std::sort(group.begin(), group.end());
    return group;
}

struct Mirror {
    int point = 0;
    std::vector<int> group;
    std::vector<int> wall;
    Eigen::Hyperplane<double, 3> plane{Vector3d::UnitZ(), 0.0};
    std::vector<Vector3d> there_mm;  ///< Of a cluster: its other places, instead of the mirror's plane.
};

bool same_mirror(const Mirror& a, const Mirror& b) {
    return a.group == b.group && a.there_mm.empty() && b.there_mm.empty() &&
           std::abs(a.plane.normal().dot(b.plane.normal())) > 0.999;
}

void add(std::vector<Mirror>& mirrors, Mirror mirror) {
    const bool known =
        std::any_of(mirrors.begin(), mirrors.end(), [&](const Mirror& m) { return same_mirror(m, mirror); });
    if (!known) {
        mirrors.push_back(std::move(mirror));
    }
}

/// Points that readings link to the group.
std::vector<int> stays_beside(const Network& network, const std::vector<int>& group) {
    std::set<int> beside;
    for (const int p : group) {
        for (const int q : neighbours_of(network, p)) {
            beside.insert(q);
        }
    }
    for (const int p : group) {
        beside.erase(p);
    }
    return {beside.begin(), beside.end()};
}

std::vector<Mirror> mirrors_of(const Network& network, const Placing& placing) {
    std::vector<Mirror> mirrors;
    for (const Branch& branch : placing.branches) {
        const Vector3d across = branch.other_mm - branch.taken_mm;
        add(mirrors, {branch.point,
                      group_behind(network, branch.point, branch.from),
                      branch.from,
                      {across.normalized(), (branch.other_mm + branch.taken_mm) / 2.0},
                      {}});
    }
    for (const OtherPose& other : placing.other_poses) {
        Mirror mirror;
        mirror.point = other.points.front();
        mirror.group = other.points;
        mirror.wall = stays_beside(network, other.points);
        mirror.there_mm = other.there_mm;
        mirrors.push_back(std::move(mirror));
    }
    return mirrors;
}

std::vector<int> unknowns_of(const Network& network, const std::vector<int>& group) {
    std::vector<int> unknowns;
    for (const int p : group) {
        for (int u = 3 * p; u < 3 * p + 3; ++u) {
            if (!network.held[static_cast<std::size_t>(u)]) {
                unknowns.push_back(u);
            }
        }
    }
    return unknowns;
}

std::vector<int> numbers_of(const Network& network, const std::vector<int>& group) {
    std::set<int> numbers;
    for (const int p : group) {
        const auto& own = network.numbers_of[static_cast<std::size_t>(p)];
        numbers.insert(own.begin(), own.end());
    }
    return {numbers.begin(), numbers.end()};
}

/// Values with the group mirrored and all adjusted again, and their sum; none if they cannot suit.
struct Image {
    VectorXd values;
    double sum = 0.0;
};

std::optional<Image> image_of(const Network& network, const Mirror& mirror, const VectorXd& values) {
    Image image{values, 0.0};
    for (std::size_t i = 0; i < mirror.group.size(); ++i) {
        const int p = mirror.group[i];
        const Vector3d at = values.segment<3>(3 * p);
        const Vector3d there = mirror.there_mm.empty()
                                   ? Vector3d(at - 2.0 * mirror.plane.signedDistance(at) * mirror.plane.normal())
                                   : mirror.there_mm[i];
        for (int c = 0; c < 3; ++c) {
            if (!network.held[static_cast<std::size_t>(3 * p + c)]) {
                image.values[3 * p + c] = there[c];
            }
        }
    }
    const std::vector<int> unknowns = unknowns_of(network, mirror.group);
    const std::vector<int> numbers = numbers_of(network, mirror.group);
    const double before = robust_sum(network, numbers, values, true);
    const auto count = static_cast<double>(numbers.size());
    const bool few = unknowns.size() <= k_few;
    if (robust_sum(network, numbers, image.values, true) > before + (few ? k_absurd : k_hopeless) * count) {
        return std::nullopt;
    }
    if (few && fit_few(network, unknowns, numbers, true, k_iterations, image.values).sum >
                   before + k_hopeless_adjusted * count + k_alike) {
        return std::nullopt;
    }
    image.sum = fit_all(network, k_iterations, image.values);
    return image;
}

double from_rough(const Network& network, const Book& book, const std::vector<int>& group, const VectorXd& values) {
    double sum = 0.0;
    for (const int p : group) {
        sum += from_rough_mm(rough_place(book, network.names[static_cast<std::size_t>(p)]), values.segment<3>(3 * p));
    }
    return sum;
}

double farthest(const std::vector<int>& group, const VectorXd& a, const VectorXd& b) {
    double most = 0.0;
    for (const int p : group) {
        most = std::max(most, (a.segment<3>(3 * p) - b.segment<3>(3 * p)).norm());
    }
    return most;
}

class Settling {
public:
    Settling(const Network& network, const Book& book, Placing& placing)
        : network_{network}, book_{book}, placing_{placing}, mirrors_{mirrors_of(network, placing)} {
        std::vector<int> all(network.numbers.size());
        std::iota(all.begin(), all.end(), 0);
        sum_ = robust_sum(network, all, placing.values, false);
    }

    std::vector<Mirrored> run() {
        bool changed = true;
        for (int round = 0; round < k_rounds && changed; ++round) {
            changed = false;
            questions_.clear();
            for (Mirror& mirror : mirrors_) {
                changed = weigh(mirror) || changed;
            }
        }
        return std::move(questions_);
    }

private:
    /// True if the image was taken.
    bool weigh(Mirror& mirror) {
        std::optional<Image> image = image_of(network_, mirror, placing_.values);
        if (!image || farthest(mirror.group, image->values, placing_.values) < k_same_place_mm) {
            return false;
        }
        const double worse = image->sum - sum_;
        if (worse > k_alike) {
            return false;
        }
        const double nearer = from_rough(network_, book_, mirror.group, placing_.values) -
                              from_rough(network_, book_, mirror.group, image->values);
        const bool answered = std::abs(nearer) > k_same_place_mm;
        bool take = worse < -k_equal;
        if (worse >= -k_alike) {
            if (answered) {
                take = nearer > 0.0;
            } else if (std::abs(worse) <= k_equal) {
                take = preferred({}, image->values.segment<3>(3 * mirror.point),
                                 placing_.values.segment<3>(3 * mirror.point));
            }
        }
        if (take) {
            std::swap(image->values, placing_.values);
            std::swap(image->sum, sum_);
            for (std::size_t i = 0; i < mirror.there_mm.size(); ++i) {
                mirror.there_mm[i] = image->values.segment<3>(3 * mirror.group[i]);
            }
        }
        if (std::abs(worse) <= k_alike && !answered) {
            questions_.push_back(
                mirror_question(network_, book_, mirror.group, mirror.wall, placing_.values, image->values));
        }
        return take;
    }

    const Network& network_;
    const Book& book_;
    Placing& placing_;
    std::vector<Mirror> mirrors_;
    std::vector<Mirrored> questions_;
    double sum_ = 0.0;
};

}  // namespace

std::vector<Mirrored> settle_mirrors(const Network& network, const Book& book, Placing& placing) {
    return Settling(network, book, placing).run();
}

}  // namespace sillwright::core::survey

#include "core/survey/together.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <set>

#include "core/survey/candidates.h"
#include "core/survey/network_fit.h"

namespace sillwright::core::survey {

using Eigen::Vector3d;
using Eigen::VectorXd;

namespace {

/// Points searched for at once: a search among more from random beginnings seldom ends well.
constexpr std::size_t k_most_together = 10;
constexpr int k_beginnings = 60;
constexpr int k_iterations = 60;
/// Sum a number below which a search has found it.
constexpr double k_found_sum = 9.0;

/// Numbers from -1 to 1, the same on every machine.
class Seeded {
public:
    double next() {
        state_ = state_ * 6364136223846793005ULL + 1442695040888963407ULL;  // Knuth's MMIX (from memory)
        return static_cast<double>(state_ >> 11U) / 4503599627370496.0 - 1.0;
    }

private:
    std::uint64_t state_ = 2025;
};

/// Numbers all of whose points are placed or in the group, and that touch the group.
std::vector<int> numbers_within(const Network& network, const std::vector<bool>& known, const std::set<int>& group) {
    std::set<int> numbers;
    for (const int p : group) {
        for (const int n : network.numbers_of[static_cast<std::size_t>(p)]) {
            const auto& points = network.numbers[static_cast<std::size_t>(n)].points;
            if (std::all_of(points.begin(), points.end(), [&](int q) { return known[static_cast<std::size_t>(q)]; })) {
                numbers.insert(n);
            }
        }
    }
    return {numbers.begin(), numbers.end()};
}

/// The unplaced points, grown from `first` by the one with most numbers to what is placed or in the group.
std::set<int> group_from(const Network& network, const Placing& placing, int first) {
    std::set<int> group{first};
    std::vector<bool> known = placing.placed;
    known[static_cast<std::size_t>(first)] = true;
    while (group.size() < k_most_together) {
        int best = -1;
        std::size_t most = 0;
        for (const int p : group) {
            for (const int n : network.numbers_of[static_cast<std::size_t>(p)]) {
                for (const int q : network.numbers[static_cast<std::size_t>(n)].points) {
                    if (known[static_cast<std::size_t>(q)]) {
                        continue;
                    }
                    const std::size_t count = numbers_to_placed(network, known, q).size();
                    if (count > most || (count == most && best < 0)) {
                        most = count;
                        best = q;
                    }
                }
            }
        }
        if (best < 0) {
            break;
        }
        group.insert(best);
        known[static_cast<std::size_t>(best)] = true;
    }
    return group;
}

/// About where the group is, and how large.
struct Region {
    Vector3d middle = Vector3d::Zero();
    double size_mm = 500.0;
};

Region region_of(const Network& network, const Placing& placing, std::span<const int> numbers) {
    Region region;
    int count = 0;
    double longest = 0.0;
    for (const int n : numbers) {
        const NetworkNumber& number = network.numbers[static_cast<std::size_t>(n)];
        if (number.kind != ReadingKind::angle && number.kind != ReadingKind::slope) {
            longest = std::max(longest, std::abs(number.observed));
        }
        for (const int p : number.points) {
            if (placing.placed[static_cast<std::size_t>(p)]) {
                region.middle += placing.values.segment<3>(3 * p);
                ++count;
            }
        }
    }
    if (count > 0) {
        region.middle /= count;
    }
    if (longest > 0.0) {
        region.size_mm = longest;
    }
    return region;
}

std::vector<int> free_coordinates(const Network& network, const std::set<int>& group) {
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

/// Which of the unknowns stand fast, by the weak directions of the normal matrix.
std::set<int> fast_unknowns(const Eigen::MatrixXd& normal, const std::vector<int>& unknowns) {
    std::set<int> fast(unknowns.begin(), unknowns.end());
    const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eigen(normal);
    constexpr double k_takes_part = 1e-3;
    for (Eigen::Index i = 0; i < normal.rows(); ++i) {
        if (eigen.eigenvalues()[i] > 1.0 / (k_unknown_sd_mm * k_unknown_sd_mm)) {
            break;
        }
        for (Eigen::Index k = 0; k < normal.rows(); ++k) {
            if (std::abs(eigen.eigenvectors()(k, i)) > k_takes_part) {
                fast.erase(unknowns[static_cast<std::size_t>(k)]);
            }
        }
    }
    return fast;
}

struct Found {
    double sum = std::numeric_limits<double>::infinity();
    VectorXd values;
    Eigen::MatrixXd normal;
};

Found search(const Network& network, const std::vector<std::vector<std::pair<int, double>>>& rough,
             const Placing& placing, const std::vector<int>& unknowns, std::span<const int> numbers) {
    const Region region = region_of(network, placing, numbers);
    Seeded random;
    Found best;
    for (int i = 0; i < k_beginnings; ++i) {
        VectorXd values = placing.values;
        for (const int u : unknowns) {
            values[u] = region.middle[u % 3] + region.size_mm * random.next();
            for (const auto& [coordinate, mm] : rough[static_cast<std::size_t>(u / 3)]) {
                if (coordinate == u % 3) {
                    values[u] = mm;
                }
            }
        }
        FewFit fit = fit_few(network, unknowns, numbers, true, k_iterations, values);
        if (fit.sum < best.sum) {
            best = {fit.sum, values, std::move(fit.normal)};
        }
        if (best.sum < k_found_sum * static_cast<double>(numbers.size())) {
            break;
        }
    }
    return best;
}

bool place_group(const Network& network, const std::vector<std::vector<std::pair<int, double>>>& rough,
                 const std::set<int>& group, Placing& placing) {
    std::vector<bool> known = placing.placed;
    for (const int p : group) {
        known[static_cast<std::size_t>(p)] = true;
    }
    const std::vector<int> numbers = numbers_within(network, known, group);
    const std::vector<int> unknowns = free_coordinates(network, group);
    if (numbers.empty()) {
        return false;
    }
    const Found found = search(network, rough, placing, unknowns, numbers);
    placing.values = found.values;
    const std::set<int> fast = fast_unknowns(found.normal, unknowns);
    bool any = false;
    for (const int p : group) {
        bool stands = true;
        for (int u = 3 * p; u < 3 * p + 3; ++u) {
            stands = stands && (network.held[static_cast<std::size_t>(u)] || fast.contains(u));
        }
        if (stands) {
            placing.placed[static_cast<std::size_t>(p)] = true;
            any = true;
        }
    }
    return any;
}

}  // namespace

bool place_together(const Network& network, const std::vector<std::vector<std::pair<int, double>>>& rough,
                    Placing& placing) {
    std::vector<bool> tried = placing.placed;
    for (int p = 0; p < network.points(); ++p) {
        if (tried[static_cast<std::size_t>(p)]) {
            continue;
        }
        placing.one_by_one = false;
        const std::set<int> group = group_from(network, placing, p);
        if (place_group(network, rough, group, placing)) {
            return true;
        }
        for (const int q : group) {
            tried[static_cast<std::size_t>(q)] = true;
        }
    }
    return false;
}

}  // namespace sillwright::core::survey

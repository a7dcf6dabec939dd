#include "core/survey/cluster.h"

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>
#include <set>

#include "core/survey/candidates.h"
#include "core/survey/network_fit.h"

namespace sillwright::core::survey {

using Eigen::Matrix3d;
using Eigen::Vector3d;
using Eigen::VectorXd;
using Vector6d = Eigen::Matrix<double, 6, 1>;
using Matrix6d = Eigen::Matrix<double, 6, 6>;

namespace {

/// Fewer points are searched for at once.
constexpr std::size_t k_least_points = 4;
/// Triangles from which a cluster is begun before it is given up.
constexpr int k_most_triangles = 6;
constexpr int k_iterations = 40;
constexpr int k_whole_iterations = 10;
/// A coordinate that the book holds in the cluster pulls like a reading of this sd until all are adjusted.
constexpr double k_held_sd_mm = 1.0;
/// A second pose is asked about if its sum is not worse than this, and its points stand further off than that.
constexpr double k_alike_factor = 4.0;
constexpr double k_alike_sum = 40.0;
constexpr double k_other_place_mm = 5.0;

/// Kinds that a rigid motion, and a mirror, leave as they are.
bool is_inner(const NetworkNumber& number) {
    return number.own < 0 && (number.kind == ReadingKind::tie || number.kind == ReadingKind::gap ||
                              number.kind == ReadingKind::depth || number.kind == ReadingKind::angle);
}

bool is_distance(const NetworkNumber& number) {
    return is_inner(number) && number.points.size() == 2;
}

void index_numbers(Network& network) {
    network.numbers_of.assign(network.names.size(), {});
    for (std::size_t n = 0; n < network.numbers.size(); ++n) {
        for (const int p : network.numbers[n].points) {
            network.numbers_of[static_cast<std::size_t>(p)].push_back(static_cast<int>(n));
        }
    }
}

/// Only the unplaced points, and what is rigid between them.
Network inner_network(const Network& network, const std::vector<bool>& placed) {
    Network inner = network;
    std::erase_if(inner.numbers, [&](const NetworkNumber& number) {
        return !is_inner(number) || std::any_of(number.points.begin(), number.points.end(),
                                                [&](int p) { return placed[static_cast<std::size_t>(p)]; });
    });
    index_numbers(inner);
    inner.values.setZero();
    std::fill(inner.held.begin(), inner.held.end(), false);
    std::fill(inner.held.begin() + 3 * inner.points(), inner.held.end(), true);
    return inner;
}

std::set<int> tied_to(const Network& network, int point) {
    std::set<int> tied;
    for (const int n : network.numbers_of[static_cast<std::size_t>(point)]) {
        const NetworkNumber& number = network.numbers[static_cast<std::size_t>(n)];
        if (is_distance(number)) {
            tied.insert(number.points[0] == point ? number.points[1] : number.points[0]);
        }
    }
    return tied;
}

/// Three points tied to each other, the best tied first.
std::vector<std::array<int, 3>> triangles(const Network& inner) {
    std::vector<std::pair<std::size_t, std::array<int, 3>>> found;
    std::vector<std::set<int>> tied;
    for (int p = 0; p < inner.points(); ++p) {
        tied.push_back(tied_to(inner, p));
    }
    const auto of = [&](int p) -> const std::set<int>& { return tied[static_cast<std::size_t>(p)]; };
    for (int a = 0; a < inner.points(); ++a) {
        for (const int b : of(a)) {
            for (const int c : of(b)) {
                if (a < b && b < c && of(a).contains(c)) {
                    found.push_back({of(a).size() + of(b).size() + of(c).size(), {a, b, c}});
                }
            }
        }
    }
    std::stable_sort(found.begin(), found.end(), [](const auto& x, const auto& y) { return x.first > y.first; });
    std::vector<std::array<int, 3>> result;
    for (std::size_t i = 0; i < std::min<std::size_t>(found.size(), k_most_triangles); ++i) {
        result.push_back(found[i].second);
    }
    return result;
}

struct Cluster {
    std::vector<int> points;
    std::vector<Vector3d> own_mm;  ///< Places about their middle.
};

Cluster solved_alone(Network inner, const std::array<int, 3>& triangle) {
    const auto hold = [&](int unknown) { inner.held[static_cast<std::size_t>(unknown)] = true; };
    for (int c = 0; c < 3; ++c) {
        hold(3 * triangle[0] + c);
    }
    hold(3 * triangle[1] + 1);
    hold(3 * triangle[1] + 2);
    hold(3 * triangle[2] + 2);
    Placing placing = place_one_by_one(inner);
    Cluster cluster;
    Vector3d middle = Vector3d::Zero();
    for (int p = 0; p < inner.points(); ++p) {
        if (placing.placed[static_cast<std::size_t>(p)]) {
            cluster.points.push_back(p);
        }
    }
    std::erase_if(inner.numbers, [&](const NetworkNumber& number) {
        return std::any_of(number.points.begin(), number.points.end(),
                           [&](int p) { return !placing.placed[static_cast<std::size_t>(p)]; });
    });
    fit_all(inner, k_whole_iterations, placing.values);
    for (const int p : cluster.points) {
        cluster.own_mm.emplace_back(placing.values.segment<3>(3 * p));
        middle += cluster.own_mm.back() / static_cast<double>(cluster.points.size());
    }
    for (Vector3d& at : cluster.own_mm) {
        at -= middle;
    }
    return cluster;
}

struct Pose {
    Matrix3d turn = Matrix3d::Identity();  ///< Of determinant 1 or -1.
    Vector3d shift_mm = Vector3d::Zero();
    double sum = std::numeric_limits<double>::infinity();
    Matrix6d normal = Matrix6d::Zero();
};

/// What says where the cluster is, as a function of its pose.
class Joining {
public:
    Joining(const Network& network, const Placing& placing, Cluster cluster)
        : network_{network}, cluster_{std::move(cluster)}, values_{placing.values} {
        place_of_.assign(network.names.size(), -1);
        for (std::size_t i = 0; i < cluster_.points.size(); ++i) {
            place_of_[static_cast<std::size_t>(cluster_.points[i])] = static_cast<int>(i);
            size_mm_ = std::max(size_mm_, cluster_.own_mm[i].norm());
        }
        free_held_coordinates();
        for (std::size_t n = 0; n < network_.numbers.size(); ++n) {
            const NetworkNumber& number = network_.numbers[n];
            bool touches = false;
            bool leaves = false;
            bool known = true;
            for (const int p : number.points) {
                const bool own = place_of_[static_cast<std::size_t>(p)] >= 0;
                touches = touches || own;
                leaves = leaves || !own;
                known = known && (own || placing.placed[static_cast<std::size_t>(p)]);
                if (!own && known) {
                    around_ += values_.segment<3>(3 * p);
                    ++count_around_;
                }
            }
            if (touches && known && (leaves || !is_inner(number))) {
                numbers_.push_back(static_cast<int>(n));
            }
        }
        if (count_around_ > 0) {
            around_ /= count_around_;
        }
    }

    [[nodiscard]] const Cluster& cluster() const { return cluster_; }
    [[nodiscard]] std::size_t numbers() const { return numbers_.size(); }

    /// All poses found, the best first.
    std::vector<Pose> poses() {
        std::vector<Pose> found;
        for (const Matrix3d& turn : turns()) {
            for (int c = -1; c < 3; ++c) {
                const Vector3d aside = c < 0 ? Vector3d(Vector3d::Zero()) : Vector3d(size_mm_ * Vector3d::Unit(c));
                found.push_back(settled({turn, around_ + aside, 0.0, {}}));
            }
        }
        std::sort(found.begin(), found.end(), [](const Pose& a, const Pose& b) { return a.sum < b.sum; });
        return found;
    }

    /// Whether the readings hold all six ways of moving.
    [[nodiscard]] bool holds(const Pose& pose) const {
        const Eigen::SelfAdjointEigenSolver<Matrix6d> eigen(pose.normal, Eigen::EigenvaluesOnly);
        return eigen.eigenvalues()[0] > 1.0 / (k_unknown_sd_mm * k_unknown_sd_mm);
    }

private:
    void free_held_coordinates() {
        for (const int p : cluster_.points) {
            for (int u = 3 * p; u < 3 * p + 3; ++u) {
                if (network_.held[static_cast<std::size_t>(u)]) {
                    network_.held[static_cast<std::size_t>(u)] = false;
                    NetworkNumber number;
                    number.own = u;
                    number.observed = network_.values[u];
                    number.sd = k_held_sd_mm;
                    number.points = {p};
                    network_.numbers.push_back(number);
                }
            }
        }
    }

    /// The 24 turns of a cube, each also mirrored.
    static std::vector<Matrix3d> turns() {
        std::vector<Matrix3d> turns;
        std::array<int, 3> order{0, 1, 2};
        do {
            for (int signs = 0; signs < 8; ++signs) {
                Matrix3d turn = Matrix3d::Zero();
                for (int c = 0; c < 3; ++c) {
                    turn(order[static_cast<std::size_t>(c)], c) = (signs >> c) % 2 == 0 ? 1.0 : -1.0;
                }
                turns.push_back(turn);
            }
        } while (std::next_permutation(order.begin(), order.end()));
        return turns;
    }

    void put(const Pose& pose) {
        for (std::size_t i = 0; i < cluster_.points.size(); ++i) {
            values_.segment<3>(3 * cluster_.points[i]) = pose.turn * cluster_.own_mm[i] + pose.shift_mm;
        }
    }

    double sum(const Pose& pose) {
        put(pose);
        return robust_sum(network_, numbers_, values_, true);
    }

    /// Normal equations by a turn (counted at the cluster's size, in mm) and a shift.
    Vector6d linearise(Pose& pose) {
        put(pose);
        pose.normal.setZero();
        Vector6d gradient = Vector6d::Zero();
        for (const int n : numbers_) {
            const NetworkRow row = row_of(network_, network_.numbers[static_cast<std::size_t>(n)], values_, true);
            Vector6d by = Vector6d::Zero();
            for (std::size_t i = 0; i < static_cast<std::size_t>(row.size); ++i) {
                const int unknown = row.unknowns[i];
                const int place =
                    unknown < 3 * network_.points() ? place_of_[static_cast<std::size_t>(unknown / 3)] : -1;
                if (place >= 0) {
                    const Vector3d arm = pose.turn * cluster_.own_mm[static_cast<std::size_t>(place)];
                    by.head<3>() += row.by[i] * arm.cross(Vector3d::Unit(unknown % 3)) / size_mm_;
                    by[3 + unknown % 3] += row.by[i];
                }
            }
            const double weight = std::abs(row.miss) <= k_far ? 1.0 : k_far / std::abs(row.miss);
            pose.normal += weight * by * by.transpose();
            gradient += weight * row.miss * by;
        }
        return gradient;
    }

    [[nodiscard]] Pose moved(const Pose& pose, const Vector6d& step) const {
        const Vector3d turn = step.head<3>() / size_mm_;
        Pose next = pose;
        if (turn.norm() > 0.0) {
            next.turn = Eigen::AngleAxisd(turn.norm(), turn.normalized()) * pose.turn;
        }
        next.shift_mm += step.tail<3>();
        return next;
    }

    Pose settled(Pose pose) {
        pose.sum = sum(pose);
        double damping = 1e-3;
        for (int i = 0; i < k_iterations && damping < 1e8; ++i) {
            const Vector6d gradient = linearise(pose);
            bool better = false;
            double gain = 0.0;
            while (!better && damping < 1e8) {
                Matrix6d damped = pose.normal;
                damped.diagonal() += damping * pose.normal.diagonal();
                damped.diagonal().array() += 1e-9;
                Pose next = moved(pose, -damped.ldlt().solve(gradient));
                next.sum = sum(next);
                better = next.sum < pose.sum;
                gain = pose.sum - next.sum;
                damping = better ? std::max(damping / 10.0, 1e-12) : damping * 10.0;
                if (better) {
                    pose = next;
                }
            }
            if (!better || gain < 1e-6) {
                break;
            }
        }
        linearise(pose);
        return pose;
    }

    Network network_;
    Cluster cluster_;
    VectorXd values_;
    std::vector<int> place_of_;
    std::vector<int> numbers_;
    Vector3d around_ = Vector3d::Zero();
    int count_around_ = 0;
    double size_mm_ = 1.0;
};

std::vector<Vector3d> places(const Cluster& cluster, const Pose& pose) {
    std::vector<Vector3d> at;
    for (const Vector3d& own : cluster.own_mm) {
        at.emplace_back(pose.turn * own + pose.shift_mm);
    }
    return at;
}

double farthest(const std::vector<Vector3d>& a, const std::vector<Vector3d>& b) {
    double most = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i) {
        most = std::max(most, (a[i] - b[i]).norm());
    }
    return most;
}

bool join(const Network& network, Cluster alone, Placing& placing) {
    Joining joining(network, placing, std::move(alone));
    constexpr std::size_t k_ways_to_move = 6;
    if (joining.numbers() < k_ways_to_move) {
        return false;
    }
    const std::vector<Pose> poses = joining.poses();
    if (!joining.holds(poses.front())) {
        return false;
    }
    const Cluster& cluster = joining.cluster();
    const std::vector<Vector3d> here = places(cluster, poses.front());
    for (std::size_t i = 0; i < cluster.points.size(); ++i) {
        const int p = cluster.points[i];
        for (int c = 0; c < 3; ++c) {
            if (!network.held[static_cast<std::size_t>(3 * p + c)]) {
                placing.values[3 * p + c] = here[i][c];
            }
        }
        placing.placed[static_cast<std::size_t>(p)] = true;
    }
    for (const Pose& pose : poses) {
        if (pose.sum > k_alike_factor * poses.front().sum + k_alike_sum) {
            break;
        }
        const std::vector<Vector3d> there = places(cluster, pose);
        const bool known =
            farthest(here, there) < k_other_place_mm ||
            std::any_of(placing.other_poses.begin(), placing.other_poses.end(), [&](const auto& other) {
                return other.points == cluster.points && farthest(other.there_mm, there) < k_other_place_mm;
            });
        if (!known) {
            placing.other_poses.push_back({cluster.points, there});
        }
    }
    return true;
}

}  // namespace

bool place_cluster(const Network& network, Placing& placing) {
    const Network inner = inner_network(network, placing.placed);
    std::set<std::vector<int>> tried;
    for (const auto& triangle : triangles(inner)) {
        Cluster cluster = solved_alone(inner, triangle);
        if (cluster.points.size() >= k_least_points && tried.insert(cluster.points).second &&
            join(network, std::move(cluster), placing)) {
            return true;
        }
    }
    return false;
}

}  // namespace sillwright::core::survey

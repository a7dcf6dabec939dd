#include "geometry/nest_spot.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace sillwright::geometry {

using Eigen::AlignedBox2d;
using Eigen::Vector2d;

namespace {

/// Inside a ring by less than this is on it: several times what rounding and cleaning move a ring.
constexpr double k_touch_mm = 5e-4;
/// Edges whose directions differ by less (sine) run along each other; what they share ends at their corners.
constexpr double k_along = 1e-9;

double cross(const Vector2d& a, const Vector2d& b) {
    return a.x() * b.y() - a.y() * b.x();
}

struct Edge {
    Vector2d from, to;
    std::size_t owner;
};

double squared_distance(const Vector2d& p, const Vector2d& a, const Vector2d& b) {
    const Vector2d d = b - a;
    const double size = d.squaredNorm();
    const double t = size > 0.0 ? std::clamp((p - a).dot(d) / size, 0.0, 1.0) : 0.0;
    return (a + t * d - p).squaredNorm();
}

/// Inside, and by more than touching.
bool forbids(const NoGo& no_go, const Vector2d& p) {
    if (!no_go.box.contains(p)) {
        return false;
    }
    bool inside = false;
    for (const Polygon& ring : no_go.rings) {
        for (std::size_t i = 0, j = ring.size() - 1; i < ring.size(); j = i++) {
            const Vector2d &a = ring[i], &b = ring[j];
            if ((a.y() > p.y()) != (b.y() > p.y()) &&
                p.x() < (b.x() - a.x()) * (p.y() - a.y()) / (b.y() - a.y()) + a.x()) {
                inside = !inside;
            }
        }
    }
    if (!inside) {
        return false;
    }
    for (const Polygon& ring : no_go.rings) {
        for (std::size_t i = 0, j = ring.size() - 1; i < ring.size(); j = i++) {
            if (squared_distance(p, ring[j], ring[i]) <= k_touch_mm * k_touch_mm) {
                return false;
            }
        }
    }
    return true;
}

struct Candidate {
    double worth;
    Vector2d at;
};

class Search {
public:
    Search(const std::vector<NoGo>& no_go, const AlignedBox2d& range, const Vector2d& weight, double less_than)
        : no_go_(no_go), range_(range), weight_(weight), best_(less_than) {}

    std::optional<Vector2d> found() {
        if (range_.isEmpty()) {
            return std::nullopt;
        }
        corners();
        take_best();
        crossings();
        take_best();
        return at_;
    }

private:
    void add(const Vector2d& p) {
        const double worth = weight_.dot(p);
        if (worth < best_ && range_.contains(p)) {
            candidates_.push_back({worth, p});
        }
    }

    void corners() {
        for (const auto corner :
             {AlignedBox2d::BottomLeft, AlignedBox2d::BottomRight, AlignedBox2d::TopLeft, AlignedBox2d::TopRight}) {
            add(range_.corner(corner));
        }
        for (std::size_t owner = 0; owner < no_go_.size(); ++owner) {
            if (!no_go_[owner].box.intersects(range_)) {
                continue;
            }
            for (const Polygon& ring : no_go_[owner].rings) {
                for (std::size_t i = 0, j = ring.size() - 1; i < ring.size(); j = i++) {
                    add(ring[i]);
                    on_border(ring[j], ring[i]);
                    keep({ring[j], ring[i], owner});
                }
            }
        }
    }

    void on_border(const Vector2d& a, const Vector2d& b) {
        for (int axis = 0; axis < 2; ++axis) {
            for (const double at : {range_.min()[axis], range_.max()[axis]}) {
                if ((a[axis] < at) != (b[axis] < at)) {
                    Vector2d p = a + (b - a) * ((at - a[axis]) / (b[axis] - a[axis]));
                    p[axis] = at;
                    add(p);
                }
            }
        }
    }

    void keep(const Edge& edge) {
        const AlignedBox2d box(edge.from.cwiseMin(edge.to), edge.from.cwiseMax(edge.to));
        if (box.intersects(range_)) {
            edges_.push_back(edge);
        }
    }

    void crossings() {
        std::erase_if(
            edges_, [&](const Edge& edge) { return std::min(weight_.dot(edge.from), weight_.dot(edge.to)) >= best_; });
        const auto left = [](const Edge& e) { return std::min(e.from.x(), e.to.x()); };
        std::stable_sort(edges_.begin(), edges_.end(), [&](const Edge& a, const Edge& b) { return left(a) < left(b); });
        for (std::size_t i = 0; i < edges_.size(); ++i) {
            const Edge& e = edges_[i];
            const double right = std::max(e.from.x(), e.to.x());
            const double low = std::min(e.from.y(), e.to.y()), high = std::max(e.from.y(), e.to.y());
            for (std::size_t j = i + 1; j < edges_.size() && left(edges_[j]) <= right; ++j) {
                const Edge& f = edges_[j];
                if (f.owner != e.owner && std::min(f.from.y(), f.to.y()) <= high &&
                    std::max(f.from.y(), f.to.y()) >= low) {
                    crossing(e, f);
                }
            }
        }
    }

    void crossing(const Edge& e, const Edge& f) {
        const Vector2d u = e.to - e.from, v = f.to - f.from, w = f.from - e.from;
        const double turn = cross(u, v);
        if (std::abs(turn) <= k_along * u.norm() * v.norm()) {
            return;
        }
        const double s = cross(w, v) / turn, t = cross(w, u) / turn;
        if (s >= 0.0 && s <= 1.0 && t >= 0.0 && t <= 1.0) {
            add(e.from + s * u);
        }
    }

    void take_best() {
        std::sort(candidates_.begin(), candidates_.end(), [](const Candidate& a, const Candidate& b) {
            if (a.worth != b.worth) {
                return a.worth < b.worth;
            }
            return a.at.y() != b.at.y() ? a.at.y() < b.at.y() : a.at.x() < b.at.x();
        });
        for (const Candidate& candidate : candidates_) {
            if (is_free(candidate.at)) {
                best_ = candidate.worth;
                at_ = candidate.at;
                break;
            }
        }
        candidates_.clear();
    }

    /// What stood in the way last often does again.
    bool is_free(const Vector2d& p) {
        if (last_ < no_go_.size() && forbids(no_go_[last_], p)) {
            return false;
        }
        for (std::size_t i = 0; i < no_go_.size(); ++i) {
            if (i != last_ && forbids(no_go_[i], p)) {
                last_ = i;
                return false;
            }
        }
        return true;
    }

    const std::vector<NoGo>& no_go_;
    const AlignedBox2d& range_;
    Vector2d weight_;
    double best_;
    std::optional<Vector2d> at_;
    std::vector<Candidate> candidates_;
    std::vector<Edge> edges_;
    std::size_t last_ = std::numeric_limits<std::size_t>::max();
};

}  // namespace

NoGo no_go(const std::vector<Polygon>& rings, int quarters, const Vector2d& moved_mm) {
    NoGo result{rings, {}};
    for (Polygon& ring : result.rings) {
        for (Vector2d& p : ring) {
            p = quarter_turned(p, quarters) + moved_mm;
            result.box.extend(p);
        }
    }
    return result;
}

std::optional<Vector2d> best_move(const std::vector<NoGo>& no_go, const AlignedBox2d& range, const Vector2d& weight,
                                  double less_than) {
    return Search(no_go, range, weight, less_than).found();
}

}  // namespace sillwright::geometry

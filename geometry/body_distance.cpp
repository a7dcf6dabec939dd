#include "geometry/body_distance.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "geometry/contact_states.h"
#include "geometry/motion_distance.h"
#include "geometry/triangle_distance.h"

namespace sillwright::geometry {

using Eigen::Isometry3d;
using Eigen::Vector3d;
using Node = DistanceTree::Node;

namespace {

/// Rounds of projecting one box's point onto the other for a direction between them.
constexpr int k_projections = 3;

double extent_along(const Node& node, const Vector3d& n) {
    return (node.axes.transpose() * n).cwiseAbs().dot(node.half);
}

Vector3d nearest_in(const Node& node, const Vector3d& p) {
    const Vector3d inner = node.axes.transpose() * (p - node.centre);
    return node.centre + node.axes * inner.cwiseMax(-node.half).cwiseMin(node.half);
}

/// A pair of boxes, and a direction from the first to the second along which they are `apart` at least.
struct Pair {
    std::int32_t first, second;
    double apart;
    Vector3d direction;
};

class Walk {
public:
    Walk(const DistanceTree& first, const DistanceTree& second, const BodyQuestion& question)
        : first_{first}, second_{second}, tolerance_{in_mm(question.tolerance)}, part_{question.part} {}

    BodyDistance find() {
        std::vector<Pair> open{look(0, 0, Vector3d::UnitZ())};
        while (!open.empty() && best_ > 0.0) {
            const Pair pair = open.back();
            open.pop_back();
            if (pair.apart >= enough()) {
                lower_ = std::min(lower_, pair.apart);
                continue;
            }
            const Node& a = node(first_, pair.first);
            const Node& b = node(second_, pair.second);
            if (a.is_leaf() && b.is_leaf()) {
                triangles(a, b);
                continue;
            }
            const bool split_first = !a.is_leaf() && (b.is_leaf() || a.radius >= b.radius);
            Pair near = split_first ? look(pair.first + 1, pair.second, pair.direction)
                                    : look(pair.first, pair.second + 1, pair.direction);
            Pair far =
                split_first ? look(a.second, pair.second, pair.direction) : look(pair.first, b.second, pair.direction);
            if (far.apart < near.apart) {
                std::swap(near, far);
            }
            open.push_back(far);
            open.push_back(near);
        }
        return finish();
    }

private:
    static const Node& node(const DistanceTree& tree, std::int32_t index) {
        return tree.nodes()[static_cast<std::size_t>(index)];
    }

    [[nodiscard]] double enough() const {
        return best_ < std::numeric_limits<double>::infinity() ? best_ - std::max(tolerance_, part_ * best_) : best_;
    }

    [[nodiscard]] Pair look(std::int32_t first, std::int32_t second, const Vector3d& above) const {
        const Node& a = node(first_, first);
        const Node& b = node(second_, second);
        const Vector3d between = b.centre - a.centre;
        Pair pair{first, second, 0.0, above};
        const auto along = [&](const Vector3d& n) {
            const double apart = n.dot(between) - extent_along(a, n) - extent_along(b, n);
            if (apart > pair.apart) {
                pair.apart = apart;
                pair.direction = n;
            }
            return pair.apart >= enough();
        };
        if (const double apart = between.norm() - a.radius - b.radius; apart > 0.0 && apart >= enough()) {
            pair.apart = apart;  // Their balls are far enough apart.
            return pair;
        }
        if (along(above)) {
            return pair;
        }
        Vector3d p = a.centre;
        for (int i = 0; i < k_projections; ++i) {
            const Vector3d q = nearest_in(b, p);
            p = nearest_in(a, q);
            const Vector3d gap = q - p;
            const double length = gap.norm();
            if (length > 0.0 && along(gap / length)) {
                return pair;
            }
        }
        for (const Node* box : {&a, &b}) {
            for (int k = 0; k < 3; ++k) {
                const Vector3d axis = box->axes.col(k);
                if (along(axis.dot(between) < 0.0 ? Vector3d(-axis) : axis)) {
                    return pair;
                }
            }
        }
        return pair;
    }

    void triangles(const Node& a, const Node& b) {
        for (std::int32_t i = a.first_slot; i < a.first_slot + a.slot_count; ++i) {
            for (std::int32_t j = b.first_slot; j < b.first_slot + b.slot_count; ++j) {
                const ClosestPoints points = triangle_distance(first_.corners(i), second_.corners(j));
                if (const double distance = std::sqrt(points.squared_mm2); distance < best_) {
                    best_ = distance;
                    found_.on_first_mm = points.on_first;
                    found_.on_second_mm = points.on_second;
                    found_.first_triangle = first_.triangle(i);
                    found_.second_triangle = second_.triangle(j);
                }
            }
        }
    }

    BodyDistance finish() {
        const Isometry3d still = Isometry3d::Identity();
        found_.touches = !(best_ > 0.0) || one_inside_other(first_, second_, still);
        if (found_.touches) {
            put_depth();
            return found_;
        }
        const double rounding = k_rounding_parts * std::numeric_limits<double>::epsilon() / 2.0 *
                                std::max(first_.greatest_coordinate_mm(), second_.greatest_coordinate_mm());
        found_.least = millimetres(best_);
        found_.proven = millimetres(std::max(0.0, std::min(best_, lower_) - rounding));
        return found_;
    }

    void put_depth() {
        const Isometry3d still = Isometry3d::Identity();
        const Deepest of_second = deepest_corner(first_, second_, still, 0.0);
        const Deepest of_first = deepest_corner(second_, first_, still, of_second.depth);
        if (of_first.depth > of_second.depth) {
            const NearestOnSurface out = nearest_on_surface(second_, of_first.p);
            found_.on_first_mm = of_first.p;
            found_.on_second_mm = out.p_mm;
            found_.second_triangle = second_.triangle(out.slot);
            found_.first_triangle = first_.triangle(nearest_on_surface(first_, of_first.p).slot);
            found_.depth = millimetres(of_first.depth);
        } else if (of_second.depth > 0.0) {
            const NearestOnSurface out = nearest_on_surface(first_, of_second.p);
            found_.on_first_mm = out.p_mm;
            found_.on_second_mm = of_second.p;
            found_.first_triangle = first_.triangle(out.slot);
            found_.second_triangle = second_.triangle(nearest_on_surface(second_, of_second.p).slot);
            found_.depth = millimetres(of_second.depth);
        }
    }

    const DistanceTree& first_;
    const DistanceTree& second_;
    double tolerance_;
    double part_;
    double best_ = std::numeric_limits<double>::infinity();
    double lower_ = std::numeric_limits<double>::infinity();
    BodyDistance found_;
};

}  // namespace

BodyDistance body_distance(const DistanceTree& first, const DistanceTree& second, const BodyQuestion& question) {
    return Walk(first, second, question).find();
}

}  // namespace sillwright::geometry

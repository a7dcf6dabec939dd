#include "geometry/polygon_triangles.h"

#include <algorithm>
#include <cmath>

namespace sillwright::geometry {

namespace {

/// Areas below this part of the polygon's squared size are rounding.
constexpr double k_no_area = 1e-15;

double twice_area(const Eigen::Vector2d& a, const Eigen::Vector2d& b, const Eigen::Vector2d& c) {
    return (b.x() - a.x()) * (c.y() - a.y()) - (b.y() - a.y()) * (c.x() - a.x());
}

/// A ring of the corners that are left.
class EarCutter {
public:
    explicit EarCutter(const std::vector<Eigen::Vector2d>& corners) : corners_{corners} {
        const std::size_t n = corners.size();
        before_.resize(n);
        behind_.resize(n);
        Eigen::Vector2d low = corners.front();
        Eigen::Vector2d high = corners.front();
        for (std::size_t i = 0; i < n; ++i) {
            before_[i] = (i + n - 1) % n;
            behind_[i] = (i + 1) % n;
            low = low.cwiseMin(corners[i]);
            high = high.cwiseMax(corners[i]);
        }
        no_area_ = k_no_area * (high - low).squaredNorm();
    }

    Result<std::vector<Triangle>> cut() {
        std::vector<Triangle> triangles;
        std::size_t left = corners_.size();
        std::size_t at = 0;
        std::size_t tried = 0;
        // Ears of some area first; when none is left only corners on straights can remain.
        bool flat_allowed = false;
        while (left > 3) {
            if (is_ear(at, flat_allowed)) {
                triangles.push_back(triangle(at));
                behind_[before_[at]] = behind_[at];
                before_[behind_[at]] = before_[at];
                at = behind_[behind_[at]];  // every other corner: keeps the triangles stout
                --left;
                tried = 0;
                flat_allowed = false;
                continue;
            }
            at = behind_[at];
            if (++tried > left) {
                if (flat_allowed) {
                    return crossing();
                }
                flat_allowed = true;
                tried = 0;
            }
        }
        if (area(at) < -no_area_) {
            return crossing();
        }
        triangles.push_back(triangle(at));
        return triangles;
    }

private:
    static Error crossing() { return {ErrorCode::does_not_fit, "the outline crosses itself"}; }

    [[nodiscard]] double area(std::size_t i) const {
        return twice_area(corners_[before_[i]], corners_[i], corners_[behind_[i]]);
    }

    [[nodiscard]] Triangle triangle(std::size_t i) const {
        return {static_cast<std::int32_t>(before_[i]), static_cast<std::int32_t>(i),
                static_cast<std::int32_t>(behind_[i])};
    }

    [[nodiscard]] bool is_ear(std::size_t i, bool flat_allowed) const {
        const double size = area(i);
        if (size <= no_area_) {
            return flat_allowed && size >= -no_area_;
        }
        const Eigen::Vector2d& a = corners_[before_[i]];
        const Eigen::Vector2d& b = corners_[i];
        const Eigen::Vector2d& c = corners_[behind_[i]];
        const Eigen::Vector2d low = a.cwiseMin(b).cwiseMin(c);
        const Eigen::Vector2d high = a.cwiseMax(b).cwiseMax(c);
        for (std::size_t k = behind_[behind_[i]]; k != before_[i]; k = behind_[k]) {
            const Eigen::Vector2d& p = corners_[k];
            if (p.x() < low.x() || p.x() > high.x() || p.y() < low.y() || p.y() > high.y() || p == a || p == b ||
                p == c) {
                continue;
            }
            // Only a corner that turns in can be the first to reach into an ear.
            if (area(k) <= no_area_ && twice_area(a, b, p) >= 0.0 && twice_area(b, c, p) >= 0.0 &&
                twice_area(c, a, p) >= 0.0) {
                return false;
            }
        }
        return true;
    }

    const std::vector<Eigen::Vector2d>& corners_;
    std::vector<std::size_t> before_, behind_;
    double no_area_ = 0.0;
};

}  // namespace

Result<std::vector<Triangle>> polygon_triangles(const std::vector<Eigen::Vector2d>& corners) {
    if (corners.size() < 3 || !(polygon_area(corners) > 0.0)) {
        return Error{ErrorCode::does_not_fit, "the outline has no area or runs clockwise"};
    }
    return EarCutter(corners).cut();
}

double polygon_area(const std::vector<Eigen::Vector2d>& corners) {
    double twice = 0.0;
    for (std::size_t i = 1; i + 1 < corners.size(); ++i) {
        twice += twice_area(corners[0], corners[i], corners[i + 1]);
    }
    return twice / 2.0;
}

}  // namespace sillwright::geometry

#include "core/unrolling.h"

#include <algorithm>
#include <limits>

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::Length;

namespace {

/// Straights shorter than this have no direction: neighbours that are one node.
constexpr double k_no_length_mm = 1e-9;

std::size_t fold_of(const geometry::Loft& line) {
    const std::vector<std::string>& names = line.names();
    const auto named = std::find(names.begin(), names.end(), k_lower_edge);
    if (named != names.end()) {
        return static_cast<std::size_t>(named - names.begin());
    }
    const std::vector<geometry::ProfileNode> nodes = line.nodes_at(line.front());
    const auto lowest = std::max_element(nodes.begin(), nodes.end(), [](const auto& a, const auto& b) {
        return a.p_mm.x() - a.p_mm.y() < b.p_mm.x() - b.p_mm.y();
    });
    return static_cast<std::size_t>(lowest - nodes.begin());
}

/// A foot on the underside: the straight that it is on, and how far from the fold.
struct Foot {
    Vector2d direction{-1.0, 0.0};
    double from_fold_mm = 0.0;
};

Foot foot_of(const std::vector<Vector2d>& lower_mm, const Vector2d& p_mm) {
    Foot best;
    double least = std::numeric_limits<double>::infinity();
    double run = 0.0;
    const auto look = [&](const Vector2d& from, const Vector2d& direction, double length) {
        const double t = std::clamp((p_mm - from).dot(direction), 0.0, length);
        const double distance = (p_mm - from - t * direction).norm();
        if (distance < least) {
            least = distance;
            best = {direction, run + t};
        }
        run += length;
    };
    const Vector2d inboard(-1.0, 0.0);
    Vector2d last = inboard;
    for (std::size_t i = 0; i + 1 < lower_mm.size(); ++i) {
        const Vector2d step = lower_mm[i + 1] - lower_mm[i];
        const double length = step.norm();
        if (length > k_no_length_mm) {
            last = step / length;
            look(lower_mm[i], last, length);
        }
    }
    look(lower_mm.back(), last, std::numeric_limits<double>::infinity());
    return best;
}

}  // namespace

double UnrolledSection::underside_mm(const Vector2d& p_mm) const {
    return fold_mm() - foot_of(lower_mm, p_mm).from_fold_mm;
}

Vector2d UnrolledSection::direction_at(const Vector2d& p_mm) const {
    return foot_of(lower_mm, p_mm).direction;
}

Vector2d UnrolledSection::place_at(double height_mm) const {
    double left = std::max(0.0, fold_mm() - height_mm);
    Vector2d last(-1.0, 0.0);
    for (std::size_t i = 0; i + 1 < lower_mm.size(); ++i) {
        const Vector2d step = lower_mm[i + 1] - lower_mm[i];
        const double length = step.norm();
        if (length > k_no_length_mm) {
            last = step / length;
            if (left <= length) {
                return lower_mm[i] + left * last;
            }
            left -= length;
        }
    }
    return lower_mm.back() + left * last;
}

Unrolling::Unrolling(const geometry::Loft& line) : line_{&line}, fold_{fold_of(line)} {}

Unrolling::Unrolling(const Vector2d& fold_mm) : flat_mm_{fold_mm} {}

UnrolledSection Unrolling::at(Length along) const {
    if (line_ == nullptr) {
        return {{flat_mm_}, {}};
    }
    UnrolledSection section;
    const std::vector<geometry::ProfileNode> nodes = line_->nodes_at(along);
    double run = 0.0;
    for (std::size_t i = 0; i < nodes.size(); ++i) {
        if (i <= fold_) {
            section.heights_mm.push_back(nodes[i].p_mm.y());
        } else {
            run += (nodes[i].p_mm - nodes[i - 1].p_mm).norm();
            section.heights_mm.push_back(nodes[fold_].p_mm.y() - run);
        }
        if (i >= fold_) {
            section.lower_mm.push_back(nodes[i].p_mm);
        }
    }
    return section;
}

}  // namespace sillwright::core

#include "core/buck/part_room.h"

#include <algorithm>
#include <cmath>

namespace sillwright::core {

using Eigen::AlignedBox2d;
using Eigen::Vector2d;
using geometry::in_mm;

namespace {

/// Far below what an engraving bit can show.
constexpr geometry::Length k_chord = geometry::millimetres(0.01);
/// From one row that is tried to the next.
constexpr double k_row_mm = 2.0;
/// More room beside words than this is no better.
constexpr double k_ample_mm = 12.0;

/// What of the straight between two heights lies over x; none if nothing.
std::optional<Stretch> over(const Vector2d& a, const Vector2d& b, double low, double high) {
    if (std::max(a.y(), b.y()) <= low || std::min(a.y(), b.y()) >= high) {
        return std::nullopt;
    }
    const auto x_at = [&](double y) { return a.x() + (b.x() - a.x()) * (y - a.y()) / (b.y() - a.y()); };
    double from = a.x();
    double to = b.x();
    if (a.y() != b.y()) {
        from = x_at(std::clamp(a.y(), low, high));
        to = x_at(std::clamp(b.y(), low, high));
    }
    return Stretch{std::min(from, to), std::max(from, to)};
}

bool inside(const std::vector<Vector2d>& points, const Vector2d& p) {
    bool odd = false;
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
        const Vector2d& a = points[i];
        const Vector2d& b = points[i + 1];
        if ((a.y() <= p.y()) != (b.y() <= p.y()) &&
            p.x() < a.x() + (b.x() - a.x()) * (p.y() - a.y()) / (b.y() - a.y())) {
            odd = !odd;
        }
    }
    return odd;
}

}  // namespace

geometry::Result<PartRoom> PartRoom::of(const geometry::Profile& outline) {
    auto points = geometry::polyline(outline, k_chord);
    if (!points) {
        return points.error();
    }
    PartRoom room;
    room.points_ = std::move(points).value();
    for (const Vector2d& p : room.points_) {
        room.box_.extend(p);
    }
    return room;
}

PartRoom PartRoom::turned() const {
    const auto turn = [](const Vector2d& p) { return Vector2d(p.y(), p.x()); };
    PartRoom room;
    std::transform(points_.begin(), points_.end(), std::back_inserter(room.points_), turn);
    for (const AlignedBox2d& box : taken_) {
        room.taken_.emplace_back(turn(box.min()), turn(box.max()));
    }
    room.box_ = AlignedBox2d(turn(box_.min()), turn(box_.max()));
    return room;
}

std::vector<Stretch> PartRoom::free(double low_mm, double high_mm) const {
    const double room = in_mm(k_engraving_room);
    std::vector<Stretch> barred;
    for (std::size_t i = 0; i + 1 < points_.size(); ++i) {
        if (const auto stretch = over(points_[i], points_[i + 1], low_mm - room, high_mm + room)) {
            barred.push_back({stretch->from_mm - room, stretch->to_mm + room});
        }
    }
    for (const AlignedBox2d& box : taken_) {
        if (box.min().y() < high_mm && low_mm < box.max().y()) {
            barred.push_back({box.min().x(), box.max().x()});
        }
    }
    std::sort(barred.begin(), barred.end(), [](const Stretch& a, const Stretch& b) { return a.from_mm < b.from_mm; });
    std::vector<Stretch> free;
    double from = box_.min().x();
    const auto take = [&](double to) {
        if (to > from && inside(points_, {0.5 * (from + to), 0.5 * (low_mm + high_mm)})) {
            free.push_back({from, to});
        }
    };
    for (const Stretch& bar : barred) {
        take(bar.from_mm);
        from = std::max(from, bar.to_mm);
    }
    take(box_.max().x());
    return free;
}

std::optional<Vector2d> PartRoom::place(const Vector2d& size_mm, const std::optional<AlignedBox2d>& within) const {
    std::optional<Vector2d> best;
    double most = -1.0;
    const double low = within ? std::max(within->min().y(), box_.min().y()) : box_.min().y() + in_mm(k_engraving_room);
    const double high = within ? std::min(within->max().y(), box_.max().y()) : box_.max().y();
    for (double y = low; y + size_mm.y() <= high; y += k_row_mm) {
        for (const Stretch& stretch : free(y, y + size_mm.y())) {
            const double from = within ? std::max(stretch.from_mm, within->min().x()) : stretch.from_mm;
            const double to = within ? std::min(stretch.to_mm, within->max().x()) : stretch.to_mm;
            const double beside = std::min(to - from - size_mm.x(), k_ample_mm);
            if (beside >= 0.0 && beside > most) {
                most = beside;
                best = Vector2d(0.5 * (from + to - size_mm.x()), y);
            }
        }
        if (most >= k_ample_mm) {
            break;
        }
    }
    return best;
}

}  // namespace sillwright::core

#include "core/buck/part_tabs.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::in_mm;
using geometry::in_rad;
using geometry::millimetres;
using geometry::Profile;

namespace {

/// From one place that is tried to the next.
constexpr double k_try_mm = 1.0;
/// From tab to tab at least, in their widths.
constexpr double k_apart = 2.0;
/// By how much of the pitch a tab may stand further from where it would divide a gap evenly, for one rank.
constexpr double k_rank_share = 0.2;
/// A tab or two beside one another add nothing: rounds of the search at most.
constexpr int k_most_tabs = 200;
constexpr double k_most_tried = 5000.0;  ///< Places round an outline.

double cross(const Vector2d& a, const Vector2d& b) {
    return a.x() * b.y() - a.y() * b.x();
}

/// How far the outline has turned, either way, by each place along it.
class Turning {
public:
    explicit Turning(const Profile& outline) {
        const std::size_t n = outline.segments.size();
        double along = 0.0;
        double turned = 0.0;
        for (std::size_t i = 0; i < n; ++i) {
            const geometry::Segment& segment = outline.segments[i];
            const Vector2d in = direction_at(outline.segments[(i + n - 1) % n], 1.0);
            const Vector2d out = direction_at(segment, 0.0);
            knots_.push_back({along, turned});
            turned += std::abs(std::atan2(cross(in, out), in.dot(out)));
            knots_.push_back({along, turned});
            if (const auto* arc = std::get_if<geometry::ArcSegment>(&segment.shape)) {
                turned += std::abs(in_rad(arc->sweep));
            }
            along += in_mm(length(segment));
        }
        knots_.push_back({along, turned});
        whole_ = along;
        whole_turn_ = turned;
    }
    [[nodiscard]] double whole() const { return whole_; }
    /// Between two places, the second ahead of the first, each within one way round.
    [[nodiscard]] double between(double from, double to) const { return by(to, true) - by(from, false); }

private:
    struct Knot {
        double along, turned;
    };
    [[nodiscard]] double by(double along, bool after) const {
        const double rounds = std::floor(along / whole_);
        const double rest = along - rounds * whole_;
        const auto next = std::upper_bound(knots_.begin(), knots_.end(), rest,
                                           [](double a, const Knot& knot) { return a < knot.along; });
        const Knot& b = next == knots_.end() ? knots_.back() : *next;
        const Knot& a = next == knots_.begin() ? knots_.front() : *(next - 1);
        const double part = b.along > a.along ? (rest - a.along) / (b.along - a.along) : (after ? 1.0 : 0.0);
        return rounds * whole_turn_ + a.turned + part * (b.turned - a.turned);
    }
    std::vector<Knot> knots_;
    double whole_ = 0.0, whole_turn_ = 0.0;
};

struct Candidate {
    double along;
    int rank;
    Tab tab;
};

std::vector<Candidate> candidates(const Profile& outline, const TabWish& wish) {
    const Turning turning(outline);
    const double half = wish.width_mm / 2.0 + wish.bit_radius_mm;
    const double step = std::max(k_try_mm, in_mm(length(outline)) / k_most_tried);
    std::vector<Candidate> all;
    double before = 0.0;
    for (const geometry::Segment& segment : outline.segments) {
        const double whole = in_mm(length(segment));
        for (double at = std::ceil(before / step) * step; at < before + whole; at += step) {
            if (turning.between(at - half, at + half) > in_rad(k_tab_turn)) {
                continue;
            }
            const double fraction = (at - before) / whole;
            const Vector2d p = point_at(segment, fraction);
            const bool near = std::ranges::any_of(wish.keep_off, [&](const Eigen::AlignedBox2d& box) {
                return box.exteriorDistance(p) < wish.width_mm / 2.0 + 2.0 * wish.bit_radius_mm;
            });
            if (!near) {
                const Vector2d way = direction_at(segment, fraction);
                all.push_back({at, wish.rank ? wish.rank(p) : 0, {p, geometry::radians(std::atan2(way.y(), way.x()))}});
            }
        }
        before += whole;
    }
    return all;
}

/// Tabs that are taken, by their place along the outline.
class Chosen {
public:
    Chosen(const std::vector<Candidate>& all, double whole, const TabWish& wish)
        : all_{all}, whole_{whole}, wish_{wish} {}

    void take(std::size_t i) { taken_.insert(std::lower_bound(taken_.begin(), taken_.end(), i), i); }
    [[nodiscard]] const std::vector<std::size_t>& taken() const { return taken_; }

    /// Divides the widest gap that is wider than `most` and can be; false if there is none. By rank first: that one
    /// where a tab of the lowest rank does it.
    bool divide(double most, bool by_rank) {
        std::vector<std::size_t> order(taken_.size());
        for (std::size_t k = 0; k < order.size(); ++k) {
            order[k] = k;
        }
        std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return gap(a) > gap(b); });
        std::optional<std::size_t> chosen;
        for (const std::size_t k : order) {
            const auto best = gap(k) > most ? best_in(k) : std::nullopt;
            if (best && (!chosen || (by_rank && all_[*best].rank < all_[*chosen].rank))) {
                chosen = best;
            }
        }
        if (chosen) {
            take(*chosen);
        }
        return chosen.has_value();
    }

private:
    [[nodiscard]] double at(std::size_t k) const { return all_[taken_[k]].along; }
    /// From the k-th tab to the next.
    [[nodiscard]] double gap(std::size_t k) const {
        return k + 1 < taken_.size() ? at(k + 1) - at(k) : at(0) + whole_ - at(k);
    }
    [[nodiscard]] std::optional<std::size_t> best_in(std::size_t k) const {
        const double room = gap(k);
        const double parts = std::max(2.0, std::ceil(room / wish_.pitch_mm));
        std::optional<std::size_t> best;
        double least = std::numeric_limits<double>::infinity();
        for (std::size_t i = 0; i < all_.size(); ++i) {
            double ahead = all_[i].along - at(k);
            ahead += ahead < 0.0 ? whole_ : 0.0;
            if (ahead < k_apart * wish_.width_mm || ahead > room - k_apart * wish_.width_mm) {
                continue;
            }
            // Short of the pitch from either end it does what it must; beyond that it is of less use.
            const double cost =
                std::abs(ahead - room / parts) + k_rank_share * wish_.pitch_mm * static_cast<double>(all_[i].rank);
            if (cost < least) {
                least = cost;
                best = i;
            }
        }
        return best;
    }

    const std::vector<Candidate>& all_;
    double whole_;
    const TabWish& wish_;
    std::vector<std::size_t> taken_;
};

/// The two ends of what has the lowest rank, seen from its widest gap.
std::pair<std::size_t, std::size_t> ends_of_best(const std::vector<Candidate>& all, double whole) {
    const int rank = std::ranges::min_element(all, {}, &Candidate::rank)->rank;
    std::vector<std::size_t> best;
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (all[i].rank == rank) {
            best.push_back(i);
        }
    }
    std::size_t last = best.size() - 1;
    double widest = all[best.front()].along + whole - all[best.back()].along;
    for (std::size_t k = 0; k + 1 < best.size(); ++k) {
        const double gap = all[best[k + 1]].along - all[best[k]].along;
        if (gap > widest) {
            widest = gap;
            last = k;
        }
    }
    return {best[(last + 1) % best.size()], best[last]};
}

}  // namespace

std::vector<Tab> tabs_on(const Profile& outline, const TabWish& wish) {
    const std::vector<Candidate> all = candidates(outline, wish);
    if (all.empty() || !(wish.width_mm > 0.0) || !(wish.pitch_mm > 0.0)) {
        return {};
    }
    const double whole = in_mm(length(outline));
    Chosen chosen(all, whole, wish);
    const auto [first, last] = ends_of_best(all, whole);
    chosen.take(first);
    double apart = all[last].along - all[first].along;
    apart += apart < 0.0 ? whole : 0.0;
    if (std::min(apart, whole - apart) >= k_apart * wish.width_mm) {
        chosen.take(last);
    }
    for (int i = 0; i < k_most_tabs && chosen.divide(wish.pitch_mm, false); ++i) {
    }
    while (chosen.taken().size() < k_least_tabs && chosen.divide(0.0, true)) {
    }
    std::vector<Tab> tabs;
    for (const std::size_t i : chosen.taken()) {
        tabs.push_back(all[i].tab);
    }
    return tabs;
}

std::optional<geometry::Length> widest_gap(const Profile& outline, const std::vector<Tab>& tabs) {
    if (tabs.empty()) {
        return std::nullopt;
    }
    std::vector<double> along;
    for (const Tab& tab : tabs) {
        along.push_back(in_mm(nearest_point(outline, tab.at_mm).along));
    }
    std::sort(along.begin(), along.end());
    double widest = along.front() + in_mm(length(outline)) - along.back();
    for (std::size_t i = 0; i + 1 < along.size(); ++i) {
        widest = std::max(widest, along[i + 1] - along[i]);
    }
    return millimetres(widest);
}

}  // namespace sillwright::core

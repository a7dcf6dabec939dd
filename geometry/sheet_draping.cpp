#include "geometry/sheet_draping.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numbers>
#include <optional>
#include <utility>

namespace sillwright::geometry {

using Eigen::Vector2d;

namespace {

constexpr double k_pi = std::numbers::pi;
/// Points of a mould nearer to one another are one; a thousandth of what any mould is made to.
constexpr double k_same_mm = 1e-6;
/// Rounding of a half-angle computed from coordinates of metres.
constexpr double k_angle_noise = 1e-9;
/// Below it sin(t)/t and its like are taken from their series: the next term is then below rounding.
constexpr double k_small_angle = 1e-4;
/// A step takes no more than this part of a hollow's mouth, so that the places lie closer towards its corner.
constexpr double k_mouth_share = 0.1;
/// A contact is found to this, so that what it leaks of the sheet's volume is below 1e-11.
constexpr double k_contact_mm = 1e-10;
/// Or so near in the arc's half-angle.
constexpr double k_met = 1e-12;
/// From metres to below that.
constexpr int k_halvings = 50;
/// Half-width to which a mouth closes, of that which counts as closed.
constexpr double k_left_open = 0.4;
/// Events for each corner of the mould, before something is wrong: there are a few.
constexpr std::size_t k_most_events = 60;
/// Height of the two clamps above one another that is rounding.
constexpr double k_level_mm = 1e-6;

double cross(const Vector2d& a, const Vector2d& b) {
    return a.x() * b.y() - a.y() * b.x();
}

/// t / sin t
double arc_by_chord(double t) {
    return t < k_small_angle ? 1.0 + t * t / 6.0 : t / std::sin(t);
}

/// One end of a free span: a place on an edge of the mould.
struct End {
    std::size_t edge = 0;  ///< From mould point `edge` to the next.
    Vector2d p = Vector2d::Zero();
};

/// A free span: its ends, the half-angle of its arc, its thickness.
struct Span {
    End a, b;
    double half = 0.0;
    double share = 1.0;
    bool cap = false;  ///< Over the axis: its other end is a's mirror image, and b's edge the last.
};

/// The arc's frame: along the chord, and down to the mould.
struct Chord {
    Vector2d middle, along, down;
    double half_mm = 0.0;

    Chord(const Vector2d& a, const Vector2d& b) : middle{0.5 * (a + b)}, half_mm{0.5 * (b - a).norm()} {
        along = half_mm > 0.0 ? Vector2d((b - a) / (2.0 * half_mm)) : Vector2d(1.0, 0.0);
        down = {along.y(), -along.x()};
    }
    [[nodiscard]] double angle_ahead(const Vector2d& way) const { return std::atan2(way.dot(down), way.dot(along)); }
    [[nodiscard]] double angle_back(const Vector2d& way) const { return std::atan2(way.dot(down), -way.dot(along)); }
};

/// Where an arc that grows rounder first meets something, and its half-angle then.
struct Meeting {
    double half = std::numeric_limits<double>::infinity();
    std::size_t edge = 0;
    Vector2d p = Vector2d::Zero();
};

void keep_first(Meeting& first, const Chord& chord, std::size_t edge, const Vector2d& p) {
    const double x = (p - chord.middle).dot(chord.along);
    const double y = (p - chord.middle).dot(chord.down);
    const double inside = chord.half_mm * chord.half_mm - x * x - y * y;
    if (y <= 0.0 && inside <= 0.0) {
        return;  // behind the chord's ends: only met when all else is
    }
    const double half = std::max(0.0, std::atan2(2.0 * y * chord.half_mm, inside));
    if (half < first.half) {
        first = {half, edge, p};
    }
}

/// The arc over `chord` against the edge from p to q: at the place where it is tangent, or at an end.
void meet_edge(Meeting& first, const Chord& chord, std::size_t edge, const Vector2d& p, const Vector2d& q) {
    keep_first(first, chord, edge, p);
    keep_first(first, chord, edge, q);
    const double length = (q - p).norm();
    const Vector2d way = (q - p) / length;
    const Vector2d from = p - chord.middle;
    const double y = from.dot(chord.down);
    const double slope = way.dot(chord.down);
    const double k = slope * (from.squaredNorm() - chord.half_mm * chord.half_mm) - 2.0 * from.dot(way) * y;
    const double root = y * y + slope * k;
    if (root < 0.0) {
        return;
    }
    const double below = y + std::sqrt(root);
    if (below <= 0.0) {
        return;
    }
    const double on = k / below;
    if (on > 0.0 && on < length) {
        keep_first(first, chord, edge, p + on * way);
    }
}

class Draping {
public:
    Draping(std::vector<Vector2d> mould, DrapeShape shape, const DrapeSteps& steps)
        : mould_{std::move(mould)},
          round_{shape == DrapeShape::revolution},
          step_{in_mm(steps.step)},
          corner_{in_mm(steps.corner)} {
        running_.reserve(mould_.size());
        double run = 0.0;
        for (std::size_t i = 0; i < mould_.size(); ++i) {
            run += i == 0 ? 0.0 : (mould_[i] - mould_[i - 1]).norm();
            running_.push_back(run);
        }
        events_left_ = k_most_events * (mould_.size() + 2);
    }

    Result<DrapedSheet> run() {
        sheet_ = round_ ? k_pi * mould_.front().x() * mould_.front().x() : mould_.back().x() - mould_.front().x();
        rise();
        while (!spans_.empty()) {
            const Span span = spans_.back();
            spans_.pop_back();
            if (!settle(span)) {
                return Error{ErrorCode::does_not_fit, "the sheet does not come to rest on the mould"};
            }
        }
        std::stable_sort(places_.begin(), places_.end(),
                         [](const Place& a, const Place& b) { return a.at != b.at ? a.at < b.at : a.edge < b.edge; });
        DrapedSheet draped;
        draped.sheet = sheet_;
        draped.laid = laid_;
        draped.places.reserve(places_.size());
        for (const Place& place : places_) {
            draped.places.push_back({place.at, place.share});
        }
        return draped;
    }

private:
    struct Place {
        double at;
        std::size_t edge;
        double share;
    };

    [[nodiscard]] double straight(const Vector2d& a, const Vector2d& b) const {
        const double length = (b - a).norm();
        return round_ ? k_pi * std::abs(a.x() + b.x()) * length : length;
    }

    /// Length, or area round the axis, of a span's arc.
    [[nodiscard]] double size(const Vector2d& a, const Vector2d& b, double half, bool cap) const {
        if (cap) {
            const double k = a.x() * std::tan(0.5 * half);
            return k_pi * (a.x() * a.x() + k * k);
        }
        const Chord chord(a, b);
        const double arc = 2.0 * chord.half_mm * arc_by_chord(half);
        if (!round_) {
            return arc;
        }
        // the arc's centroid lies this far below its chord: R (sin t / t - cos t), with R = h / sin t
        const double below = half < k_small_angle ? chord.half_mm * half / 3.0
                                                  : chord.half_mm * (1.0 / half - std::cos(half) / std::sin(half));
        return 2.0 * k_pi * std::abs((chord.middle + below * chord.down).x()) * arc;
    }

    [[nodiscard]] Vector2d far_end(const Vector2d& a, const Span& span, const Vector2d& b) const {
        return span.cap ? Vector2d(-a.x(), a.y()) : b;
    }

    void put(const Vector2d& p, std::size_t edge, double share) {
        places_.push_back({running_[edge] + (p - mould_[edge]).norm(), edge, share});
    }

    /// Whether an edge is a chord of a rounding: its steps of thickness are told at its middle, as the rounding has
    /// none.
    [[nodiscard]] bool is_chord(std::size_t edge) const { return running_[edge + 1] - running_[edge] < step_; }

    void put_way(std::size_t edge, const Vector2d& a, double share_a, const Vector2d& b, double share_b) {
        if (is_chord(edge)) {
            put(0.5 * (a + b), edge, 0.5 * (share_a + share_b));
        } else {
            put(a, edge, share_a);
            put(b, edge, share_b);
        }
    }

    void lay_edge(std::size_t edge, const Vector2d& a, const Vector2d& b, double share) {
        put_way(edge, a, share, b, share);
        laid_ += share * straight(a, b);
    }

    // --- the mould rises -------------------------------------------------------------------------------------------

    /// The points of the upper hull from `from` to `to`, those on its straights too.
    [[nodiscard]] std::vector<std::size_t> hull(std::size_t from, std::size_t to) const {
        std::vector<std::size_t> on;
        for (std::size_t i = from; i <= to; ++i) {
            while (on.size() > 1 && cross(mould_[on.back()] - mould_[on[on.size() - 2]],
                                          mould_[i] - mould_[on.back()]) > k_same_mm * k_same_mm) {
                on.pop_back();
            }
            on.push_back(i);
        }
        return on;
    }

    /// Between two points of the hull: the sheet lies on the edge, or spans it.
    void leave(std::size_t i, std::size_t j, double share) {
        if (j == i + 1) {
            lay_edge(i, mould_[i], mould_[j], share);
        } else {
            spans_.push_back({{i, mould_[i]}, {j - 1, mould_[j]}, 0.0, share, false});
        }
    }

    /// From the mould's top outward to a clamp, by the points of the hull.
    void wrap(const std::vector<std::size_t>& outward) {
        double share = 1.0;
        const double clamp_x = mould_[outward.back()].x();
        double free = straight(mould_[outward.front()], {clamp_x, mould_[outward.front()].y()});
        for (std::size_t k = 0; k + 1 < outward.size(); ++k) {
            const Vector2d& from = mould_[outward[k]];
            const Vector2d& to = mould_[outward[k + 1]];
            const double part = (clamp_x - from.x()) / (to.x() - from.x());
            const double whole = straight(from, from + part * (to - from));
            share *= free / whole;
            leave(std::min(outward[k], outward[k + 1]), std::max(outward[k], outward[k + 1]), share);
            free = whole - straight(from, to);
        }
    }

    void rise() {
        const std::size_t last = mould_.size() - 1;
        double top = mould_.front().y();
        for (const Vector2d& p : mould_) {
            top = std::max(top, p.y());
        }
        const auto is_top = [&](const Vector2d& p) { return p.y() >= top - k_level_mm; };
        const auto left = static_cast<std::size_t>(std::find_if(mould_.begin(), mould_.end(), is_top) - mould_.begin());
        const auto right =
            last - static_cast<std::size_t>(std::find_if(mould_.rbegin(), mould_.rend(), is_top) - mould_.rbegin());
        auto outward = hull(0, left);
        std::reverse(outward.begin(), outward.end());
        wrap(outward);
        const auto across = hull(left, right);
        for (std::size_t k = 0; k + 1 < across.size(); ++k) {
            leave(across[k], across[k + 1], 1.0);
        }
        if (!round_) {
            wrap(hull(right, last));
        } else if (right != last) {
            spans_.push_back({{right, mould_[right]}, {last - 1, mould_[last]}, 0.0, 1.0, true});
        }
    }

    // --- vacuum ----------------------------------------------------------------------------------------------------

    [[nodiscard]] double half_at_a(const Chord& chord, const Vector2d& a, std::size_t edge) const {
        const Vector2d way = mould_[edge + 1] - a;
        return way.norm() > k_same_mm ? chord.angle_ahead(way) : k_pi;
    }
    [[nodiscard]] double half_at_b(const Chord& chord, const Vector2d& b, std::size_t edge) const {
        const Vector2d way = mould_[edge] - b;
        return way.norm() > k_same_mm ? chord.angle_back(way) : k_pi;
    }

    /// Where the arc first meets the mould between its ends.
    [[nodiscard]] Meeting between(const Vector2d& a, std::size_t edge_a, const Vector2d& b, const Span& span) const {
        Meeting first;
        const Chord chord(a, far_end(a, span, b));
        const std::size_t to = span.cap ? mould_.size() - 1 : span.b.edge;
        for (std::size_t i = edge_a + 1; i < to; ++i) {
            const Vector2d& p = mould_[i];
            const Vector2d& q = mould_[i + 1];
            if ((p - a).norm() < k_same_mm) {
                const double half = std::max(0.0, chord.angle_ahead(q - p));
                if (half < first.half) {
                    first = {half, i, p};
                }
            } else if (!span.cap && (q - b).norm() < k_same_mm) {
                const double half = std::max(0.0, chord.angle_back(p - q));
                if (half < first.half) {
                    first = {half, i, q};
                }
            } else {
                meet_edge(first, chord, i, p, q);
            }
        }
        return first;
    }

    /// What is left goes evenly on the mould between the ends.
    void close(const Span& span) {
        const double size_left = size(span.a.p, span.b.p, span.half, span.cap) * span.share;
        std::vector<std::pair<std::size_t, std::pair<Vector2d, Vector2d>>> parts;
        double whole = 0.0;
        const std::size_t end = span.cap ? mould_.size() - 2 : span.b.edge;
        for (std::size_t i = span.a.edge; i <= end; ++i) {
            const Vector2d p = i == span.a.edge ? span.a.p : mould_[i];
            const Vector2d q = !span.cap && i == span.b.edge ? span.b.p : mould_[i + 1];
            parts.push_back({i, {p, q}});
            whole += straight(p, q);
        }
        if (whole <= 0.0) {
            laid_ += size_left;
            return;
        }
        for (const auto& [edge, ends] : parts) {
            lay_edge(edge, ends.first, ends.second, size_left / whole);
        }
    }

    /// The thickness after the ends moved: by what the span kept.
    void thin(Span& span, const Span& before, double moved_mm, bool both) {
        const double was = size(before.a.p, before.b.p, before.half, before.cap);
        const double is = size(span.a.p, span.b.p, span.half, span.cap);
        double laid = 0.0;
        if (round_) {
            laid = straight(before.a.p, span.a.p) + (span.cap ? 0.0 : straight(before.b.p, span.b.p));
            span.share = before.share * (was - 0.5 * laid) / (is + 0.5 * laid);
        } else if (both) {
            const double t = span.half;
            const double chord = (before.b.p - before.a.p).norm();
            const double shrink = 2.0 * moved_mm * std::cos(t) / chord;
            const double sum = moved_mm / chord *
                               (std::abs(shrink) < k_small_angle ? 1.0 + 0.5 * shrink + shrink * shrink / 3.0
                                                                 : -std::log1p(-shrink) / shrink);
            const double rate = t < k_small_angle ? 2.0 * t * t / 3.0 : 2.0 * (std::sin(t) - t * std::cos(t)) / t;
            span.share = before.share * std::exp(-rate * sum);
        } else {
            const double ratio = arc_by_chord(before.half) / arc_by_chord(span.half);
            span.share = before.share * ratio * ratio;
        }
        laid_ += before.share * was - span.share * is;
    }

    /// Ends moved on along their edges by that much.
    [[nodiscard]] Span moved(const Span& span, double by_a, double by_b) const {
        Span next = span;
        next.a.p += by_a * (mould_[span.a.edge + 1] - span.a.p).normalized();
        if (span.cap) {
            return next;
        }
        if (by_b > 0.0) {
            next.b.p += by_b * (mould_[span.b.edge] - span.b.p).normalized();
        }
        return next;
    }

    [[nodiscard]] Chord chord_of(const Span& span) const { return {span.a.p, far_end(span.a.p, span, span.b.p)}; }

    struct Go {
        bool a = false, b = false;
        double most = 0.0;  ///< Way of the ends that move.
    };

    [[nodiscard]] Span at(const Span& span, const Go& go, double way) const {
        Span next = moved(span, go.a ? way : 0.0, go.b ? way : 0.0);
        if (go.a && !go.b) {
            next.half = std::max(span.half, half_at_a_on(next, span));
        } else if (go.b && !go.a) {
            next.half = std::max(span.half, half_at_b_on(next, span));
        }
        return next;
    }
    /// By the wall's direction, which is known at its end too.
    [[nodiscard]] double half_at_a_on(const Span& next, const Span& span) const {
        return chord_of(next).angle_ahead(mould_[span.a.edge + 1] - mould_[span.a.edge]);
    }
    [[nodiscard]] double half_at_b_on(const Span& next, const Span& span) const {
        return chord_of(next).angle_back(mould_[span.b.edge] - mould_[span.b.edge + 1]);
    }

    /// Both ends, or the cap's rim, as far as their edges go, or until the mouth closes.
    [[nodiscard]] Go both_on(const Span& span, const Chord& chord, double to_a, double to_b) const {
        Go go{true, !span.cap, std::min(to_a, to_b)};
        if (std::cos(span.half) > 0.0) {
            go.most = std::min(go.most, (chord.half_mm - k_left_open * corner_) / std::cos(span.half));
        }
        return go;
    }

    /// How far the end at `p` goes alone towards `next` until the arc is tangent to both walls.
    static double alone(const Vector2d& p, const Vector2d& next, const Vector2d& other, double half) {
        const Vector2d way = (next - p).normalized();
        const double off = std::abs(cross(way, other - p));
        return (other - p).dot(way) - off * std::cos(half) / std::sin(half);
    }

    /// How much rounder the arc may grow before it meets something between its ends; negative if it is past that.
    [[nodiscard]] double room(const Span& span) const {
        return between(span.a.p, span.a.edge, span.b.p, span).half - span.half + k_angle_noise;
    }

    /// Moves until something comes in its way: whether it does. Looked at after every step, so that no spike is passed.
    bool go_on(Span& span, const Go& go) {
        double done = 0.0;
        bool stops = false;
        const Span start = span;
        while (done < go.most && !stops) {
            const double mouth = 2.0 * chord_of(span).half_mm;
            const double step = std::max(std::min(step_, k_mouth_share * mouth), k_same_mm);
            double way = go.most - done < 1.5 * step ? go.most : done + step;
            Span next = at(start, go, way);
            stops = room(next) < 0.0;
            if (stops) {
                way = free_until(start, go, done, way);
                next = at(start, go, way);
            }
            next.share = span.share;
            thin(next, span, way - done, go.a && (go.b || span.cap));
            done = way;
            if (go.a) {
                put_way(span.a.edge, span.a.p, span.share, next.a.p, next.share);
            }
            if (go.b) {
                put_way(span.b.edge, span.b.p, span.share, next.b.p, next.share);
            }
            span = next;
        }
        return stops;
    }

    /// How far it goes, between two ways of which the second goes too far: by false position, halved now and then.
    [[nodiscard]] double free_until(const Span& start, const Go& go, double free, double stopped) const {
        double above = std::min(room(at(start, go, free)), 1.0);
        double below = room(at(start, go, stopped));
        for (int i = 0; i < k_halvings && stopped - free > k_contact_mm && above > k_met; ++i) {
            const double part = i % 3 == 2 || above <= 0.0 ? 0.5 : std::clamp(above / (above - below), 0.01, 0.99);
            const double middle = std::lerp(free, stopped, part);
            const double there = std::min(room(at(start, go, middle)), 1.0);
            if (there < 0.0) {
                stopped = middle;
                below = there;
            } else {
                free = middle;
                above = there;
            }
        }
        return free;
    }

    void split(const Span& span, const Meeting& first) {
        const Chord chord = chord_of(span);
        const double radius = chord.half_mm / std::sin(span.half);
        const bool flat = span.half < k_angle_noise;
        const auto half_over = [&](const Vector2d& a, const Vector2d& b) {
            if (flat) {
                return 0.0;
            }
            const double sine = std::min(1.0, 0.5 * (b - a).norm() / radius);
            const double half = std::asin(sine);
            return half;
        };
        // of the two parts one may be more than half a circle: what is left of the whole
        double half_a = half_over(span.a.p, first.p);
        double half_b = half_over(first.p, far_end(span.a.p, span, span.b.p));
        if (half_a + half_b < span.half - k_angle_noise || span.half > 0.5 * k_pi) {
            (half_a > half_b ? half_a : half_b) = span.half - std::min(half_a, half_b);
        }
        const bool at_start = (first.p - mould_[first.edge]).norm() < k_same_mm;
        const bool at_end = (first.p - mould_[first.edge + 1]).norm() < k_same_mm;
        Span left = span;
        left.cap = false;
        left.b = {at_start ? first.edge - 1 : first.edge, first.p};
        left.half = half_a;
        Span right = span;
        right.a = {at_end ? first.edge + 1 : first.edge, first.p};
        right.half = span.cap ? std::atan2(std::sin(half_b), std::cos(half_b)) : half_b;
        if (span.cap) {
            const double before = size(span.a.p, span.b.p, span.half, true);
            if (std::abs(first.p.x()) < k_same_mm) {
                left.b.p.x() = 0.0;
                left.half = 0.5 * span.half;
                left.share = span.share * before / size(left.a.p, left.b.p, left.half, false);
                spans_.push_back(left);
                return;
            }
            const double sine = std::min(1.0, std::abs(first.p.x()) / radius);
            right.half = std::asin(sine);
            left.half = 0.5 * (span.half - right.half);
        }
        spans_.push_back(left);
        spans_.push_back(right);
    }

    bool settle(Span span) {
        while (true) {
            if (events_left_-- == 0) {
                return false;
            }
            const bool same_edge = !span.cap && span.a.edge >= span.b.edge;
            const Chord chord = chord_of(span);
            if (same_edge || 2.0 * chord.half_mm < corner_) {
                close(span);
                return true;
            }
            const double half_a = half_at_a(chord, span.a.p, span.a.edge);
            const double half_b = span.cap ? half_a : half_at_b(chord, span.b.p, span.b.edge);
            const Meeting first = between(span.a.p, span.a.edge, span.b.p, span);
            const double half = std::max(span.half, std::min({half_a, half_b, first.half}));
            if (half >= k_pi - k_angle_noise) {
                return false;
            }
            const double was = size(span.a.p, span.b.p, span.half, span.cap);
            span.share *= was / size(span.a.p, span.b.p, half, span.cap);
            span.half = half;
            if (first.half <= half + k_angle_noise) {
                split(span, first);
                return true;
            }
            const double to_a = (mould_[span.a.edge + 1] - span.a.p).norm();
            const double to_b = span.cap ? to_a : (mould_[span.b.edge] - span.b.p).norm();
            Go go = both_on(span, chord, to_a, to_b);
            if (!span.cap && half_a != half_b) {
                const bool a_first = half_a < half_b;
                const double way = a_first ? alone(span.a.p, mould_[span.a.edge + 1], span.b.p, 0.5 * (half_a + half_b))
                                           : alone(span.b.p, mould_[span.b.edge], span.a.p, 0.5 * (half_a + half_b));
                if (way > k_contact_mm) {  // else it is tangent to both but for rounding
                    go = {a_first, !a_first, std::min(a_first ? to_a : to_b, way)};
                }
            }
            if (go_on(span, go)) {
                split(span, between(span.a.p, span.a.edge, span.b.p, span));
                return true;
            }
            if (go.a && (mould_[span.a.edge + 1] - span.a.p).norm() < k_same_mm) {
                span.a.p = mould_[++span.a.edge];
            }
            if (go.b && (mould_[span.b.edge] - span.b.p).norm() < k_same_mm) {
                span.b.p = mould_[span.b.edge--];
            }
            if (span.cap && span.a.edge + 1 >= mould_.size()) {
                return true;
            }
        }
    }

    std::vector<Vector2d> mould_;
    bool round_;
    double step_, corner_;
    std::vector<double> running_;
    std::vector<Span> spans_;
    std::vector<Place> places_;
    double sheet_ = 0.0, laid_ = 0.0;
    std::size_t events_left_ = 0;
};

std::optional<Error> wrong_with(const std::vector<Vector2d>& mould, DrapeShape shape, const DrapeSteps& steps) {
    if (mould.size() < 2 || !std::all_of(mould.begin(), mould.end(), [](const Vector2d& p) { return p.allFinite(); })) {
        return Error{ErrorCode::invalid_argument,
                     "a mould needs two points or more at different places, all of them finite"};
    }
    if (!(in_mm(steps.step) > 0.0) || !(in_mm(steps.corner) > 0.0)) {
        return Error{ErrorCode::invalid_argument, "the steps of draping must be above zero"};
    }
    const bool round = shape == DrapeShape::revolution;
    if (round && (std::abs(mould.back().x()) > k_same_mm || mould.front().x() >= 0.0)) {
        return Error{ErrorCode::invalid_argument, "a body of revolution must run from its rim to its axis"};
    }
    if (!round && std::abs(mould.back().y() - mould.front().y()) > k_level_mm) {
        return Error{ErrorCode::invalid_argument, "the two clamps must be equally high"};
    }
    const double left = mould.front().x();
    const double right = mould.back().x();
    if (!(right > left)) {
        return Error{ErrorCode::invalid_argument, "a mould must run from left to right"};
    }
    const double level = mould.front().y() - k_level_mm;
    const bool wide = std::any_of(mould.begin() + 1, mould.end() - 1, [&](const Vector2d& p) {
        return p.y() > level && (p.x() < left + k_same_mm || (!round && p.x() > right - k_same_mm));
    });
    if (wide) {
        return Error{ErrorCode::does_not_fit, "the mould is wider than its clamps"};
    }
    return std::nullopt;
}

}  // namespace

double DrapedSheet::share_at(double at_mm) const {
    const auto behind = std::upper_bound(places.begin(), places.end(), at_mm,
                                         [](double at, const DrapedPlace& place) { return at < place.at_mm; });
    if (behind == places.begin()) {
        return behind->share;
    }
    const auto before = behind - 1;
    if (behind == places.end()) {
        return before->share;
    }
    return std::lerp(before->share, behind->share, (at_mm - before->at_mm) / (behind->at_mm - before->at_mm));
}

Result<DrapedSheet> draped(const std::vector<Vector2d>& mould_mm, DrapeShape shape, const DrapeSteps& steps) {
    std::vector<Vector2d> mould;
    mould.reserve(mould_mm.size());
    for (const Vector2d& p : mould_mm) {
        if (mould.empty() || !((p - mould.back()).norm() <= k_same_mm)) {  // what is not finite is kept, to be refused
            mould.push_back(p);
        }
    }
    if (const auto error = wrong_with(mould, shape, steps)) {
        return *error;
    }
    return Draping(std::move(mould), shape, steps).run();
}

}  // namespace sillwright::geometry

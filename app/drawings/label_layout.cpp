#include "app/drawings/label_layout.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <limits>
#include <numbers>
#include <optional>
#include <utility>

namespace sillwright::app {

QLineF leader(const QRectF& box, const QPointF& at) {
    return {QPointF(std::clamp(at.x(), box.left(), box.right()), std::clamp(at.y(), box.top(), box.bottom())), at};
}

namespace {

/// Free space round a text, pixels.
constexpr double k_air = 3.0;
/// Distances from the point to the text's nearest side, pixels; beyond the
/// second a leader is drawn.
constexpr std::array<double, 8> k_distances{8.0, 14.0, 24.0, 36.0, 52.0, 72.0, 96.0, 130.0};
constexpr double k_far = 14.0;
constexpr std::size_t k_directions = 16;
/// A leader may cross a line sooner than a text may stand on one; another text
/// under a text, or the sheet's edge, is worse still.
constexpr int k_cost_of_leader = 1;
constexpr int k_cost_of_line = 20;
constexpr int k_cost_of_text = 400;
/// A leader begins on a line of the drawing: its last bit is not looked at.
constexpr double k_leader_end = 4.0;

/// Unit vectors in the directions that are tried, y down.
std::array<QPointF, k_directions> directions() {
    std::array<QPointF, k_directions> made;
    for (std::size_t i = 0; i < made.size(); ++i) {
        const double angle = 2.0 * std::numbers::pi * static_cast<double>(i) / k_directions;
        made[i] = QPointF(std::cos(angle), -std::sin(angle));
    }
    return made;
}

/// The text in a direction from its point, its nearest side `distance` off.
QRectF box_towards(const QPointF& at, const QSizeF& size, std::size_t direction, double distance) {
    static const std::array<QPointF, k_directions> k_all = directions();
    const QPointF unit = k_all[direction];
    return {at.x() + unit.x() * (distance + size.width() / 2.0) - size.width() / 2.0,
            at.y() + unit.y() * (distance + size.height() / 2.0) - size.height() / 2.0, size.width(), size.height()};
}

/// Cheaper than `crosses`: false where the line's bounds miss the box.
bool may_cross(const QLineF& line, const QRectF& box) {
    return std::min(line.x1(), line.x2()) <= box.right() && std::max(line.x1(), line.x2()) >= box.left() &&
           std::min(line.y1(), line.y2()) <= box.bottom() && std::max(line.y1(), line.y2()) >= box.top();
}

int count_crossed(const std::vector<QLineF>& lines, const QRectF& box) {
    return static_cast<int>(std::count_if(
        lines.begin(), lines.end(), [&](const QLineF& line) { return may_cross(line, box) && crosses(line, box); }));
}

/// What a place costs; 0 if it is free.
int cost(const LabelPlace& place, const std::vector<LabelPlace>& taken, const std::vector<QLineF>& lines,
         const QRectF& sheet) {
    const QRectF aired = place.box.adjusted(-k_air, -k_air, k_air, k_air);
    int sum = sheet.contains(aired) ? 0 : k_cost_of_text;
    sum += k_cost_of_line * count_crossed(lines, aired);
    const QLineF line = leader(place.box, place.at);
    for (const LabelPlace& other : taken) {
        const bool hit = other.box.intersects(aired) || (place.far && crosses(line, other.box));
        sum += hit ? k_cost_of_text : 0;
    }
    if (place.far) {
        QLineF shortened = line;
        shortened.setLength(std::max(0.0, line.length() - k_leader_end));
        const QRectF bounds = QRectF(shortened.p1(), shortened.p2()).normalized();
        sum += k_cost_of_leader * static_cast<int>(std::count_if(lines.begin(), lines.end(), [&](const QLineF& other) {
                   return may_cross(other, bounds) && shortened.intersects(other) == QLineF::BoundedIntersection;
               }));
    }
    return sum;
}

/// The lines that can matter to a label.
std::vector<QLineF> lines_near(const LabelWish& wish, const std::vector<QLineF>& lines) {
    QRectF reach;
    const double beyond = k_distances.back() + std::max(wish.size.width(), wish.size.height()) + k_air;
    for (const QPointF& at : wish.at) {
        reach |= QRectF(at.x() - beyond, at.y() - beyond, 2.0 * beyond, 2.0 * beyond);
    }
    std::vector<QLineF> near;
    std::copy_if(lines.begin(), lines.end(), std::back_inserter(near),
                 [&](const QLineF& line) { return may_cross(line, reach); });
    return near;
}

/// The place that was held, if it is still free.
std::optional<LabelPlace> held_place(const LabelWish& wish, const std::vector<LabelPlace>& taken,
                                     const std::vector<QLineF>& lines, const QRectF& sheet) {
    if (!wish.held || wish.held->at >= wish.at.size()) {
        return std::nullopt;
    }
    const QPointF at = wish.at[wish.held->at];
    LabelPlace place{QRectF(at + wish.held->offset, wish.size), at, wish.held->far, wish.held->at, 0};
    place.cost = cost(place, taken, lines, sheet);
    return place.cost <= wish.held->cost ? std::optional(place) : std::nullopt;
}

LabelPlace best_place(const LabelWish& wish, const std::vector<LabelPlace>& taken, const std::vector<QLineF>& lines,
                      const QRectF& sheet) {
    if (const auto held = held_place(wish, taken, lines, sheet)) {
        return *held;
    }
    const std::vector<QLineF> near = lines_near(wish, lines);
    LabelPlace best;
    int least = std::numeric_limits<int>::max();
    for (const double distance : k_distances) {
        for (std::size_t number = 0; number < wish.at.size(); ++number) {
            const QPointF at = wish.at[number];
            for (std::size_t i = 0; i < k_directions && least > 0; ++i) {
                LabelPlace place{box_towards(at, wish.size, i, distance), at, distance > k_far, number, 0};
                place.cost = cost(place, taken, near, sheet);
                if (place.cost < least) {
                    least = place.cost;
                    best = place;
                }
            }
        }
    }
    return best;
}

}  // namespace

bool LabelPlace::covers_text() const {
    return cost >= k_cost_of_text;
}

bool LabelPlace::covers_line() const {
    return cost >= k_cost_of_line;
}

bool crosses(const QLineF& line, const QRectF& box) {
    // The part of the line inside all four sides. Source: Liang and Barsky 1984.
    double from = 0.0;
    double to = 1.0;
    const std::array<std::pair<double, double>, 4> sides{{{-line.dx(), line.x1() - box.left()},
                                                          {line.dx(), box.right() - line.x1()},
                                                          {-line.dy(), line.y1() - box.top()},
                                                          {line.dy(), box.bottom() - line.y1()}}};
    for (const auto& [step, room] : sides) {
        if (step == 0.0) {
            if (room < 0.0) {
                return false;
            }
        } else if (step < 0.0) {
            from = std::max(from, room / step);
        } else {
            to = std::min(to, room / step);
        }
    }
    return from <= to;
}

std::vector<LabelPlace> place_labels(const std::vector<LabelWish>& wishes, const std::vector<QLineF>& lines,
                                     const QRectF& sheet) {
    std::vector<LabelPlace> places;
    std::vector<QLineF> obstacles = lines;
    for (const LabelWish& wish : wishes) {
        places.push_back(best_place(wish, places, obstacles, sheet));
        if (places.back().far) {
            obstacles.push_back(leader(places.back().box, places.back().at));
        }
    }
    return places;
}

}  // namespace sillwright::app

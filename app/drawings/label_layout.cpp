#include "app/drawings/label_layout.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
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
constexpr int k_directions = 16;
/// Another text under a text is worse than a line under it, and so is the sheet's edge.
constexpr int k_cost_of_text = 4;

/// The text in direction `angle` from its point, its nearest side `distance` off.
QRectF box_towards(const LabelWish& wish, double angle, double distance) {
    const double cosine = std::cos(angle);
    const double sine = std::sin(angle);
    const QPointF centre(wish.at.x() + cosine * (distance + wish.size.width() / 2.0),
                         wish.at.y() - sine * (distance + wish.size.height() / 2.0));
    return {centre.x() - wish.size.width() / 2.0, centre.y() - wish.size.height() / 2.0, wish.size.width(),
            wish.size.height()};
}

int cost(const QRectF& box, const std::vector<LabelPlace>& taken, const std::vector<QLineF>& lines,
         const QRectF& sheet) {
    const QRectF aired = box.adjusted(-k_air, -k_air, k_air, k_air);
    int sum = sheet.contains(aired) ? 0 : k_cost_of_text;
    for (const LabelPlace& other : taken) {
        sum += other.box.intersects(aired) ? k_cost_of_text : 0;
    }
    sum += static_cast<int>(
        std::count_if(lines.begin(), lines.end(), [&](const QLineF& line) { return crosses(line, aired); }));
    return sum;
}

/// A leader that runs under another text.
int leader_cost(const QLineF& line, const std::vector<LabelPlace>& taken) {
    const auto crossed = std::count_if(taken.begin(), taken.end(), [&](const auto& t) { return crosses(line, t.box); });
    return k_cost_of_text * static_cast<int>(crossed);
}

LabelPlace best_place(const LabelWish& wish, const std::vector<LabelPlace>& taken, const std::vector<QLineF>& lines,
                      const QRectF& sheet) {
    LabelPlace best;
    int least = std::numeric_limits<int>::max();
    for (const double distance : k_distances) {
        for (int i = 0; i < k_directions; ++i) {
            const QRectF box = box_towards(wish, 2.0 * std::numbers::pi * i / k_directions, distance);
            const int sum =
                cost(box, taken, lines, sheet) + (distance > k_far ? leader_cost(leader(box, wish.at), taken) : 0);
            if (sum < least) {
                least = sum;
                best = {box, distance > k_far};
            }
            if (sum == 0) {
                return best;
            }
        }
    }
    return best;
}

}  // namespace

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
            obstacles.push_back(leader(places.back().box, wish.at));
        }
    }
    return places;
}

}  // namespace sillwright::app

#include "core/handover/template_drawing.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "core/number_text.h"
#include "core/typed.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::ChainVertex;
using geometry::Drawing;
using geometry::millimetres;

namespace {

constexpr double k_dash_mm = 6.0;
constexpr double k_between_dashes_mm = 3.0;
constexpr double k_arrow_mm = 4.0;
/// Half a turn from a chain's vertex to the next.
constexpr double k_half_turn_bulge = 1.0;
/// Sizes that agree to less than this are the same.
constexpr double k_same_mm = 1e-6;

}  // namespace

Drawing template_drawing() {
    Drawing drawing;
    drawing.layers = {{k_cut_outside, 7}, {k_drill, 5}, {k_note, 8}};
    return drawing;
}

void add_line(Drawing& drawing, const char* layer, const Vector2d& from, const Vector2d& to) {
    drawing.entities.push_back({layer, geometry::DrawnLine{from, to}});
}

void add_chain(Drawing& drawing, const char* layer, const std::vector<Vector2d>& points) {
    if (points.size() < 2) {
        return;
    }
    geometry::DrawnChain chain;
    for (const Vector2d& p : points) {
        chain.vertices.push_back({p, 0.0});
    }
    drawing.entities.push_back({layer, std::move(chain)});
}

void add_dashes(Drawing& drawing, const char* layer, const std::vector<Vector2d>& points) {
    double left = k_dash_mm;
    bool drawn = true;
    for (std::size_t i = 1; i < points.size(); ++i) {
        Vector2d at = points[i - 1];
        double rest = (points[i] - at).norm();
        while (rest > k_same_mm) {
            const double step = std::min(rest, left);
            const Vector2d next = at + step / rest * (points[i] - at);
            if (drawn) {
                add_line(drawing, layer, at, next);
            }
            at = next;
            rest -= step;
            left -= step;
            if (left <= k_same_mm) {
                drawn = !drawn;
                left = drawn ? k_dash_mm : k_between_dashes_mm;
            }
        }
    }
}

void add_circle(Drawing& drawing, const char* layer, const Vector2d& centre, double radius) {
    drawing.entities.push_back({layer, geometry::DrawnCircle{centre, millimetres(radius)}});
}

void add_slot(Drawing& drawing, const char* layer, const Vector2d& centre, const Vector2d& way, double length,
              double width) {
    if (length - width < k_same_mm) {
        add_circle(drawing, layer, centre, width / 2.0);
        return;
    }
    const Vector2d end = (length - width) / 2.0 * way;
    const Vector2d side = width / 2.0 * Vector2d(-way.y(), way.x());
    geometry::DrawnChain chain;
    chain.closed = true;
    chain.vertices = {{centre - end - side, 0.0},
                      {centre + end - side, k_half_turn_bulge},
                      {centre + end + side, 0.0},
                      {centre - end + side, k_half_turn_bulge}};
    drawing.entities.push_back({layer, std::move(chain)});
}

void add_cross(Drawing& drawing, const char* layer, const Vector2d& centre, double arm) {
    add_line(drawing, layer, centre - Vector2d(arm, 0.0), centre + Vector2d(arm, 0.0));
    add_line(drawing, layer, centre - Vector2d(0.0, arm), centre + Vector2d(0.0, arm));
}

void add_arrow(Drawing& drawing, const char* layer, const Vector2d& from, const Vector2d& to) {
    const Vector2d way = (to - from).normalized();
    const Vector2d side(-way.y(), way.x());
    add_line(drawing, layer, from, to);
    add_chain(drawing, layer,
              {to - k_arrow_mm * way + k_arrow_mm / 3.0 * side, to, to - k_arrow_mm * way - k_arrow_mm / 3.0 * side});
}

void add_words(Drawing& drawing, const Vector2d& middle, double height, const std::string& words) {
    drawing.entities.push_back(
        {k_note, geometry::DrawnText{middle, millimetres(height), {}, words, geometry::TextPlace::middle}});
}

void add_words_from(Drawing& drawing, const Vector2d& at, double height, const std::string& words) {
    drawing.entities.push_back(
        {k_note, geometry::DrawnText{at, millimetres(height), {}, words, geometry::TextPlace::left}});
}

std::string template_number(double mm, BareUnit unit) {
    const int decimals = unit == BareUnit::mm ? 1 : unit == BareUnit::cm ? 2 : 3;
    return fixed_text(to_unit(millimetres(mm), unit), decimals);
}

std::string template_length(double mm, BareUnit unit) {
    return template_number(mm, unit) + (unit == BareUnit::mm ? " mm" : unit == BareUnit::cm ? " cm" : " in");
}

std::string side_words(Side side) {
    return side == Side::right ? "RIGHT SIDE" : "LEFT SIDE";
}

}  // namespace sillwright::core

#include "geometry/drawing.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <set>
#include <string_view>
#include <utility>

namespace sillwright::geometry {

namespace {

/// Segments made by the same formulas meet to 1e-12 mm; a gap that a router
/// could see is a thousand times wider than this.
constexpr double k_meet_mm = 1e-6;

constexpr double k_full_turn = 2.0 * std::numbers::pi;
/// Sweeps that differ by rounding only.
constexpr double k_same_angle = 1e-9;
/// Beyond this the chord is short against the radius, and rounding of the ends
/// would turn into an error of the radius.
constexpr double k_longest_bulge = 300.0 * std::numbers::pi / 180.0;

Eigen::Vector2d on_circle(const Eigen::Vector2d& centre, double radius, double angle) {
    return centre + radius * Eigen::Vector2d{std::cos(angle), std::sin(angle)};
}

Eigen::Vector2d first_point(const Segment& segment) {
    if (const auto* line = std::get_if<LineSegment>(&segment.shape)) {
        return line->from;
    }
    const auto& arc = std::get<ArcSegment>(segment.shape);
    return on_circle(arc.centre, arc.radius_mm, in_rad(arc.start));
}

Eigen::Vector2d last_point(const Segment& segment) {
    if (const auto* line = std::get_if<LineSegment>(&segment.shape)) {
        return line->to;
    }
    const auto& arc = std::get<ArcSegment>(segment.shape);
    return on_circle(arc.centre, arc.radius_mm, in_rad(arc.start) + in_rad(arc.sweep));
}

Error segment_error(ErrorCode code, std::size_t index, const std::string& what) {
    return Error{code, "Segment " + std::to_string(index + 1) + " of the profile " + what};
}

std::optional<Error> segment_fault(const Segment& segment, std::size_t index) {
    if (!first_point(segment).allFinite() || !last_point(segment).allFinite()) {
        return segment_error(ErrorCode::invalid_argument, index, "has a number that is not finite.");
    }
    const auto* arc = std::get_if<ArcSegment>(&segment.shape);
    if (arc != nullptr && (!(arc->radius_mm > 0.0) || arc->sweep == Angle{} ||
                           !(std::abs(in_rad(arc->sweep)) <= k_full_turn + k_same_angle))) {
        return segment_error(ErrorCode::invalid_argument, index,
                             "is an arc that needs a radius and a sweep between none and a full turn.");
    }
    return std::nullopt;
}

std::optional<Error> fault(const Profile& profile) {
    if (profile.segments.empty()) {
        return Error{ErrorCode::invalid_argument, "The profile has no segment."};
    }
    for (std::size_t i = 0; i < profile.segments.size(); ++i) {
        if (auto error = segment_fault(profile.segments[i], i)) {
            return error;
        }
        const bool last = i + 1 == profile.segments.size();
        if (last && !profile.closed) {
            break;
        }
        const Segment& next = profile.segments[last ? 0 : i + 1];
        if (!((first_point(next) - last_point(profile.segments[i])).norm() <= k_meet_mm)) {
            return segment_error(ErrorCode::does_not_fit, i, "does not end where the next begins.");
        }
    }
    return std::nullopt;
}

/// The circle that the arcs of a profile make up together, if they do.
std::optional<DrawnCircle> circle_of(const Profile& profile) {
    const auto* first = std::get_if<ArcSegment>(&profile.segments.front().shape);
    double sweep = 0.0;
    for (const Segment& segment : profile.segments) {
        const auto* arc = std::get_if<ArcSegment>(&segment.shape);
        if (first == nullptr || arc == nullptr || (arc->centre - first->centre).norm() > k_meet_mm ||
            std::abs(arc->radius_mm - first->radius_mm) > k_meet_mm) {
            return std::nullopt;
        }
        sweep += in_rad(arc->sweep);
    }
    if (std::abs(std::abs(sweep) - k_full_turn) > k_same_angle) {
        return std::nullopt;
    }
    return DrawnCircle{first->centre, millimetres(first->radius_mm)};
}

void append_segment(DrawnChain& chain, const Segment& segment) {
    const auto* arc = std::get_if<ArcSegment>(&segment.shape);
    if (arc == nullptr) {
        chain.vertices.push_back({first_point(segment), 0.0});
        return;
    }
    const double sweep = in_rad(arc->sweep);
    const int parts = std::abs(sweep) > k_longest_bulge ? 2 : 1;
    for (int part = 0; part < parts; ++part) {
        const double start = in_rad(arc->start) + sweep * part / parts;
        chain.vertices.push_back({on_circle(arc->centre, arc->radius_mm, start), std::tan(sweep / parts / 4.0)});
    }
}

void extend_by_arc(Eigen::AlignedBox2d& box, const DrawnArc& arc) {
    const double begin = in_rad(arc.start) + std::min(0.0, in_rad(arc.sweep));
    const double end = begin + std::abs(in_rad(arc.sweep));
    const double radius = in_mm(arc.radius);
    box.extend(on_circle(arc.centre_mm, radius, begin));
    box.extend(on_circle(arc.centre_mm, radius, end));
    constexpr double k_quarter = std::numbers::pi / 2.0;
    for (double quarter = std::ceil(begin / k_quarter); quarter * k_quarter < end; quarter += 1.0) {
        box.extend(on_circle(arc.centre_mm, radius, quarter * k_quarter));
    }
}

struct Extend {
    Eigen::AlignedBox2d& box;

    void operator()(const DrawnLine& line) const {
        box.extend(line.from_mm);
        box.extend(line.to_mm);
    }
    void operator()(const DrawnArc& arc) const { extend_by_arc(box, arc); }
    void operator()(const DrawnCircle& circle) const {
        const Eigen::Vector2d reach = Eigen::Vector2d::Constant(in_mm(circle.radius));
        box.extend(Eigen::Vector2d{circle.centre_mm - reach});
        box.extend(Eigen::Vector2d{circle.centre_mm + reach});
    }
    void operator()(const DrawnChain& chain) const {
        for (std::size_t i = 0; i < chain.vertices.size(); ++i) {
            const ChainVertex& vertex = chain.vertices[i];
            box.extend(vertex.p_mm);
            const bool last = i + 1 == chain.vertices.size();
            const ChainVertex& next = chain.vertices[last ? 0 : i + 1];
            if (vertex.bulge != 0.0 && !(last && !chain.closed) && next.p_mm != vertex.p_mm) {
                extend_by_arc(box, arc_of_bulge(vertex.p_mm, next.p_mm, vertex.bulge));
            }
        }
    }
    void operator()(const DrawnText& text) const { box.extend(text.at_mm); }
    void operator()(const DrawnPoint& point) const { box.extend(point.at_mm); }
};

/// A shape turned and moved.
struct Placer {
    const Eigen::Isometry2d& pose;

    [[nodiscard]] Angle turned(Angle angle) const {
        return angle + radians(std::atan2(pose.linear()(1, 0), pose.linear()(0, 0)));
    }
    DrawnShape operator()(const DrawnLine& line) const { return DrawnLine{pose * line.from_mm, pose * line.to_mm}; }
    DrawnShape operator()(const DrawnArc& arc) const {
        return DrawnArc{pose * arc.centre_mm, arc.radius, turned(arc.start), arc.sweep};
    }
    DrawnShape operator()(const DrawnCircle& circle) const {
        return DrawnCircle{pose * circle.centre_mm, circle.radius};
    }
    DrawnShape operator()(DrawnChain chain) const {
        for (ChainVertex& vertex : chain.vertices) {
            vertex.p_mm = pose * vertex.p_mm;
        }
        return chain;
    }
    DrawnShape operator()(DrawnText text) const {
        text.at_mm = pose * text.at_mm;
        text.turned = turned(text.turned);
        return text;
    }
    DrawnShape operator()(const DrawnPoint& point) const { return DrawnPoint{pose * point.at_mm}; }
};

struct Divider {
    double divisor;

    void operator()(DrawnLine& line) const {
        line.from_mm /= divisor;
        line.to_mm /= divisor;
    }
    void operator()(DrawnArc& arc) const {
        arc.centre_mm /= divisor;
        arc.radius = arc.radius / divisor;
    }
    void operator()(DrawnCircle& circle) const {
        circle.centre_mm /= divisor;
        circle.radius = circle.radius / divisor;
    }
    void operator()(DrawnChain& chain) const {
        for (ChainVertex& vertex : chain.vertices) {
            vertex.p_mm /= divisor;
        }
    }
    void operator()(DrawnText& text) const {
        text.at_mm /= divisor;
        text.height = text.height / divisor;
    }
    void operator()(DrawnPoint& point) const { point.at_mm /= divisor; }
};

/// Whether some of it is more than blanks and control characters.
bool has_words(std::string_view utf8) {
    for (std::size_t i = 0; i < utf8.size(); ++i) {
        const auto byte = static_cast<unsigned char>(utf8[i]);
        if (byte == 0xC2 && i + 1 < utf8.size() && static_cast<unsigned char>(utf8[i + 1]) < 0xA0) {
            ++i;  // a control character of two bytes
        } else if (byte > ' ' && byte != 0x7F) {
            return true;
        }
    }
    return false;
}

/// What is wrong with a shape; nothing if it can be written.
struct ShapeFault {
    using Fault = std::optional<std::string>;

    static Fault finite(bool all) { return all ? std::nullopt : Fault{"has a number that is not finite"}; }
    static Fault positive(Length length, const char* what) {
        return length > Length{} && std::isfinite(in_mm(length))
                   ? std::nullopt
                   : Fault{std::string{"needs a "} + what + " above 0 mm"};
    }
    Fault operator()(const DrawnLine& line) const { return finite(line.from_mm.allFinite() && line.to_mm.allFinite()); }
    Fault operator()(const DrawnArc& arc) const {
        const double sweep = std::abs(in_rad(arc.sweep));
        if (!(sweep > 0.0 && sweep < k_full_turn) || !std::isfinite(in_rad(arc.start))) {
            return "is an arc that needs a sweep of more than nothing and less than a full turn";
        }
        return (*this)(DrawnCircle{arc.centre_mm, arc.radius});
    }
    Fault operator()(const DrawnCircle& circle) const {
        const Fault radius = positive(circle.radius, "radius");
        return radius ? radius : finite(circle.centre_mm.allFinite());
    }
    Fault operator()(const DrawnChain& chain) const {
        if (chain.vertices.size() < 2) {
            return "is a chain of fewer than two vertices";
        }
        return finite(std::all_of(chain.vertices.begin(), chain.vertices.end(), [](const ChainVertex& vertex) {
            return vertex.p_mm.allFinite() && std::isfinite(vertex.bulge);
        }));
    }
    Fault operator()(const DrawnText& text) const {
        if (!has_words(text.words)) {
            return "is writing without words";
        }
        const Fault height = positive(text.height, "height");
        return height ? height : finite(text.at_mm.allFinite() && std::isfinite(in_rad(text.turned)));
    }
    Fault operator()(const DrawnPoint& point) const { return finite(point.at_mm.allFinite()); }
};

bool is_layer_name(std::string_view name) {
    constexpr std::string_view k_allowed = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_";
    return !name.empty() && name != "0" && name.find_first_not_of(k_allowed) == std::string_view::npos;
}

}  // namespace

Result<DrawnShape> shape_of(const Profile& profile) {
    if (const auto error = fault(profile)) {
        return *error;
    }
    if (const auto circle = circle_of(profile)) {
        return DrawnShape{*circle};
    }
    DrawnChain chain;
    chain.closed = profile.closed;
    for (const Segment& segment : profile.segments) {
        append_segment(chain, segment);
    }
    if (!profile.closed) {
        chain.vertices.push_back({last_point(profile.segments.back()), 0.0});
    }
    return DrawnShape{chain};
}

DrawnArc arc_of_bulge(const Eigen::Vector2d& from_mm, const Eigen::Vector2d& to_mm, double bulge) {
    // With sweep w = 4 atan(bulge), the centre is chord / (2 tan(w / 2)) to the left of the chord's middle, and
    // tan(w / 2) = 2 bulge / (1 - bulge^2).
    const Eigen::Vector2d chord = to_mm - from_mm;
    const Eigen::Vector2d left{-chord.y(), chord.x()};
    const Eigen::Vector2d centre = (from_mm + to_mm) / 2.0 + left * ((1.0 - bulge * bulge) / (4.0 * bulge));
    const Eigen::Vector2d spoke = from_mm - centre;
    return {centre, millimetres(spoke.norm()), radians(std::atan2(spoke.y(), spoke.x())),
            radians(4.0 * std::atan(bulge))};
}

Eigen::AlignedBox2d bounds_mm(const Drawing& drawing) {
    Eigen::AlignedBox2d box;
    for (const DrawnEntity& entity : drawing.entities) {
        std::visit(Extend{box}, entity.shape);
    }
    return box;
}

DrawnShape placed(const DrawnShape& shape, const Eigen::Isometry2d& pose) {
    return std::visit(Placer{pose}, shape);
}

Drawing divided(const Drawing& drawing, double divisor) {
    Drawing other = drawing;
    for (DrawnEntity& entity : other.entities) {
        std::visit(Divider{divisor}, entity.shape);
    }
    return other;
}

Status check_drawing(const Drawing& drawing) {
    std::set<std::string> names;
    for (const DrawingLayer& layer : drawing.layers) {
        if (!is_layer_name(layer.name) || !names.insert(layer.name).second || layer.colour < 1 || layer.colour > 255) {
            return Error{ErrorCode::invalid_argument,
                         "The drawing's layer \"" + layer.name +
                             "\" needs a name of its own from A-Z, 0-9 and _, and a colour from 1 to 255."};
        }
    }
    for (std::size_t i = 0; i < drawing.entities.size(); ++i) {
        const DrawnEntity& entity = drawing.entities[i];
        auto what = std::visit(ShapeFault{}, entity.shape);
        if (!what && !names.contains(entity.layer)) {
            what = "stands on a layer that the drawing has not";
        }
        if (what) {
            return Error{ErrorCode::invalid_argument,
                         "Entity " + std::to_string(i + 1) + " on layer \"" + entity.layer + "\" " + *what + "."};
        }
    }
    return std::monostate{};
}

}  // namespace sillwright::geometry

#include "core/road/outer_edges.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <utility>

#include "core/drawn_loft.h"
#include "core/edit/field_change.h"
#include "core/finding_state.h"
#include "core/number_text.h"
#include "core/skirt/surface.h"
#include "geometry/corner.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::Corner;
using geometry::CornerKind;
using geometry::in_mm;
using geometry::Length;
using geometry::Loft;
using geometry::millimetres;
using geometry::Profile;

namespace {

constexpr double k_softest_hard_shore_a = 60.0;
constexpr double k_low_mm = 1.5, k_high_mm = 5.0;
constexpr double k_radius_mm = 2.5, k_blunt_mm = 0.5;
constexpr double k_sphere_radius_mm = 50.0;

/// The generator of the cone is this far from upright.
const double k_cone = geometry::in_rad(geometry::degrees(30.0));

/// Places between two key places.
constexpr int k_between = 7;
/// A sphere touches if nothing is nearer to its middle than its radius, but for this: the section is exact.
constexpr double k_touch_mm = 1e-6;
/// A turn of less is a fair line, no edge: common practice, no source.
constexpr double k_least_turn_tan_half = 0.0437;  // 5 degrees.
/// A smaller margin of a radius is close.
constexpr double k_close_mm = 0.2;

double height_over_cone(const Vector2d& p) {
    return p.x() * std::cos(k_cone) - p.y() * std::sin(k_cone);
}

Vector2d left_of(const Vector2d& direction) {
    return {-direction.y(), direction.x()};
}

/// An edge of one section.
struct Edge {
    std::string node;
    double mark = 0.0;
    std::size_t piece = 0;
    Length along;
    Vector2d p_mm;  ///< On the outside.
    double radius_mm = 0.0;
    double outside_mm = 0.0;  ///< From the drawn line there.
    double stands_out_mm = 0.0;
    EdgeRule rule = EdgeRule::exempt;
    bool free_end = false;
    bool below = false;
    std::array<Vector2d, 3> normals{};  ///< Ways from which it is met: its two sides and between.

    [[nodiscard]] std::optional<double> margin() const {
        const auto asked = radius_asked_mm(rule);
        return asked ? std::optional(radius_mm - *asked) : std::nullopt;
    }
};

/// The painted outside, and the sheet's thickness, by place.
struct Faces {
    geometry::OffsetLaw outside, sheet;
};

/// One section of a piece and of the body beside it.
struct OneSection {
    std::vector<Corner> corners;
    Profile line;                 ///< As drawn.
    geometry::OffsetRow outside;  ///< By mark.
    geometry::OffsetRow sheet;
    Vector2d floor_mm;
    std::optional<Profile> body;
    double body_out_mm = 0.0;  ///< Its outermost.
};

double outermost(const Profile& profile) {
    double out = geometry::start_point(profile.segments.front()).x();
    for (const geometry::Segment& segment : profile.segments) {
        out = std::max(out, geometry::end_point(segment).x());
        if (const auto* arc = std::get_if<geometry::ArcSegment>(&segment.shape)) {
            const double at = geometry::nearest_fraction(segment, arc->centre + Vector2d(2.0 * arc->radius_mm, 0.0));
            out = std::max(out, geometry::point_at(segment, at).x());
        }
    }
    return out;
}

/// Points of the outside that decide where the cone touches: of a corner, the one that looks 30 degrees down.
std::vector<Vector2d> cone_points(const std::vector<Corner>& corners, const geometry::OffsetRow& outside) {
    const Vector2d looking(std::cos(k_cone), -std::sin(k_cone));
    std::vector<Vector2d> points;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const Corner& corner = corners[i];
        const double outside_mm = outside.at(static_cast<double>(i));
        if (corner.kind == CornerKind::on_straight) {
            continue;
        }
        if (corner.kind == CornerKind::end) {
            points.emplace_back(corner.p_mm +
                                outside_mm * left_of(corner.after.isZero() ? corner.before : corner.after));
            continue;
        }
        const Vector2d before = left_of(corner.before);
        const Vector2d after = left_of(corner.after);
        const Vector2d to_meeting = (before + after) / (1.0 + before.dot(after));
        const double radius = corner.radius_at(outside_mm);
        if (radius <= 0.0) {
            points.emplace_back(corner.p_mm + outside_mm * to_meeting);
            continue;
        }
        const Vector2d centre = corner.p_mm + corner.side * corner.radius_mm * to_meeting;
        points.emplace_back(centre - corner.side * radius * before);
        points.emplace_back(centre - corner.side * radius * after);
        const double half = std::cos(std::atan(corner.tan_half));
        const Vector2d middle = (before + after).normalized();
        if (corner.side < 0.0 && looking.dot(middle) >= half) {  // Convex, and it looks that way somewhere.
            points.emplace_back(centre + radius * looking);
        }
    }
    return points;
}

/// Whether a 100 mm sphere beside the part can lie against the outside at `p`, its middle along `normal`.
/// `off_line_mm`: of the outside there from the drawn line.
bool sphere_lies_at(const OneSection& section, const Vector2d& p, const Vector2d& normal, double off_line_mm) {
    const Vector2d middle = p + k_sphere_radius_mm * normal;
    const double to_line = in_mm(geometry::nearest_point(section.line, middle).distance);
    if (to_line < k_sphere_radius_mm + off_line_mm - k_touch_mm) {
        return false;
    }
    return !section.body ||
           in_mm(geometry::nearest_point(*section.body, middle).distance) >= k_sphere_radius_mm - k_touch_mm;
}

std::optional<OneSection> section_of(const Loft& loft, const CarModel& car, const Faces& faces, Length along) {
    OneSection section;
    const auto nodes = loft.nodes_at(along);
    auto line = loft.section_at(along);
    if (!line || line.value().segments.empty() ||
        !geometry::find_corners(nodes, loft.names(), false, section.corners)) {
        return std::nullopt;
    }
    section.line = std::move(line).value();
    faces.outside.at(along, section.outside);
    faces.sheet.at(along, section.sheet);
    const auto points = cone_points(section.corners, section.outside);
    section.floor_mm = *std::max_element(points.begin(), points.end(), [](const Vector2d& a, const Vector2d& b) {
        return height_over_cone(a) < height_over_cone(b);
    });
    if (car.body) {
        if (auto body = car.body->section_at(along); body && !body.value().segments.empty()) {
            section.body = std::move(body).value();
            section.body_out_mm = outermost(*section.body);
        }
    }
    return section;
}

/// What is asked of the edge if a sphere touches it.
void judge(const OneSection& section, Edge& edge) {
    edge.below = edge.p_mm.y() < section.floor_mm.y();
    edge.stands_out_mm = section.body ? edge.p_mm.x() - section.body_out_mm : k_high_mm;
    edge.rule = classify(edge.stands_out_mm, std::nullopt, edge.below);
}

bool is_touched(const OneSection& section, const Edge& edge) {
    // Beside its free end the sheet is as near as the line.
    const double off_line = edge.free_end ? 0.0 : std::max(section.outside.at(edge.mark), 0.0);
    return std::any_of(edge.normals.begin(), edge.normals.end(),
                       [&](const Vector2d& normal) { return sphere_lies_at(section, edge.p_mm, normal, off_line); });
}

/// The edges of one section: convex corners of the outside, and the sheet's free ends. Whether a sphere touches them is
/// not looked at yet.
std::vector<Edge> edges_of(const OneSection& section, const Loft& loft, std::size_t piece, Length along) {
    std::vector<Edge> edges;
    for (std::size_t i = 0; i < section.corners.size(); ++i) {
        const Corner& corner = section.corners[i];
        const double outside_mm = section.outside.at(static_cast<double>(i));
        Edge edge{loft.names()[i],
                  static_cast<double>(i),
                  piece,
                  along,
                  Vector2d::Zero(),
                  0.0,
                  0.0,
                  0.0,
                  EdgeRule::exempt,
                  false,
                  false,
                  {}};
        if (corner.kind == CornerKind::end) {
            const bool first = i == 0;
            const Vector2d direction = first ? corner.after : corner.before;
            const Vector2d normal = left_of(direction);
            edge.p_mm = corner.p_mm + outside_mm * normal;
            edge.radius_mm = 0.5 * section.sheet.at(edge.mark);
            edge.free_end = true;
            const Vector2d onward = first ? Vector2d(-direction) : direction;
            edge.normals = {normal, (normal + onward).normalized(), onward};
            judge(section, edge);
            edges.push_back(edge);
        } else if (corner.kind == CornerKind::turn && corner.side < 0.0 && corner.tan_half > k_least_turn_tan_half) {
            const Vector2d before = left_of(corner.before);
            const Vector2d after = left_of(corner.after);
            const Vector2d middle = (before + after).normalized();
            const Vector2d centre = corner.p_mm - corner.radius_mm * (before + after) / (1.0 + before.dot(after));
            edge.outside_mm = outside_mm;
            edge.radius_mm = std::max(corner.radius_at(outside_mm), 0.0);
            edge.p_mm = centre + edge.radius_mm * middle;
            edge.normals = {before, middle, after};
            judge(section, edge);
            edges.push_back(edge);
        }
    }
    return edges;
}

std::vector<Length> places_of(const Loft& loft) {
    std::vector<Length> places;
    const auto keys = loft.key_places();
    for (std::size_t i = 0; i + 1 < keys.size(); ++i) {
        for (int k = 0; k <= k_between; ++k) {
            places.push_back(keys[i] + (keys[i + 1] - keys[i]) * (static_cast<double>(k) / (k_between + 1)));
        }
    }
    places.push_back(keys.back());
    return places;
}

std::optional<Faces> faces_of(const Job& job, const Piece& piece, const Loft& loft, const FormedSheet* formed) {
    const std::optional<Entry> film = job.skirt.paint ? job.skirt.paint : Entry{};
    auto outside = outward_law(piece, loft, formed, film, Surface::painted_outside);
    auto sheet = thickness_law(piece, loft, formed);
    return outside && sheet ? std::optional(Faces{std::move(*outside), std::move(*sheet)}) : std::nullopt;
}

bool worse(const Edge& a, const Edge& b) {
    if (a.margin() && b.margin()) {
        return *a.margin() < *b.margin();
    }
    return a.margin().has_value() && !b.margin().has_value();
}

using Worst = std::map<std::string, Edge>;  // By node name.

void add_worst(Worst& worst, const Job& job, const CarModel& car, std::size_t piece, const Loft& loft) {
    const auto faces = faces_of(job, job.skirt.pieces[piece], loft, car.pieces[piece].formed.get());
    if (!faces) {
        return;
    }
    for (const Length along : places_of(loft)) {
        const auto section = section_of(loft, car, *faces, along);
        if (!section) {
            continue;
        }
        for (Edge& edge : edges_of(*section, loft, piece, along)) {
            const auto known = worst.find(edge.node);
            if (known != worst.end() && !worse(edge, known->second)) {
                continue;
            }
            if (edge.margin() && !is_touched(*section, edge)) {
                edge.rule = EdgeRule::exempt;
            }
            if (known == worst.end() || worse(edge, known->second)) {
                worst.insert_or_assign(edge.node, edge);
            }
        }
    }
}

Worst worst_edges(const Job& job, const CarModel& car) {
    Worst worst;
    for (std::size_t i = 0; i < car.pieces.size(); ++i) {
        if (car.pieces[i].line) {
            add_worst(worst, job, car, i, *car.pieces[i].line);
        }
    }
    return worst;
}

/// The name's worst after a change of the job, everything else as it is.
std::optional<double> margin_after(const Job& after, const CarModel& car, std::size_t piece, const std::string& node) {
    auto loft = loft_of(after, after.skirt.pieces[piece].drawn, false, piece_words(after.skirt.pieces[piece]));
    if (!loft) {
        return std::nullopt;
    }
    Worst worst;
    for (std::size_t i = 0; i < car.pieces.size(); ++i) {
        if (i == piece) {
            add_worst(worst, after, car, i, loft.value());
        } else if (car.pieces[i].line) {
            add_worst(worst, after, car, i, *car.pieces[i].line);
        }
    }
    const auto found = worst.find(node);
    return found == worst.end() ? std::nullopt : found->second.margin();
}

/// Rounds of raising radii: between stations their curve may lie below both.
constexpr int k_most_rounds = 6;

std::optional<Mend> larger_radius(const Job& job, const CarModel& car, const Edge& worst) {
    const double outside = worst.outside_mm;
    double radius = std::ceil(10.0 * std::max(0.0, radius_asked_mm(worst.rule).value_or(0.0) - outside)) / 10.0;
    for (int round = 0; round < k_most_rounds; ++round, radius += 0.1) {
        Job after = job;
        std::vector<FieldChange> changes;
        auto& sections = after.skirt.pieces[worst.piece].drawn.sections;
        for (std::size_t s = 0; s < sections.size(); ++s) {
            for (std::size_t n = 0; n < sections[s].nodes.size(); ++n) {
                Node& node = sections[s].nodes[n];
                if (node.name == worst.node && in_mm(node.radius.value) < radius) {
                    node.radius = {millimetres(radius), ""};
                    changes.push_back(length_change(job,
                                                    "/skirt/pieces/" + std::to_string(worst.piece) + "/sections/" +
                                                        std::to_string(s) + "/nodes/" + std::to_string(n) + "/radius",
                                                    millimetres(radius)));
                }
            }
        }
        const auto margin = margin_after(after, car, worst.piece, worst.node);
        if (margin && *margin >= 0.0 && !changes.empty()) {
            return Mend{
                "Round " + worst.node + " by " + mm_text(millimetres(radius), 1) + " or more, at all its stations.",
                {},
                margin,
                std::move(changes)};
        }
    }
    return std::nullopt;
}

Mend mend_of(const Job& job, const CarModel& car, const Edge& worst) {
    if (!worst.free_end) {
        if (auto mend = larger_radius(job, car, worst)) {
            return *std::move(mend);
        }
        return {
            "A larger radius does not fit at " + worst.node + ": draw its neighbours further away, or cover the edge.",
            {},
            {}};
    }
    return {"Turn the sheet's edge at " + worst.node +
                " in, out of a 100 mm sphere's reach, or cover it with a soft edging (60 Shore A or less).",
            {},
            {}};
}

std::string rule_words(const Edge& edge) {
    switch (edge.rule) {
        case EdgeRule::exempt:
            return edge.below ? "lies below the floor line, where no radius is asked for"
                              : "is out of a 100 mm sphere's reach, so that no radius is asked for";
        case EdgeRule::soft:
            return "is soft enough for any radius";
        case EdgeRule::low:
            return "stands out by less than 1.5 mm, so that no radius is asked for";
        case EdgeRule::blunted:
            return "stands out by less than 5 mm and has to be blunted";
        case EdgeRule::radius_2_5:
            return "stands out by 5 mm or more and needs a radius of 2.5 mm";
    }
    return {};
}

void put_rules(Finding& finding) {
    finding.formula =
        "radius of the painted outside >= 2.5 mm where it stands out by 5 mm or more; blunted from 1.5 mm; "
        "none below the floor line (cone of 30 degrees), out of a 100 mm sphere's reach, or up to 60 Shore A";
    finding.source =
        "external projection rules (UN Regulation 26), from memory; the rules and the inspection of the "
        "country have the last word";
}

Finding edge_finding(const Job& job, const CarModel& car, const Edge& worst, Mends mends) {
    Finding finding;
    finding.id = "mounts/road/edge " + worst.node;
    finding.title = "Outer edge at " + worst.node;
    put_rules(finding);
    finding.place.along = worst.along;
    finding.place.on_part_mm = Eigen::Vector3d(in_mm(worst.along), worst.p_mm.x(), worst.p_mm.y());
    finding.place.words = at_place_words(job, worst.along);
    finding.inputs = {{"radius outside", mm_text(millimetres(worst.radius_mm))},
                      {"stands out from the body by", mm_text(millimetres(worst.stands_out_mm))}};
    finding.why = "The edge at " + worst.node + " " + rule_words(worst) + ".";
    if (!job.skirt.paint) {
        finding.inputs.push_back({"paint film", "not measured, left out"});
    }
    if (const auto asked = radius_asked_mm(worst.rule)) {
        finding.found = worst.radius_mm;
        finding.required = *asked;
        finding.margin = worst.margin();
        finding.state = state_of(finding.margin, k_close_mm, {});
    } else {
        finding.state = State::holds;
    }
    if (finding.state == State::falls_short && mends == Mends::look_for) {
        finding.mend = mend_of(job, car, worst);
    }
    return finding;
}

/// Of the part's front or rear end, all round the section.
Finding end_finding(const Job& job, const Piece& piece, Length along, bool front) {
    const std::string which = front ? "front end" : "rear end";
    Finding finding;
    finding.id = "mounts/road/edge " + which;
    finding.title = "Outer edge of the part's " + which;
    put_rules(finding);
    finding.place.along = along;
    finding.place.words = at_place_words(job, along);
    const double radius = 0.5 * in_mm(piece.sheet->value);
    finding.inputs = {{"radius of a sheet's edge, rounded over", mm_text(millimetres(radius))}};
    const auto& gap = front ? job.fitting.front_gap : job.fitting.rear_gap;
    if (!gap) {
        finding.why = "Whether the " + which + " can be touched depends on what is beside it.";
        finding.missing = {"the gap between the part's " + which + " and what is beside it"};
        return finding;
    }
    const double half = std::min(0.5 * in_mm(gap->value), k_sphere_radius_mm);
    const double dip = k_sphere_radius_mm - std::sqrt(k_sphere_radius_mm * k_sphere_radius_mm - half * half);
    finding.inputs.push_back({"gap to what is beside it", mm_text(gap->value)});
    finding.inputs.push_back({"a 100 mm sphere dips in by", mm_text(millimetres(dip))});
    const EdgeRule rule = classify(dip, std::nullopt, false);
    finding.why = "Beside its neighbour a 100 mm sphere dips into the gap by " + mm_text(millimetres(dip)) + ".";
    if (const auto asked = radius_asked_mm(rule)) {
        finding.found = radius;
        finding.required = *asked;
        finding.margin = radius - *asked;
        finding.state = state_of(finding.margin, k_close_mm, {});
    } else {
        finding.state = State::holds;
    }
    if (finding.state == State::falls_short) {
        finding.mend = Mend{
            "Close the gap, turn the sheet's edge in, or cover it with a soft edging (60 Shore A or "
            "less).",
            {},
            {}};
    }
    return finding;
}

}  // namespace

EdgeRule classify(double protrusion_mm, std::optional<double> shore_a, bool below_floor_line) {
    if (below_floor_line) {
        return EdgeRule::exempt;
    }
    if (shore_a && *shore_a <= k_softest_hard_shore_a) {
        return EdgeRule::soft;
    }
    if (protrusion_mm < k_low_mm) {
        return EdgeRule::low;
    }
    return protrusion_mm < k_high_mm ? EdgeRule::blunted : EdgeRule::radius_2_5;
}

std::optional<double> radius_asked_mm(EdgeRule rule) {
    switch (rule) {
        case EdgeRule::radius_2_5:
            return k_radius_mm;
        case EdgeRule::blunted:
            return k_blunt_mm;
        case EdgeRule::exempt:
        case EdgeRule::soft:
        case EdgeRule::low:
            return std::nullopt;
    }
    return std::nullopt;
}

Vector2d floor_line_point(const Profile& outside) {
    Vector2d best = geometry::start_point(outside.segments.front());
    const auto offer = [&](const Vector2d& p) {
        if (height_over_cone(p) > height_over_cone(best)) {
            best = p;
        }
    };
    const Vector2d looking(std::cos(k_cone), -std::sin(k_cone));
    for (const geometry::Segment& segment : outside.segments) {
        offer(geometry::start_point(segment));
        offer(geometry::end_point(segment));
        if (const auto* arc = std::get_if<geometry::ArcSegment>(&segment.shape)) {
            offer(geometry::point_at(
                segment, geometry::nearest_fraction(segment, arc->centre + 2.0 * arc->radius_mm * looking)));
        }
    }
    return best;
}

std::vector<Finding> outer_edge_findings(const Job& job, const CarModel& car, Mends mends) {
    std::vector<Finding> findings;
    for (const auto& [node, edge] : worst_edges(job, car)) {
        findings.push_back(edge_finding(job, car, edge, mends));
    }
    const PieceModel* front = nullptr;
    const PieceModel* rear = nullptr;
    for (std::size_t i = 0; i < car.pieces.size(); ++i) {
        const PieceModel& piece = car.pieces[i];
        if (!piece.line || !job.skirt.pieces[i].sheet) {
            continue;
        }
        front = front == nullptr || piece.line->front() < front->line->front() ? &piece : front;
        rear = rear == nullptr || piece.line->rear() > rear->line->rear() ? &piece : rear;
    }
    const auto drawn = [&](const PieceModel* model) -> const Piece& {
        return job.skirt.pieces[static_cast<std::size_t>(model - car.pieces.data())];
    };
    if (front != nullptr) {
        findings.push_back(end_finding(job, drawn(front), front->line->front(), true));
        findings.push_back(end_finding(job, drawn(rear), rear->line->rear(), false));
    }
    return findings;
}

}  // namespace sillwright::core

#include "core/handover/packing.h"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

#include "core/edit/field_change.h"
#include "core/finding_state.h"
#include "core/material.h"
#include "core/number_text.h"
#include "geometry/mesh.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;

namespace {

constexpr double k_mm3_per_m3 = 1e9;
constexpr double k_mm3_per_cm3 = 1e3;
/// Foam is cut to whole millimetres.
constexpr double k_foam_step_mm = 1.0;

double cross(const Vector2d& a, const Vector2d& b) {
    return a.x() * b.y() - a.y() * b.x();
}

/// Anticlockwise, by Andrew's monotone chain.
std::vector<Vector2d> hull(std::vector<Vector2d> points) {
    std::sort(points.begin(), points.end(),
              [](const Vector2d& a, const Vector2d& b) { return a.x() != b.x() ? a.x() < b.x() : a.y() < b.y(); });
    points.erase(std::unique(points.begin(), points.end()), points.end());
    if (points.size() < 3) {
        return points;
    }
    std::vector<Vector2d> round;
    const auto add = [&](const Vector2d& p, std::size_t least) {
        while (round.size() >= least && cross(round.back() - round[round.size() - 2], p - round.back()) <= 0.0) {
            round.pop_back();
        }
        round.push_back(p);
    };
    for (const Vector2d& p : points) {
        add(p, 2);
    }
    const std::size_t lower = round.size() + 1;
    for (auto p = points.rbegin() + 1; p != points.rend(); ++p) {
        add(*p, lower);
    }
    round.pop_back();
    return round;
}

struct Turned {
    double angle_rad = 0.0;
    Vector2d size_mm = Vector2d::Zero();
};

Vector2d size_at(const std::vector<Vector2d>& points, double angle_rad) {
    const Vector2d right(std::cos(angle_rad), std::sin(angle_rad));
    const Vector2d up(-right.y(), right.x());
    constexpr double k_far = std::numeric_limits<double>::infinity();
    Vector2d low(k_far, k_far);
    Vector2d high(-k_far, -k_far);
    for (const Vector2d& p : points) {
        const Vector2d there(p.dot(right), p.dot(up));
        low = low.cwiseMin(there);
        high = high.cwiseMax(there);
    }
    return high - low;
}

/// The axes of the least box: one of them along an edge of the hull.
Turned least_girth(const std::vector<Vector2d>& round) {
    Turned best{0.0, size_at(round, 0.0)};
    constexpr double k_quarter = std::numbers::pi / 2.0;
    for (std::size_t i = 0; i < round.size(); ++i) {
        const Vector2d edge = round[(i + 1) % round.size()] - round[i];
        const double direction = std::atan2(edge.y(), edge.x());
        const double angle = direction - k_quarter * std::floor(direction / k_quarter);
        const Vector2d size = size_at(round, angle);
        if (size.sum() < best.size_mm.sum()) {
            best = {angle, size};
        }
    }
    return best;
}

BoxSize grown(const BoxSize& box, Length by) {
    const Length both = by * 2.0;
    return {box.length + both, box.width + both, box.height + both};
}

std::vector<FoamPiece> foam_of(const BoxSize& part, const BoxSize& inner, Length foam) {
    return {{"below and above", 2, inner.length, inner.width, foam},
            {"along both sides", 2, inner.length, part.height, foam},
            {"at both ends", 2, part.width, part.height, foam}};
}

Packing packed(const Job& job, std::size_t number, const geometry::Mesh& mesh) {
    std::vector<Vector2d> points;
    double front = std::numeric_limits<double>::infinity();
    double rear = -front;
    for (const Eigen::Vector3d& p : mesh.points) {
        points.emplace_back(p.y(), p.z());
        front = std::min(front, p.x());
        rear = std::max(rear, p.x());
    }
    const Turned turned = least_girth(hull(std::move(points)));
    Packing packing;
    packing.piece = number;
    // The box's first side is at this angle to the part; the part is turned so that its wider side lies down.
    const bool as_it_is = turned.size_mm.x() >= turned.size_mm.y();
    packing.turned = geometry::radians(as_it_is ? -turned.angle_rad : std::numbers::pi / 2.0 - turned.angle_rad);
    packing.part = {millimetres(rear - front), millimetres(turned.size_mm.maxCoeff()),
                    millimetres(turned.size_mm.minCoeff())};
    packing.inner = grown(packing.part, job.papers.foam.value);
    packing.outer = grown(packing.inner, job.papers.carton.value);
    const auto [length, width, height] = packing.outer;
    packing.longest = std::max({length, width, height});
    packing.length_and_girth = (length + width + height) * 2.0 - packing.longest;
    packing.volumetric_kg = in_mm(length) * in_mm(width) * in_mm(height) / k_mm3_per_cm3 / k_volumetric_divisor;
    if (const auto density = numbers_of(job.skirt.material).density_kg_per_m3) {
        packing.part_kg = geometry::volume_mm3(mesh) / k_mm3_per_m3 * *density;
    }
    packing.foam = foam_of(packing.part, packing.inner, job.papers.foam.value);
    return packing;
}

/// What a box is held against.
struct Asked {
    const char* id;
    const char* title;
    const char* formula;
    double foam_sides;  ///< By how much the number shrinks with each millimetre of foam.
    Length (*found)(const Packing&);
};

constexpr double k_girth_by_foam = 10.0;  ///< Two of the length, two times two and two of the girth.
constexpr double k_length_by_foam = 2.0;

const Asked k_girth{
    "box", "its box, length and girth",
    "longest side + 2 · (the two others) <= what the carrier takes; sides = part in its least box + 2 · "
    "foam + 2 · carton",
    k_girth_by_foam, [](const Packing& packing) { return packing.length_and_girth; }};
const Asked k_length{"box length", "its box, longest side",
                     "longest side <= what the carrier takes; sides = part in its least box + 2 · foam + 2 · carton",
                     k_length_by_foam, [](const Packing& packing) { return packing.longest; }};

std::optional<Mend> thinner_foam(const Job& job, const CarModel& car, const Packing& packing, const Asked& asked,
                                 Length most) {
    const double foam = in_mm(job.papers.foam.value);
    const double over = in_mm(asked.found(packing) - most) / asked.foam_sides;
    const double thinner = std::floor((foam - over) / k_foam_step_mm) * k_foam_step_mm;
    if (thinner < in_mm(k_foam_least)) {
        return std::nullopt;
    }
    Job changed = job;
    changed.papers.foam = {millimetres(thinner), ""};
    const Packing again = packed(changed, packing.piece, car.pieces[packing.piece].body->mesh);
    const double margin = in_mm(most - asked.found(again));
    if (margin < 0.0) {
        return std::nullopt;
    }
    return Mend{"Take foam of " + mm_text(millimetres(thinner), 0) + " all round.",
                {},
                margin,
                {length_change(job, "/papers/foam", millimetres(thinner))}};
}

Finding box_finding(const Job& job, const CarModel& car, const Packing& packing, const Asked& asked, Length most) {
    Finding finding;
    const std::string& name = job.skirt.pieces[packing.piece].name;
    finding.id = "handover/" + name + "/" + asked.id;
    finding.title = name + ", " + asked.title;
    finding.stage = Stage::handover;
    finding.at_least = false;
    finding.found = in_mm(asked.found(packing));
    finding.required = in_mm(most);
    finding.margin = *finding.required - *finding.found;
    finding.state = state_of(finding.margin, in_mm(job.limits.close_band.value), {});
    finding.place.words = "whole part";
    finding.formula = asked.formula;
    finding.source = "common practice, no source";
    const auto size = [](const BoxSize& box) {
        return mm_text(box.length, 0) + " × " + mm_text(box.width, 0) + " × " + mm_text(box.height, 0);
    };
    finding.inputs = {{"part in its least box", size(packing.part)},
                      {"foam each side", mm_text(job.papers.foam.value, 0)},
                      {"carton each side", mm_text(job.papers.carton.value, 0)},
                      {"box outside", size(packing.outer)},
                      {"turned about its length", degree_text(packing.turned, 1)}};
    finding.why = *finding.margin < 0.0 ? "The box of " + name + " is " + mm_text(millimetres(-*finding.margin)) +
                                              " more than the carrier takes."
                                        : "The carrier takes the box of " + name + ".";
    if (finding.state == State::falls_short) {
        finding.mend = thinner_foam(job, car, packing, asked, most);
        if (!finding.mend) {
            finding.mend = Mend{"Ask a carrier who takes " + mm_text(asked.found(packing), 0) +
                                    ", or split the part: thinner foam alone does not do.",
                                {},
                                std::nullopt};
        }
    }
    return finding;
}

}  // namespace

std::vector<Packing> packing(const Job& job, const CarModel& car) {
    std::vector<Packing> all;
    for (std::size_t i = 0; i < car.pieces.size(); ++i) {
        if (car.pieces[i].body && !car.pieces[i].body->mesh.points.empty()) {
            all.push_back(packed(job, i, car.pieces[i].body->mesh));
        }
    }
    return all;
}

std::vector<Finding> packing_findings(const Job& job, const CarModel& car, const std::vector<Packing>& packed_pieces) {
    std::vector<Finding> findings;
    for (const Packing& one : packed_pieces) {
        if (job.papers.girth_most) {
            findings.push_back(box_finding(job, car, one, k_girth, job.papers.girth_most->value));
        }
        if (job.papers.longest) {
            findings.push_back(box_finding(job, car, one, k_length, job.papers.longest->value));
        }
    }
    return findings;
}

}  // namespace sillwright::core

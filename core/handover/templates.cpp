#include "core/handover/templates.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "core/file_name.h"
#include "core/handover/outer_strip.h"
#include "core/handover/papers/paper.h"
#include "core/handover/template_drawing.h"
#include "core/number_text.h"
#include "core/skirt/thickness.h"
#include "core/swing/door_limit_line.h"

namespace sillwright::core {

using Eigen::Vector2d;
using Eigen::Vector3d;
using geometry::Drawing;
using geometry::in_mm;
using geometry::Length;

namespace {

constexpr double k_large_mm = 6.0;  ///< Letters that are read first.
constexpr double k_letters_mm = 3.5;
constexpr double k_small_mm = 2.8;
constexpr double k_cross_mm = 4.0;       ///< Beyond a hole.
constexpr double k_datum_ring_mm = 3.0;  ///< Round the datum's hole.
constexpr double k_line_mm = 5.0;        ///< From one line of words to the next.
/// How far a twisted flange may misfit before its template says so: less than a drill wanders.
constexpr double k_misfit_said_mm = 0.1;
/// Between columns of the limit line; a hem's rounding of a few millimetres is still seen.
constexpr Length k_limit_step = geometry::millimetres(2.0);
/// Reference lines of a section stand on whole numbers of these.
constexpr double k_reference_mm = 50.0;

struct Box {
    Vector2d low = Vector2d::Constant(1e9), high = Vector2d::Constant(-1e9);
    void take_in(const std::vector<Vector2d>& points) {
        for (const Vector2d& p : points) {
            low = low.cwiseMin(p);
            high = high.cwiseMax(p);
        }
    }
};

/// A piece's name behind a word, where there is more than one piece.
std::string behind(const std::string& word, const Job& job, const Piece& piece, const char* between) {
    return job.skirt.pieces.size() < 2 ? word : word + between + piece.name;
}

/// Which way the car's front is: to the left of the paper on a right-hand part.
void add_front(Drawing& drawing, const Job& job, const Vector2d& at) {
    const double way = job.side == Side::right ? -1.0 : 1.0;
    add_arrow(drawing, k_note, at, at + Vector2d(way * 25.0, 0.0));
    add_words(drawing, at + Vector2d(way * 12.5, 3.0), k_letters_mm, "FRONT");
}

/// The edge and both ends are trimmed; the bend is a line of reference.
void add_outline(Drawing& drawing, const OuterStrip& strip) {
    std::vector<Vector2d> trim{strip.near_mm.front()};
    trim.insert(trim.end(), strip.far_mm.begin(), strip.far_mm.end());
    trim.push_back(strip.near_mm.back());
    add_chain(drawing, k_cut_outside, trim);
    add_dashes(drawing, k_note, strip.near_mm);
}

struct Hole {
    const HolePlan* plan = nullptr;
    Vector2d centre = Vector2d::Zero(), way = Vector2d::UnitX();
    HoleSize size;
    bool as_drawn = false;
};

/// Where a hole is drilled, on the outside: square to the flange from where it is on the inside.
Vector3d on_outside(const HolePlan& plan, double shift_mm, const Job& job, const CarModel& car) {
    const Vector3d inside = plan.landing.p_mm + shift_mm * plan.along;
    const auto thick =
        flange_thickness(job.skirt.pieces[plan.piece], geometry::millimetres(inside.x()), &car.pieces[plan.piece]);
    return inside - (thick ? in_mm(thick->thickness) : 0.0) * plan.landing.normal;
}

Hole hole_of(const HolePlan& plan, const OuterStrip& strip, const Job& job, const CarModel& car) {
    Hole hole;
    hole.plan = &plan;
    hole.as_drawn = plan.drawn.has_value();
    hole.size = plan.drawn.value_or(plan.cut);
    const double shift = hole.as_drawn ? plan.drawn_shift_mm : plan.shift_mm;
    hole.centre = strip.at(on_outside(plan, shift, job, car));
    const Vector2d end = strip.at(on_outside(plan, shift + 1.0, job, car));
    hole.way = (end - hole.centre).normalized();
    return hole;
}

std::string hole_words(const Hole& hole, BareUnit unit) {
    const std::string width = template_number(hole.size.width_mm, unit);
    if (hole.size.length_mm <= hole.size.width_mm) {
        return "Ø " + width;
    }
    return template_number(hole.size.length_mm, unit) + " × " + width;
}

std::string bush_words(const Hole& hole, BareUnit unit) {
    const std::string bit = "bush and bit " + template_number(hole.size.width_mm, unit);
    const double apart = hole.size.length_mm - hole.size.width_mm;
    return apart > 0.0 ? bit + ", ends " + template_number(apart, unit) + " apart" : bit;
}

void add_hole(Drawing& drawing, const Hole& hole, bool datum, BareUnit unit, double below) {
    add_slot(drawing, k_drill, hole.centre, hole.way, hole.size.length_mm, hole.size.width_mm);
    add_cross(drawing, k_note, hole.centre, hole.size.width_mm / 2.0 + k_cross_mm);
    if (hole.size.length_mm > hole.size.width_mm) {
        const Vector2d end = (hole.size.length_mm - hole.size.width_mm) / 2.0 * hole.way;
        for (const Vector2d& at : {Vector2d(hole.centre - end), Vector2d(hole.centre + end)}) {
            add_line(drawing, k_note, at - Vector2d(0.0, 2.0), at + Vector2d(0.0, 2.0));
        }
    }
    if (datum) {
        add_circle(drawing, k_note, hole.centre, hole.size.length_mm / 2.0 + k_datum_ring_mm);
    }
    const std::string role = datum ? " · DATUM" : hole.plan->role == HoleRole::guide ? " · guide" : "";
    const Vector2d top(hole.centre.x(), below);
    add_words(drawing, top, k_letters_mm, hole.plan->mount + role);
    add_words(drawing, top - Vector2d(0.0, k_line_mm), k_letters_mm, hole_words(hole, unit));
    add_words(drawing, top - Vector2d(0.0, 2.0 * k_line_mm), k_small_mm, bush_words(hole, unit));
}

/// How far each hole, and both ends, are from the datum, measured straight along the paper.
void add_ladder(Drawing& drawing, const std::vector<Hole>& holes, const Vector2d& datum, const OuterStrip& strip,
                BareUnit unit, double up) {
    std::vector<std::pair<double, bool>> ticks;  // Place, and whether it is a hole's.
    for (const Hole& hole : holes) {
        ticks.emplace_back(hole.centre.x(), true);
        add_line(drawing, k_note, hole.centre + Vector2d(0.0, hole.size.width_mm / 2.0 + k_cross_mm),
                 Vector2d(hole.centre.x(), up + 2.0));
    }
    ticks.emplace_back(strip.far_mm.front().x(), false);
    ticks.emplace_back(strip.far_mm.back().x(), false);
    std::sort(ticks.begin(), ticks.end());
    add_line(drawing, k_note, {ticks.front().first, up}, {ticks.back().first, up});
    for (const auto& [x, of_hole] : ticks) {
        add_line(drawing, k_note, {x, up - 2.0}, {x, up + 2.0});
        const double from = std::abs(x - datum.x());
        add_words(drawing, {x, up + 4.5}, k_letters_mm,
                  from == 0.0 ? "0" : template_number(from, unit) + (of_hole ? "" : " end"));
    }
}

std::string holes_need(const std::vector<Hole>& holes, BareUnit unit) {
    std::string smaller;
    for (const Hole& hole : holes) {
        if (hole.as_drawn && (hole.size.length_mm < hole.plan->worst.length_mm - 1e-6 ||
                              hole.size.width_mm < hole.plan->worst.width_mm - 1e-6)) {
            smaller += (smaller.empty() ? "" : ", ") + hole.plan->mount + " needs " +
                       template_number(hole.plan->worst.length_mm, unit) + " × " +
                       template_number(hole.plan->worst.width_mm, unit);
        }
    }
    return smaller.empty() ? smaller : "FALLS SHORT: holes as drawn are smaller than is needed: " + smaller + ".";
}

std::vector<std::string> flat_notes(const OuterStrip& strip, BareUnit unit) {
    std::vector<std::string> notes;
    notes.push_back("The part's outside laid flat, at the size that the part has when it is drawn at " +
                    std::string("its reference temperature. Dashed: where both outsides would meet without rounding."));
    if (strip.misfit_mm > k_misfit_said_mm) {
        notes.push_back("The flange is twisted: flat paper fits it to " + template_length(strip.misfit_mm, unit) + ".");
    }
    return notes;
}

Template flange_template(const Evaluation& evaluation, std::size_t piece, const OuterStrip& strip) {
    const Job& job = evaluation.job;
    const Piece& drawn = job.skirt.pieces[piece];
    std::vector<Hole> holes;
    for (const HolePlan& plan : evaluation.plan.holes) {
        if (plan.piece == piece) {
            holes.push_back(hole_of(plan, strip, job, evaluation.car));
        }
    }
    std::sort(holes.begin(), holes.end(), [](const Hole& a, const Hole& b) { return a.centre.x() < b.centre.x(); });
    const auto locator =
        std::find_if(holes.begin(), holes.end(), [](const Hole& hole) { return hole.plan->role == HoleRole::locator; });
    const Hole& datum = locator == holes.end() ? holes.front() : *locator;

    Template made;
    made.stem = safe_file_name(behind("template_flange", job, drawn, "_"));
    made.title = behind("Flange drilling, " + side_words(job.side), job, drawn, ", ");
    made.this_side_out = "THIS SIDE OUT: seen from below";
    made.drawing = template_drawing();
    add_outline(made.drawing, strip);
    Box box;
    box.take_in(strip.near_mm);
    box.take_in(strip.far_mm);
    for (const Hole& hole : holes) {
        add_hole(made.drawing, hole, &hole == &datum, job.unit, box.low.y() - 5.0);
    }
    add_ladder(made.drawing, holes, datum.centre, strip, job.unit, box.high.y() + 8.0);
    add_front(made.drawing, job,
              {job.side == Side::right ? box.low.x() + 40.0 : box.high.x() - 40.0, box.low.y() - 24.0});
    add_words_from(made.drawing, {box.low.x() + 80.0, box.low.y() - 26.0}, k_large_mm,
                   side_words(job.side) + " · " + made.this_side_out);
    made.notes = flat_notes(strip, job.unit);
    made.notes.insert(made.notes.begin(), "Datum: " + datum.plan->mount +
                                              ". Drill it first, then from there to both ends. Distances are from it, "
                                              "straight along the paper.");
    if (holes.size() > 1) {
        const double apart = (holes.back().centre - holes.front().centre).norm();
        made.notes.insert(made.notes.begin(), "Verify before drilling: " + holes.front().plan->mount + " to " +
                                                  holes.back().plan->mount + ", middle to middle, " +
                                                  template_length(apart, job.unit) + ".");
    }
    if (const std::string need = holes_need(holes, job.unit); !need.empty()) {
        made.notes.push_back(need);
    }
    for (const std::string& missing : evaluation.plan.missing) {
        made.notes.push_back("Not measured: " + missing);
    }
    return made;
}

Template trim_template(const Job& job, std::size_t piece, const OuterStrip& strip, FreeEdge edge) {
    const Piece& drawn = job.skirt.pieces[piece];
    const bool flange = edge == FreeEdge::flange_end;
    Template made;
    made.stem = safe_file_name(behind(flange ? "template_trim_flange" : "template_trim_top", job, drawn, "_"));
    made.title = behind((flange ? "Trim line of the flange, " : "Trim line of the top return, ") + side_words(job.side),
                        job, drawn, ", ");
    made.this_side_out = flange ? "THIS SIDE OUT: seen from below" : "THIS SIDE OUT: seen from above";
    made.drawing = template_drawing();
    add_outline(made.drawing, strip);
    const double outward = flange ? 1.0 : -1.0;  // Of the paper, from the bend to the free edge.
    Box box;
    box.take_in(strip.near_mm);
    box.take_in(strip.far_mm);
    for (std::size_t i = 0; i < strip.along.size(); ++i) {
        const auto station = std::find_if(job.stations.begin(), job.stations.end(),
                                          [&](const Station& one) { return one.along.value == strip.along[i]; });
        if (station == job.stations.end()) {
            continue;
        }
        add_line(made.drawing, k_note, strip.near_mm[i], strip.far_mm[i]);
        const Vector2d beyond = strip.far_mm[i] + Vector2d(0.0, outward * 6.0);
        add_words(made.drawing, beyond, k_letters_mm,
                  station->name + " · " + template_number(strip.across_mm[i], job.unit));
    }
    const double words_at = flange ? box.low.y() - 10.0 : box.high.y() + 8.0;
    add_front(made.drawing, job, {job.side == Side::right ? box.low.x() + 40.0 : box.high.x() - 40.0, words_at});
    add_words_from(made.drawing, {box.low.x() + 80.0, words_at - 2.0}, k_large_mm,
                   side_words(job.side) + " · " + made.this_side_out);
    made.notes = flat_notes(strip, job.unit);
    made.notes.insert(
        made.notes.begin(),
        "At each station its name and the distance from the dashed line to the trim line, measured across "
        "the part.");
    made.notes.insert(made.notes.begin(),
                      "Verify before trimming: corner to corner of the trim line, " +
                          template_length((strip.far_mm.back() - strip.far_mm.front()).norm(), job.unit) + ".");
    return made;
}

/// Level and plumb lines at whole numbers of out and up, to hold the card by.
void add_references(Drawing& drawing, const Box& box, BareUnit unit) {
    const double out = std::round((box.low.x() + box.high.x()) / 2.0 / k_reference_mm) * k_reference_mm;
    const double up = std::round((box.low.y() + box.high.y()) / 2.0 / k_reference_mm) * k_reference_mm;
    add_dashes(drawing, k_note, {{out, box.low.y() - 4.0}, {out, box.high.y() + 4.0}});
    add_dashes(drawing, k_note, {{box.low.x() - 4.0, up}, {box.high.x() + 4.0, up}});
    add_words(drawing, {out, box.low.y() - 7.0}, k_small_mm, "out " + template_number(out, unit));
    add_words_from(drawing, {box.high.x() + 5.0, up - 1.0}, k_small_mm, "up " + template_number(up, unit));
}

struct EnvelopeOutcome {
    std::optional<Template> made;
    std::vector<std::string> missing;
};

EnvelopeOutcome door_template(const Evaluation& evaluation, const Station& station) {
    const Job& job = evaluation.job;
    const Length along = station.along.value;
    std::vector<std::vector<Vector2d>> outside;
    for (std::size_t i = 0; i < job.skirt.pieces.size(); ++i) {
        if (job.skirt.pieces[i].carried_by == "body") {
            for (auto& chain : outside_line(job, evaluation.car, i, along)) {
                outside.push_back(std::move(chain));
            }
        }
    }
    const bool any = std::any_of(evaluation.car.doors.begin(), evaluation.car.doors.end(),
                                 [&](const DoorModel& door) { return stands_at(door, along); });
    if (outside.empty() || !any) {
        return {};
    }
    const auto limits = door_limit_lines(job, evaluation.car, along, window_about(evaluation.car, along), k_limit_step,
                                         {}, LimitingDoors::standing_there);
    if (!limits) {
        return {{}, {"Door envelope at station " + station.name + ": " + limits.error().message}};
    }
    Template made;
    Box box;
    made.drawing = template_drawing();
    for (const auto& chain : outside) {
        add_chain(made.drawing, k_cut_outside, chain);
        box.take_in(chain);
    }
    bool limited = false;
    for (const DoorLimitLine& line : limits.value()) {
        std::string name = line.door + " limit";
        for (const auto& chain : line.chains_mm) {
            add_dashes(made.drawing, k_note, chain);
            box.take_in(chain);
            if (!name.empty() && !chain.empty()) {
                add_words_from(made.drawing, chain.front() + Vector2d(0.0, 2.0), k_small_mm, name);
                name.clear();
            }
            limited = true;
        }
        for (const std::string& missing : line.missing) {
            made.notes.push_back("The limit of " + line.door + " is too generous: not measured: " + missing);
        }
    }
    if (!limited) {
        return {};
    }
    const bool right = job.side == Side::right;
    made.stem = safe_file_name("template_door_" + station.name);
    made.title = "Door envelope at station " + station.name + ", " + side_words(job.side);
    made.this_side_out =
        std::string("THIS SIDE OUT: seen looking ") + (right ? "forward" : "rearward") + ", the car on the left";
    add_references(made.drawing, box, job.unit);
    add_words_from(made.drawing, {box.low.x(), box.high.y() + 8.0}, k_large_mm,
                   side_words(job.side) + " · station " + station.name);
    add_words_from(made.drawing, {box.low.x(), box.low.y() - 14.0}, k_letters_mm, made.this_side_out);
    made.notes.insert(
        made.notes.begin(),
        "Full line: the part's outside. Dashed with a door's name: nothing of the part may stand above it "
        "while that door swings. Dashed lines across: level and plumb, from the job's origin.");
    return {std::move(made), {}};
}

void add_strips(Templates& all, const Evaluation& evaluation, std::size_t piece) {
    const Job& job = evaluation.job;
    const auto flange = outer_strip(job, evaluation.car, piece, FreeEdge::flange_end);
    const bool holes = std::any_of(evaluation.plan.holes.begin(), evaluation.plan.holes.end(),
                                   [&](const HolePlan& plan) { return plan.piece == piece; });
    if (!flange.strip) {
        all.missing.push_back("Flange drilling and trim line: " + flange.missing);
    } else {
        if (holes) {
            all.all.push_back(flange_template(evaluation, piece, *flange.strip));
        } else {
            all.missing.push_back("Flange drilling of " + piece_words(job.skirt.pieces[piece]) +
                                  ": no mount lands on its flange.");
        }
        all.all.push_back(trim_template(job, piece, *flange.strip, FreeEdge::flange_end));
    }
    const auto top = outer_strip(job, evaluation.car, piece, FreeEdge::top_return_end);
    if (top.strip) {
        all.all.push_back(trim_template(job, piece, *top.strip, FreeEdge::top_return_end));
    } else {
        all.missing.push_back("Trim line of the top return: " + top.missing);
    }
}

}  // namespace

Templates templates(const Evaluation& evaluation) {
    Templates all;
    const Job& job = evaluation.job;
    for (std::size_t i = 0; i < job.skirt.pieces.size(); ++i) {
        if (job.skirt.pieces[i].file) {
            all.missing.push_back("Flange and trim line of " + piece_words(job.skirt.pieces[i]) +
                                  ": it comes from a file, not from sections.");
            continue;
        }
        add_strips(all, evaluation, i);
    }
    for (const Station& station : job.stations) {
        EnvelopeOutcome envelope = door_template(evaluation, station);
        if (envelope.made) {
            all.all.push_back(std::move(*envelope.made));
        }
        all.missing.insert(all.missing.end(), envelope.missing.begin(), envelope.missing.end());
    }
    for (const DoorModel& door : evaluation.car.doors) {
        for (const std::string& missing : door.missing_motion) {
            all.missing.push_back("Door envelope of " + door.name + ": " + missing);
        }
    }
    for (Template& one : all.all) {
        for (const Caution caution : {Caution::near_the_sill, Caution::workshop}) {
            one.notes.push_back("Caution: " + words(caution));
        }
    }
    return all;
}

}  // namespace sillwright::core

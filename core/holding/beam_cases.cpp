#include "core/holding/beam_cases.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "core/drawn_loft.h"
#include "core/skirt/fluted_section.h"

namespace sillwright::core {

using Eigen::Vector2d;
using Eigen::Vector3d;
using geometry::in_mm;
using geometry::in_mpa;
using geometry::in_newtons;
using geometry::Length;
using geometry::Loft;
using geometry::millimetres;

namespace {

/// No lever is taken as shorter: nearer to its edge a flange gives way instead.
constexpr double k_least_arm_mm = 3.0;
/// Parts of a span between whose ends the sections are taken.
constexpr int k_parts_of_span = 2;
/// Places of a curve that is drawn.
constexpr int k_curve_places = 120;

std::vector<HeldBy> held_by(const Job& job, const Loft& line, const MountPlan& plan, std::size_t piece) {
    std::vector<HeldBy> all;
    const auto top_edge = job.skirt.pieces[piece].top_edge;
    for (const HolePlan& hole : plan.holes) {
        const auto mount = std::find_if(job.mounts.begin(), job.mounts.end(),
                                        [&](const Mount& one) { return one.name == hole.mount; });
        if (hole.piece != piece || mount == job.mounts.end()) {
            continue;
        }
        HeldBy one;
        one.mount = &*mount;
        one.number = static_cast<std::size_t>(mount - job.mounts.begin());
        one.p_mm = hole.landing.p_mm;
        one.free_arm_mm = std::max(k_least_arm_mm, hole.landing.free_edge.distance_mm);
        one.heel_arm_mm = std::max(k_least_arm_mm, hole.landing.bend.distance_mm);
        if (top_edge == TopEdgeFixing::screw || top_edge == TopEdgeFixing::tape) {
            const Vector2d top = line.node_at(0, millimetres(one.p_mm.x())).p_mm;
            one.top_arm_mm = std::max(k_least_arm_mm, std::abs(top.y() - one.p_mm.z()));
        }
        all.push_back(one);
    }
    std::sort(all.begin(), all.end(), [](const HeldBy& a, const HeldBy& b) { return a.p_mm.x() < b.p_mm.x(); });
    return all;
}

std::vector<Length> cuts_of(const Loft& line, const std::vector<HeldBy>& fasteners) {
    std::vector<Length> cuts;
    Length before = line.front();
    for (std::size_t i = 0; i < fasteners.size(); ++i) {
        const Length at = millimetres(fasteners[i].p_mm.x());
        for (int k = 1; i > 0 && k < k_parts_of_span; ++k) {
            cuts.push_back(before + (static_cast<double>(k) / k_parts_of_span) * (at - before));
        }
        cuts.push_back(at);
        before = at;
    }
    return cuts;
}

/// The outermost place on the shelf for a foot, and the topmost of the face for a heel.
std::optional<StepPlace> step_place(const Job& job, const Loft& line, Length along) {
    const auto& names = line.names();
    const auto number = [&](const char* name) {
        const auto found = std::find(names.begin(), names.end(), name);
        return found == names.end() ? std::optional<std::size_t>{}
                                    : std::optional{static_cast<std::size_t>(found - names.begin())};
    };
    const auto inner = number(k_shelf_inner);
    const auto edge = number(k_shelf_edge);
    if (!inner || !edge) {
        return std::nullopt;
    }
    const Vector2d from = line.node_at(*inner, along).p_mm;
    const Vector2d to = line.node_at(*edge, along).p_mm;
    const double half = std::min(k_foot_mm, (to - from).norm()) / 2.0;
    const Vector2d foot = to + half * (from - to).normalized();
    return StepPlace{along, foot, to, at_place_words(job, along)};
}

/// Over each fastener, midway between two, and at both ends.
std::vector<StepPlace> step_places(const Job& job, const Loft& line, const std::vector<HeldBy>& fasteners) {
    std::vector<double> along{in_mm(line.front()), in_mm(line.rear())};
    for (std::size_t i = 0; i < fasteners.size(); ++i) {
        along.push_back(fasteners[i].p_mm.x());
        if (i > 0) {
            along.push_back((fasteners[i - 1].p_mm.x() + fasteners[i].p_mm.x()) / 2.0);
        }
    }
    std::sort(along.begin(), along.end());
    std::vector<StepPlace> places;
    for (const double at : along) {
        if (auto place = step_place(job, line, millimetres(at))) {
            places.push_back(std::move(*place));
        }
    }
    return places;
}

geometry::Result<geometry::ContinuousBeam> beam_of(const PartBeam& part, LoadWay way) {
    std::vector<geometry::BeamStretch> stretches;
    for (const PartSection& section : part.sections) {
        const BendingNumbers& bending = way == LoadWay::down ? section.down : section.across;
        stretches.push_back({section.from, section.to, bending.second_mm4});
    }
    std::vector<geometry::BeamSupport> supports;
    for (const HeldBy& one : part.held_by) {
        supports.push_back({std::clamp(millimetres(one.p_mm.x()), part.sections.front().from, part.sections.back().to),
                            std::nullopt, false});
    }
    return geometry::ContinuousBeam::make(std::move(stretches), std::move(supports));
}

/// The share of a load at a place that a fastener takes by the law of the lever.
double share(const std::vector<HeldBy>& fasteners, std::size_t i, double at) {
    const double here = fasteners[i].p_mm.x();
    if (at < here) {
        const bool first = i == 0;
        const double before = first ? here : fasteners[i - 1].p_mm.x();
        return first ? 1.0 : std::clamp((at - before) / (here - before), 0.0, 1.0);
    }
    const bool last = i + 1 == fasteners.size();
    const double behind = last ? here : fasteners[i + 1].p_mm.x();
    return last ? 1.0 : std::clamp((behind - at) / (behind - here), 0.0, 1.0);
}

/// The share of an even load between two places: the mean of what the lever gives, exact between kinks.
double mean_share(const std::vector<HeldBy>& fasteners, std::size_t i, double from, double to) {
    std::vector<double> kinks{from, to};
    for (const HeldBy& one : fasteners) {
        if (one.p_mm.x() > from && one.p_mm.x() < to) {
            kinks.push_back(one.p_mm.x());
        }
    }
    std::sort(kinks.begin(), kinks.end());
    double sum = 0.0;
    for (std::size_t k = 0; k + 1 < kinks.size(); ++k) {
        sum += (kinks[k + 1] - kinks[k]) * share(fasteners, i, (kinks[k] + kinks[k + 1]) / 2.0);
    }
    return to > from ? sum / (to - from) : share(fasteners, i, from);
}

/// By how much a load of one turns the outer side down about a fastener.
double lever(LoadWay way, const LoadPoint& load, const HeldBy& about) {
    return way == LoadWay::down ? load.p_mm.x() - about.p_mm.y() : load.p_mm.y() - about.p_mm.z();
}

double moment_at(const PartBeam& part, const LoadCase& load, std::size_t i) {
    double sum = 0.0;
    for (std::size_t k = 0; k < load.loads.spread.size(); ++k) {
        const geometry::SpreadLoad& one = load.loads.spread[k];
        const double whole = one.n_per_mm * in_mm(one.to - one.from);
        sum += whole * mean_share(part.held_by, i, in_mm(one.from), in_mm(one.to)) *
               lever(load.way, load.spread_at[k], part.held_by[i]);
    }
    for (std::size_t k = 0; k < load.loads.points.size(); ++k) {
        const geometry::PointLoad& one = load.loads.points[k];
        sum += in_newtons(one.force) * share(part.held_by, i, in_mm(one.at)) *
               lever(load.way, load.points_at[k], part.held_by[i]);
    }
    return sum;
}

/// What the load alone pulls the part off its seat by.
double direct_pull(LoadWay way, double reaction, const Mount& mount) {
    const Vector3d force = way == LoadWay::down ? Vector3d{0.0, 0.0, -reaction} : Vector3d{0.0, reaction, 0.0};
    return std::max(0.0, force.dot(mount.axis));
}

void take_pulls(const PartBeam& part, const LoadCase& load, BeamAnswer& to) {
    for (std::size_t i = 0; i < part.held_by.size(); ++i) {
        const HeldBy& one = part.held_by[i];
        const double moment = moment_at(part, load, i);
        double pull = direct_pull(load.way, to.state.reactions_n()[i], *one.mount);
        double top = 0.0;
        if (one.top_arm_mm) {
            top = moment / *one.top_arm_mm;
        } else {
            pull += std::abs(moment) / (moment > 0.0 ? one.free_arm_mm : one.heel_arm_mm);
        }
        to.pull_n.push_back(pull);
        to.moment_n_mm.push_back(moment);
        to.top_n.push_back(top);
    }
}

/// Greatest stress: each stretch by its own section, at its ends and where the moment is greatest.
void take_stress(const PartBeam& part, const LoadCase& load, BeamAnswer& to) {
    const geometry::BeamExtreme most = to.state.most_moment();
    const geometry::BeamExtreme least = to.state.least_moment();
    for (const PartSection& section : part.sections) {
        const double modulus = load.way == LoadWay::down ? section.down.modulus_mm3 : section.across.modulus_mm3;
        const auto look = [&](Length at) {
            if (at < section.from || at > section.to) {
                return;
            }
            const double stress = std::abs(to.state.moment_n_mm(at)) / modulus;
            if (stress > to.stress_mpa) {
                to.stress_mpa = stress;
                to.stress_at = at;
            }
        };
        look(section.from);
        look(section.to);
        look(section.from + 0.5 * (section.to - section.from));
        look(most.at);
        look(least.at);
        for (const geometry::PointLoad& point : load.loads.points) {
            look(point.at);
        }
    }
}

}  // namespace

double PartBeam::sideways(LoadWay way) const {
    double most = 0.0;
    for (const PartSection& section : sections) {
        most = std::max(most, std::abs(way == LoadWay::down ? section.down.sideways : section.across.sideways));
    }
    return most;
}

geometry::Result<PartBeam> part_beam(const Job& job, const CarModel& car, const MountPlan& plan, std::size_t piece) {
    const Piece& drawn = job.skirt.pieces[piece];
    const Loft& line = *car.pieces[piece].line;
    const auto lead = [&](const geometry::Error& error) {
        return geometry::Error{error.code, piece_words(drawn) + ": " + error.message};
    };
    PartBeam part;
    part.piece = piece;
    part.held_by = held_by(job, line, plan, piece);
    auto sections = part_sections(drawn, line, cuts_of(line, part.held_by), car.pieces[piece].formed.get());
    if (!sections) {
        return lead(sections.error());
    }
    part.sections = std::move(sections).value();
    part.places = step_places(job, line, part.held_by);
    for (const LoadWay way : {LoadWay::down, LoadWay::outward}) {
        auto beam = beam_of(part, way);
        if (!beam) {
            return lead(beam.error());
        }
        (way == LoadWay::down ? part.down : part.outward) = std::move(beam).value();
    }
    return part;
}

geometry::Result<BeamAnswer> answer(const PartBeam& part, const LoadCase& load) {
    auto state = (load.way == LoadWay::down ? *part.down : *part.outward).under(load.loads);
    if (!state) {
        return state.error();
    }
    BeamAnswer to{std::move(state).value(), 0.0, {}, 0.0, {}, {}, {}, {}};
    const geometry::BeamExtreme worst = to.state.worst_deflection();
    to.deflection_mm_mpa = std::abs(worst.value) * std::hypot(1.0, part.sideways(load.way));
    to.deflection_at = worst.at;
    take_stress(part, load, to);
    take_pulls(part, load, to);
    return to;
}

std::vector<BeamCase> beam_cases(const Job& job, const CarModel& car, const MountPlan& plan) {
    const MaterialNumbers material = numbers_of(job.skirt.material);
    std::vector<BeamCase> all;
    for (std::size_t i = 0; i < car.pieces.size(); ++i) {
        if (!car.pieces[i].line || !job.skirt.pieces[i].sheet || job.skirt.pieces[i].carried_by != "body") {
            continue;
        }
        const auto part = part_beam(job, car, plan, i);
        if (!part) {
            continue;
        }
        const PartBeam& beam = part.value();
        for (const LoadCase& load : load_cases(job.loads, material.density_kg_per_m3, beam.sections, beam.places)) {
            const auto found = answer(beam, load);
            if (!found) {
                continue;
            }
            const BeamAnswer& numbers = found.value();
            BeamCase one{job.skirt.pieces[i].name, load.name, load.kind, load.way, load.lasting, {}, {}, {}, {}};
            for (std::size_t k = 0; k < beam.held_by.size(); ++k) {
                one.mounts.push_back({beam.held_by[k].mount->name, beam.held_by[k].p_mm.x(),
                                      numbers.state.reactions_n()[k], numbers.pull_n[k]});
            }
            if (const auto& modulus = load.lasting ? material.creep_modulus : material.hot_modulus) {
                const double e = in_mpa(*modulus);
                one.deflection_mm = numbers.deflection_mm_mpa / e;
                one.strain = numbers.stress_mpa / e;
                const Length front = beam.sections.front().from;
                const Length rear = beam.sections.back().to;
                for (int k = 0; k <= k_curve_places; ++k) {
                    const Length at = front + (static_cast<double>(k) / k_curve_places) * (rear - front);
                    one.curve_mm.emplace_back(in_mm(at), numbers.state.deflection_mm(at) / e);
                }
            }
            all.push_back(std::move(one));
        }
    }
    return all;
}

}  // namespace sillwright::core

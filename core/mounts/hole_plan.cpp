#include "core/mounts/hole_plan.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <utility>

#include "core/mounts/clearance_rules.h"
#include "core/mounts/growth.h"
#include "core/mounts/mount_check.h"
#include "core/mounts/mount_piece.h"
#include "core/number_text.h"
#include "core/skirt/thickness.h"

namespace sillwright::core {

using Eigen::Vector3d;
using geometry::in_mm;
using geometry::millimetres;

namespace {

/// A size that is so little more than a whole step of the cutter is that step: rounding of lengths of a metre.
constexpr double k_step_rounding = 1e-9;
/// More mounts than this on one piece are not all tried as the locator: those nearest to their middle are.
constexpr std::size_t k_most_tried = 60;

/// A mount on the flat of its flange.
struct Seen {
    const Mount* mount = nullptr;
    std::size_t piece = 0;
    Landing landing;
    Vector3d along, across;
    double screw_mm = 0.0;
    bool screw_known = false;
};

Seen seen(const Mount& mount, const LandedMount& landed) {
    Seen one;
    one.mount = &mount;
    one.piece = landed.piece;
    one.landing = landed.landing;
    const Vector3d& normal = one.landing.normal;
    one.along = (Vector3d::UnitX() - normal.x() * normal).normalized();
    one.across = normal.cross(one.along);
    if (one.across.dot(one.landing.bend.away) < 0.0) {
        one.across = -one.across;
    }
    const auto& shank = mount.fastener.diameter || mount.kind != MountKind::stud ? mount.fastener.diameter : mount.size;
    one.screw_known = shank.has_value();
    one.screw_mm = shank ? in_mm(shank->value) : 0.0;
    return one;
}

bool is_fixed(const Mount& mount) {
    return mount.kind != MountKind::hole || mount.fastener.kind == FastenerKind::fixed_screw;
}

/// How the place where the axis lands changes, in a direction on the face, with the mount's place.
Vector3d gradient(const Seen& hole, const Vector3d& direction) {
    const Vector3d& axis = hole.mount->axis;
    const Vector3d& normal = hole.landing.normal;
    return direction - (axis.dot(direction) / axis.dot(normal)) * normal;
}

std::optional<Eigen::Index> row_of(const PlacesTogether& together, const std::string& name) {
    const auto found = std::find(together.names.begin(), together.names.end(), name);
    if (found == together.names.end()) {
        return std::nullopt;
    }
    return 3 * (found - together.names.begin());
}

/// Of the place of one mount's landing as seen from another's.
std::optional<double> difference_sd_mm(const CarModel& car, const Seen& hole, const Seen& from,
                                       const Vector3d& direction) {
    if (!hole.landing.covariance_mm2 || !from.landing.covariance_mm2) {
        return std::nullopt;
    }
    const Vector3d here = gradient(hole, direction);
    const Vector3d there = gradient(from, direction);
    double variance = here.dot(*hole.landing.covariance_mm2 * here) + there.dot(*from.landing.covariance_mm2 * there);
    const auto row = row_of(car.mounts_together, hole.mount->name);
    const auto column = row_of(car.mounts_together, from.mount->name);
    if (row && column) {
        variance -= 2.0 * here.dot(car.mounts_together.covariance_mm2.block<3, 3>(*row, *column) * there);
    }
    return std::sqrt(std::max(0.0, variance));
}

/// What a loose screw can move by in the body's hole, each way.
HalfWidths loose_in_body(const Seen& hole) {
    const Mount& mount = *hole.mount;
    if (is_fixed(mount) || mount.fastener.kind != FastenerKind::screw || !mount.size || !hole.screw_known) {
        return {};
    }
    const double width = in_mm(mount.size->value);
    const double length = mount.slot_length ? in_mm(mount.slot_length->value) : width;
    return {0.5 * std::max(0.0, length - hole.screw_mm), 0.5 * std::max(0.0, width - hole.screw_mm)};
}

/// What a fastener can move by in the body's hole: a loose screw, and whatever is in a slot.
HalfWidths body_play(const Seen& hole) {
    HalfWidths play = loose_in_body(hole);
    const Mount& mount = *hole.mount;
    if (mount.size && mount.slot_length) {
        play.along_mm = std::max(play.along_mm, 0.5 * in_mm(mount.slot_length->value - mount.size->value));
    }
    return play;
}

double stepped_mm(const Job& job, double size_mm) {
    const double step = in_mm(job.fitting.cutter_step.value);
    return step > 0.0 ? std::ceil(size_mm / step - k_step_rounding) * step : size_mm;
}

/// Puts all numbers of one hole together.
class Sizing {
public:
    Sizing(const Job& job, const CarModel& car, const GrowthRates& rates) : job_{job}, car_{car}, rates_{rates} {}

    [[nodiscard]] HolePlan plan(const Seen& hole, const Seen& locator, HoleRole role) const {
        HolePlan plan = sized(hole, locator, role);
        put_inputs(plan);
        return plan;
    }

    /// Without inputs for reading.
    [[nodiscard]] HolePlan sized(const Seen& hole, const Seen& locator, HoleRole role) const {
        HolePlan plan = blank(hole, role);
        const Vector3d off = hole.landing.p_mm - locator.landing.p_mm;
        plan.from_locator_mm = off.dot(hole.along);
        plan.across_from_locator_mm = off.dot(hole.across);
        plan.growth = growth(rates_, plan.from_locator_mm);
        plan.growth_across = growth(rates_, plan.across_from_locator_mm);
        if (role == HoleRole::locator) {
            make_close(plan);
        } else {
            put_part(plan);
            put_body(plan, hole, locator);
            plan.locator = play_of(locator);
            put_tilt(plan, hole);
            plan.missing.insert(plan.missing.end(), rates_.missing.begin(), rates_.missing.end());
        }
        put_sizes(plan);
        return plan;
    }

private:
    HolePlan blank(const Seen& hole, HoleRole role) const {
        HolePlan plan;
        plan.mount = hole.mount->name;
        plan.piece = hole.piece;
        plan.landing = hole.landing;
        plan.role = role;
        plan.screw_mm = hole.screw_mm;
        plan.along = hole.along;
        plan.across = hole.across;
        if (!hole.screw_known) {
            plan.missing.push_back("the diameter of " + plan.mount + "'s fastener");
        }
        if (hole.mount->part_hole) {
            const double width = in_mm(hole.mount->part_hole->value);
            plan.drawn = HoleSize{hole.mount->part_slot ? in_mm(hole.mount->part_slot->value) : width, width};
        }
        plan.drawn_shift_mm = hole.mount->part_shift ? in_mm(hole.mount->part_shift->value) : 0.0;
        return plan;
    }

    void put_part(HolePlan& plan) const {
        if (!job_.fitting.part_half) {
            plan.missing.emplace_back("how near a hole of the part comes to its place when it is made");
            return;
        }
        const double half = in_mm(job_.fitting.part_half->value);
        plan.part = {half, half};
    }

    void put_body(HolePlan& plan, const Seen& hole, const Seen& locator) const {
        for (const Seen* const one : {&hole, &locator}) {
            if (!one->landing.covariance_mm2) {
                plan.missing.push_back("the standard deviation of " + one->mount->name + "'s along, out and up");
            }
        }
        const double others = job_.fitting.fits_other_cars ? in_mm(job_.fitting.car_to_car.value) : 0.0;
        const auto half = [&](const Vector3d& way) {
            return k_sd_factor * difference_sd_mm(car_, hole, locator, way).value_or(0.0) + others;
        };
        const HalfWidths whole{half(plan.along), half(plan.across)};
        const HalfWidths loose = loose_in_body(hole);
        plan.body_play = {std::min(loose.along_mm, whole.along_mm), std::min(loose.across_mm, whole.across_mm)};
        plan.body = {whole.along_mm - plan.body_play.along_mm, whole.across_mm - plan.body_play.across_mm};
    }

    HalfWidths play_of(const Seen& locator) const {
        const double close =
            0.5 * (stepped_mm(job_, in_mm(close_hole(millimetres(locator.screw_mm)))) - locator.screw_mm);
        const HalfWidths more = body_play(locator);
        return {close + more.along_mm, close + more.across_mm};
    }

    /// A fixed fastener leans: as its axis was measured, and a thread within the place that it may have.
    void put_tilt(HolePlan& plan, const Seen& hole) const {
        const Mount& mount = *hole.mount;
        if (!is_fixed(mount)) {
            return;
        }
        const auto flange =
            flange_thickness(job_.skirt.pieces[hole.piece], mount.at.along.value, &car_.pieces[hole.piece]);
        const double paint = job_.skirt.paint ? in_mm(job_.skirt.paint->value) : 0.0;
        if (!flange) {
            plan.missing.push_back("the sheet thickness of " + job_.skirt.pieces[hole.piece].name);
            return;
        }
        const double through = in_mm(flange->thickness) + paint;
        const double cosine = std::abs(mount.axis.dot(hole.landing.normal));
        const double lean = through * mount.axis.cross(hole.landing.normal).norm() / cosine;
        plan.tilt = {lean, lean};
        if (mount.kind == MountKind::stud) {
            return;
        }
        if (!mount.fastener.tail || !(mount.fastener.tail->value > geometry::Length{})) {
            plan.missing.push_back("how far " + plan.mount + "'s screw goes in behind the panel");
            return;
        }
        const double panel = mount.panel_thickness ? in_mm(mount.panel_thickness->value) : 0.0;
        const double spacer = mount.fastener.spacer ? in_mm(mount.fastener.spacer->value) : 0.0;
        const double factor = 2.0 * (spacer + through) / (panel + in_mm(mount.fastener.tail->value));
        plan.tilt.along_mm += factor * plan.body.along_mm;
        plan.tilt.across_mm += factor * plan.body.across_mm;
    }

    /// Nothing but the play of a close hole.
    static void make_close(HolePlan& plan) {
        const double play = 0.5 * (in_mm(close_hole(millimetres(plan.screw_mm))) - plan.screw_mm);
        plan.locator = {play, play};
        plan.growth_across = growth({{{"as drawn", 0.0, {}}}, {}}, 0.0);
    }

    void put_sizes(HolePlan& plan) const {
        const double range = plan.growth.greatest_mm - plan.growth.least_mm;
        const double across = std::max(plan.growth_across.greatest_mm, -plan.growth_across.least_mm);
        const HalfWidths worst = plan.room();
        const HalfWidths rss{
            std::hypot(plan.part.along_mm, plan.body.along_mm + plan.tilt.along_mm, plan.locator.along_mm),
            std::hypot(plan.part.across_mm, plan.body.across_mm + plan.tilt.across_mm, plan.locator.across_mm)};
        const auto size = [&](const HalfWidths& half) {
            // Round ends: what is across takes as much off a slot's length as it gives to its width.
            const double length = plan.screw_mm + range + 2.0 * across + 2.0 * std::max(half.along_mm, half.across_mm);
            return HoleSize{length, plan.screw_mm + 2.0 * across + 2.0 * half.across_mm};
        };
        plan.worst = size(worst);
        plan.rss = size(rss);
        plan.cut = {stepped_mm(job_, plan.worst.length_mm), stepped_mm(job_, plan.worst.width_mm)};
        const double away = -0.5 * (plan.growth.greatest_mm + plan.growth.least_mm);
        plan.shift_mm = plan.from_locator_mm < 0.0 ? -away : away;
        if (away == 0.0) {
            plan.shift_mm = 0.0;  // Never minus zero.
        }
    }

    void put_inputs(HolePlan& plan) const {
        const auto add = [&](const std::string& name, double mm) {
            plan.inputs.push_back({name, mm_text(millimetres(mm))});
        };
        const auto both = [&](const std::string& name, const HalfWidths& half) {
            plan.inputs.push_back({name + ", half-width along and across",
                                   mm_text(millimetres(half.along_mm)) + ", " + mm_text(millimetres(half.across_mm))});
        };
        add("screw", plan.screw_mm);
        add("from the locator, along (in front of it: below zero)", plan.from_locator_mm);
        for (std::size_t i = 0; i < plan.growth.states.size(); ++i) {
            const Growth::At& at = plan.growth.states[i];
            add("growth away from the locator, " + at.state + " (" + rates_.states[i].words + ")", at.mm);
        }
        both("part", plan.part);
        both("body", plan.body);
        if (plan.body_play.along_mm > 0.0 || plan.body_play.across_mm > 0.0) {
            both("play of the loose screw in the body, taken off", plan.body_play);
        }
        both("play of the locator", plan.locator);
        if (plan.tilt.along_mm > 0.0 || plan.tilt.across_mm > 0.0) {
            both("lean of the fixed fastener", plan.tilt);
        }
        const auto size = [&](const std::string& name, const HoleSize& one) {
            plan.inputs.push_back(
                {name, mm_text(millimetres(one.length_mm)) + " x " + mm_text(millimetres(one.width_mm))});
        };
        size("needed, worst case", plan.worst);
        size("needed, root of the sum of squares", plan.rss);
        size("to be cut", plan.cut);
        add("centre moved rearward", plan.shift_mm);
    }

    const Job& job_;
    const CarModel& car_;
    const GrowthRates& rates_;
};

std::string why_not_locator(const Seen& hole, const std::string& guide) {
    if (hole.mount->name == guide) {
        return "it is to be the guide";
    }
    switch (hole.mount->shape) {
        case HoleShape::round:
            return "";
        case HoleShape::slot:
            return "its hole in the body is a slot";
        case HoleShape::square:
            return "its hole in the body is square";
    }
    return {};
}

/// The holes of one piece, front to rear.
using Row = std::vector<Seen>;

std::vector<std::size_t> to_try(const Row& row) {
    std::vector<std::size_t> all(row.size());
    for (std::size_t i = 0; i < row.size(); ++i) {
        all[i] = i;
    }
    if (row.size() > k_most_tried) {
        const double middle = 0.5 * (row.front().landing.p_mm.x() + row.back().landing.p_mm.x());
        const auto off = [&](std::size_t i) { return std::abs(row[i].landing.p_mm.x() - middle); };
        std::sort(all.begin(), all.end(), [&](std::size_t a, std::size_t b) { return off(a) < off(b); });
        all.resize(k_most_tried);
    }
    return all;
}

struct Choice {
    std::size_t index;
    LocatorChoice words;
};

std::vector<Choice> choices(const Row& row, const Sizing& sizing, const std::string& guide) {
    std::vector<Choice> all;
    for (const std::size_t i : to_try(row)) {
        Choice one{i, {row[i].mount->name, 0.0, why_not_locator(row[i], guide)}};
        for (std::size_t k = 0; k < row.size(); ++k) {
            if (k != i) {
                one.words.longest_slot_mm = std::max(one.words.longest_slot_mm,
                                                     sizing.sized(row[k], row[i], HoleRole::clearance).worst.length_mm);
            }
        }
        all.push_back(std::move(one));
    }
    std::stable_sort(all.begin(), all.end(), [](const Choice& a, const Choice& b) {
        return std::pair(!a.words.why_not.empty(), a.words.longest_slot_mm) <
               std::pair(!b.words.why_not.empty(), b.words.longest_slot_mm);
    });
    return all;
}

std::optional<std::size_t> index_of(const Row& row, const std::string& name) {
    for (std::size_t i = 0; i < row.size(); ++i) {
        if (row[i].mount->name == name) {
            return i;
        }
    }
    return std::nullopt;
}

/// The neighbour that is further off; none if the locator is alone.
std::optional<std::size_t> proposed_guide(const Row& row, std::size_t locator) {
    const auto off = [&](std::size_t i) { return std::abs(row[i].landing.p_mm.x() - row[locator].landing.p_mm.x()); };
    std::optional<std::size_t> guide;
    for (const std::size_t i : {locator - 1, locator + 1}) {
        if (i < row.size() && (!guide || off(i) > off(*guide))) {
            guide = i;
        }
    }
    return guide;
}

struct RowPlan {
    std::vector<HolePlan> holes;
    std::string locator, guide;
    bool locator_proposed = true, guide_proposed = true;
    std::vector<LocatorChoice> choices;
};

RowPlan plan_row(const Job& job, const Row& row, const Sizing& sizing) {
    RowPlan plan;
    const auto tried = choices(row, sizing, index_of(row, job.fitting.guide) ? job.fitting.guide : "");
    for (const Choice& one : tried) {
        plan.choices.push_back(one.words);
    }
    const auto asked = index_of(row, job.fitting.locator);
    plan.locator_proposed = !asked;
    const std::size_t from = asked.value_or(tried.front().index);
    std::optional<std::size_t> guide;
    if (asked || tried.front().words.why_not.empty()) {
        plan.locator = row[from].mount->name;
        guide = index_of(row, job.fitting.guide);
        plan.guide_proposed = !guide || *guide == from;
        guide = plan.guide_proposed ? proposed_guide(row, from) : guide;
        plan.guide = guide ? row[*guide].mount->name : "";
    }
    for (std::size_t i = 0; i < row.size(); ++i) {
        const HoleRole role = i == from && !plan.locator.empty() ? HoleRole::locator
                              : i == guide                       ? HoleRole::guide
                                                                 : HoleRole::clearance;
        plan.holes.push_back(sizing.plan(row[i], row[from], role));
    }
    return plan;
}

std::vector<Row> rows_of(const Job& job, const CarModel& car) {
    std::vector<Row> rows(job.skirt.pieces.size());
    for (const Mount& mount : job.mounts) {
        if (mount.use != MountUse::flange) {
            continue;
        }
        if (const auto landed = landed_mount(job, car, mount)) {
            rows[landed->piece].push_back(seen(mount, *landed));
        }
    }
    for (Row& row : rows) {
        std::stable_sort(row.begin(), row.end(),
                         [](const Seen& a, const Seen& b) { return a.landing.p_mm.x() < b.landing.p_mm.x(); });
    }
    std::erase_if(rows, [](const Row& row) { return row.empty(); });
    return rows;
}

/// The row whose locator and guide the plan names: that for which the job names one, else the longest.
std::size_t main_row(const Job& job, const std::vector<Row>& rows) {
    std::size_t best = 0;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (index_of(rows[i], job.fitting.locator) || index_of(rows[i], job.fitting.guide)) {
            return i;
        }
        best = rows[i].size() > rows[best].size() ? i : best;
    }
    return best;
}

/// A locator or guide that the job names, but that no row has.
std::vector<std::string> lost(const Job& job, const std::vector<Row>& rows) {
    std::vector<std::string> words;
    const auto look = [&](const std::string& name, const std::string& role) {
        if (!name.empty() &&
            std::none_of(rows.begin(), rows.end(), [&](const Row& row) { return index_of(row, name).has_value(); })) {
            words.push_back("where " + name + ", chosen as the " + role + ", lands on the flange");
        }
    };
    look(job.fitting.locator, "locator");
    look(job.fitting.guide, "guide");
    return words;
}

void add_new(std::vector<std::string>& all, const std::vector<std::string>& more) {
    for (const std::string& one : more) {
        if (std::find(all.begin(), all.end(), one) == all.end()) {
            all.push_back(one);
        }
    }
}

}  // namespace

HalfWidths HolePlan::room() const {
    return {part.along_mm + body.along_mm + locator.along_mm + tilt.along_mm,
            part.across_mm + body.across_mm + locator.across_mm + tilt.across_mm};
}

const HolePlan* MountPlan::find(const std::string& mount) const {
    const auto found =
        std::find_if(holes.begin(), holes.end(), [&](const HolePlan& one) { return one.mount == mount; });
    return found == holes.end() ? nullptr : &*found;
}

MountPlan mount_plan(const Job& job, const CarModel& car) {
    MountPlan plan;
    const auto rows = rows_of(job, car);
    if (rows.empty()) {
        return plan;
    }
    const GrowthRates rates = growth_rates(job);
    const Sizing sizing{job, car, rates};
    const std::size_t named = main_row(job, rows);
    for (std::size_t i = 0; i < rows.size(); ++i) {
        RowPlan row = plan_row(job, rows[i], sizing);
        if (i == named) {
            plan.locator = row.locator;
            plan.guide = row.guide;
            plan.locator_proposed = row.locator_proposed;
            plan.guide_proposed = row.guide_proposed;
            plan.choices = std::move(row.choices);
        }
        std::move(row.holes.begin(), row.holes.end(), std::back_inserter(plan.holes));
    }
    std::stable_sort(plan.holes.begin(), plan.holes.end(),
                     [](const HolePlan& a, const HolePlan& b) { return a.landing.p_mm.x() < b.landing.p_mm.x(); });
    plan.lost = lost(job, rows);
    plan.missing = plan.lost;
    for (const HolePlan& hole : plan.holes) {
        add_new(plan.missing, hole.missing);
    }
    return plan;
}

bool same_line_up(const MountPlan& a, const MountPlan& b) {
    const auto same_halves = [](const HalfWidths& one, const HalfWidths& other) {
        return one.along_mm == other.along_mm && one.across_mm == other.across_mm;
    };
    const auto same_growth = [](const Growth& one, const Growth& other) {
        return std::equal(
            one.states.begin(), one.states.end(), other.states.begin(), other.states.end(),
            [](const Growth::At& at, const Growth::At& there) { return at.state == there.state && at.mm == there.mm; });
    };
    const auto same_hole = [&](const HolePlan& one, const HolePlan& other) {
        return one.mount == other.mount && one.piece == other.piece && one.role == other.role &&
               one.screw_mm == other.screw_mm && one.landing.p_mm == other.landing.p_mm &&
               one.landing.normal == other.landing.normal &&
               one.landing.covariance_mm2 == other.landing.covariance_mm2 && one.along == other.along &&
               one.across == other.across && same_growth(one.growth, other.growth) &&
               same_growth(one.growth_across, other.growth_across) && same_halves(one.part, other.part) &&
               same_halves(one.body, other.body) && same_halves(one.locator, other.locator) &&
               same_halves(one.tilt, other.tilt) && same_halves(one.body_play, other.body_play) &&
               one.cut == other.cut && one.shift_mm == other.shift_mm && one.drawn == other.drawn &&
               one.drawn_shift_mm == other.drawn_shift_mm && one.missing == other.missing;
    };
    return a.missing == b.missing && a.locator == b.locator && a.guide == b.guide &&
           std::equal(a.holes.begin(), a.holes.end(), b.holes.begin(), b.holes.end(), same_hole);
}

}  // namespace sillwright::core

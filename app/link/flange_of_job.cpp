#include "app/link/flange_of_job.h"

#include <algorithm>
#include <map>
#include <optional>

#include "core/evaluate.h"
#include "core/finding_about.h"
#include "core/finding_words.h"
#include "core/number_text.h"

namespace sillwright::app {

using core::Evaluation;
using core::FlangeFace;
using core::FlatRow;
using core::HolePlan;
using core::Mount;
using geometry::in_mm;

namespace {

/// The flange so far to either side of its mount: more than a wide pane shows, moved by the growth as it is.
constexpr double k_seen_mm = 100.0;
constexpr geometry::Length k_step = geometry::millimetres(10.0);

std::optional<double> mm(const std::optional<core::Entry>& entry) {
    return entry ? std::optional(in_mm(entry->value)) : std::nullopt;
}

/// The worst of the findings that are about the mount; not measured if there is none.
core::State state_of(const Evaluation& evaluation, const std::string& mount) {
    return core::worst_state(evaluation.findings, [&](const core::Finding& finding) {
        return finding.stage == core::Stage::mounts && core::is_about_mount(finding, mount);
    });
}

/// The part's growth at a state goes rearward behind the locator, forward in front of it.
double rearward(const HolePlan& plan, const std::string& state) {
    const auto found = std::find_if(plan.growth.states.begin(), plan.growth.states.end(),
                                    [&](const auto& at) { return at.state == state; });
    if (found == plan.growth.states.end()) {
        return 0.0;
    }
    return plan.from_locator_mm < 0.0 ? -found->mm : found->mm;
}

std::string warmth_words(const std::optional<core::Warmth>& warmth) {
    const auto number = [](const std::optional<geometry::Temperature>& one) {
        return one ? core::number_text(geometry::in_celsius(*one)) + " °C" : std::string("not given");
    };
    return warmth ? "part " + number(warmth->part) + ", body " + number(warmth->body) : "not given";
}

FlangeHole hole_of(const Evaluation& evaluation, const HolePlan& plan, const Mount& mount, const FlangeFace& face,
                   const core::FlatFlange& flat) {
    FlangeHole hole;
    hole.mount = plan.mount;
    hole.role = plan.role;
    hole.shape = mount.shape;
    const auto place = core::on_flat(face, plan.landing.p_mm);
    hole.along_mm = plan.landing.p_mm.x();
    hole.across_mm = place ? place->y() : 0.0;
    hole.size_mm = mm(mount.size);
    hole.length_mm = mm(mount.slot_length);
    hole.screw_mm = plan.screw_mm;
    hole.head_mm = mm(mount.fastener.head_diameter);
    hole.drawn = plan.drawn;
    hole.drawn_shift_mm = plan.drawn_shift_mm;
    hole.needed = plan.worst;
    hole.shift_mm = plan.shift_mm;
    hole.cold_mm = rearward(plan, "cold");
    hole.hot_mm = rearward(plan, "hot");
    hole.covariance_mm2 = core::flat_covariance_mm2(face, mount, plan.landing);
    hole.state = state_of(evaluation, plan.mount);
    std::copy_if(flat.rows.begin(), flat.rows.end(), std::back_inserter(hole.rows),
                 [&](const FlatRow& row) { return std::abs(row.along_mm - hole.along_mm) <= k_seen_mm; });
    return hole;
}

}  // namespace

FlangePicture flange_of_job(const Evaluation& evaluation) {
    const core::Job& job = evaluation.job;
    FlangePicture picture;
    picture.unit = job.unit;
    picture.pitch_most_mm = in_mm(job.limits.pitch_most.value);
    picture.cold_words = warmth_words(job.fitting.cold);
    picture.hot_words = warmth_words(job.fitting.hot);
    std::map<std::size_t, std::pair<FlangeFace, core::FlatFlange>> faces;
    for (const HolePlan& plan : evaluation.plan.holes) {
        const auto mount = std::find_if(job.mounts.begin(), job.mounts.end(),
                                        [&](const Mount& one) { return one.name == plan.mount; });
        auto known = faces.find(plan.piece);
        if (known == faces.end()) {
            const core::PieceModel& model = evaluation.car.pieces[plan.piece];
            const auto& line = model.line;
            auto face = line ? FlangeFace::of(job.skirt.pieces[plan.piece], *line, model.formed.get()) : std::nullopt;
            if (!face) {
                continue;
            }
            auto flat = core::flat_flange(*face, k_step);
            known = faces.emplace(plan.piece, std::pair(std::move(*face), std::move(flat))).first;
        }
        const auto& [face, flat] = known->second;
        if (mount != job.mounts.end()) {
            picture.holes.push_back(hole_of(evaluation, plan, *mount, face, flat));
            picture.warmth = picture.warmth || plan.growth.states.size() > 1;
        }
    }
    if (picture.holes.empty()) {
        picture.words =
            "No mount lands on a drawn flange yet: draw the flange from flange root to flange end, and "
            "enter the clip holes as mounts.";
        for (const std::string& missing : evaluation.plan.missing) {
            picture.words += "\n" + missing;
        }
        return picture;
    }
    picture.front_mm = in_mm(faces.begin()->second.first.front());
    picture.rear_mm = picture.front_mm;
    for (const auto& [piece, face] : faces) {
        picture.front_mm = std::min(picture.front_mm, in_mm(face.first.front()));
        picture.rear_mm = std::max(picture.rear_mm, in_mm(face.first.rear()));
    }
    return picture;
}

}  // namespace sillwright::app

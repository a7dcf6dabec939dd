#include "core/evaluate.h"

#include <algorithm>
#include <future>
#include <system_error>
#include <utility>

#include "core/buck/buck_plan.h"
#include "core/buck/station_outline.h"
#include "core/findings_of_job.h"
#include "core/forming/forming_plan.h"
#include "core/handover/packing.h"
#include "core/mounts/fitting_findings.h"
#include "core/mounts/reach.h"
#include "core/road/end_gap.h"
#include "core/road/road_findings.h"
#include "core/standing_findings.h"
#include "core/survey/survey_findings.h"
#include "core/swing/swing_mend.h"

namespace sillwright::core {

using geometry::Error;
using geometry::ErrorCode;
using geometry::Result;
using geometry::Status;
using geometry::Watch;

namespace {

/// Parts of the progress: models, then swings, then what is left. Of a whole computation of a usual job.
constexpr double k_models_told = 0.5;
constexpr double k_swings_told = 0.9;

/// A part of a longer computation tells its progress as its share of the whole.
Watch share_of(const Watch& watch, double from, double to) {
    if (!watch.progress) {
        return watch;
    }
    return {watch.stop, [tell = watch.progress, from, to](double part) { tell(from + (to - from) * part); }};
}

void tell(const Watch& watch, double part) {
    if (watch.progress) {
        watch.progress(part);
    }
}

Error stopped() {
    return {ErrorCode::stopped, "The computation was stopped before it was finished."};
}

/// The body of a car that has this tree: copies of a body share it.
const BodyModel* body_with(const CarModel& car, const geometry::DistanceTree* tree) {
    for (const PieceModel& piece : car.pieces) {
        if (piece.body && piece.body->tree.get() == tree) {
            return &*piece.body;
        }
    }
    for (const DoorModel& door : car.doors) {
        for (const DoorPart& part : door.parts) {
            if (part.body.tree.get() == tree) {
                return &part.body;
            }
        }
    }
    return nullptr;
}

std::vector<FileStamp> stamps(const Job& job, const std::filesystem::path& folder) {
    std::vector<FileStamp> all;
    const auto add = [&](const std::optional<ShapeFile>& file) {
        if (file) {
            std::error_code none;  // A file that is not there fails where it is read.
            FileStamp stamp{file->path, {}, {}};
            stamp.size = std::filesystem::file_size(folder / file->path, none);
            stamp.written = std::filesystem::last_write_time(folder / file->path, none);
            all.push_back(std::move(stamp));
        }
    };
    if (!job.other_hand.empty()) {
        add(ShapeFile{job.other_hand, {}});
    }
    for (const survey::Scan& scan : job.scans) {
        if (scan.name == job.forming.sculpted.scan) {
            add(ShapeFile{scan.path, {}});
        }
    }
    for (const Piece& piece : job.skirt.pieces) {
        add(piece.file);
    }
    for (const Door& door : job.doors) {
        for (const DoorBody& body : door.bodies) {
            add(body.file);
        }
    }
    return all;
}

/// What may be taken over from an evaluation for a job, and for none if there was none.
class Known {
public:
    Known(const Job& job, const Evaluation& now, const Evaluation* previous)
        : job_{job}, now_{now}, previous_{previous != nullptr && previous->folder == now.folder ? previous : nullptr} {}

    [[nodiscard]] KnownModels models() const {
        if (previous_ == nullptr) {
            return {};
        }
        return {&previous_->job, &previous_->car, [this](const ShapeFile& file) { return same_file(file); }};
    }

    /// The car's own surface, if it was made and is the same.
    [[nodiscard]] std::shared_ptr<const BodyModel> body() const {
        const bool same =
            previous_ != nullptr && previous_->job.body == job_.body && previous_->job.stations == job_.stations;
        return same ? previous_->body : nullptr;
    }

    /// What the book says, if nothing that it is computed from has changed.
    [[nodiscard]] std::shared_ptr<const survey::Results> survey() const {
        const bool same = same_book() && previous_->job.doors == job_.doors &&
                          previous_->job.other_hand == job_.other_hand && same_stamp(job_.other_hand);
        return same ? previous_->survey : nullptr;
    }

    /// The scan of the prototype, if nothing that places it has changed.
    [[nodiscard]] Prototype prototype() const {
        const bool same = same_book() && previous_->job.scans == job_.scans && previous_->files == now_.files &&
                          previous_->job.forming == job_.forming && previous_->job.fitting.drawn == job_.fitting.drawn;
        return same ? previous_->prototype : nullptr;
    }

    /// Whether all fasteners go home, if nothing that it hangs on has changed.
    [[nodiscard]] const LineUp* line_up(const MountPlan& plan) const {
        const bool same = previous_ != nullptr && previous_->job.mounts == job_.mounts &&
                          previous_->job.fitting == job_.fitting && previous_->job.limits == job_.limits &&
                          previous_->job.skirt.material == job_.skirt.material && same_line_up(previous_->plan, plan);
        return same ? &previous_->line_up : nullptr;
    }

    [[nodiscard]] const SwingOutcome* outcome(const SwingPair& pair, SwingCase which, const SwingMotion& motion) const {
        if (previous_ == nullptr) {
            return nullptr;
        }
        for (const SwingOutcome& outcome : previous_->outcomes) {
            if (outcome.which == which && outcome.pair.moving->tree == pair.moving->tree &&
                outcome.pair.fixed->tree == pair.fixed->tree &&
                swing_motion(previous_->car.doors[outcome.pair.door], which) == motion) {
                return &outcome;
            }
        }
        return nullptr;
    }

    /// The finding of which the mend, or that there is none, may be taken over.
    [[nodiscard]] const Finding* mended(const Finding& finding, const Mount* mount) const {
        if (previous_ == nullptr || !(mount != nullptr ? same_for(*mount) : same_for_swing())) {
            return nullptr;
        }
        const auto& unmended = previous_->unmended;
        const auto before = std::find_if(previous_->findings.begin(), previous_->findings.end(),
                                         [&](const Finding& one) { return one.id == finding.id; });
        const bool known = before != previous_->findings.end() && before->state == State::falls_short &&
                           std::find(unmended.begin(), unmended.end(), finding.id) == unmended.end();
        return known ? &*before : nullptr;
    }

private:
    [[nodiscard]] bool same_file(const ShapeFile& file) const { return same_stamp(file.path); }
    [[nodiscard]] bool same_stamp(const std::string& path) const {
        if (path.empty()) {
            return true;
        }
        const auto stamp_in = [&](const Evaluation& evaluation) {
            return std::find_if(evaluation.files.begin(), evaluation.files.end(),
                                [&](const FileStamp& stamp) { return stamp.path == path; });
        };
        const auto before = stamp_in(*previous_);
        const auto now = stamp_in(now_);
        return before != previous_->files.end() && now != now_.files.end() && *before == *now;
    }

    [[nodiscard]] bool same_book() const {
        return previous_ != nullptr && previous_->job.book == job_.book && previous_->job.unit == job_.unit;
    }
    [[nodiscard]] bool same_parts() const {
        const Job& before = previous_->job;
        return same_book() && before.stations == job_.stations && before.skirt == job_.skirt &&
               before.limits == job_.limits;
    }
    [[nodiscard]] bool same_for(const Mount& mount) const {
        const auto& before = previous_->job.mounts;
        return same_parts() && std::find(before.begin(), before.end(), mount) != before.end();
    }
    [[nodiscard]] bool same_for_swing() const {
        const Job& before = previous_->job;
        return same_parts() && previous_->files == now_.files && before.side == job_.side &&
               before.zero_to_midplane == job_.zero_to_midplane && before.survey_sd == job_.survey_sd &&
               before.body == job_.body && before.doors == job_.doors;
    }

    const Job& job_;
    const Evaluation& now_;
    const Evaluation* previous_;
};

const Mount* mount_of(const Job& job, const Finding& finding) {
    const auto found = std::find_if(job.mounts.begin(), job.mounts.end(), [&](const Mount& mount) {
        return mount.use == MountUse::flange && finding.id.starts_with("mounts/" + mount.name + "/");
    });
    return found == job.mounts.end() ? nullptr : &*found;
}

/// How many outcomes will be asked for.
std::size_t count_of_asks(const Job& job, const CarModel& car, const BodyModel* body) {
    std::size_t count = 0;
    for (const SwingQuestion& question : swing_questions(job, car)) {
        for (const SwingPair& pair : swing_pairs(job, car, question.door, body)) {
            const bool asked =
                std::find(question.kinds.begin(), question.kinds.end(), pair.kind) != question.kinds.end();
            count += asked ? question.cases.size() : 0;
        }
    }
    return count;
}

Result<SwingReport> swings(const Job& job, const CarModel& car, const Known& known, const Watch& watch) {
    std::shared_ptr<const BodyModel> body;
    if (stands_against_body(job, car) && !(body = known.body())) {
        auto made = carried_against(job, car);
        if (!made) {
            return made.error();
        }
        body = std::move(made).value();
    }
    const auto asks = static_cast<double>(count_of_asks(job, car, body.get()));
    double told = 0.0;
    const auto outcome = [&](const SwingPair& pair, SwingCase which) -> Result<std::optional<SwingOutcome>> {
        const Watch share = share_of(watch, told / asks, (told + 1.0) / asks);
        told += 1.0;
        const auto motion = swing_motion(car.doors[pair.door], which);
        const SwingOutcome* const same = motion ? known.outcome(pair, which, *motion) : nullptr;
        if (same == nullptr) {
            return swing_outcome(car, pair, which, share);
        }
        SwingOutcome taken = *same;
        taken.pair = pair;
        return std::optional<SwingOutcome>{std::move(taken)};
    };
    return check_swing(job, car, body, outcome);
}

const Finding* finding_in(const std::vector<Finding>& all, const std::string& id) {
    const auto found = std::find_if(all.begin(), all.end(), [&](const Finding& one) { return one.id == id; });
    return found == all.end() ? nullptr : &*found;
}

/// Whether a finding's mend is found together with those of all that stands while a hand drags, and of the road.
bool mended_together(const Evaluation& evaluation, const std::string& id) {
    return id.starts_with("mounts/road/") || finding_in(evaluation.standing, id) != nullptr;
}

/// Mends that are known are taken over; the others are put down as not looked for yet.
void take_mends(Evaluation& evaluation, const Known& known) {
    for (Finding& finding : evaluation.findings) {
        const Mount* const mount = mount_of(evaluation.job, finding);
        const bool stands = mended_together(evaluation, finding.id);
        if (finding.state != State::falls_short || finding.mend ||
            (finding.stage != Stage::swing && mount == nullptr && !stands)) {
            continue;
        }
        if (stands) {
            evaluation.unmended.push_back(finding.id);
        } else if (const Finding* const same = known.mended(finding, mount)) {
            finding.mend = same->mend;
        } else {
            evaluation.unmended.push_back(finding.id);
        }
    }
}

/// With the prototype in the place of the drawing if it says so.
Result<Job> job_to_check(const Job& drawn, const Prototype& prototype) {
    if (!drawn.forming.sculpted.replaces) {
        return drawn;
    }
    if (prototype && !*prototype) {
        return prototype->error();
    }
    return sculpted_job(drawn, prototype ? &prototype->value() : nullptr);
}

Result<std::shared_ptr<Evaluation>> without_mends(const Job& drawn, const Evaluation* previous,
                                                  const std::filesystem::path& folder, const Watch& watch) {
    auto evaluation = std::make_shared<Evaluation>();
    evaluation->folder = folder;
    evaluation->files = stamps(drawn, folder);
    const Known of_drawn(drawn, *evaluation, previous);
    evaluation->survey = of_drawn.survey();
    if (!evaluation->survey) {
        evaluation->survey = std::make_shared<const survey::Results>(survey::survey_results(drawn, folder));
    }
    if (!drawn.forming.sculpted.scan.empty()) {
        evaluation->prototype = of_drawn.prototype();
        if (!evaluation->prototype) {
            evaluation->prototype = std::make_shared<const Result<SculptedScan>>(
                sculpted_scan(drawn, folder, evaluation->survey->solution, chain_of(drawn)));
        }
    }
    auto checked = job_to_check(drawn, evaluation->prototype);
    if (!checked) {
        return checked.error();
    }
    evaluation->job = std::move(checked).value();
    const Job& job = evaluation->job;
    const Known known(job, *evaluation, previous);
    auto car = car_model(job, folder, k_check_deviation, known.models(), share_of(watch, 0.0, k_models_told));
    if (!car) {
        return car.error();
    }
    evaluation->car = std::move(car).value();
    take_sureness(job, *evaluation->survey, evaluation->car);
    evaluation->plan = mount_plan(job, evaluation->car);
    // Beside the swing: both take a tenth of a second, and neither reads what the other writes.
    std::future<LineUp> drawing = std::async(std::launch::async, [&job, &evaluation, &known, stop = watch.stop] {
        const LineUp* const same = known.line_up(evaluation->plan);
        return same != nullptr ? *same : line_up(job, evaluation->plan, k_draws, stop);
    });
    auto swing = swings(job, evaluation->car, known, share_of(watch, k_models_told, k_swings_told));
    if (!swing) {
        return swing.error();
    }
    SwingReport report = std::move(swing).value();
    evaluation->outcomes = std::move(report.outcomes);
    evaluation->body = std::move(report.body);
    evaluation->line_up = drawing.get();
    evaluation->forming =
        std::make_shared<const FormingPlan>(forming_plan(job, evaluation->car, evaluation->prototype));
    evaluation->buck = std::make_shared<const BuckPlan>(buck_plan(job, evaluation->car, *evaluation->forming));
    evaluation->standing =
        standing_findings(job, evaluation->car, evaluation->plan, evaluation->line_up, *evaluation->forming,
                          *evaluation->buck, Mends::leave, evaluation->prototype);
    evaluation->findings = findings_of_job(
        job, evaluation->car,
        {reach_findings(job, evaluation->car, Mends::leave, &evaluation->plan),
         fitting_findings(job, evaluation->car, evaluation->plan),
         road_findings(job, evaluation->car, evaluation->plan, Mends::leave),
         end_gap_findings(job, evaluation->car, evaluation->plan), evaluation->standing, std::move(report.findings),
         outline_findings(job, station_outlines(job, &evaluation->car)), survey_findings(job, *evaluation->survey),
         packing_findings(job, evaluation->car, packing(job, evaluation->car))});
    if (watch.stop.stop_requested()) {
        return stopped();
    }
    take_mends(*evaluation, known);
    tell(watch, 1.0);
    return evaluation;
}

/// Mends of all findings of a mount that fall short: they are found together.
void mend_mount(Evaluation& evaluation, const Mount& mount, const std::stop_token& stop) {
    for (Finding& again : mount_findings(evaluation.job, evaluation.car, mount, Mends::look_for, stop)) {
        for (Finding& finding : evaluation.findings) {
            if (finding.id == again.id) {
                finding.mend = std::move(again.mend);
            }
        }
    }
}

/// Those mends.
void mend_together(Evaluation& evaluation) {
    evaluation.standing =
        standing_findings(evaluation.job, evaluation.car, evaluation.plan, evaluation.line_up, *evaluation.forming,
                          *evaluation.buck, Mends::look_for, evaluation.prototype);
    const std::vector<Finding>& standing = evaluation.standing;
    const std::vector<Finding> road = road_findings(evaluation.job, evaluation.car, evaluation.plan, Mends::look_for);
    for (Finding& finding : evaluation.findings) {
        for (const std::vector<Finding>* const all : {&standing, &road}) {
            if (const Finding* const again = finding_in(*all, finding.id)) {
                finding.mend = again->mend;
            }
        }
    }
}

Status look_for_mends(Evaluation& evaluation, const Watch& watch) {
    const std::vector<std::string> ids = std::exchange(evaluation.unmended, {});
    std::vector<const Mount*> mended;
    bool together = false;
    for (std::size_t i = 0; i < ids.size(); ++i) {
        if (watch.stop.stop_requested()) {
            return stopped();
        }
        const auto finding = std::find_if(evaluation.findings.begin(), evaluation.findings.end(),
                                          [&](const Finding& one) { return one.id == ids[i]; });
        if (mended_together(evaluation, ids[i])) {
            if (!std::exchange(together, true)) {
                mend_together(evaluation);
            }
        } else if (const Mount* const mount = mount_of(evaluation.job, *finding)) {
            if (std::find(mended.begin(), mended.end(), mount) == mended.end()) {
                mend_mount(evaluation, *mount, watch.stop);
                mended.push_back(mount);
            }
        } else {
            auto mend = swing_mend(evaluation.job, evaluation.car, evaluation.body.get(), *finding, evaluation.folder,
                                   {watch.stop, {}});
            if (!mend) {
                return mend.error();
            }
            finding->mend = std::move(mend).value();
        }
        tell(watch, static_cast<double>(i + 1) / static_cast<double>(ids.size()));
    }
    return watch.stop.stop_requested() ? Status(stopped()) : std::monostate{};
}

/// On a prototype that stands for the drawing, no node can be moved: its mends are words.
void take_moves(Evaluation& evaluation) {
    if (!evaluation.job.forming.sculpted.replaces) {
        return;
    }
    for (Finding& finding : evaluation.findings) {
        if (finding.mend) {
            finding.mend->moves.clear();
        }
    }
}

Result<std::shared_ptr<const Evaluation>> computed(const Job& job, const Evaluation* previous,
                                                   const std::filesystem::path& folder, const Watch& watch,
                                                   Mends mends) {
    // Nobody knows yet whether there is something to mend: half is kept for it.
    const double findings_told = mends == Mends::leave ? 1.0 : 0.5;
    auto evaluation = without_mends(job, previous, folder, share_of(watch, 0.0, findings_told));
    if (!evaluation) {
        return evaluation.error();
    }
    if (mends == Mends::look_for) {
        if (const Status mended = look_for_mends(*evaluation.value(), share_of(watch, findings_told, 1.0)); !mended) {
            return mended.error();
        }
        tell(watch, 1.0);
    }
    take_moves(*evaluation.value());
    return std::shared_ptr<const Evaluation>(std::move(evaluation).value());
}

}  // namespace

Evaluation::Evaluation(const Evaluation& other)
    : job{other.job},
      car{other.car},
      findings{other.findings},
      outcomes{other.outcomes},
      body{other.body},
      survey{other.survey},
      plan{other.plan},
      line_up{other.line_up},
      forming{other.forming},
      buck{other.buck},
      prototype{other.prototype},
      standing{other.standing},
      folder{other.folder},
      files{other.files},
      unmended{other.unmended} {
    const auto here = [&](const BodyModel* there) {
        const BodyModel* const own = body_with(car, there->tree.get());
        return own != nullptr ? own : there;  // The car's own surface is shared.
    };
    for (SwingOutcome& outcome : outcomes) {
        outcome.pair.moving = here(outcome.pair.moving);
        outcome.pair.fixed = here(outcome.pair.fixed);
    }
}

Evaluation& Evaluation::operator=(const Evaluation& other) {
    return *this = Evaluation(other);
}

Result<std::shared_ptr<const Evaluation>> evaluate(const Job& job, const std::filesystem::path& folder,
                                                   const Watch& watch, Mends mends) {
    return computed(job, nullptr, folder, watch, mends);
}

Result<std::shared_ptr<const Evaluation>> update(const Job& job, const Evaluation& previous,
                                                 const std::filesystem::path& folder, const Watch& watch, Mends mends) {
    return computed(job, &previous, folder, watch, mends);
}

Result<std::shared_ptr<const Evaluation>> with_mends(const std::shared_ptr<const Evaluation>& of, const Watch& watch) {
    if (of->unmended.empty()) {
        return of;
    }
    auto evaluation = std::make_shared<Evaluation>(*of);
    if (const Status mended = look_for_mends(*evaluation, watch); !mended) {
        return mended.error();
    }
    take_moves(*evaluation);
    return std::shared_ptr<const Evaluation>(std::move(evaluation));
}

}  // namespace sillwright::core

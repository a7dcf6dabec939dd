#include "core/forming/platen_mend.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <utility>
#include <vector>

#include "core/edit/field_change.h"
#include "core/forming/machine_table.h"
#include "core/forming/mould_chain.h"
#include "core/number_text.h"
#include "core/typed.h"

namespace sillwright::core {

using geometry::Angle;
using geometry::in_deg;
using geometry::in_mm;
using geometry::Length;
using geometry::Loft;
using geometry::millimetres;

namespace {

/// Halvings of an allowance.
constexpr int k_halvings = 20;
/// Allowances and tilts are proposed in these steps, as they are set.
constexpr double k_allowance_step_mm = 0.5;
constexpr double k_tilt_step_deg = 0.1;

/// A piece, how it is formed, and how it lies then.
struct Trial {
    Forming forming;
    Piece piece;
    Platen platen;

    [[nodiscard]] PlatenNumber number(PlatenCheck check) const { return platen_number(check, forming, piece, platen); }
    [[nodiscard]] bool holds(PlatenCheck check) const {
        const PlatenNumber there = number(check);
        return there.margin && *there.margin >= 0.0 && there.missing.empty();
    }
    [[nodiscard]] bool falls_short(PlatenCheck check) const {
        const PlatenNumber there = number(check);
        return there.margin && *there.margin < 0.0;
    }
};

class Search {
public:
    Search(PlatenCheck check, const Job& job, const Piece& piece, const Loft& line, const DrawPlan& draw)
        : check_(check),
          job_(&job),
          line_(&line),
          draw_(&draw),
          mould_(mould_size(chain_of(job))),
          seen_(silhouette(piece, line, draw.tilt)) {
        before_ = laid_anew({job.forming, piece, {}});
    }

    [[nodiscard]] std::optional<Mend> found() const {
        for (const auto& look : {&Search::tilt, &Search::allowance, &Search::machine, &Search::thinner}) {
            if (auto mend = (this->*look)()) {
                return mend;
            }
        }
        return std::nullopt;
    }

private:
    [[nodiscard]] Trial laid_anew(Trial trial) const {
        trial.platen = laid_platen(trial.forming, trial.piece, seen_, draw_->tilt, mould_);
        return trial;
    }

    /// It holds then, and nothing else falls short that did not.
    [[nodiscard]] bool mends(const Trial& trial) const {
        return trial.holds(check_) &&
               std::all_of(std::begin(k_platen_checks), std::end(k_platen_checks),
                           [&](PlatenCheck other) { return before_.falls_short(other) || !trial.falls_short(other); });
    }

    [[nodiscard]] Mend mend(const std::string& words, const Trial& trial, std::vector<FieldChange> changes) const {
        const double margin = *trial.number(check_).margin;
        return {words + " Then " + mm_text(millimetres(margin)) + " are to spare.", {}, margin, std::move(changes)};
    }

    [[nodiscard]] Trial at_tilt(Angle tilt) const {
        Trial trial = before_;
        trial.forming.tilt = tilt;
        trial.platen = laid_platen(trial.forming, trial.piece, silhouette(trial.piece, *line_, tilt), tilt, mould_);
        return trial;
    }

    [[nodiscard]] std::optional<Mend> tilt() const {
        if (check_ == PlatenCheck::gauge || !draw_->from || !draw_->to) {
            return std::nullopt;
        }
        std::vector<Angle> tilts = narrowest_tilts(before_.piece, *line_, *draw_->from, *draw_->to);
        std::stable_sort(tilts.begin(), tilts.end(), [&](Angle a, Angle b) {
            return std::abs(in_deg(a - draw_->tilt)) < std::abs(in_deg(b - draw_->tilt));
        });
        for (const Angle exact : tilts) {
            const Angle round = geometry::degrees(std::round(in_deg(exact) / k_tilt_step_deg) * k_tilt_step_deg);
            for (const Angle tilt : {round, exact}) {
                if (tilt < *draw_->from || tilt > *draw_->to) {
                    continue;
                }
                const Trial trial = at_tilt(tilt);
                if (mends(trial)) {
                    return mend("Tilt the draw direction to " + degree_text(tilt) + ".", trial,
                                {number_change("/forming/tilt_deg", in_deg(tilt))});
                }
            }
        }
        return std::nullopt;
    }

    [[nodiscard]] Trial with_allowances(double trim_mm, const std::optional<double>& clamp_mm) const {
        Trial trial = before_;
        trial.forming.trim_allowance = entry(millimetres(trim_mm));
        if (clamp_mm) {
            trial.forming.clamp_distance = entry(millimetres(*clamp_mm));
        }
        return laid_anew(std::move(trial));
    }

    /// The greatest allowance from `least` up with which it holds, in steps.
    [[nodiscard]] std::optional<double> greatest(double least, double now,
                                                 const std::function<Trial(double)>& with) const {
        if (now <= least || !mends(with(least))) {
            return std::nullopt;
        }
        double low = least;
        double high = now;
        for (int i = 0; i < k_halvings; ++i) {
            const double middle = 0.5 * (low + high);
            (mends(with(middle)) ? low : high) = middle;
        }
        // Halving comes to a step from below.
        for (const double round : {std::ceil(low / k_allowance_step_mm) * k_allowance_step_mm,
                                   std::floor(low / k_allowance_step_mm) * k_allowance_step_mm}) {
            if (round >= least && mends(with(round))) {
                return round;
            }
        }
        return low;
    }

    [[nodiscard]] std::optional<Mend> allowance() const {
        if (check_ == PlatenCheck::gauge) {
            return std::nullopt;
        }
        const double trim_now = in_mm(before_.forming.trim_allowance.value);
        const double trim_least = std::min(trim_now, in_mm(k_trim_least));
        const auto trim = greatest(trim_least, trim_now, [&](double mm) { return with_allowances(mm, {}); });
        if (trim) {
            return mend("Let mould and sheet go on by only " + mm_text(millimetres(*trim)) + " beyond the trim line.",
                        with_allowances(*trim, {}), {trim_change(*trim)});
        }
        const double clamp_now = before_.forming.clamp_distance ? in_mm(before_.forming.clamp_distance->value) : 0.0;
        const double clamp_least = std::max(in_mm(k_clamp_distance_least), 0.5 * in_mm(before_.platen.height));
        for (const double kept : {trim_now, trim_least}) {
            const auto with = [&](double mm) { return with_allowances(kept, mm); };
            const auto clamp = greatest(clamp_least, clamp_now, with);
            if (!clamp) {
                continue;
            }
            const bool both = kept != trim_now;
            std::vector<FieldChange> changes{length_change(*job_, "/forming/clamp_distance", millimetres(*clamp))};
            if (both) {
                changes.push_back(trim_change(kept));
            }
            return mend("Put the clamp line " + mm_text(millimetres(*clamp)) + " from the mould's foot" +
                            (both ? ", and let mould and sheet go on by only " + mm_text(millimetres(kept)) +
                                        " beyond the trim line."
                                  : "."),
                        with(*clamp), std::move(changes));
        }
        return std::nullopt;
    }

    [[nodiscard]] FieldChange trim_change(double mm) const {
        return length_change(*job_, "/forming/trim_allowance", millimetres(mm));
    }

    /// The job's own in their order, then those of the table by their openings.
    [[nodiscard]] std::vector<std::string> machines() const {
        std::vector<std::string> names;
        for (const Machine& own : before_.forming.machines) {
            names.push_back(own.name);
        }
        std::vector<const Machine*> table;
        for (const Machine& one : machine_table()) {
            table.push_back(&one);
        }
        const auto area = [](const Machine* one) { return in_mm(one->length->value) * in_mm(one->width->value); };
        std::stable_sort(table.begin(), table.end(), [&](const auto* a, const auto* b) { return area(a) < area(b); });
        for (const Machine* one : table) {
            names.push_back(one->name);
        }
        return names;
    }

    [[nodiscard]] std::optional<Mend> machine() const {
        std::optional<Trial> taken;
        for (const std::string& name : machines()) {
            Trial trial = before_;
            trial.forming.machine = name;
            trial = laid_anew(std::move(trial));
            if (!mends(trial)) {
                continue;
            }
            const bool all = std::all_of(std::begin(k_platen_checks), std::end(k_platen_checks),
                                         [&](PlatenCheck other) { return trial.holds(other); });
            if (all || !taken) {
                taken = std::move(trial);
            }
            if (all) {
                break;
            }
        }
        if (!taken) {
            return std::nullopt;
        }
        return mend("Form it on the machine \"" + taken->forming.machine + "\".", *taken,
                    {word_change("/forming/machine", taken->forming.machine)});
    }

    [[nodiscard]] std::optional<Mend> thinner() const {
        const PlatenNumber now = before_.number(check_);
        const auto& pieces = job_->skirt.pieces;
        const auto at = std::find_if(pieces.begin(), pieces.end(),
                                     [&](const Piece& one) { return one.name == before_.piece.name; });
        if (check_ != PlatenCheck::gauge || !now.required || at == pieces.end()) {
            return std::nullopt;
        }
        Trial trial = before_;
        trial.piece.sheet = entry(millimetres(*now.required));
        trial.platen =
            laid_platen(trial.forming, trial.piece, silhouette(trial.piece, *line_, draw_->tilt), draw_->tilt, mould_);
        if (!mends(trial)) {
            return std::nullopt;
        }
        return mend("Take a sheet of " + mm_text(trial.piece.sheet->value) + ", and see what it comes out as.", trial,
                    {length_change(*job_, "/skirt/pieces/" + std::to_string(at - pieces.begin()) + "/sheet",
                                   trial.piece.sheet->value)});
    }

    PlatenCheck check_;
    const Job* job_;
    const Loft* line_;
    const DrawPlan* draw_;
    MouldSize mould_;
    Silhouette seen_;  ///< At the tilt that is used.
    Trial before_;
};

}  // namespace

std::optional<Mend> platen_mend(PlatenCheck check, const Job& job, const Piece& piece, const Loft& line,
                                const DrawPlan& draw) {
    return Search(check, job, piece, line, draw).found();
}

}  // namespace sillwright::core

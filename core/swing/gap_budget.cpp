#include "core/swing/gap_budget.h"

#include <algorithm>
#include <cmath>

#include "geometry/length_text.h"

namespace sillwright::core {

using geometry::in_mm;
using geometry::Length;

namespace {

std::string text(Length length) {
    return geometry::print_length(length, geometry::WrittenUnit::mm, 2);
}

class Budget {
public:
    explicit Budget(Length asked) : required_{asked} { note("gap asked for", asked); }

    void add_film(const char* name, const std::optional<Entry>& film) {
        if (film) {
            required_ = required_ + film->value;
            note(name, film->value);
        } else {
            missing_.emplace_back(name);
        }
    }

    void add_deviation(const char* name, std::optional<Length> sd) {
        if (sd) {
            variance_ += in_mm(*sd) * in_mm(*sd);
            unsure_by_.push_back({name, in_mm(*sd)});
            note(name, *sd);
        } else {
            missing_.emplace_back(name);
        }
    }

    GapBudget finish() && {
        std::stable_sort(unsure_by_.begin(), unsure_by_.end(),
                         [](const UnsureBy& a, const UnsureBy& b) { return a.sd > b.sd; });
        return {required_ + geometry::millimetres(2.0 * std::sqrt(variance_)), std::move(inputs_),
                std::move(unsure_by_), std::move(missing_)};
    }

private:
    void note(const char* name, Length value) { inputs_.push_back({name, text(value)}); }

    Length required_;
    double variance_ = 0.0;
    std::vector<Input> inputs_;
    std::vector<UnsureBy> unsure_by_;
    std::vector<std::string> missing_;
};

std::optional<Length> value_of(const std::optional<Entry>& entry) {
    return entry ? std::optional(entry->value) : std::nullopt;
}

}  // namespace

GapBudget gap_budget(const Job& job, const Door& door, Length asked, std::optional<Length> sag_lever,
                     std::optional<Length> axis_sd) {
    Budget budget(asked);
    budget.add_film("paint film on the skirt", job.skirt.paint);
    if (door.painted_after) {
        budget.add_film("paint film on the door", job.skirt.paint);
    }
    budget.add_deviation("standard deviation of the survey", value_of(job.survey_sd));
    budget.add_deviation("standard deviation of forming", value_of(job.skirt.forming_sd));
    if (sag_lever) {
        std::optional<Length> sd;
        if (door.sag && door.sag->sd && door.sag->distance) {
            sd = door.sag->sd->value * (*sag_lever / door.sag->distance->value);
        }
        budget.add_deviation("standard deviation of the sag there", sd);
    }
    if (axis_sd) {
        budget.add_deviation("standard deviation of the hinge axis there", axis_sd);
    }
    return std::move(budget).finish();
}

}  // namespace sillwright::core

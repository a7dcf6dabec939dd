#include "core/mounts/growth.h"

#include <algorithm>
#include <cmath>

#include "core/material.h"
#include "core/number_text.h"

namespace sillwright::core {

using geometry::in_celsius;

namespace {

std::string celsius_text(geometry::Temperature temperature) {
    return number_text(in_celsius(temperature)) + " °C";
}

class Rates {
public:
    explicit Rates(const Job& job) : fitting_{job.fitting} {
        part_ = numbers_of(job.skirt.material).expansion_per_k;
        if (!part_) {
            rates_.missing.emplace_back(
                "how much the skirt's material grows with warmth (choose it, or give a number)");
        }
        const MaterialNumbers* const body = find_material(fitting_.body_material);
        body_ = body != nullptr ? body->expansion_per_k : std::nullopt;
        if (!body_) {
            rates_.missing.emplace_back("what the body is made of");
        }
    }

    GrowthRates all() && {
        add("hot", "when hot", fitting_.hot);
        add("cold", "when cold", fitting_.cold);
        add("as fitted", "when it is fitted", fitting_.fitted);
        rates_.states.push_back({"as drawn", 0.0, "part and body " + celsius_text(fitting_.drawn)});
        return std::move(rates_);
    }

private:
    void add(const std::string& state, const std::string& when, const std::optional<Warmth>& warmth) {
        if (!warmth || !warmth->part) {
            rates_.missing.push_back("the part's temperature " + when);
        }
        if (!warmth || !warmth->body) {
            rates_.missing.push_back("the body's temperature " + when);
        }
        if (!warmth || !warmth->part || !warmth->body || !part_ || !body_) {
            return;
        }
        const double drawn = in_celsius(fitting_.drawn);
        rates_.states.push_back(
            {state, *part_ * (in_celsius(*warmth->part) - drawn) - *body_ * (in_celsius(*warmth->body) - drawn),
             "part " + celsius_text(*warmth->part) + ", body " + celsius_text(*warmth->body)});
    }

    const Fitting& fitting_;
    std::optional<double> part_, body_;
    GrowthRates rates_;
};

}  // namespace

GrowthRates growth_rates(const Job& job) {
    return Rates{job}.all();
}

Growth growth(const GrowthRates& rates, double distance_mm) {
    Growth found;
    for (const GrowthRate& rate : rates.states) {
        const double mm = rate.per_mm * std::abs(distance_mm);
        found.states.push_back({rate.state, mm});
        found.least_mm = std::min(found.least_mm, mm);
        found.greatest_mm = std::max(found.greatest_mm, mm);
    }
    return found;
}

}  // namespace sillwright::core

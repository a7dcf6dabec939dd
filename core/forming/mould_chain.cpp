#include "core/forming/mould_chain.h"

#include <algorithm>
#include <cmath>

namespace sillwright::core {

using geometry::in_mm;

namespace {

/// A tick that the others check by less is checked by nothing: what is left of it is rounding.
constexpr double k_checked_least = 1e-6;

bool is_measured(const Tick& tick) {
    return tick.before && tick.now;
}

void add_once(std::vector<std::string>& list, const std::string& words) {
    if (std::find(list.begin(), list.end(), words) == list.end()) {
        list.push_back(words);
    }
}

double kelvins_above_drawn(const Job& job, geometry::Temperature hot) {
    return geometry::in_celsius(hot) - geometry::in_celsius(job.fitting.drawn);
}

/// One direction of a step.
struct Way {
    double ratio = 1.0, sd = 0.0;
    bool measured = false;
    std::vector<std::string> missing;
};

void list_sureness_of_ticks(const Generation& generation, bool across, Way& way) {
    for (const Tick& tick : generation.ticks) {
        if (tick.across == across && is_measured(tick) && !tick.sd) {
            way.missing.push_back("standard deviation of tick " + tick.name + " of " + generation.name);
        }
    }
}

Way assumed_way(const Generation& generation, bool across, const std::optional<double>& growth) {
    Way way;
    const std::optional<double>& shrink = across ? generation.shrink_across : generation.shrink_along;
    if (!shrink) {
        way.missing.push_back("shrinkage of " + generation.name + ", " + direction_word(across));
    }
    if (!generation.shrink_sd) {
        way.missing.push_back("standard deviation of the shrinkage of " + generation.name);
    }
    if (generation.from_hot && !generation.hot) {
        way.missing.push_back("temperature of the hot mould that " + generation.name + " is taken off");
    }
    if (generation.from_hot && !generation.expansion_per_k) {
        way.missing.push_back("expansion of the hot mould that " + generation.name + " is taken off");
    }
    if (way.missing.empty()) {
        const double grown = generation.from_hot ? *growth : 1.0;
        way.ratio = (1.0 - *shrink) * grown;
        way.sd = *generation.shrink_sd * grown;
    }
    return way;
}

Way way_of(const Generation& generation, bool across, const std::optional<double>& growth, bool use_ticks) {
    Way way;
    const auto ticks = use_ticks ? ratio_of_ticks(generation, across) : std::nullopt;
    if (ticks) {
        way.ratio = ticks->ratio;
        way.sd = ticks->sd;
        way.measured = true;
    } else {
        way = assumed_way(generation, across, growth);
    }
    if (use_ticks) {
        list_sureness_of_ticks(generation, across, way);
    }
    return way;
}

std::vector<ChainStep> steps_of(const Job& job, bool use_ticks) {
    std::vector<ChainStep> chain;
    for (const Generation& generation : job.forming.generations) {
        ChainStep step;
        step.name = generation.name;
        step.kind = generation.kind;
        if (!chain.empty() || generation.kind != GenerationKind::plug) {
            if (generation.hot && generation.expansion_per_k) {
                step.hot_growth = 1.0 + *generation.expansion_per_k * kelvins_above_drawn(job, *generation.hot);
            }
            Way along = way_of(generation, false, step.hot_growth, use_ticks);
            Way across = way_of(generation, true, step.hot_growth, use_ticks);
            step.along = along.ratio;
            step.across = across.ratio;
            step.along_sd = along.sd;
            step.across_sd = across.sd;
            step.measured_along = along.measured;
            step.measured_across = across.measured;
            step.missing_along = std::move(along.missing);
            step.missing_across = std::move(across.missing);
            for (const auto* list : {&step.missing_along, &step.missing_across}) {
                for (const std::string& words : *list) {
                    add_once(step.missing, words);
                }
            }
        }
        chain.push_back(std::move(step));
    }
    return chain;
}

}  // namespace

const char* direction_word(bool across) {
    return across ? "across" : "along";
}

std::optional<TickRatio> ratio_of_ticks(const Generation& generation, bool across) {
    double a = 0.0, b = 0.0, c = 0.0;
    TickRatio found;
    const auto counts = [&](const Tick& tick) { return tick.across == across && is_measured(tick) && tick.sd; };
    for (const Tick& tick : generation.ticks) {
        if (!counts(tick)) {
            continue;
        }
        const double weight = 1.0 / (in_mm(tick.sd->value) * in_mm(tick.sd->value));
        const double before = in_mm(tick.before->value);
        const double now = in_mm(tick.now->value);
        a += weight * before * before;
        b += weight * now * now;
        c += weight * before * now;
        ++found.ticks;
    }
    if (found.ticks == 0) {
        return std::nullopt;
    }
    found.ratio = (b - a + std::hypot(b - a, 2.0 * c)) / (2.0 * c);
    found.sd = std::sqrt((1.0 + found.ratio * found.ratio) / a);
    for (const Tick& tick : generation.ticks) {
        if (!counts(tick)) {
            continue;
        }
        const double off = in_mm(tick.now->value) - found.ratio * in_mm(tick.before->value);
        const double sd = in_mm(tick.sd->value) * std::hypot(1.0, found.ratio);
        const double length_by_sd = in_mm(tick.before->value) / in_mm(tick.sd->value);
        const double checked = 1.0 - length_by_sd * length_by_sd / a;
        const double misfit = checked > k_checked_least ? std::abs(off) / (sd * std::sqrt(checked)) : 0.0;
        if (found.worst.empty() || misfit > found.worst_misfit) {
            found.worst = tick.name;
            found.worst_misfit = misfit;
        }
    }
    return found;
}

std::vector<ChainStep> chain_of(const Job& job) {
    return steps_of(job, true);
}

std::vector<ChainStep> assumed_chain(const Job& job) {
    return steps_of(job, false);
}

MouldSize mould_size(const std::vector<ChainStep>& chain) {
    MouldSize size;
    if (chain.empty() || chain.back().kind != GenerationKind::sheet) {
        return size;
    }
    const ChainStep& last = chain.back();
    const double growth = last.hot_growth.value_or(1.0);
    size.is_hot = last.hot_growth.has_value();
    size.known_along = last.missing_along.empty();
    size.known_across = last.missing_across.empty();
    if (size.known_along) {
        size.along = growth / last.along;
        size.along_sd = size.along * last.along_sd / last.along;
    }
    if (size.known_across) {
        size.across = growth / last.across;
        size.across_sd = size.across * last.across_sd / last.across;
    }
    return size;
}

ChainSize chain_size(const std::vector<ChainStep>& chain, bool across) {
    ChainSize size;
    double relative_variance = 0.0;
    for (const ChainStep& step : chain) {
        const double ratio = step.ratio(across);
        size.ratio *= ratio;
        relative_variance += (step.sd(across) / ratio) * (step.sd(across) / ratio);
        for (const std::string& words : step.missing_in(across)) {
            add_once(size.missing, words);
        }
    }
    size.sd = size.ratio * std::sqrt(relative_variance);
    if (chain.empty()) {
        size.missing.emplace_back("the mould chain, from the plug to the sheet");
    } else if (chain.back().kind != GenerationKind::sheet) {
        size.missing.emplace_back("the sheet, as the last generation of the mould chain");
    }
    return size;
}

}  // namespace sillwright::core

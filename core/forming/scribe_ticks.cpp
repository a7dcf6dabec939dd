#include "core/forming/scribe_ticks.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "core/number_text.h"

namespace sillwright::core {

using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;

namespace {

/// Rounds that a rule is laid to.
constexpr double k_first_mm = 500.0, k_second_mm = 1000.0;
/// The second one is worth scribing if the whole is at least so much longer.
constexpr double k_whole_over_second = 1.1;

double whole_mm(Length length) {
    return std::floor(in_mm(length));
}

std::optional<Length> measured_on(const Job& job, const TickLine& line, std::size_t generation) {
    const auto& generations = job.forming.generations;
    const auto value = [&](std::size_t i, bool now) -> std::optional<Length> {
        if (i >= generations.size()) {
            return std::nullopt;
        }
        for (const Tick& tick : generations[i].ticks) {
            const auto& entry = now ? tick.now : tick.before;
            if (tick.name == line.name && tick.across == line.across && entry) {
                return entry->value;
            }
        }
        return std::nullopt;
    };
    const auto now = value(generation, true);
    return now ? now : value(generation + 1, false);
}

TickLine line_of(const Job& job, const std::vector<ChainStep>& chain, double mm, bool across) {
    TickLine line{fixed_text(mm, 0) + " " + direction_word(across), across, {}};
    double size = mm, relative_variance = 0.0;
    const bool listed_plug = !chain.empty() && chain.front().kind == GenerationKind::plug;
    if (!listed_plug) {
        const auto& first = job.forming.generations;
        line.sizes.push_back({"plug", millimetres(size), Length{}, std::nullopt});
        for (const Tick& tick : first.empty() ? std::vector<Tick>{} : first.front().ticks) {
            if (tick.name == line.name && tick.across == across && tick.before) {
                line.sizes.back().measured = tick.before->value;
            }
        }
    }
    for (std::size_t i = 0; i < chain.size(); ++i) {
        if (!chain[i].missing_in(across).empty()) {
            break;
        }
        const double ratio = chain[i].ratio(across);
        size *= ratio;
        relative_variance += (chain[i].sd(across) / ratio) * (chain[i].sd(across) / ratio);
        line.sizes.push_back({chain[i].name, millimetres(size), millimetres(2.0 * size * std::sqrt(relative_variance)),
                              measured_on(job, line, i)});
    }
    return line;
}

}  // namespace

ScribeTicks scribe_ticks(const Job& job, const std::vector<ChainStep>& chain, Length along, Length across) {
    ScribeTicks ticks;
    for (const bool is_across : {false, true}) {
        const ChainSize size = chain_size(chain, is_across);
        for (const std::string& words : size.missing) {
            if (std::find(ticks.missing.begin(), ticks.missing.end(), words) == ticks.missing.end()) {
                ticks.missing.push_back(words);
            }
        }
    }
    const double whole = whole_mm(along - k_tick_inset * 2.0);
    const double wide = whole_mm(across - k_tick_inset_across * 2.0);
    std::vector<double> lengths{k_first_mm, k_second_mm, whole};
    if (whole < k_whole_over_second * k_second_mm) {
        lengths = {std::floor(whole / 3.0), std::floor(2.0 * whole / 3.0), whole};
    }
    for (const double mm : lengths) {
        if (mm > 0.0) {
            ticks.lines.push_back(line_of(job, chain, mm, false));
        }
    }
    if (wide > 0.0) {
        ticks.lines.push_back(line_of(job, chain, wide, true));
    }
    return ticks;
}

}  // namespace sillwright::core

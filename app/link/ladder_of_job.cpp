#include "app/link/ladder_of_job.h"

#include <algorithm>
#include <cmath>
#include <string_view>

#include "app/length_words.h"
#include "app/link/forming_of_job.h"
#include "core/evaluate.h"
#include "core/number_text.h"

namespace sillwright::app {

using core::ChainStep;
using core::Evaluation;
using geometry::in_mm;

namespace {

constexpr std::string_view k_hot = ", hot";
/// A change that no rule and no sum shows.
constexpr double k_no_change_mm = 5e-4;

/// What leads from a generation down to the one that it was made from.
struct Step {
    std::string words;
    bool assumed = false;
};

std::string percent_words(double size, bool across) {
    const double percent = 100.0 * (1.0 - size);
    const std::string number = core::fixed_text(std::abs(percent), 2) + " %";
    return (percent < 0.0 ? "grew " : "shrank ") + number + (across ? " across" : " along");
}

/// The step that made a generation; the last one made the part, whose size the mould's face has.
const ChainStep* step_of(const std::vector<ChainStep>& chain, const std::string& generation) {
    const auto found =
        std::find_if(chain.begin(), chain.end(), [&](const ChainStep& s) { return s.name == generation; });
    if (found != chain.end()) {
        return &*found;
    }
    return generation == "mould face" && !chain.empty() ? &chain.back() : nullptr;
}

/// By what is taken off, or comes on, where nothing is scaled.
Step difference(const core::Rung& above, const core::Rung& below, core::BareUnit unit) {
    const auto by = below.value - above.value;
    if (std::abs(in_mm(by)) < k_no_change_mm) {
        return {"the same", false};
    }
    const std::string of = above.generation == "painted part" ? "paint"
                           : above.generation == "part"       ? "sheet"
                           : below.generation == "buck"       ? "skin"
                                                              : "size";
    const bool less = in_mm(by) < 0.0;
    return {of + ": " + fine_number(less ? -by : by, unit) + (less ? " less" : " more"), false};
}

Step step_between(const std::vector<ChainStep>& chain, const core::Rung& above, const core::Rung& below, bool across,
                  core::BareUnit unit) {
    if (above.generation.ends_with(k_hot)) {
        // The same mould, hot and cold: its growth is the two sizes' ratio.
        const double growth = above.value / below.value;
        return {"grew " + core::fixed_text(100.0 * (growth - 1.0), 2) + " % by its heat", true};
    }
    const ChainStep* step = step_of(chain, above.generation);
    if (step == nullptr || step == chain.data()) {
        return difference(above, below, unit);
    }
    const double from_hot = below.generation.ends_with(k_hot) ? step->hot_growth.value_or(1.0) : 1.0;
    return {percent_words(step->ratio(across) / from_hot, across), !step->measured(across)};
}

}  // namespace

std::vector<std::string> ladder_names(const Evaluation& evaluation, std::size_t number) {
    std::vector<std::string> names;
    if (const core::PieceForming* forming = forming_of(evaluation, number)) {
        for (const core::LadderOf& ladder : forming->ladders) {
            names.push_back(ladder.dimension.name);
        }
    }
    return names;
}

LadderPicture ladder_of_job(const Evaluation& evaluation, std::size_t number, std::size_t dimension) {
    LadderPicture picture;
    picture.unit = evaluation.job.unit;
    const core::PieceForming* forming = forming_of(evaluation, number);
    if (forming == nullptr) {
        picture.words = nothing_formed_words();
        return picture;
    }
    picture.piece = evaluation.job.skirt.pieces.at(forming->piece).name;
    if (dimension >= forming->ladders.size()) {
        picture.words =
            "No dimension goes through the moulds yet: add the generations under Lists, from the plug to the sheet.";
        return picture;
    }
    const core::LadderOf& ladder = forming->ladders[dimension];
    picture.dimension = ladder.dimension.name;
    picture.across = ladder.dimension.across;
    if (ladder.rungs.size() < 2) {
        picture.words =
            missing_words("To follow " + ladder.dimension.name + " through the moulds, decide first:", ladder.missing);
        if (picture.words.empty()) {
            picture.words = "No generation is entered yet: add them under Lists, from the plug to the sheet.";
        }
        return picture;
    }
    for (std::size_t i = 0; i < ladder.rungs.size(); ++i) {
        const core::Rung& rung = ladder.rungs[i];
        LadderRung shown{rung.generation, in_mm(rung.value), in_mm(rung.sd), {}, {}, false};
        if (rung.measured) {
            shown.measured_mm = in_mm(*rung.measured);
        }
        if (i + 1 < ladder.rungs.size()) {
            const Step step = step_between(evaluation.forming->chain, rung, ladder.rungs[i + 1],
                                           ladder.dimension.across, picture.unit);
            shown.step = step.words;
            shown.assumed = step.assumed;
        } else if (!ladder.missing.empty()) {
            shown.step = "below this is missing: " + ladder.missing.front();
        }
        picture.rungs.push_back(std::move(shown));
    }
    return picture;
}

}  // namespace sillwright::app

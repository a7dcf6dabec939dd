#include "app/link/forming_of_job.h"

#include <algorithm>
#include <optional>

#include "core/evaluate.h"
#include "core/finding_words.h"

namespace sillwright::app {

using core::Evaluation;
using core::Finding;
using core::PieceForming;

std::vector<std::string> formed_pieces(const Evaluation& evaluation) {
    std::vector<std::string> names;
    if (evaluation.forming) {
        for (const PieceForming& forming : evaluation.forming->pieces) {
            names.push_back(evaluation.job.skirt.pieces.at(forming.piece).name);
        }
    }
    return names;
}

const PieceForming* forming_of(const Evaluation& evaluation, std::size_t number) {
    return evaluation.forming && number < evaluation.forming->pieces.size() ? &evaluation.forming->pieces[number]
                                                                            : nullptr;
}

const Finding* finding_of(const Evaluation& evaluation, const std::string& id) {
    const auto found = std::find_if(evaluation.findings.begin(), evaluation.findings.end(),
                                    [&](const Finding& finding) { return finding.id == id; });
    return found == evaluation.findings.end() ? nullptr : &*found;
}

core::State worst_state(const Evaluation& evaluation, const std::string& beginning) {
    return core::worst_state(evaluation.findings,
                             [&](const Finding& finding) { return finding.id.starts_with(beginning); });
}

std::string forming_id(const Evaluation& evaluation, const PieceForming& forming) {
    return "forming/" + evaluation.job.skirt.pieces.at(forming.piece).name + "/";
}

std::string missing_words(const std::string& sentence, const std::vector<std::string>& missing) {
    if (missing.empty()) {
        return {};
    }
    std::string words = sentence;
    for (const std::string& one : missing) {
        words += "\n– " + one;
    }
    return words;
}

std::string nothing_formed_words() {
    return "No piece of the skirt is drawn to its end yet: draw its sections from top return end to flange end at two "
           "stations or more, and give its sheet.";
}

}  // namespace sillwright::app

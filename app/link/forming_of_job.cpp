#include "app/link/forming_of_job.h"

#include <algorithm>
#include <optional>

#include "core/evaluate.h"

namespace sillwright::app {

using core::Evaluation;
using core::Finding;
using core::PieceForming;

namespace {

int rank(core::State state) {
    switch (state) {
        case core::State::falls_short:
            return 3;
        case core::State::not_measured:
            return 2;
        case core::State::close:
            return 1;
        case core::State::holds:
            break;
    }
    return 0;
}

}  // namespace

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
    std::optional<core::State> worst;
    for (const Finding& finding : evaluation.findings) {
        if (finding.id.starts_with(beginning) && (!worst || rank(finding.state) > rank(*worst))) {
            worst = finding.state;
        }
    }
    return worst.value_or(core::State::not_measured);
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

#include "app/link/handover_of_job.h"

#include <utility>

#include "app/link/buck_of_job.h"
#include "core/buck/buck_work.h"
#include "core/evaluate.h"
#include "core/finding_words.h"
#include "core/handover/documents.h"
#include "core/handover/templates.h"

namespace sillwright::app {

using core::Evaluation;
using core::Finding;
using core::State;

namespace {

InFolder state_of(bool there, const std::vector<std::string>& why) {
    return !there ? InFolder::missing : why.empty() ? InFolder::there : InFolder::in_part;
}

FolderItem part_item(const Evaluation& evaluation) {
    FolderItem item{"The part as a solid and as a mesh (STEP, STL)", "", InFolder::there, {}};
    bool any = false;
    for (const core::PieceModel& piece : evaluation.car.pieces) {
        any = any || piece.body;
        if (!piece.body) {
            item.why.push_back("piece " + piece.name + " is not fully measured");
        }
    }
    if (evaluation.car.pieces.empty()) {
        item.why.emplace_back("no piece of the skirt is drawn");
    }
    item.state = state_of(any, item.why);
    return item;
}

FolderItem buck_item(const Evaluation& evaluation) {
    FolderItem item{
        "Router sheets of the buck (DXF, SVG) and its cut list (CSV)", "for the router operator", InFolder::there, {}};
    bool any = false;
    if (evaluation.buck) {
        for (const core::PieceBuck& buck : evaluation.buck->pieces) {
            any = any || !buck.ribs.empty();
            for (const std::string& missing : buck.missing) {
                item.why.push_back(missing);
            }
            for (const Finding& refused : buck.refused) {
                item.why.push_back(refused.title + ": " + refused.why);
            }
        }
    }
    if (!any && item.why.empty()) {
        item.why.push_back(no_buck_words(evaluation));
    }
    item.state = state_of(any, item.why);
    return item;
}

}  // namespace

std::vector<FolderItem> handover_of_job(const Evaluation& evaluation) {
    std::vector<FolderItem> items;
    for (const core::Document& document : core::documents(evaluation, {})) {
        items.push_back({document.title, document.reader, state_of(true, document.open), document.open});
    }
    const core::Templates templates = core::templates(evaluation);
    for (const core::Template& one : templates.all) {
        items.push_back({one.title + ", 1:1", "for the driller", InFolder::there, {}});
    }
    if (!templates.missing.empty()) {
        items.push_back({templates.all.empty() ? "Templates, 1:1" : "Further templates, 1:1", "for the driller",
                         InFolder::missing, templates.missing});
    }
    items.push_back(buck_item(evaluation));
    items.push_back(part_item(evaluation));
    items.push_back(
        {"Mounts (CSV), findings (text, JSON), cautions, what to read first, checksums", "", InFolder::there, {}});
    return items;
}

std::vector<OpenFinding> open_findings(const std::vector<Finding>& findings, core::BareUnit unit) {
    std::vector<OpenFinding> open;
    for (const State state : {State::falls_short, State::not_measured}) {
        for (const Finding& finding : core::worst_first(findings)) {
            if (finding.state != state) {
                continue;
            }
            const core::FindingNumbers numbers = core::numbers_of(finding, unit);
            std::string words = numbers.found;
            words += (words.empty() || numbers.needs.empty() ? "" : ", ") + numbers.needs;
            words += (words.empty() || numbers.margin.empty() ? "" : ", margin ") + numbers.margin;
            open.push_back({state, finding.title, std::move(words), finding.place.words, finding.why, finding.missing});
        }
    }
    return open;
}

}  // namespace sillwright::app

#include "core/edit/mend_edit.h"

#include <utility>
#include <vector>

#include "core/edit/checked_drawing.h"
#include "core/edit/drawn_id.h"
#include "core/edit/field_change.h"
#include "core/typed.h"

namespace sillwright::core {

geometry::Result<Edit> take_mend(const Job& job, const Finding& finding) {
    using geometry::Error;
    using geometry::ErrorCode;
    if (!finding.mend || !finding.mend->can_be_taken()) {
        return Error{ErrorCode::invalid_argument, "Nothing can be changed here to mend \"" + finding.title +
                                                      "\". Read in the finding what would help."};
    }
    Job mended = job;
    std::vector<DrawnId> changed;
    for (const NodeMove& move : finding.mend->moves) {
        const auto place = find_node(mended, move.node_id);
        if (!place) {
            return Error{ErrorCode::invalid_argument,
                         "The mend of \"" + finding.title +
                             "\" moves a node that is no longer there. Wait for the findings of the job as it is now."};
        }
        changed.push_back(place->drawn);
        Node& node = drawn(mended, place->drawn).sections[place->section].nodes[place->node];
        node.out = entry(node.out.value + geometry::millimetres(move.by_mm.x()));
        node.up = entry(node.up.value + geometry::millimetres(move.by_mm.y()));
    }
    if (!finding.mend->changes.empty()) {
        auto written = with_changes(mended, finding.mend->changes);
        if (!written) {
            return written.error();
        }
        mended = std::move(written).value();
    }
    return checked_drawing(job, std::move(mended), changed, "take mend of " + finding.title);
}

}  // namespace sillwright::core

#include "core/handover/documents.h"

#include <utility>

#include "core/handover/papers/buck_pack.h"
#include "core/handover/papers/door_sheet.h"
#include "core/handover/papers/fitting_sheet.h"
#include "core/handover/papers/flute_sheet.h"
#include "core/handover/papers/hole_sheet.h"
#include "core/handover/papers/ladder_sheet.h"
#include "core/handover/papers/moulder_sheet.h"
#include "core/handover/papers/packing_note.h"
#include "core/handover/papers/paint_note.h"
#include "core/handover/papers/prototype_list.h"
#include "core/handover/papers/section_sheets.h"
#include "core/handover/papers/survey_copy.h"
#include "core/handover/papers/work_report.h"

namespace sillwright::core {

std::vector<Document> documents(const Evaluation& evaluation, const BuckWork& work) {
    std::vector<Document> papers;
    const auto add = [&](std::optional<Document> paper) {
        if (paper) {
            papers.push_back(std::move(*paper));
        }
    };
    add(survey_copy(evaluation));
    add(door_sheet(evaluation));
    add(section_sheets(evaluation));
    add(hole_sheet(evaluation));
    add(flute_sheet(evaluation));
    add(moulder_sheet(evaluation));
    add(ladder_sheet(evaluation));
    add(buck_pack(evaluation, work));
    add(prototype_list(evaluation));
    add(paint_note(evaluation));
    add(packing_note(evaluation));
    add(fitting_sheet(evaluation));
    add(work_report(evaluation, work));
    return papers;
}

}  // namespace sillwright::core

#include "core/edit/checked_drawing.h"

#include <optional>
#include <utility>

#include "core/edit/drawn_change.h"
#include "core/section_check.h"

namespace sillwright::core {

namespace {

std::string capital(std::string words) {
    if (!words.empty() && words.front() >= 'a' && words.front() <= 'z') {
        words.front() = static_cast<char>(words.front() - 'a' + 'A');
    }
    return words;
}

/// What is wrong with the first section that has lost its line.
std::optional<std::string> lost_line(const Drawn& before, const Drawn& after, bool is_closed) {
    for (const Section& section : after.sections) {
        const auto there = section_at_station(before, section.station);
        const Section* was = there ? &before.sections[*there] : nullptr;
        if (was != nullptr && section.nodes == was->nodes) {
            continue;
        }
        const auto misfit = section_misfit(section, is_closed);
        if (misfit && (was == nullptr || !section_misfit(*was, is_closed))) {
            return " at station " + section.station + ": " + *misfit;
        }
    }
    return std::nullopt;
}

}  // namespace

geometry::Result<Edit> checked_drawing(const Job& before, Job after, const std::vector<DrawnId>& changed,
                                       std::string words) {
    auto edit = checked_edit(std::move(after), std::move(words));
    if (!edit) {
        return edit;
    }
    const Job& job = edit.value().job;
    for (const DrawnId id : changed) {
        if (const auto lost = lost_line(drawn(before, id), drawn(job, id), closed(job, id))) {
            return geometry::Error{geometry::ErrorCode::does_not_fit, capital(name_of(job, id)) + *lost};
        }
    }
    return edit;
}

}  // namespace sillwright::core

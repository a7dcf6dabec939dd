#include "core/mounts/mount_finding.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "core/drawn_loft.h"
#include "core/finding_state.h"
#include "core/sill_frame.h"

namespace sillwright::core {

namespace {

/// A margin nearer to zero than this is zero: rounding of places some metres from the origin.
constexpr double k_rounding = 1e-9;

}  // namespace

Finding mount_finding(const Job& job, const Mount& mount, const std::string& name, const std::string& title) {
    Finding finding;
    finding.id = "mounts/" + mount.name + "/" + name;
    finding.title = mount.name + ", " + title;
    finding.stage = Stage::mounts;
    finding.source = "common practice, no source";
    finding.place.along = mount.at.along.value;
    finding.place.on_other_mm = in_mm(mount.at);
    finding.place.mount = mount.name;
    finding.place.words = mount.name + " " + at_place_words(job, mount.at.along.value);
    return finding;
}

void put_numbers(Finding& finding, double found, double required, bool at_least, double close_band) {
    const double margin = at_least ? found - required : required - found;
    finding.found = found;
    finding.required = required;
    finding.margin = std::abs(margin) < k_rounding ? 0.0 : margin;
    finding.at_least = at_least;
    finding.state = state_of(finding.margin, close_band, finding.missing);
}

const Mount* find_mount(const Job& job, const std::string& name) {
    const auto found =
        std::find_if(job.mounts.begin(), job.mounts.end(), [&](const Mount& one) { return one.name == name; });
    return found == job.mounts.end() ? nullptr : &*found;
}

std::string mount_pointer(const Job& job, const std::string& name) {
    const Mount* const mount = find_mount(job, name);
    assert(mount != nullptr);
    return "/mounts/" + std::to_string(mount - job.mounts.data());
}

std::string joined_words(const std::vector<std::string>& words) {
    std::string text;
    for (std::size_t i = 0; i < words.size(); ++i) {
        text += (i == 0 ? "" : i + 1 == words.size() ? " and " : ", ") + words[i];
    }
    return text;
}

}  // namespace sillwright::core

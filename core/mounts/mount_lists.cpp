#include "core/mounts/mount_lists.h"

#include <algorithm>
#include <utility>

#include "core/drawn_loft.h"

namespace sillwright::core {

namespace {

std::string joined(const std::vector<std::string>& words) {
    std::string text;
    for (std::size_t i = 0; i < words.size(); ++i) {
        text += (i == 0 ? "" : i + 1 == words.size() ? " and " : ", ") + words[i];
    }
    return text;
}

std::vector<std::string> names_of(const Job& job, MountUse use) {
    std::vector<std::string> names;
    for (const Mount& mount : job.mounts) {
        if (mount.use == use) {
            names.push_back(mount.name);
        }
    }
    return names;
}

Finding blank(std::string id, std::string title, State state) {
    Finding finding;
    finding.id = std::move(id);
    finding.title = std::move(title);
    finding.stage = Stage::mounts;
    finding.state = state;
    finding.unit = Unit::none;
    finding.formula = "a list, nothing computed";
    finding.source = "the job";
    return finding;
}

Finding none_measured() {
    Finding finding = blank("mounts/measured", "Mounts on the body", State::not_measured);
    finding.why = "No mount is measured: nothing can be said of how the skirt is fixed.";
    finding.missing = {"the clip holes, studs and nuts under the sill"};
    return finding;
}

Finding none_used() {
    Finding finding = blank("mounts/used", "Mounts used for the flange", State::falls_short);
    finding.why = "None of the mounts that were measured is used for the flange.";
    finding.mend = Mend{"Choose the mounts that are to hold the flange.", {}, std::nullopt};
    return finding;
}

Finding unused(const std::vector<std::string>& names) {
    Finding finding = blank("mounts/unused", "Mounts left unused", State::holds);
    finding.why =
        (names.size() == 1 ? "This mount is not used: " : "These mounts are not used: ") + joined(names) + ".";
    return finding;
}

/// Whether a mount is within the piece's stretch; a piece from a file takes any.
bool within(const Job& job, const Piece& piece, const Mount& mount) {
    if (piece.drawn.empty()) {
        return true;
    }
    return mount.at.along.value >= station_of(job, piece.drawn.sections.front().station).along.value &&
           mount.at.along.value <= station_of(job, piece.drawn.sections.back().station).along.value;
}

bool has_top_mount(const Job& job, const Piece& piece) {
    return std::any_of(job.mounts.begin(), job.mounts.end(), [&](const Mount& mount) {
        return mount.use == MountUse::top_edge && within(job, piece, mount);
    });
}

std::string fixing_words(const Job& job, const Piece& piece) {
    switch (*piece.top_edge) {
        case TopEdgeFixing::screw:
            return piece.name + ": screwed" + (has_top_mount(job, piece) ? "" : ", but no mount is used for it");
        case TopEdgeFixing::tape:
            return piece.name + ": taped";
        case TopEdgeFixing::none:
            return piece.name + ": not fixed, on purpose";
    }
    return {};
}

Finding top_edge(const Job& job) {
    Finding finding = blank("mounts/top edge", "Top edge fixed", State::holds);
    std::vector<std::string> words;
    bool short_of_mounts = false;
    for (const Piece& piece : job.skirt.pieces) {
        if (!piece.top_edge) {
            finding.missing.push_back("how the top edge of " + piece.name + " is fixed: screw, tape or none");
            continue;
        }
        words.push_back(fixing_words(job, piece));
        short_of_mounts |= *piece.top_edge == TopEdgeFixing::screw && !has_top_mount(job, piece);
    }
    const auto mounts = names_of(job, MountUse::top_edge);
    finding.why = "Top edge: " + joined(words) + (mounts.empty() ? "" : "; mounts used there: " + joined(mounts)) + ".";
    if (words.empty()) {
        finding.why = "It is not said how the top edge is fixed.";
    }
    if (short_of_mounts) {
        finding.state = State::falls_short;
        finding.mend = Mend{"Use a mount for the top edge, or choose tape.", {}, std::nullopt};
    } else if (!finding.missing.empty()) {
        finding.state = State::not_measured;
    }
    return finding;
}

}  // namespace

std::vector<Finding> mount_list_findings(const Job& job) {
    std::vector<Finding> findings;
    const auto left_over = names_of(job, MountUse::unused);
    if (job.mounts.empty()) {
        findings.push_back(none_measured());
    } else if (names_of(job, MountUse::flange).empty()) {
        findings.push_back(none_used());
    }
    if (!left_over.empty()) {
        findings.push_back(unused(left_over));
    }
    if (!job.skirt.pieces.empty()) {
        findings.push_back(top_edge(job));
    }
    return findings;
}

}  // namespace sillwright::core

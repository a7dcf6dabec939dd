#include "core/forming/radius_findings.h"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <utility>

#include "core/drawn_loft.h"
#include "core/edit/field_change.h"
#include "core/forming/ladder.h"
#include "core/mounts/mount_finding.h"
#include "core/number_text.h"

namespace sillwright::core {

using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;

namespace {

/// A radius is drawn in steps of this, as radius gauges go.
constexpr double k_radius_step_mm = 0.1;
/// A radius that is a whole step but for rounding is that step.
constexpr double k_same_step = 1e-9;

/// A rounding at one station, and how far it is from vanishing.
struct Lasting {
    std::size_t section = 0;
    Length along;
    Eigen::Vector2d at_mm = Eigen::Vector2d::Zero();
    LadderOf ladder;
    double found = 0.0, required = 0.0;
    bool on_buck = true;      ///< Else in the mould's hollow.
    double per_radius = 1.0;  ///< How much `found` grows with the drawn radius.
    std::vector<std::string> missing;

    [[nodiscard]] double margin() const { return found - required; }
};

bool hollow_in_mould(const Job& job, DimensionKind kind) {
    return (kind == DimensionKind::concave_radius) == (job.forming.mould == MouldKind::male);
}

/// What there is to check; several where a corner is full on the plug and hollow in the last mould.
std::vector<Lasting> checks(const Job& job, const std::vector<ChainStep>& chain, const Dimension& dimension,
                            Length starting_sheet, const Lasting& at) {
    std::vector<Lasting> all;
    Lasting one = at;
    one.ladder = ladder(job, chain, dimension);
    one.missing = one.ladder.missing;
    const Rung* const face = one.ladder.find("mould face");
    const Rung* const buck = one.ladder.find("buck");
    if (dimension.kind == DimensionKind::convex_radius) {
        one.on_buck = true;
        one.found = buck != nullptr ? in_mm(buck->value) : 0.0;
        one.required = 0.0;
        one.per_radius = 1.0 / chain_size(chain, true).ratio;
        all.push_back(one);
    }
    if (!job.forming.mould && dimension.kind == DimensionKind::concave_radius) {
        all.push_back(one);  // what is missing
    }
    if (job.forming.mould && face != nullptr && hollow_in_mould(job, dimension.kind)) {
        one.on_buck = false;
        one.found = in_mm(face->value);
        one.required = in_mm(starting_sheet);
        one.per_radius = 1.0;
        one.missing.clear();  // the chain below the mould's face does not matter to it
        all.push_back(one);
    }
    return all;
}

/// Section numbers with their places, rising with the loft's.
std::vector<std::pair<std::size_t, Length>> stations_of(const Job& job, const Piece& piece) {
    std::vector<std::pair<std::size_t, Length>> all;
    for (std::size_t i = 0; i < piece.drawn.sections.size(); ++i) {
        all.emplace_back(i, station_of(job, piece.drawn.sections[i].station).along.value);
    }
    return all;
}

/// Precondition: the sheet of the piece is known, by itself or as it was formed.
std::vector<Lasting> lasting_of(const Job& job, const Piece& piece, const geometry::Loft& line,
                                const FormedSheet* formed, const std::vector<ChainStep>& chain, std::size_t node) {
    std::vector<Lasting> all;
    const Length sheet = piece.sheet ? piece.sheet->value : formed->sheet;
    for (const auto& [section, along] : stations_of(job, piece)) {
        if (const auto dimension = rounding(job, piece, line, formed, node, along)) {
            Lasting at;
            at.section = section;
            at.along = along;
            at.at_mm = line.node_at(node, along).p_mm;
            const auto more = checks(job, chain, *dimension, sheet, at);
            all.insert(all.end(), more.begin(), more.end());
        }
    }
    return all;
}

Finding blank(const Piece& piece, const std::string& node) {
    Finding finding;
    finding.id = "forming/" + piece.name + "/radius/" + node;
    finding.title = piece.name + ", rounding of " + node + " down the mould chain";
    finding.stage = Stage::forming;
    finding.unit = Unit::mm;
    finding.formula =
        "full on the plug: (R - paint [- sheet on a male mould]) / chain - skin > 0; hollow in the mould: radius of "
        "its face >= sheet before it is formed. Limits of the model: at stations; the sheet square to the line";
    finding.source =
        "thermopro.com; thermoprosite.us: radius at least the starting sheet's thickness; on the buck: geometry";
    return finding;
}

const Lasting* worst_of(const std::vector<Lasting>& all) {
    const Lasting* worst = nullptr;
    for (const Lasting& one : all) {
        if (one.missing.empty() && (worst == nullptr || one.margin() < worst->margin())) {
            worst = &one;
        }
    }
    return worst;
}

Finding state_of_node(const Job& job, const Piece& piece, const std::string& node, const std::vector<Lasting>& all) {
    Finding finding = blank(piece, node);
    for (const Lasting& one : all) {
        for (const std::string& words : one.missing) {
            if (std::find(finding.missing.begin(), finding.missing.end(), words) == finding.missing.end()) {
                finding.missing.push_back(words);
            }
        }
    }
    const Lasting* const worst = worst_of(all);
    if (worst == nullptr) {
        finding.why = "Whether the rounding of " + node + " lasts down to the buck cannot be told yet.";
        return finding;
    }
    put_numbers(finding, worst->found, worst->required, true, 0.0);
    finding.place.along = worst->along;
    finding.place.on_part_mm = Eigen::Vector3d(in_mm(worst->along), worst->at_mm.x(), worst->at_mm.y());
    finding.place.words = node + " " + at_place_words(job, worst->along);
    for (const Rung& rung : worst->ladder.rungs) {
        finding.inputs.push_back({"radius on " + rung.generation, mm_text(rung.value) + ", sd " + mm_text(rung.sd)});
    }
    const bool holds = *finding.margin >= 0.0;
    if (worst->on_buck) {
        finding.why = holds ? "The rounding of " + node + " is still one of " + mm_text(millimetres(worst->found)) +
                                  " on the buck."
                            : node + " is sharp on the buck: sheet and skin are more than its rounding.";
    } else {
        finding.why =
            "The mould has a hollow of radius " + mm_text(millimetres(worst->found)) + " at " + node +
            (holds ? ": the sheet goes into it."
                   : ": too tight for a sheet of " + mm_text(millimetres(worst->required)) + ", which bridges it.");
    }
    return finding;
}

/// The node's number in the section; none if the section has it not.
std::optional<std::size_t> node_in(const Section& section, const std::string& name) {
    const auto found =
        std::find_if(section.nodes.begin(), section.nodes.end(), [&](const Node& node) { return node.name == name; });
    return found == section.nodes.end() ? std::nullopt
                                        : std::optional(static_cast<std::size_t>(found - section.nodes.begin()));
}

bool is_rounded(const Piece& piece, const std::string& name) {
    return std::any_of(piece.drawn.sections.begin(), piece.drawn.sections.end(), [&](const Section& section) {
        const auto at = node_in(section, name);
        return at && *at > 0 && *at + 1 < section.nodes.size() && section.nodes[*at].radius.value > Length{};
    });
}

/// Without which the painted outside is not known.
std::vector<std::string> lacking_on_part(const Job& job, const Piece& piece, const FormedSheet* formed) {
    std::vector<std::string> lacking;
    if (!piece.sheet && formed == nullptr) {
        lacking.push_back("the sheet thickness of " + piece.name);
    }
    if (!job.skirt.paint) {
        lacking.emplace_back("the skirt's film of paint (0 if it stays bare)");
    }
    return lacking;
}

void look_for_mend(Finding& finding, const Job& job, const Piece& piece, std::size_t piece_number,
                   const geometry::Loft& line, const FormedSheet* formed, std::size_t node,
                   const std::vector<Lasting>& all) {
    const std::string& name = line.names()[node];
    std::vector<double> wanted(piece.drawn.sections.size(), 0.0);
    for (const Lasting& one : all) {
        const auto at = node_in(piece.drawn.sections[one.section], name);
        if (one.missing.empty() && one.margin() < 0.0 && at) {
            const double radius =
                in_mm(piece.drawn.sections[one.section].nodes[*at].radius.value) - one.margin() / one.per_radius;
            wanted[one.section] =
                std::max(wanted[one.section], k_radius_step_mm * std::ceil(radius / k_radius_step_mm - k_same_step));
        }
    }
    std::vector<FieldChange> changes;
    double most = 0.0;
    for (std::size_t i = 0; i < wanted.size(); ++i) {
        if (wanted[i] > 0.0) {
            changes.push_back(length_change(job,
                                            "/skirt/pieces/" + std::to_string(piece_number) + "/sections/" +
                                                std::to_string(i) + "/nodes/" +
                                                std::to_string(*node_in(piece.drawn.sections[i], name)) + "/radius",
                                            millimetres(wanted[i])));
            most = std::max(most, wanted[i]);
        }
    }
    const auto changed = with_changes(job, changes);
    const auto after_line =
        changed ? loft_of(changed.value(), changed.value().skirt.pieces[piece_number].drawn, false, piece.name)
                : geometry::Result<geometry::Loft>(changed.error());
    if (changes.empty() || !after_line) {
        finding.mend = Mend{"Give " + name +
                                " a greater rounding where its neighbours leave room, or round the plug by "
                                "hand over the rib's sharp corner.",
                            {},
                            std::nullopt};
        return;
    }
    const Job& mended = changed.value();
    const Piece& mended_piece = mended.skirt.pieces[piece_number];
    const Finding after =
        state_of_node(mended, mended_piece, name,
                      lasting_of(mended, mended_piece, after_line.value(), formed, chain_of(mended), node));
    if (after.margin && *after.margin >= 0.0) {
        finding.mend = Mend{"Round " + name + " by up to " + mm_text(millimetres(most), 1) + " at " +
                                std::to_string(changes.size()) + (changes.size() == 1 ? " station." : " stations."),
                            {},
                            after.margin,
                            std::move(changes)};
    }
}

}  // namespace

std::vector<Finding> radius_findings(const Job& job, const Piece& piece, const geometry::Loft& line,
                                     const FormedSheet* formed, const std::vector<ChainStep>& chain, Mends mends) {
    std::vector<Finding> findings;
    if (const auto lacking = lacking_on_part(job, piece, formed); !lacking.empty()) {
        for (const std::string& name : line.names()) {
            if (is_rounded(piece, name)) {
                findings.push_back(blank(piece, name));
                findings.back().missing = lacking;
                findings.back().why = "Whether the rounding of " + name + " lasts down to the buck cannot be told yet.";
            }
        }
        return findings;
    }
    const auto number = std::find_if(job.skirt.pieces.begin(), job.skirt.pieces.end(),
                                     [&](const Piece& one) { return one.name == piece.name; }) -
                        job.skirt.pieces.begin();
    for (std::size_t node = 0; node < line.names().size(); ++node) {
        const auto all = lasting_of(job, piece, line, formed, chain, node);
        if (all.empty()) {
            continue;
        }
        findings.push_back(state_of_node(job, piece, line.names()[node], all));
        if (mends == Mends::look_for && findings.back().state == State::falls_short) {
            look_for_mend(findings.back(), job, piece, static_cast<std::size_t>(number), line, formed, node, all);
        }
    }
    return findings;
}

}  // namespace sillwright::core

#include "app/link/buck_of_job.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "app/length_words.h"
#include "app/link/forming_of_job.h"
#include "core/buck/buck_work.h"
#include "core/drawn_loft.h"
#include "core/evaluate.h"
#include "core/number_text.h"

namespace sillwright::app {

using core::Bevel;
using core::Evaluation;
using core::PieceBuck;
using core::Rib;
using Eigen::Vector2d;
using geometry::in_deg;
using geometry::in_mm;
using geometry::in_rad;
using geometry::Length;
using geometry::millimetres;

namespace {

/// A screen shows no finer.
constexpr Length k_chord = millimetres(0.05);
/// An edge that leans less, or a gap that is smaller, is called square.
constexpr double k_no_bevel_deg = 0.05;
constexpr Length k_no_gap = millimetres(0.05);
/// Ends of a strip that lean alike, to a protractor.
constexpr double k_same_deg = 0.15;

std::vector<Vector2d> points_of(const geometry::Profile& profile) {
    auto points = profile.segments.empty() ? std::vector<Vector2d>() : geometry::polyline(profile, k_chord).value();
    if (points.size() > 1 && profile.closed) {
        points.pop_back();
    }
    return points;
}

std::string number(Length length, core::BareUnit unit) {
    return shortest_words(length, unit);
}

const std::string& name_of(const Evaluation& evaluation, const PieceBuck& buck) {
    return evaluation.job.skirt.pieces.at(buck.piece).name;
}

std::string where(const Evaluation& evaluation, const Rib& rib) {
    const std::string place = core::place_words(evaluation.job, rib.along);
    return rib.station.empty() ? place
                               : "station " + rib.station + " · " + number(rib.along, evaluation.job.unit) + " " +
                                     unit_word(evaluation.job.unit);
}

std::string about(const Evaluation& evaluation, const Rib& rib) {
    const bool from_front = evaluation.job.side == core::Side::right;
    std::string words = rib.place_is_front ? "Front face on its place" : "Rear face on its place";
    words += from_front ? " · seen from the front" : " · seen from the rear";
    words += " · up on the car is to the right, out is up";
    const core::Board* board = core::board_of(evaluation.job.buck, evaluation.job.buck.rib_board);
    words += board == nullptr ? "" : " · board " + board->name;
    return words + ", " + fine_number(millimetres(rib.thickness_mm), evaluation.job.unit) + " " +
           unit_word(evaluation.job.unit) + " thick · the other face is dashed";
}

std::string edge_words(const Bevel& bevel, core::BareUnit unit) {
    const double from = std::abs(in_deg(bevel.from));
    const double to = std::abs(in_deg(bevel.to));
    if (std::max(from, to) < k_no_bevel_deg) {
        return "square";
    }
    std::string words = core::fixed_text(from, 1) + "°";
    if (std::abs(from - to) >= k_same_deg) {
        words = core::fixed_text(from, 1) + " to " + core::fixed_text(to, 1) + "°";
    }
    const bool gap = in_deg(bevel.from) + in_deg(bevel.to) < 0.0;
    if (!gap) {
        return "bevel " + words;
    }
    const Length wide = bevel.most < Length{} ? -bevel.most : bevel.most;
    return wide > k_no_gap ? "gap " + number(wide, unit) + " " + unit_word(unit) : "square";
}

/// Where a strip of the section is on the outline: between its nodes, which are drawn elsewhere by sheet and skin.
std::optional<Vector2d> place_of_strip(const Evaluation& evaluation, const PieceBuck& buck, const Rib& rib,
                                       const std::string& strip) {
    const auto& line = evaluation.car.pieces.at(buck.piece).line;
    if (!line || rib.outline.segments.empty()) {
        return std::nullopt;
    }
    const std::vector<geometry::ProfileNode> nodes = line->nodes_at(rib.along);
    const double tilt = in_rad(buck.tilt);
    const auto on_buck = [&](const Vector2d& out_up) {
        const double size = buck.across_size;
        return Vector2d(size * (-std::sin(tilt) * out_up.x() + std::cos(tilt) * out_up.y()),
                        size * (std::cos(tilt) * out_up.x() + std::sin(tilt) * out_up.y()) - buck.base_mm);
    };
    const auto& names = line->names();
    for (std::size_t i = 0; i + 1 < names.size(); ++i) {
        if (strip == names[i] + " to " + names[i + 1] || strip == names[i + 1] + " to " + names[i]) {
            const Vector2d middle = (nodes[i].p_mm + nodes[i + 1].p_mm) / 2.0;
            return geometry::nearest_point(rib.outline, on_buck(middle)).p_mm;
        }
    }
    return std::nullopt;
}

/// Neighbouring strips that say the same are said once.
std::vector<RibEdge> edges_of(const Evaluation& evaluation, const PieceBuck& buck, const Rib& rib) {
    std::vector<RibEdge> edges;
    for (const Bevel& bevel : rib.bevels) {
        const auto at = place_of_strip(evaluation, buck, rib, bevel.strip);
        if (at) {
            const std::string words = edge_words(bevel, evaluation.job.unit);
            if (edges.empty() || edges.back().words != words) {
                edges.push_back({*at, words, words.starts_with("gap")});
            }
        }
    }
    return edges;
}

struct SideExtent {
    double low_mm = 0.0, high_mm = 0.0, top_mm = 0.0;
};

SideExtent extent_of(const Rib& rib) {
    SideExtent all{1e9, -1e9, 0.0};
    for (const geometry::Profile* outline : {&rib.outline, &rib.far_outline}) {
        for (const Vector2d& p_mm : points_of(*outline)) {
            all = {std::min(all.low_mm, p_mm.x()), std::max(all.high_mm, p_mm.x()), std::max(all.top_mm, p_mm.y())};
        }
    }
    return all;
}

std::string size_words(const PieceBuck& buck) {
    const auto per_cent = [](double size) {
        const double off = 100.0 * (size - 1.0);
        return (off < 0.0 ? "−" : "+") + core::fixed_text(std::abs(off), 2) + " %";
    };
    return "size of the plug: " + per_cent(buck.along_size) + " along, " + per_cent(buck.across_size) + " across";
}

/// Where a mark of a distance is from above, by its words (core/buck/datum_rods.cpp); none where they say no such
/// place.
std::optional<Vector2d> place_of_mark(const PieceBuck& buck, const std::string& mark) {
    const std::string label = mark.substr(0, mark.find(','));
    const auto says = [&](const char* words) { return mark.find(words) != std::string::npos; };
    for (const core::Spine& spine : buck.spines) {
        if (spine.label == label && (says("front end") || says("rear end"))) {
            return Vector2d(says("front end") ? spine.front_mm : spine.rear_mm, spine.side_mm);
        }
    }
    for (const Rib& rib : buck.ribs) {
        if (rib.label == label && (says("low side") || says("high side"))) {
            double low = 1e9;
            double high = -1e9;
            for (const Vector2d& p_mm : points_of(rib.outline)) {
                if (p_mm.y() <= in_mm(k_chord)) {  // on the base
                    low = std::min(low, p_mm.x());
                    high = std::max(high, p_mm.x());
                }
            }
            return Vector2d(rib.x_mm, says("low side") ? low : high);
        }
    }
    return std::nullopt;
}

/// Without what is the same of all of them.
std::string short_mark(std::string mark) {
    const std::string said = ", face on its place";
    const auto at = mark.find(said);
    return at == std::string::npos ? mark : mark.erase(at, said.size());
}

std::string many(std::size_t count, const std::string& one) {
    return std::to_string(count) + " " + one + (count == 1 ? "" : "s");
}

}  // namespace

std::vector<std::string> buck_pieces(const Evaluation& evaluation) {
    std::vector<std::string> names;
    if (evaluation.buck) {
        for (const PieceBuck& buck : evaluation.buck->pieces) {
            names.push_back(name_of(evaluation, buck));
        }
    }
    return names;
}

const PieceBuck* buck_of(const Evaluation& evaluation, std::size_t number) {
    return evaluation.buck && number < evaluation.buck->pieces.size() ? &evaluation.buck->pieces[number] : nullptr;
}

std::string no_buck_words(const Evaluation& evaluation) {
    if (evaluation.job.buck.boards.empty()) {
        return "No board is given yet: write the boards that the buck is cut from, with their thickness as measured, "
               "under Boards.";
    }
    return "No piece of the skirt is drawn to its end yet: draw its sections from top return end to flange end at two "
           "stations or more.";
}

std::vector<RibChoice> ribs_of(const Evaluation& evaluation, std::size_t piece) {
    std::vector<RibChoice> ribs;
    if (const PieceBuck* buck = buck_of(evaluation, piece)) {
        for (const Rib& rib : buck->ribs) {
            ribs.push_back({rib.label + " · " + where(evaluation, rib), rib.along});
        }
    }
    return ribs;
}

std::optional<std::size_t> nearest_rib(const std::vector<RibChoice>& ribs, Length along) {
    const auto off = [&](const RibChoice& rib) { return std::abs(in_mm(rib.along - along)); };
    const auto nearest =
        std::min_element(ribs.begin(), ribs.end(), [&](const auto& a, const auto& b) { return off(a) < off(b); });
    return nearest == ribs.end() ? std::nullopt : std::optional(static_cast<std::size_t>(nearest - ribs.begin()));
}

namespace {

/// Why a piece has no ribs; empty if it has.
std::string lacking_words(const Evaluation& evaluation, const PieceBuck* buck) {
    if (buck == nullptr) {
        return no_buck_words(evaluation);
    }
    if (!buck->ribs.empty()) {
        return {};
    }
    std::string words = missing_words("To make the buck, decide first:", buck->missing);
    for (const core::Finding& refused : buck->refused) {
        words += (words.empty() ? "" : "\n") + refused.title + ": " + refused.why;
    }
    return words.empty() ? "This piece has no ribs." : words;
}

}  // namespace

RibPicture rib_of_job(const Evaluation& evaluation, std::size_t piece, std::size_t rib_number) {
    RibPicture picture;
    picture.unit = evaluation.job.unit;
    const PieceBuck* buck = buck_of(evaluation, piece);
    picture.words = lacking_words(evaluation, buck);
    if (!picture.words.empty()) {
        return picture;
    }
    const Rib& rib = buck->ribs.at(std::min(rib_number, buck->ribs.size() - 1));
    picture.label = rib.label;
    picture.where = where(evaluation, rib);
    picture.about = about(evaluation, rib);
    picture.number = static_cast<std::size_t>(&rib - buck->ribs.data()) + 1;
    picture.count = buck->ribs.size();
    picture.outline_mm = points_of(rib.outline);
    picture.far_mm = points_of(rib.far_outline);
    for (std::size_t i = 0; i < rib.laps.size(); ++i) {
        const core::Slot& slot = rib.laps[i];
        const std::string spine = i < buck->spines.size() ? buck->spines[i].label + ": " : std::string();
        picture.laps.push_back({slot.at_mm, slot.width_mm, slot.depth_mm,
                                spine + fine_number(millimetres(slot.width_mm), picture.unit) + " wide, " +
                                    number(millimetres(slot.depth_mm), picture.unit) + " deep"});
    }
    picture.pins_mm = rib.pins_mm;
    picture.pin_mm = in_mm(evaluation.job.buck.pin.value);
    picture.level_mm = rib.level_mm;
    picture.edges = edges_of(evaluation, *buck, rib);
    return picture;
}

AssemblyPicture assembly_of_job(const Evaluation& evaluation, std::size_t piece, std::optional<std::size_t> chosen) {
    AssemblyPicture picture;
    picture.unit = evaluation.job.unit;
    const PieceBuck* buck = buck_of(evaluation, piece);
    picture.words = lacking_words(evaluation, buck);
    if (!picture.words.empty()) {
        return picture;
    }
    picture.piece = "Buck of " + name_of(evaluation, *buck);
    picture.state = worst_state(evaluation, "buck/" + name_of(evaluation, *buck) + "/");
    picture.about = many(buck->ribs.size(), "rib") + " · " + many(buck->spines.size(), "spine") +
                    (buck->base ? " · base board" : " · no base board") + " · " + size_words(*buck);
    if (buck->worst_swap) {
        const core::WrongPlace& swap = *buck->worst_swap;
        picture.notes.push_back("A rib goes into its own place alone: " + swap.rib +
                                (swap.reversed ? ", turned round," : "") + " in the place of " + swap.place +
                                " stands " + number(millimetres(swap.lift_mm), picture.unit) + " " +
                                unit_word(picture.unit) + " off the base, and no other shows less.");
    }
    for (std::size_t i = 0; i < buck->ribs.size(); ++i) {
        const Rib& rib = buck->ribs[i];
        const SideExtent extent = extent_of(rib);
        picture.ribs.push_back({rib.label, rib.front_mm(), rib.rear_mm(), extent.low_mm, extent.high_mm, extent.top_mm,
                                chosen && *chosen == i});
    }
    for (const core::Spine& spine : buck->spines) {
        picture.spines.push_back(
            {spine.label, spine.front_mm, spine.rear_mm, spine.side_mm, spine.thickness_mm, spine.height_mm});
    }
    if (buck->base) {
        const core::BaseBoard& base = *buck->base;
        picture.base =
            AssemblyBase{base.label, base.front_mm, base.rear_mm, base.low_mm, base.high_mm, base.thickness_mm};
    }
    for (const core::CheckDistance& check : buck->checks) {
        picture.checks.push_back(
            {short_mark(check.from) + " to " + short_mark(check.to) + ": " + number(check.value, picture.unit),
             place_of_mark(*buck, check.from), place_of_mark(*buck, check.to)});
    }
    if (!picture.checks.empty()) {
        picture.notes.emplace_back("Distances of ribs are from face on its place to face on its place.");
    }
    return picture;
}

}  // namespace sillwright::app

#include "core/forming/flute_mend.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <utility>

#include "core/edit/field_change.h"
#include "core/forming/bit_choice.h"
#include "core/forming/flute_findings.h"
#include "core/forming/flute_form.h"
#include "core/number_text.h"
#include "core/road/least_change.h"

namespace sillwright::core {

using geometry::in_mm;
using geometry::Length;
using geometry::Loft;
using geometry::millimetres;

namespace {

/// Lanes are not moved by more than this: beyond it another layout is wanted.
constexpr double k_furthest_mm = 60.0;
constexpr double k_first_move_mm = 1.0;
/// A move is found to this, and then rounded up to a tenth.
constexpr double k_move_slack_mm = 0.02;
constexpr double k_bearing_slack = 1e-3;
/// A flute that is cut shorter keeps at least this part of its length.
constexpr double k_kept_length = 0.5;
/// What is shallower is no flute.
constexpr double k_least_depth_mm = 1.0;
/// How many bits are tried, and how often an end is drawn in further.
constexpr std::size_t k_most_bits = 5;
constexpr int k_most_steps = 6;
constexpr double k_step_mm = 10.0;
/// So that a number that is round already is not rounded to the next.
constexpr double k_round_slack = 1e-6;

Length up_to_tenth(Length value) {
    return millimetres(std::ceil(10.0 * in_mm(value) - k_round_slack) / 10.0);
}
Length down_to_tenth(Length value) {
    return millimetres(std::floor(10.0 * in_mm(value) + k_round_slack) / 10.0);
}
/// As it would be typed, free of rounding's last digits.
Length neat(Length value) {
    return millimetres(std::round(1e6 * in_mm(value)) / 1e6);
}
Length to_hundredth(Length value) {
    return millimetres(std::round(100.0 * in_mm(value)) / 100.0);
}

Length size(Length length) {
    return length < Length{} ? -length : length;
}

/// The piece with something changed, and the change as the file has it.
struct Trial {
    Piece piece;
    std::vector<FieldChange> changes{};
    std::string words{};
    bool other_form = false;  ///< The groove's own: its bit may be another one then.
};

class Mender {
public:
    Mender(const Job& job, const Piece& piece, const Loft& line, const FormedSheet* formed,
           const std::vector<FluteLane>& lanes, const std::vector<Finding>& before)
        : job_{job}, piece_{piece}, line_{line}, formed_{formed}, lanes_{lanes}, before_{before} {
        const auto& pieces = job.skirt.pieces;
        const auto found =
            std::find_if(pieces.begin(), pieces.end(), [&](const Piece& one) { return one.name == piece.name; });
        here_ = "/skirt/pieces/" + std::to_string(found - pieces.begin());
    }

    [[nodiscard]] std::optional<Mend> mend(const FluteLane& lane, const std::string& name,
                                           const Finding& finding) const {
        if (name == "bit") {
            return other_bit(lane, finding);
        }
        if (name == "wood") {
            return less_deep(lane, finding);
        }
        if (name == "base plate") {
            return past_upstand(lane, finding);
        }
        if (name == "bearing") {
            return better_bearing(lane, finding);
        }
        if (name == "run-out") {
            return nearer_run_out(lane, finding);
        }
        if (name == "land") {
            return wider_land(lane, finding);
        }
        if (name == "shelf") {
            return onto_straight(lane, finding);
        }
        if (name == "form") {
            return formable(lane, finding);
        }
        return springing(lane, finding);
    }

private:
    static Mend words_alone(std::string words) { return {std::move(words), {}, {}, {}}; }

    [[nodiscard]] std::string pointer(const FluteLane& lane) const {
        return here_ + (lane.recess ? "/recesses/" : "/flutes/") + std::to_string(lane.number) + "/";
    }
    static std::string the(const FluteLane& lane) { return lane_words(lane); }

    void put(Trial& trial, const std::string& at, Entry& entry, Length value) const {
        if (entry.value != value) {
            entry = {value, ""};
            trial.changes.push_back(length_change(job_, at, value));
        }
    }
    void put_offset(Trial& trial, const FluteLane& lane, Length value) const {
        put(trial, pointer(lane) + "offset",
            lane.recess ? trial.piece.recesses[lane.number].offset : trial.piece.flutes[lane.number].offset, value);
    }
    void put_section(Trial& trial, const FluteLane& lane, const GrooveSection& drawn) const {
        Flute& flute = trial.piece.flutes[lane.number];
        put(trial, pointer(lane) + "width", flute.width, drawn.width);
        put(trial, pointer(lane) + "depth", flute.depth, drawn.depth);
        put(trial, pointer(lane) + "bottom_radius", flute.bottom_radius, drawn.bottom_radius);
        trial.other_form = true;
    }
    void put_bit(Trial& trial, const FluteLane& lane, const std::string& name) const {
        std::string& bit = lane.recess ? trial.piece.recesses[lane.number].bit : trial.piece.flutes[lane.number].bit;
        if (bit != name) {
            bit = name;
            trial.changes.push_back(word_change(pointer(lane) + "bit", name));
        }
    }

    [[nodiscard]] GrooveSection drawn(const FluteLane& lane) const {
        const Flute& flute = piece_.flutes[lane.number];
        return {flute.width.value, flute.depth.value, flute.bottom_radius.value};
    }
    /// The drawn flute of one on the mould, in numbers that can be typed.
    [[nodiscard]] GrooveSection drawn_of(const FluteLane& lane, const GrooveSection& mould) const {
        GrooveSection section = mould;
        if (job_.forming.mould && lane.sheet) {
            section = drawn_for_mould(mould, piece_.drawn_face, *job_.forming.mould, *lane.sheet);
        }
        return {to_hundredth(section.width), section.depth, to_hundredth(section.bottom_radius)};
    }
    static std::string section_words(const GrooveSection& section) {
        return mm_text(section.width) + " wide and " + mm_text(section.depth) + " deep, with a bottom radius of " +
               mm_text(section.bottom_radius);
    }

    /// The finding's margin with a change made, if that mends it and breaks nothing else.
    [[nodiscard]] std::optional<Mend> proven(const Trial& trial, const Finding& finding) const {
        if (trial.changes.empty()) {
            return std::nullopt;
        }
        const auto after = lane_findings(job_, trial.piece, flute_lanes(job_, trial.piece, line_, formed_));
        std::optional<double> margin;
        const std::string bit = finding.id.substr(0, finding.id.rfind('/')) + "/bit";
        for (const Finding& one : after) {
            if (one.id == finding.id) {
                margin = one.margin;
                continue;
            }
            const auto known =
                std::find_if(before_.begin(), before_.end(), [&](const Finding& was) { return was.id == one.id; });
            const bool held = known == before_.end() || known->state != State::falls_short;
            const bool may = trial.other_form && one.id == bit;
            if (held && !may && one.state == State::falls_short) {
                return std::nullopt;
            }
        }
        if (!margin || *margin < 0.0) {
            return std::nullopt;
        }
        return Mend{trial.words, {}, margin, trial.changes};
    }

    [[nodiscard]] std::optional<Mend> other_bit(const FluteLane& lane, const Finding& finding) const {
        const Router& router = job_.forming.router;
        ToCut cut{{lane.mould_width, lane.depth, lane.mould_radius}, {}};
        if (lane.recess) {
            cut.outline_radius = piece_.recesses[lane.number].corner_radius.value;
        }
        if (const auto best = best_fit(router, cut); best && best->margin() >= Length{} && !lane.bit_proposed) {
            Trial trial{piece_};
            put_bit(trial, lane, best->bit.name);
            trial.words = "Cut " + the(lane) + " with " + best->bit.name + ".";
            if (auto mend = proven(trial, finding)) {
                return mend;
            }
        }
        std::vector<BitFit> fits;
        for (const Bit& bit : bits_of(router)) {
            const bool can = bit.form == BitForm::flat || (bit.form == BitForm::round_nose && !lane.recess);
            auto fit = can ? fit_of(router, bit, cut) : std::nullopt;
            if (fit && (!fit->reach_left || *fit->reach_left >= Length{})) {
                fits.push_back(*std::move(fit));
            }
        }
        const auto change = [&](const BitFit& fit) {
            return lane.recess ? fit.radius_over : size(fit.width_off) + size(fit.radius - cut.plug.bottom_radius);
        };
        // The bit that the maker named comes first: the flute is drawn for it.
        std::stable_sort(fits.begin(), fits.end(), [&](const BitFit& a, const BitFit& b) {
            const bool named_a = !lane.bit_proposed && a.bit.name == lane.bit;
            const bool named_b = !lane.bit_proposed && b.bit.name == lane.bit;
            return named_a != named_b ? named_a : change(a) < change(b);
        });
        for (std::size_t i = 0; i < std::min(fits.size(), k_most_bits); ++i) {
            if (auto mend = drawn_for_bit(lane, finding, fits[i])) {
                return mend;
            }
        }
        return words_alone("Write the bit that is to cut " + the(lane) +
                           " into the job's list of bits, or draw it as one of those bits cuts.");
    }

    [[nodiscard]] std::optional<Mend> drawn_for_bit(const FluteLane& lane, const Finding& finding,
                                                    const BitFit& fit) const {
        Trial trial{piece_};
        if (lane.recess) {
            const Length radius = up_to_tenth(0.5 * fit.width);
            put(trial, pointer(lane) + "corner_radius", trial.piece.recesses[lane.number].corner_radius,
                std::max(radius, piece_.recesses[lane.number].corner_radius.value));
            trial.words = "Round the outline of " + the(lane) + " by " + mm_text(radius) + ", which " + fit.bit.name +
                          " can cut.";
        } else {
            const GrooveSection section = drawn_of(lane, {fit.width, lane.depth, fit.radius});
            put_section(trial, lane, section);
            trial.words = "Draw " + the(lane) + " as " + fit.bit.name + " cuts it: " + section_words(section) + ".";
        }
        if (!lane.bit_proposed) {
            put_bit(trial, lane, fit.bit.name);
        }
        return proven(trial, finding);
    }

    [[nodiscard]] std::optional<Mend> less_deep(const FluteLane& lane, const Finding& finding) const {
        const Router& router = job_.forming.router;
        const std::string board =
            "the plug a board of " + mm_text(up_to_tenth(lane.depth + router.board_left.value), 1);
        const Length depth = router.board ? down_to_tenth(router.board->value - router.board_left.value) : Length{};
        if (depth >= millimetres(k_least_depth_mm)) {
            Trial trial{piece_};
            if (lane.recess) {
                put(trial, pointer(lane) + "depth", trial.piece.recesses[lane.number].depth, depth);
                trial.other_form = true;
                trial.words = "Make " + the(lane) + " " + mm_text(depth) + " deep, or give " + board + ".";
            } else {
                GrooveSection section = with_depth(drawn(lane), depth);
                section.width = to_hundredth(section.width);
                put_section(trial, lane, section);
                trial.words = "Make " + the(lane) + " " + section_words(section) + ", or give " + board + ".";
            }
            if (auto mend = proven(trial, finding)) {
                return mend;
            }
        }
        return words_alone("Give " + board + ".");
    }

    /// The margin of one finding of a lane that is shifted across, alone on its strip.
    [[nodiscard]] std::optional<double> margin_shifted(const FluteLane& lane, const std::string& id,
                                                       double by_mm) const {
        Piece alone = piece_;
        alone.flutes.clear();
        alone.recesses.clear();
        Length* offset = nullptr;
        if (lane.recess) {
            alone.recesses.push_back(piece_.recesses[lane.number]);
            offset = &alone.recesses.front().offset.value;
        } else {
            alone.flutes.push_back(piece_.flutes[lane.number]);
            offset = &alone.flutes.front().offset.value;
        }
        *offset = *offset + millimetres(by_mm);
        if (*offset < Length{}) {
            return std::nullopt;
        }
        for (const Finding& finding : lane_findings(job_, alone, flute_lanes(job_, alone, line_, formed_))) {
            if (finding.id == id) {
                // Past all that is looked for nothing is in the way.
                return finding.margin || finding.state != State::holds ? finding.margin : std::optional(k_furthest_mm);
            }
        }
        return std::nullopt;
    }

    /// Moved across by the least that does it, toward one side (+1 inward).
    [[nodiscard]] std::optional<Mend> moved(const FluteLane& lane, const Finding& finding, double sign,
                                            double slack) const {
        const auto found = least_change([&](double by) { return margin_shifted(lane, finding.id, sign * by); },
                                        k_first_move_mm, k_furthest_mm, slack);
        if (!found) {
            return std::nullopt;
        }
        const Length offset =
            lane.recess ? piece_.recesses[lane.number].offset.value : piece_.flutes[lane.number].offset.value;
        const Length by = up_to_tenth(millimetres(found->by));
        const Length to = sign > 0.0 ? up_to_tenth(offset + by) : down_to_tenth(offset - by);
        if (to < Length{}) {
            return std::nullopt;
        }
        Trial trial{piece_};
        put_offset(trial, lane, to);
        trial.words = "Move " + the(lane) + " to " + mm_text(to) + " from the edge, " + mm_text(size(to - offset)) +
                      (sign > 0.0 ? " further inward." : " further outward.");
        return proven(trial, finding);
    }

    [[nodiscard]] std::optional<Mend> past_upstand(const FluteLane& lane, const Finding& finding) const {
        const Router& router = job_.forming.router;
        const Length needed = router.base_radius->value + router.base_room.value;
        const auto fouls = [&](const LaneRow& row) { return row.room && *row.room < needed; };
        const auto worst = std::min_element(lane.rows.begin(), lane.rows.end(), [](const auto& a, const auto& b) {
            return a.room && (!b.room || *a.room < *b.room);
        });
        if (auto mend = moved(lane, finding, worst->room_is_inner ? -1.0 : 1.0, k_move_slack_mm)) {
            return mend;
        }
        if (!lane.recess) {
            if (auto mend = drawn_in(lane, finding, fouls)) {
                return mend;
            }
        }
        const Length smaller = down_to_tenth(*worst->room - router.base_room.value);
        const std::string plate =
            smaller > Length{} ? ", or with a base plate of " + mm_text(smaller, 1) + " radius or less (a trimmer)"
                               : std::string();
        return words_alone("Cut " + the(lane) + " before what stands up beside it is put on" + plate + ".");
    }

    /// Run out before what is in the way, where that is at one end alone.
    template <class Fouls>
    [[nodiscard]] std::optional<Mend> drawn_in(const FluteLane& lane, const Finding& finding,
                                               const Fouls& fouls) const {
        const auto first = std::find_if(lane.rows.begin(), lane.rows.end(), fouls);
        const auto last = std::find_if(lane.rows.rbegin(), lane.rows.rend(), fouls);
        const bool at_front = fouls(lane.rows.front());
        if (at_front == fouls(lane.rows.back())) {
            return std::nullopt;
        }
        const Length end = at_front ? last->along : first->along;
        const Length kept = k_kept_length * (lane.rear - lane.front);
        for (int step = 0; step <= k_most_steps; ++step) {
            const double by = k_step_mm * step;
            const Length to = millimetres(at_front ? std::ceil(in_mm(end) + by) : std::floor(in_mm(end) - by));
            if (at_front ? lane.rear - to < kept : to - lane.front < kept) {
                return std::nullopt;
            }
            Trial trial{piece_};
            put_end(trial, lane, at_front, to);
            trial.words = "Run " + the(lane) + " out at " + mm_text(to, 0) + (at_front ? " in front" : " at the rear") +
                          ", before what stands up beside it.";
            if (auto mend = proven(trial, finding)) {
                return mend;
            }
        }
        return std::nullopt;
    }

    void put_end(Trial& trial, const FluteLane& lane, bool front, Length to) const {
        Flute& flute = trial.piece.flutes[lane.number];
        std::optional<Entry>& end = front ? flute.front : flute.rear;
        if (!end) {
            end.emplace();
        }
        end = Entry{to, ""};
        trial.changes.push_back(length_change(job_, pointer(lane) + (front ? "front" : "rear"), to));
    }

    [[nodiscard]] std::optional<Mend> better_bearing(const FluteLane& lane, const Finding& finding) const {
        for (const double sign : {1.0, -1.0}) {
            if (auto mend = moved(lane, finding, sign, k_bearing_slack)) {
                return mend;
            }
        }
        return words_alone(
            "Clamp a board level with the shelf beside it, for the base plate to lie on, or take a router "
            "with a smaller base plate.");
    }

    [[nodiscard]] std::optional<Mend> nearer_run_out(const FluteLane& lane, const Finding& finding) const {
        const Length needed = job_.forming.router.run_out_room.value;
        const Length front_short = lane.front_room ? needed - *lane.front_room : Length{};
        const Length rear_short = lane.rear_room ? needed - *lane.rear_room : Length{};
        Trial trial{piece_};
        if (lane.recess) {
            Recess& recess = trial.piece.recesses[lane.number];
            const Length along = front_short > rear_short ? up_to_tenth(recess.along.value + front_short)
                                                          : down_to_tenth(recess.along.value - rear_short);
            put(trial, pointer(lane) + "along", recess.along, along);
            trial.words = "Move " + the(lane) + " to " + mm_text(along) + ".";
        } else {
            std::string ends;
            if (front_short > Length{}) {
                const Length to = up_to_tenth(lane.front + front_short);
                put_end(trial, lane, true, to);
                ends = "at " + mm_text(to) + " in front";
            }
            if (rear_short > Length{}) {
                const Length to = down_to_tenth(lane.rear - rear_short);
                put_end(trial, lane, false, to);
                ends += std::string(ends.empty() ? "" : " and ") + "at " + mm_text(to) + " at the rear";
            }
            trial.words = "Run " + the(lane) + " out " + ends + ".";
        }
        if (auto mend = proven(trial, finding)) {
            return mend;
        }
        return words_alone("There is no room for it: make " + the(lane) + " shorter, or the shelf longer.");
    }

    [[nodiscard]] Length offset_of(const FluteLane& lane) const {
        return lane.recess ? piece_.recesses[lane.number].offset.value : piece_.flutes[lane.number].offset.value;
    }
    [[nodiscard]] RecessFace face_of(const FluteLane& lane) const {
        return lane.recess ? piece_.recesses[lane.number].on : RecessFace::shelf;
    }

    [[nodiscard]] std::optional<Mend> wider_land(const FluteLane& lane, const Finding& finding) const {
        const Length by = up_to_tenth(job_.forming.router.land_least.value - *lane.land);
        for (const bool inner : {true, false}) {
            // All on that side go along, so that their own lands stay.
            Trial trial{piece_};
            for (const FluteLane& other : lanes_) {
                const bool is_inner = offset_of(other) > offset_of(lane) ||
                                      (offset_of(other) == offset_of(lane) && other.name == lane.land_to);
                if (face_of(other) != face_of(lane) || is_inner != inner) {
                    continue;
                }
                const Length to = neat(inner ? offset_of(other) + by : offset_of(other) - by);
                if (to < Length{}) {
                    break;
                }
                put_offset(trial, other, to);
            }
            trial.words =
                inner ? "Move what lies inward of " + the(lane) + " by " + mm_text(by) + " further inward."
                      : "Move " + the(lane) + ", and what lies outward of it, by " + mm_text(by) + " further outward.";
            if (auto mend = proven(trial, finding)) {
                return mend;
            }
        }
        return words_alone("There is no room for the land: make " + the(lane) + " or its neighbour narrower by " +
                           mm_text(by) + " in all.");
    }

    [[nodiscard]] std::optional<Mend> onto_straight(const FluteLane& lane, const Finding& finding) const {
        const Length by = up_to_tenth(millimetres(-*finding.margin));
        for (const double sign : {1.0, -1.0}) {
            Trial trial{piece_};
            const Length to = neat(offset_of(lane) + sign * by);
            if (to >= Length{}) {
                put_offset(trial, lane, to);
                trial.words = "Move " + the(lane) + " to " + mm_text(to) + " from the edge.";
                if (auto mend = proven(trial, finding)) {
                    return mend;
                }
            }
        }
        Trial trial{piece_};
        Entry& width = lane.recess ? trial.piece.recesses[lane.number].width : trial.piece.flutes[lane.number].width;
        const Length narrow = down_to_tenth(width.value - 2.0 * by);
        if (narrow > Length{}) {
            put(trial, pointer(lane) + "width", width, narrow);
            trial.other_form = true;
            trial.words = "Make " + the(lane) + " " + mm_text(narrow) + " wide.";
            if (auto mend = proven(trial, finding)) {
                return mend;
            }
        }
        return words_alone("There is no room for " + the(lane) + ": take one out, or make all of them narrower.");
    }

    [[nodiscard]] std::optional<Mend> formable(const FluteLane& lane, const Finding& finding) const {
        const MouldKind kind = *job_.forming.mould;
        const Length sheet = piece_.sheet ? piece_.sheet->value : *lane.sheet;
        if (lane.recess) {
            return formable_recess(lane, finding, sheet);
        }
        GrooveSection rounded{lane.mould_width, lane.depth, lane.mould_radius};
        rounded.bottom_radius = std::max(rounded.bottom_radius, up_to_tenth(sheet));
        const GrooveSection shallow =
            with_depth(rounded, std::min(lane.depth, down_to_tenth(k_depth_by_width * lane.mould_width)));
        GrooveSection wide = rounded;
        wide.width = std::max(wide.width, up_to_tenth((1.0 / k_depth_by_width) * wide.depth));
        if (kind == MouldKind::male) {
            if (wide.bottom_radius <= wide.depth) {
                wide.width = std::max(wide.width, up_to_tenth(2.0 * (sheet + wide.bottom_radius)));
            }
            const Length taken = 2.0 * std::tan(geometry::in_rad(mouth_angle(wide)) / 2.0) * *lane.sheet;
            wide.width = std::max(wide.width, up_to_tenth((1.0 / (1.0 - k_seen_by_mould)) * taken));
        }
        for (const GrooveSection& mould : {rounded, shallow, wide}) {
            Trial trial{piece_};
            const GrooveSection section = drawn_of(lane, mould);
            put_section(trial, lane, section);
            trial.words = "Draw " + the(lane) + " " + section_words(section) + ".";
            if (auto mend = proven(trial, finding)) {
                return mend;
            }
        }
        return words_alone("Make " + the(lane) + " wider or less deep: on the mould " + mm_text(wide.width) +
                           " wide with a bottom radius of " + mm_text(wide.bottom_radius) +
                           " would do, if there is room for it.");
    }

    [[nodiscard]] std::optional<Mend> formable_recess(const FluteLane& lane, const Finding& finding,
                                                      Length sheet) const {
        const Recess& recess = piece_.recesses[lane.number];
        const Length narrow = std::min(recess.width.value, recess.length.value);
        const Length shallow = std::min(recess.depth.value, down_to_tenth(k_depth_by_width * narrow));
        // Shallower than the sheet is thick it is bridged, whatever its bottom is like.
        for (const Length depth : {shallow, std::min(shallow, down_to_tenth(sheet))}) {
            Trial trial{piece_};
            Recess& changed = trial.piece.recesses[lane.number];
            put(trial, pointer(lane) + "depth", changed.depth, depth);
            put(trial, pointer(lane) + "corner_radius", changed.corner_radius,
                std::max(recess.corner_radius.value, up_to_tenth(sheet)));
            trial.other_form = true;
            trial.words = "Make " + the(lane) + " " + mm_text(depth) + " deep, its outline's corners round by " +
                          mm_text(changed.corner_radius.value) + ".";
            if (auto mend = proven(trial, finding)) {
                return mend;
            }
        }
        return words_alone("Make " + the(lane) + " wider or less deep, or take a bit with rounder corners.");
    }

    [[nodiscard]] std::optional<Mend> springing(const FluteLane& lane, const Finding& finding) const {
        const Length most = job_.forming.undercut_most.value;
        const Length depth = down_to_tenth((most / *lane.undercut) * lane.depth);
        if (depth >= millimetres(k_least_depth_mm)) {
            Trial trial{piece_};
            if (lane.recess) {
                put(trial, pointer(lane) + "depth", trial.piece.recesses[lane.number].depth, depth);
                trial.other_form = true;
                trial.words = "Make " + the(lane) + " " + mm_text(depth) + " deep.";
            } else {
                GrooveSection section = with_depth(drawn(lane), depth);
                section.width = to_hundredth(section.width);
                put_section(trial, lane, section);
                trial.words = "Make " + the(lane) + " " + section_words(section) + ".";
            }
            if (auto mend = proven(trial, finding)) {
                return mend;
            }
        }
        return words_alone(
            "Spring the part off by " + mm_text(up_to_tenth(*lane.undercut), 1) + " at " + the(lane) +
            " when it leaves the mould. If it bears that, write it under Forming as what it can be sprung "
            "over; else make the mould there a loose strip, or leave the groove out.");
    }

    const Job& job_;
    const Piece& piece_;
    const Loft& line_;
    const FormedSheet* formed_;
    const std::vector<FluteLane>& lanes_;
    const std::vector<Finding>& before_;
    std::string here_;
};

}  // namespace

void add_flute_mends(const Job& job, const Piece& piece, const Loft& line, const FormedSheet* formed,
                     const std::vector<FluteLane>& lanes, std::vector<Finding>& findings) {
    const std::vector<Finding> before = findings;
    const Mender mender(job, piece, line, formed, lanes, before);
    for (Finding& finding : findings) {
        for (const FluteLane& lane : lanes) {
            const std::string id = lane_id(piece, lane);
            if (!finding.id.starts_with(id)) {
                continue;
            }
            const std::string name = finding.id.substr(id.size());
            const bool unknown_bit = name == "bit" && finding.state == State::not_measured && !lane.bit_proposed;
            if (name.find('/') == std::string::npos && (finding.state == State::falls_short || unknown_bit)) {
                finding.mend = mender.mend(lane, name, finding);
            }
        }
    }
}

}  // namespace sillwright::core

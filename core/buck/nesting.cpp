#include "core/buck/nesting.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <utility>

#include "core/buck/buck_plan.h"
#include "core/edit/field_change.h"
#include "core/finding_state.h"
#include "core/finding_words.h"
#include "core/forming/bit_table.h"
#include "core/number_text.h"
#include "geometry/nest.h"

namespace sillwright::core {

using Eigen::AlignedBox2d;
using Eigen::Vector2d;
using geometry::in_mm;
using geometry::Length;
using geometry::NestLayout;
using geometry::NestQuestion;
using geometry::Polygon;
using geometry::Result;

namespace {

const std::string k_own = "own method; common practice, no source";

std::string size_text(const Vector2d& size_mm) {
    return fixed_text(size_mm.x(), 0) + " x " + fixed_text(size_mm.y(), 0) + " mm";
}

std::string called(const std::string& label) {
    return "part \"" + label + "\"";
}

bool has_size(const Board& board) {
    return board.length && board.width;
}

Result<Polygon> outline_ring(const CutPart& part) {
    auto line = geometry::polyline(part.outline, k_nesting_chord);
    if (!line) {
        return geometry::Error{line.error().code, called(part.label) + ": " + line.error().message};
    }
    Polygon ring = std::move(line).value();
    ring.pop_back();  // the first one again
    const auto grown = geometry::grown_ring(ring, {k_assumed_gap, {}, {}, {}});
    if (!grown) {
        return geometry::Error{grown.error().code, called(part.label) + ": " + grown.error().message};
    }
    return ring;
}

/// A board as nesting takes it. One that lacks its size is not asked for.
geometry::NestBoard nest_board(const Board& board) {
    geometry::NestBoard result;
    if (!has_size(board)) {
        return result;
    }
    result.size_mm = {in_mm(board.length->value), in_mm(board.width->value)};
    result.half_turns_only = board.grain;
    if (board.count) {
        result.count = static_cast<std::size_t>(std::max(0.0, std::floor(*board.count)));
    }
    for (const BoardDefect& defect : board.defects) {
        if (defect.along && defect.across && defect.length && defect.width) {
            const Vector2d corner{in_mm(defect.along->value), in_mm(defect.across->value)};
            const Vector2d size{in_mm(defect.length->value), in_mm(defect.width->value)};
            result.defects.emplace_back(corner, corner + size);
        }
    }
    return result;
}

bool is_as_thick(const Board& a, const Board& b) {
    // Two measured numbers with one decimal differ by rounding from what they say.
    constexpr double k_rounding_mm = 1e-9;
    const auto one = thickness_of(a), other = thickness_of(b);
    return one && other && std::abs(in_mm(*one - *other)) <= in_mm(k_same_thickness) + k_rounding_mm;
}

/// Boards that take a part, those with a number first.
std::vector<std::size_t> boards_for(const Buck& buck, const CutPart& part) {
    const Board* own = board_of(buck, part.board);
    std::vector<std::size_t> counted, others;
    for (std::size_t i = 0; own != nullptr && i < buck.boards.size(); ++i) {
        const Board& board = buck.boards[i];
        if (!has_size(board)) {
            continue;
        }
        if (board.count && (&board == own || is_as_thick(board, *own))) {
            counted.push_back(i);
        } else if (&board == own) {
            others.push_back(i);
        }
    }
    counted.insert(counted.end(), others.begin(), others.end());
    return counted;
}

Result<NestQuestion> whole_question(const Job& job, const std::vector<CutPart>& parts) {
    NestQuestion question;
    for (const Board& board : job.buck.boards) {
        question.boards.push_back(nest_board(board));
    }
    for (const CutPart& part : parts) {
        auto ring = outline_ring(part);
        if (!ring) {
            return ring.error();
        }
        question.parts.push_back({std::move(ring).value(), boards_for(job.buck, part)});
    }
    question.gap = nesting_gap(job).value_or(k_assumed_gap);
    question.margin = job.buck.margin.value;
    question.chord = k_nesting_chord;
    question.seed = k_nesting_seed;
    return question;
}

/// Parts that share boards, directly or through others; each group by the numbers of its parts.
std::vector<std::vector<std::size_t>> groups_of(const NestQuestion& question) {
    std::vector<std::size_t> group(question.boards.size());
    std::iota(group.begin(), group.end(), std::size_t{0});
    for (const geometry::NestPart& part : question.parts) {
        for (const std::size_t board : part.boards) {
            const std::size_t from = group[board], to = group[part.boards.front()];
            std::replace(group.begin(), group.end(), from, to);
        }
    }
    std::vector<std::vector<std::size_t>> by_board(question.boards.size() + 1);
    for (std::size_t i = 0; i < question.parts.size(); ++i) {
        const auto& boards = question.parts[i].boards;
        by_board[boards.empty() ? question.boards.size() : group[boards.front()]].push_back(i);
    }
    std::erase_if(by_board, [](const auto& parts) { return parts.empty(); });
    return by_board;
}

NestQuestion question_of(const NestQuestion& whole, const std::vector<std::size_t>& parts, double effort) {
    NestQuestion question = whole;
    question.parts.clear();
    for (const std::size_t part : parts) {
        question.parts.push_back(whole.parts[part]);
    }
    question.effort = effort;
    return question;
}

/// Fewest sheets by area: of each group, the largest that take its parts first.
std::size_t least_sheets(const NestQuestion& whole, const std::vector<std::vector<std::size_t>>& groups,
                         const std::vector<std::size_t>& left_out) {
    std::size_t least = 0;
    for (const std::vector<std::size_t>& group : groups) {
        double area = 0.0;
        std::vector<std::pair<double, std::size_t>> rooms;  ///< Room on one, how many.
        std::vector<bool> seen(whole.boards.size(), false);
        for (const std::size_t part : group) {
            if (std::binary_search(left_out.begin(), left_out.end(), part)) {
                continue;
            }
            area += geometry::least_grown_area_mm2(whole.parts[part].outline_mm, 0.5 * whole.gap, whole.chord);
            for (const std::size_t b : whole.parts[part].boards) {
                if (!seen[b]) {
                    seen[b] = true;
                    const Vector2d room =
                        whole.boards[b].size_mm.array() - 2.0 * in_mm(whole.margin) + in_mm(whole.gap);
                    rooms.emplace_back(std::max(0.0, room.x()) * std::max(0.0, room.y()),
                                       whole.boards[b].count.value_or(std::numeric_limits<std::size_t>::max()));
                }
            }
        }
        std::sort(rooms.rbegin(), rooms.rend());
        for (const auto& [room, count] : rooms) {
            if (area <= 0.0 || room <= 0.0) {
                break;
            }
            const double wanted = std::min(std::ceil(area / room), static_cast<double>(count));
            least += static_cast<std::size_t>(wanted);
            area -= wanted * room;
        }
    }
    return least;
}

/// What is left beside the box of the parts and a cut: along the whole width, or along the whole length.
Vector2d off_cut(const Vector2d& size_mm, const Vector2d& used_mm, double gap_mm) {
    const Vector2d beside{std::max(0.0, size_mm.x() - used_mm.x() - gap_mm), size_mm.y()};
    const Vector2d above{size_mm.x(), std::max(0.0, size_mm.y() - used_mm.y() - gap_mm)};
    const Vector2d& larger = beside.prod() >= above.prod() ? beside : above;
    return larger.prod() > 0.0 ? larger : Vector2d(Vector2d::Zero());
}

/// The groups' layouts as one nest.
class Together {
public:
    Together(const Job& job, const std::vector<CutPart>& parts, const NestQuestion& whole)
        : job_(job), parts_(parts), whole_(whole), groups_(groups_of(whole)), layouts_(groups_.size()) {}

    [[nodiscard]] const std::vector<std::vector<std::size_t>>& groups() const { return groups_; }
    void set(std::size_t group, const NestLayout& layout) { layouts_[group] = layout; }

    [[nodiscard]] Nesting nesting() const {
        Nesting result;
        result.gap_mm = in_mm(whole_.gap);
        for (std::size_t g = 0; g < groups_.size(); ++g) {
            result.tries += layouts_[g].tries;
            for (const std::size_t part : layouts_[g].left_out) {
                result.left_out.push_back(groups_[g][part]);
            }
            for (const geometry::LaidSheet& sheet : layouts_[g].sheets) {
                result.sheets.push_back(nested(sheet, groups_[g]));
            }
        }
        std::sort(result.left_out.begin(), result.left_out.end());
        number(result.sheets);
        result.least_sheets = least_sheets(whole_, groups_, result.left_out);
        return result;
    }

private:
    [[nodiscard]] NestedSheet nested(const geometry::LaidSheet& laid, const std::vector<std::size_t>& group) const {
        NestedSheet sheet;
        sheet.board = job_.buck.boards[laid.board].name;
        for (const geometry::NestPlace& place : laid.places) {
            const std::size_t part = group[place.part];
            sheet.parts.push_back({part, place.turned, place.moved_mm});
            sheet.parts_area_mm2 += geometry::enclosed_area_mm2(parts_[part].outline);
        }
        sheet.used_mm = laid.used_mm;
        sheet.left_mm = off_cut(whole_.boards[laid.board].size_mm, laid.used_mm, in_mm(whole_.gap));
        return sheet;
    }

    static void number(std::vector<NestedSheet>& sheets) {
        for (std::size_t i = 0; i < sheets.size(); ++i) {
            sheets[i].number = 1;
            for (std::size_t j = 0; j < i; ++j) {
                sheets[i].number += sheets[j].board == sheets[i].board ? 1U : 0U;
            }
        }
    }

    const Job& job_;
    const std::vector<CutPart>& parts_;
    const NestQuestion& whole_;
    std::vector<std::vector<std::size_t>> groups_;
    std::vector<NestLayout> layouts_;
};

/// All groups once, then each for longer.
Result<Nesting> nested(const Job& job, const std::vector<CutPart>& parts, const NestQuestion& whole, double effort,
                       const geometry::Watch& watch, const std::function<void(const Nesting&)>& better) {
    Together together(job, parts, whole);
    const std::size_t count = together.groups().size();
    for (std::size_t g = 0; g < count; ++g) {
        const auto first = geometry::nest(question_of(whole, together.groups()[g], 0.0), {watch.stop, {}});
        if (!first) {
            return first.error();
        }
        together.set(g, first.value());
    }
    if (better) {
        better(together.nesting());
    }
    for (std::size_t g = 0; g < count && effort > 0.0; ++g) {
        geometry::Watch part{watch.stop, {}};
        if (watch.progress) {
            part.progress = [&watch, g, count](double done) {
                watch.progress((static_cast<double>(g) + done) / static_cast<double>(count));
            };
        }
        bool is_first = true;  // which is there already
        const auto layout =
            geometry::nest(question_of(whole, together.groups()[g], effort), part, [&](const NestLayout& found) {
                together.set(g, found);
                if (better && !std::exchange(is_first, false)) {
                    better(together.nesting());
                }
            });
        if (layout) {
            together.set(g, layout.value());
        } else if (layout.error().code != geometry::ErrorCode::stopped) {
            return layout.error();
        }
    }
    return together.nesting();
}

Finding about_boards(const std::string& what, const std::string& title) {
    Finding finding;
    finding.id = "buck/boards/" + what;
    finding.title = title;
    finding.stage = Stage::buck;
    finding.unit = Unit::none;
    finding.source = k_own;
    return finding;
}

void add_nothing_lacks(Finding& finding, double found) {
    finding.at_least = false;
    finding.found = found;
    finding.required = 0.0;
    finding.margin = 0.0 - found;
    finding.state = state_of(finding.margin, 0.0, finding.missing);
}

/// Parts that find no place on an empty board of any of theirs, however many there are.
std::vector<std::size_t> parts_without_board(const NestQuestion& whole) {
    NestQuestion question = whole;
    for (geometry::NestBoard& board : question.boards) {
        board.count.reset();
    }
    std::vector<std::size_t> result;
    for (std::size_t i = 0; i < question.parts.size(); ++i) {
        const auto alone = geometry::nest(question_of(question, {i}, 0.0));
        if (!alone || !alone.value().left_out.empty()) {
            result.push_back(i);
        }
    }
    return result;
}

/// The board that the part would need, with the margin all round, in the way that it lies as drawn.
std::string needed_text(const NestQuestion& question, std::size_t part) {
    AlignedBox2d box;
    for (const Vector2d& p : question.parts[part].outline_mm) {
        box.extend(p);
    }
    const double margins = 2.0 * (in_mm(question.margin) + in_mm(question.chord));
    const Vector2d size = box.sizes().array() + margins;
    return fixed_text(std::ceil(size.x()), 0) + " x " + fixed_text(std::ceil(size.y()), 0) + " mm";
}

Finding fit_finding(const Job& job, const std::vector<CutPart>& parts, const NestQuestion& question) {
    Finding finding = about_boards("fit", "Parts that fit no board");
    finding.formula =
        "A part lies on an empty board of its own, or on an off-cut within 0.2 mm of its thickness, with the margin to "
        "edges and defects, turned by quarters, or by half a turn where the board has grain; other turns are not "
        "tried.";
    std::vector<std::string> labels, cures;
    for (const std::size_t i : parts_without_board(question)) {
        const Board* own = board_of(job.buck, parts[i].board);
        if (own != nullptr && !has_size(*own)) {
            continue;  // not known, and said of the board
        }
        labels.push_back(parts[i].label);
        const std::string needed = needed_text(question, i);
        finding.inputs.push_back({parts[i].label + " needs a board of", needed});
        cures.push_back(parts[i].label + " from a board of " + needed + " or more");
    }
    finding.inputs.push_back({"margin", mm_text(question.margin)});
    finding.place.words = joined(labels, ", ");
    for (std::size_t i = 0; i < job.buck.boards.size(); ++i) {
        const Board& board = job.buck.boards[i];
        if (has_size(board)) {
            finding.inputs.push_back({"board " + board.name, size_text(question.boards[i].size_mm)});
        } else {
            finding.missing.push_back("length and width of the board \"" + board.name + "\"");
        }
    }
    add_nothing_lacks(finding, static_cast<double>(labels.size()));
    if (labels.empty()) {
        finding.why = "Every part finds a place on a board of its own.";
    } else {
        finding.why = "A part that is larger than its board cannot be cut in one piece.";
        finding.mend = Mend{"Cut " + joined(cures, "; ") + ", or make it of two.", {}, std::nullopt};
    }
    return finding;
}

/// What must be measured of a board before its parts can be drawn and laid.
void add_board_gaps(const Job& job, std::vector<Finding>& findings) {
    for (const Board& board : job.buck.boards) {
        Finding finding = about_boards(board.name, "Board " + board.name + ", as measured");
        finding.formula = "Length, width and thickness at three places, of one sheet as it lies in the shop.";
        finding.why = "Slots are cut to the sheet's own thickness, and parts are laid on its own size.";
        if (!board.length) {
            finding.missing.push_back("length of the board \"" + board.name + "\"");
        }
        if (!board.width) {
            finding.missing.push_back("width of the board \"" + board.name + "\"");
        }
        if (!thickness_of(board)) {
            finding.missing.push_back("thickness of the board \"" + board.name + "\"");
        }
        for (const BoardDefect& defect : board.defects) {
            if (!defect.along || !defect.across || !defect.length || !defect.width) {
                finding.missing.push_back("place and size of the defect \"" + defect.name + "\" of the board \"" +
                                          board.name + "\"");
            }
        }
        if (!finding.missing.empty()) {
            finding.place.words = "board " + board.name;
            finding.state = state_of(std::nullopt, 0.0, finding.missing);
            findings.push_back(std::move(finding));
        }
    }
}

void add_gap(const Job& job, std::vector<Finding>& findings) {
    if (nesting_gap(job)) {
        return;
    }
    Finding finding = about_boards("gap", "Gap between parts");
    finding.formula = "gap = diameter of the bit + " + mm_text(k_gap_beside_bit, 0);
    finding.why = "Until the bit or the gap is given, parts are laid " + mm_text(k_assumed_gap, 0) + " apart.";
    finding.missing.push_back("the router bit that cuts out, or the gap between parts");
    finding.state = state_of(std::nullopt, 0.0, finding.missing);
    findings.push_back(std::move(finding));
}

std::string count_text(std::size_t count) {
    return std::to_string(count);
}

void add_sheet_inputs(const Job& job, const NestQuestion& question, const Nesting& nesting, Finding& finding) {
    double parts_mm2 = 0.0, sheets_mm2 = 0.0, used_mm2 = 0.0, price = 0.0;
    bool all_priced = true;
    for (const NestedSheet& sheet : nesting.sheets) {
        const auto board = std::find_if(job.buck.boards.begin(), job.buck.boards.end(),
                                        [&](const Board& one) { return one.name == sheet.board; });
        const Vector2d size = question.boards[static_cast<std::size_t>(board - job.buck.boards.begin())].size_mm;
        parts_mm2 += sheet.parts_area_mm2;
        sheets_mm2 += size.prod();
        used_mm2 += sheet.used_mm.prod();
        all_priced = all_priced && board->price;
        price += board->price.value_or(0.0);
        std::string words = count_text(sheet.parts.size()) + " parts within " + size_text(sheet.used_mm);
        if (sheet.left_mm.prod() > 0.0) {
            words += ", off-cut to keep " + size_text(sheet.left_mm);
        }
        finding.inputs.push_back({sheet.board + ", sheet " + count_text(sheet.number), words});
    }
    constexpr double k_percent = 100.0, k_mm2_per_m2 = 1e6;
    if (sheets_mm2 > 0.0) {
        finding.inputs.push_back({"yield of the sheets", fixed_text(k_percent * parts_mm2 / sheets_mm2, 1) + " %"});
        finding.inputs.push_back({"area of the boxes used", fixed_text(used_mm2 / k_mm2_per_m2, 3) + " m2"});
    }
    if (all_priced && !nesting.sheets.empty()) {
        finding.inputs.push_back({"price of the sheets", fixed_text(price, 2)});
    }
}

Finding sheets_finding(const Job& job, const NestQuestion& question, const Nesting& nesting) {
    Finding finding = about_boards("sheets", "Sheets used, beside the fewest possible");
    finding.found = static_cast<double>(nesting.sheets.size());
    finding.required = static_cast<double>(nesting.least_sheets);
    finding.margin = *finding.found - *finding.required;
    finding.state = state_of(finding.margin, 0.0, {});
    finding.why = "The nest takes " + count_text(nesting.sheets.size()) + "; none can take fewer than " +
                  count_text(nesting.least_sheets) + ", so this says whether shifting by hand could save a sheet.";
    finding.formula =
        "fewest = sum of A(G/2) / ((L - 2 M + G) (W - 2 M + G)), rounded up; A(G/2): area of a part grown by half the "
        "gap G; L, W: board; M: margin. By area alone: parts that do not go together may need more.";
    add_sheet_inputs(job, question, nesting, finding);
    finding.inputs.push_back({"fewest by area", count_text(nesting.least_sheets)});
    finding.inputs.push_back({"layouts tried", count_text(nesting.tries)});
    finding.inputs.push_back({"gap", mm_text(geometry::millimetres(nesting.gap_mm))});
    finding.inputs.push_back({"margin", mm_text(question.margin)});
    finding.inputs.push_back({"seed", count_text(k_nesting_seed)});
    return finding;
}

/// As many of a board as a quick nest takes where there are as many as needed; proven by one with that number.
std::optional<Mend> more_boards(const Job& job, const std::vector<CutPart>& parts, const Nesting& nesting) {
    std::vector<FieldChange> changes;
    std::vector<std::string> words;
    const auto given = whole_question(job, parts);
    if (!given) {
        return std::nullopt;
    }
    NestQuestion free = given.value();
    std::vector<std::size_t> wanted;
    for (const std::size_t part : nesting.left_out) {
        const Board* own = board_of(job.buck, parts[part].board);
        const auto number = static_cast<std::size_t>(own - job.buck.boards.data());
        if (free.boards[number].count) {
            free.boards[number].count.reset();
            wanted.push_back(number);
        }
    }
    const auto enough = nested(job, parts, free, 0.0, {}, {});
    if (!enough) {
        return std::nullopt;
    }
    for (const std::size_t number : wanted) {
        const Board& board = job.buck.boards[number];
        const auto used = std::count_if(enough.value().sheets.begin(), enough.value().sheets.end(),
                                        [&](const NestedSheet& sheet) { return sheet.board == board.name; });
        changes.push_back(
            number_change("/buck/boards/" + std::to_string(number) + "/count", static_cast<double>(used)));
        words.push_back("have " + std::to_string(used) + " of " + board.name);
    }
    const auto changed = with_changes(job, changes);
    if (!changed) {
        return std::nullopt;
    }
    const auto question = whole_question(changed.value(), parts);
    const auto again =
        question ? nested(changed.value(), parts, question.value(), 0.0, {}, {}) : Result<Nesting>(question.error());
    if (!again || !again.value().left_out.empty()) {
        return std::nullopt;
    }
    return Mend{joined(words, ", "), {}, 0.0, changes};
}

/// Parts that would fit, were there more of a board.
Finding count_finding(const Job& job, const std::vector<CutPart>& parts, const NestQuestion& question,
                      const Nesting& nesting) {
    Finding finding = about_boards("count", "Parts for which there are too few boards");
    finding.formula = "Boards of which a number is given are filled first, and no more of them than there are.";
    const std::vector<std::size_t> never = parts_without_board(question);
    std::vector<std::string> labels;
    Nesting lacking = nesting;
    std::erase_if(lacking.left_out,
                  [&](std::size_t part) { return std::find(never.begin(), never.end(), part) != never.end(); });
    for (const std::size_t part : lacking.left_out) {
        labels.push_back(parts[part].label);
    }
    for (const Board& board : job.buck.boards) {
        if (board.count) {
            finding.inputs.push_back({"number of " + board.name, fixed_text(*board.count, 0)});
        }
    }
    finding.place.words = joined(labels, ", ");
    add_nothing_lacks(finding, static_cast<double>(labels.size()));
    finding.why = labels.empty() ? "There are boards enough for all parts that fit one."
                                 : "What finds no place on the boards that there are is not cut.";
    if (!labels.empty()) {
        finding.mend = more_boards(job, parts, lacking);
    }
    return finding;
}

}  // namespace

Vector2d PlacedPart::on_sheet_mm(const Vector2d& on_part_mm) const {
    return Eigen::Rotation2Dd(geometry::in_rad(turned)) * on_part_mm + moved_mm;
}

std::optional<Length> nesting_gap(const Job& job) {
    if (job.buck.gap) {
        return job.buck.gap->value;
    }
    const auto bit = find_bit(job.forming.router, job.buck.bit);
    if (!bit || !bit->diameter) {
        return std::nullopt;
    }
    return bit->diameter->value + k_gap_beside_bit;
}

Result<Nesting> nesting(const Job& job, const std::vector<CutPart>& parts, const geometry::Watch& watch,
                        const std::function<void(const Nesting&)>& better) {
    const auto question = whole_question(job, parts);
    if (!question) {
        return question.error();
    }
    constexpr double k_whole_effort = 1.0;
    return nested(job, parts, question.value(), k_whole_effort, watch, better);
}

std::vector<Finding> nesting_findings(const Job& job, const std::vector<CutPart>& parts, const Nesting& nesting) {
    std::vector<Finding> findings = board_findings(job, parts);
    const auto question = whole_question(job, parts);
    if (!question || parts.empty()) {
        return findings;
    }
    findings.push_back(sheets_finding(job, question.value(), nesting));
    findings.push_back(count_finding(job, parts, question.value(), nesting));
    return findings;
}

std::vector<Finding> board_findings(const Job& job, const std::vector<CutPart>& parts) {
    std::vector<Finding> findings;
    if (job.buck.boards.empty()) {
        return findings;
    }
    add_board_gaps(job, findings);
    add_gap(job, findings);
    const auto question = whole_question(job, parts);
    if (question && !parts.empty()) {
        findings.push_back(fit_finding(job, parts, question.value()));
    } else if (!question) {
        Finding finding = about_boards("fit", "Parts that fit no board");
        add_nothing_lacks(finding, 1.0);
        finding.why = question.error().message;
        finding.formula = "A part's outline is closed, runs anticlockwise and does not cross itself.";
        findings.push_back(std::move(finding));
    }
    return findings;
}

}  // namespace sillwright::core

#include "core/buck/sheet_drawing.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "core/buck/inner_room.h"
#include "core/csv_line.h"
#include "core/file_name.h"
#include "core/handover/findings_file.h"
#include "core/number_text.h"
#include "core/plain_text.h"
#include "geometry/parallel.h"
#include "geometry/stroke_text.h"

namespace sillwright::core {

using Eigen::Isometry2d;
using Eigen::Vector2d;
using geometry::ChainVertex;
using geometry::DrawnChain;
using geometry::DrawnEntity;
using geometry::DrawnText;
using geometry::Error;
using geometry::ErrorCode;
using geometry::in_mm;
using geometry::millimetres;
using geometry::Profile;
using geometry::Result;
using geometry::Status;

namespace {

const std::string k_engrave = "ENGRAVE";
const std::string k_drill = "DRILL";
const std::string k_tab = "TAB";
const std::string k_sheet_edge = "SHEET_EDGE";
const std::string k_note = "NOTE";

// Of what is written below the sheet: so that it can be read where the whole sheet is on a screen (by eye).
constexpr double k_heading_mm = 24.0;
constexpr double k_line_mm = 15.0;
constexpr double k_line_pitch = 1.7;  ///< From base line to base line, in heights.
constexpr double k_below_sheet_mm = 20.0;

/// An arrow's head: its length, no more than half the arrow, and half its width by that (by eye).
constexpr double k_arrow_head_mm = 4.0;
constexpr double k_arrow_slope = 0.4;

/// Across the cut, where the bit's diameter is not known: that of a common bit (common practice, no source).
constexpr double k_usual_bit_mm = 6.0;
/// Of a label on NOTE that is engraved nowhere.
constexpr double k_least_letters_mm = 2.5;

/// What is written, in letters that every reader has.
std::string plain(const std::string& words) {
    return in_ascii(without_controls(words));
}

std::string mm_words(double mm) {
    constexpr double k_hundredths = 100.0;
    return number_text(std::round(mm * k_hundredths) / k_hundredths) + " mm";
}

/// How edges are drawn: as they are when finished, or as the way of the bit's middle.
struct Cutting {
    std::string outside = "CUT_OUTSIDE", inside = "CUT_INSIDE";
    std::optional<double> bit_mm;
    bool path = false;

    explicit Cutting(const Job& job) {
        if (const auto diameter = cutting_diameter(job)) {
            bit_mm = in_mm(*diameter);
        }
        path = job.buck.line == CutLine::tool_path && bit_mm.has_value();
        if (path) {
            outside = "PATH_OUTSIDE";
            inside = "PATH_INSIDE";
        }
    }
    [[nodiscard]] bool path_lacks_bit(const Buck& buck) const { return buck.line == CutLine::tool_path && !path; }
};

geometry::Drawing empty_sheet(const Cutting& cutting) {
    constexpr int k_red = 1, k_brown = 2, k_green = 3, k_blue_green = 4, k_blue = 5, k_violet = 6, k_grey = 8;
    return {{{k_engrave, k_blue},
             {k_drill, k_blue_green},
             {cutting.inside, k_brown},
             {cutting.outside, k_red},
             {k_tab, k_violet},
             {k_sheet_edge, k_grey},
             {k_note, k_green}},
            {}};
}

DrawnChain box_between(const Vector2d& low, const Vector2d& high) {
    return {{{low, 0.0}, {{high.x(), low.y()}, 0.0}, {high, 0.0}, {{low.x(), high.y()}, 0.0}}, true};
}

Isometry2d pose_of(const PlacedPart& placed) {
    return Eigen::Translation2d(placed.moved_mm) * Eigen::Rotation2Dd(geometry::in_rad(placed.turned));
}

/// The words that are a part's label.
const EngravedWords* label_of(const CutPart& part) {
    const EngravedWords* begins_with_it = nullptr;
    for (const EngravedWords& words : part.words) {
        if (words.words == part.label) {
            return &words;
        }
        if (begins_with_it == nullptr && words.words.starts_with(part.label + " ")) {
            begins_with_it = &words;
        }
    }
    return begins_with_it;
}

/// One part on its sheet.
class PartOnSheet {
public:
    PartOnSheet(const CutPart& part, const PlacedPart& placed, const Cutting& cutting, const Buck& buck,
                SheetDrawing& sheet)
        : part_{part}, pose_{pose_of(placed)}, cutting_{cutting}, buck_{buck}, sheet_{sheet} {}

    Status add() {
        add_engraving();
        for (const DrilledHole& hole : part_.holes) {
            put(k_drill, geometry::DrawnCircle{hole.at_mm, millimetres(0.5 * hole.diameter_mm)});
        }
        for (const Profile& inside : part_.inside) {
            const bool left_is_inside = geometry::enclosed_area_mm2(inside) > 0.0;
            if (auto added = add_edge(cutting_.inside, inside, left_is_inside); !added) {
                return added;
            }
        }
        const bool left_is_outside = geometry::enclosed_area_mm2(part_.outline) < 0.0;
        if (auto added = add_edge(cutting_.outside, part_.outline, left_is_outside); !added) {
            return added;
        }
        for (const Tab& tab : part_.tabs) {
            add_tab(tab, left_is_outside);
        }
        return add_label();
    }

private:
    void put(const std::string& layer, const geometry::DrawnShape& shape) {
        sheet_.drawing.entities.push_back({layer, geometry::placed(shape, pose_)});
    }

    [[nodiscard]] Error led(const Error& error) const {
        return {error.code, "Part " + part_.label + ": " + error.message};
    }

    /// An edge, or the bit's way beside it to its left or right.
    Status add_edge(const std::string& layer, const Profile& edge, bool to_the_left) {
        std::vector<Profile> chains{edge};
        if (cutting_.path) {
            const double radius = 0.5 * *cutting_.bit_mm;
            auto way = geometry::parallel(edge, millimetres(to_the_left ? radius : -radius));
            if (!way) {
                return led(way.error());
            }
            chains = std::move(way).value().chains;
            if (chains.empty()) {
                return Error{ErrorCode::does_not_fit, "Part " + part_.label + ": a bit of " +
                                                          mm_words(*cutting_.bit_mm) + " has no room in its cut-out."};
            }
        }
        for (const Profile& chain : chains) {
            auto shape = geometry::shape_of(chain);
            if (!shape) {
                return led(shape.error());
            }
            put(layer, shape.value());
        }
        return std::monostate{};
    }

    void add_engraving() {
        for (const EngravedWords& words : part_.words) {
            for (const DrawnChain& stroke :
                 geometry::stroke_text(words.words, words.at_mm, millimetres(words.height_mm))) {
                put(k_engrave, stroke);
            }
        }
        for (const EngravedLine& line : part_.lines) {
            put(k_engrave, geometry::DrawnLine{line.from_mm, line.to_mm});
            const Vector2d way = line.to_mm - line.from_mm;
            if (line.arrow && way.norm() > 0.0) {
                const Vector2d ahead = way.normalized();
                const Vector2d left{-ahead.y(), ahead.x()};
                const double head = std::min(k_arrow_head_mm, 0.5 * way.norm());
                const Vector2d foot = line.to_mm - head * ahead;
                const Vector2d aside = k_arrow_slope * head * left;
                put(k_engrave, DrawnChain{{{foot + aside}, {line.to_mm}, {foot - aside}}, false});
            }
        }
    }

    /// A box across the line that is drawn, as wide as the bit.
    void add_tab(const Tab& tab, bool left_is_outside) {
        const double bit = cutting_.bit_mm.value_or(k_usual_bit_mm);
        const double angle = geometry::in_rad(tab.direction);
        const Vector2d along{std::cos(angle), std::sin(angle)};
        const Vector2d outward = (left_is_outside ? 1.0 : -1.0) * Vector2d{-along.y(), along.x()};
        const Vector2d middle = tab.at_mm + (cutting_.path ? 0.5 * bit : 0.0) * outward;
        const Vector2d half_way = 0.5 * in_mm(buck_.tab_width.value) * along;
        const Vector2d half_across = 0.5 * bit * outward;
        put(k_tab, DrawnChain{{{middle - half_way - half_across},
                               {middle + half_way - half_across},
                               {middle + half_way + half_across},
                               {middle - half_way + half_across}},
                              true});
    }

    Status add_label() {
        if (const EngravedWords* words = label_of(part_)) {
            put(k_note, DrawnText{words->at_mm, millimetres(words->height_mm), {}, plain(part_.label)});
            return std::monostate{};
        }
        sheet_.notes.push_back("Part " + part_.label + " has no room for its engraved label: mark it by hand.");
        const auto room = InnerRoom::of(part_.outline);
        if (!room) {
            return led(room.error());
        }
        std::optional<Stretch> widest;
        double height = 0.0;
        constexpr int k_looks = 40;
        for (int i = 1; i < k_looks; ++i) {
            const double y = room.value().bottom_mm() +
                             (room.value().top_mm() - room.value().bottom_mm()) * i / static_cast<double>(k_looks);
            const auto there = room.value().widest(y);
            if (there && (!widest || there->width_mm() > widest->width_mm())) {
                widest = there;
                height = y;
            }
        }
        if (widest) {
            put(k_note, DrawnText{{0.5 * (widest->from_mm + widest->to_mm), height},
                                  millimetres(k_least_letters_mm),
                                  {},
                                  plain(part_.label),
                                  geometry::TextPlace::middle});
        }
        return std::monostate{};
    }

    const CutPart& part_;
    Isometry2d pose_;
    const Cutting& cutting_;
    const Buck& buck_;
    SheetDrawing& sheet_;
};

const Board* find_board(const Buck& buck, const std::string& name) {
    const auto found =
        std::find_if(buck.boards.begin(), buck.boards.end(), [&](const Board& one) { return one.name == name; });
    return found == buck.boards.end() ? nullptr : &*found;
}

void add_defects(SheetDrawing& sheet, const Board& board) {
    for (const BoardDefect& defect : board.defects) {
        if (!defect.along || !defect.across || !defect.length || !defect.width) {
            sheet.notes.push_back("Board " + board.name + ": the defect \"" + defect.name +
                                  "\" is not measured and is not drawn.");
            continue;
        }
        const Vector2d low{in_mm(defect.along->value), in_mm(defect.across->value)};
        const Vector2d size{in_mm(defect.length->value), in_mm(defect.width->value)};
        sheet.drawing.entities.push_back({k_sheet_edge, box_between(low, low + size)});
    }
}

std::string thickness_words(const Board& board) {
    std::string words;
    for (const auto& one : {board.thickness_1, board.thickness_2, board.thickness_3}) {
        if (one) {
            words += (words.empty() ? "" : ", ") + number_text(in_mm(one->value));
        }
    }
    return words.empty() ? "NOT MEASURED" : words + " mm";
}

std::string bit_words(const Job& job, const Cutting& cutting) {
    if (!cutting.bit_mm) {
        return std::string("BIT NOT KNOWN. ") + cutting.outside + " and " + cutting.inside +
               " are finished edges, inside corners may not be relieved: ask before cutting.";
    }
    const std::string bit = "BIT " + job.buck.bit + ", diameter " + mm_words(*cutting.bit_mm) + ". ";
    return bit + (cutting.path
                      ? cutting.outside + " and " + cutting.inside + " are the way of the bit's middle."
                      : cutting.outside + " and " + cutting.inside + " are finished edges: the bit goes beside them.");
}

std::vector<std::string> note_lines(const Job& job, const std::vector<CutPart>& parts, const Nesting& nesting,
                                    const NestedSheet& sheet, const Board& board, const Cutting& cutting) {
    const auto sheets = std::count_if(nesting.sheets.begin(), nesting.sheets.end(),
                                      [&](const NestedSheet& one) { return one.board == sheet.board; });
    const Buck& buck = job.buck;
    std::vector<std::string> lines{
        "SHEET " + std::to_string(sheet.number) + " OF " + std::to_string(sheets) + " OF BOARD " + board.name + ", " +
            mm_words(in_mm(board.length->value)) + " x " + mm_words(in_mm(board.width->value)) +
            ", thickness as measured " + thickness_words(board),
        std::string("SCALE 1:1. UNIT: ") + (buck.unit == DrawingUnit::inches ? "INCHES" : "MILLIMETRES") +
            ". Zero is the lower left corner of the sheet.",
        bit_words(job, cutting),
        "ORDER: 1 ENGRAVE, 2 DRILL, 3 " + cutting.inside + ", 4 " + cutting.outside + ", leaving TAB (" +
            mm_words(in_mm(buck.tab_width.value)) + " wide, " + mm_words(in_mm(buck.tab_height.value)) +
            " high). Leave SHEET_EDGE and NOTE alone."};
    std::string labels = "PARTS:";
    for (const PlacedPart& placed : sheet.parts) {
        labels += " " + parts[placed.part].label;
    }
    lines.push_back(labels);
    if (sheet.left_mm.minCoeff() > 0.0) {
        lines.push_back("KEEP the off-cut of " + mm_words(sheet.left_mm.x()) + " x " + mm_words(sheet.left_mm.y()));
    }
    return lines;
}

void add_notes(SheetDrawing& sheet, const std::string& heading, const std::vector<std::string>& lines) {
    Vector2d at{0.0, -k_below_sheet_mm - k_heading_mm};
    const auto put = [&](const std::string& words, double height) {
        sheet.drawing.entities.push_back({k_note, DrawnText{at, millimetres(height), {}, plain(words)}});
    };
    put(heading, k_heading_mm);
    for (const std::string& line : lines) {
        at.y() -= k_line_pitch * k_line_mm;
        put(line, k_line_mm);
    }
}

Result<SheetDrawing> drawn_sheet(const Job& job, const std::vector<CutPart>& parts, const Nesting& nesting,
                                 const NestedSheet& nested, const Cutting& cutting) {
    const Board* board = find_board(job.buck, nested.board);
    if (board == nullptr || !board->length || !board->width) {
        return Error{ErrorCode::invalid_argument,
                     "Sheet " + std::to_string(nested.number) + " is of board \"" + nested.board +
                         "\", of which the job has no length and width. Give them in the list of boards."};
    }
    SheetDrawing sheet{"", empty_sheet(cutting), {}};
    if (cutting.path_lacks_bit(job.buck)) {
        sheet.notes.push_back("The bit that cuts out is not known, so that there is no tool path: " + cutting.outside +
                              " has the finished edges. Choose a bit with a diameter.");
    }
    for (const PlacedPart& placed : nested.parts) {
        PartOnSheet part(parts[placed.part], placed, cutting, job.buck, sheet);
        if (const auto added = part.add(); !added) {
            return added.error();
        }
    }
    sheet.drawing.entities.push_back(
        {k_sheet_edge, box_between(Vector2d::Zero(), {in_mm(board->length->value), in_mm(board->width->value)})});
    add_defects(sheet, *board);
    add_notes(sheet, job_heading(job), note_lines(job, parts, nesting, nested, *board, cutting));
    return sheet;
}

// The cut list.

std::string_view words(PartKind kind) {
    return kind == PartKind::rib ? "rib" : kind == PartKind::spine ? "spine" : "base";
}

std::string bevel_words(const BuckPlan& plan, const CutPart& part) {
    std::string all;
    if (part.kind != PartKind::rib || part.piece >= plan.pieces.size()) {
        return all;
    }
    for (const PieceBuck& piece : plan.pieces) {
        for (const Rib& rib : piece.ribs) {
            if (rib.label != part.label) {
                continue;
            }
            for (const Bevel& bevel : rib.bevels) {
                all += (all.empty() ? "" : "; ") + bevel.strip + ": " + fixed_text(geometry::in_deg(bevel.from), 1) +
                       " to " + fixed_text(geometry::in_deg(bevel.to), 1) + " deg, " + mm_text(bevel.most) + " at most";
            }
        }
    }
    return all;
}

std::string hole_words(const CutPart& part) {
    std::string all;
    for (const DrilledHole& hole : part.holes) {
        all += (all.empty() ? "" : "; ") + hole.what + ": " + mm_words(hole.diameter_mm);
    }
    return all;
}

Eigen::AlignedBox2d box_of(const Profile& profile) {
    const auto shape = geometry::shape_of(profile);
    return shape ? geometry::bounds_mm({{}, {{k_note, shape.value()}}}) : Eigen::AlignedBox2d();
}

double cut_area_mm2(const CutPart& part) {
    double area = std::abs(geometry::enclosed_area_mm2(part.outline));
    for (const Profile& inside : part.inside) {
        area -= std::abs(geometry::enclosed_area_mm2(inside));
    }
    return area;
}

const NestedSheet* sheet_of(const Nesting& nesting, std::size_t part) {
    for (const NestedSheet& sheet : nesting.sheets) {
        if (std::any_of(sheet.parts.begin(), sheet.parts.end(),
                        [&](const PlacedPart& placed) { return placed.part == part; })) {
            return &sheet;
        }
    }
    return nullptr;
}

/// No router and no rule reads more.
double to_thousandths(double value) {
    constexpr double k_thousand = 1000.0;
    return std::round(value * k_thousand) / k_thousand;
}

}  // namespace

Result<std::vector<SheetDrawing>> sheet_drawings(const Job& job, const std::vector<CutPart>& parts,
                                                 const Nesting& nesting) {
    const Cutting cutting(job);
    std::vector<SheetDrawing> sheets;
    std::vector<std::string> taken;
    for (const NestedSheet& nested : nesting.sheets) {
        auto sheet = drawn_sheet(job, parts, nesting, nested, cutting);
        if (!sheet) {
            return sheet.error();
        }
        sheets.push_back(std::move(sheet).value());
        sheets.back().stem = unique_file_name("sheet_" + std::to_string(nested.number) + "_" + nested.board, taken);
    }
    return sheets;
}

geometry::DxfOptions dxf_options(const Buck& buck) {
    return {buck.release == DxfRelease::older ? geometry::DxfRelease::r12 : geometry::DxfRelease::r2000,
            buck.unit == DrawingUnit::inches ? geometry::DxfUnit::inches : geometry::DxfUnit::millimetres};
}

std::string cut_list_csv(const Job& job, const BuckPlan& plan, const std::vector<CutPart>& parts,
                         const Nesting& nesting) {
    std::string table =
        "label,kind,piece,board,sheet,thickness_mm,width_mm,height_mm,area_mm2,cut_area_mm2,bevels,holes,face_up\r\n";
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const CutPart& part = parts[i];
        CsvLine line;
        line.add(part.label);
        line.add(words(part.kind));
        line.add(part.piece < job.skirt.pieces.size() ? job.skirt.pieces[part.piece].name : std::string());
        line.add(part.board);
        if (const NestedSheet* sheet = sheet_of(nesting, i)) {
            line.add(std::to_string(sheet->number));
        } else {
            line.add_nothing();
        }
        line.add(to_thousandths(part.thickness_mm));
        const Eigen::AlignedBox2d box = box_of(part.finished);
        for (const double size : {box.sizes().x(), box.sizes().y()}) {
            if (box.isEmpty()) {
                line.add_nothing();
            } else {
                line.add(to_thousandths(size));
            }
        }
        line.add(to_thousandths(std::abs(geometry::enclosed_area_mm2(part.finished))));
        line.add(to_thousandths(cut_area_mm2(part)));
        line.add(bevel_words(plan, part));
        line.add(hole_words(part));
        line.add(part.face_up);
        table += line.line();
    }
    return table;
}

}  // namespace sillwright::core

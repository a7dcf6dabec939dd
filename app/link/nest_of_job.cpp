#include "app/link/nest_of_job.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "app/length_words.h"
#include "app/link/buck_of_job.h"
#include "core/buck/buck_work.h"
#include "core/evaluate.h"
#include "core/number_text.h"

namespace sillwright::app {

using core::BuckWork;
using core::Evaluation;
using Eigen::Vector2d;
using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;

namespace {

constexpr Length k_chord = millimetres(0.2);  ///< A whole sheet on the screen shows no finer.
constexpr double k_least_off_cut_mm = 50.0;   ///< A narrower one is not worth its name on the drawing.

std::vector<Vector2d> on_sheet(const geometry::Profile& profile, const core::PlacedPart& placed) {
    auto points = profile.segments.empty() ? std::vector<Vector2d>() : geometry::polyline(profile, k_chord).value();
    if (points.size() > 1 && profile.closed) {
        points.pop_back();
    }
    const Eigen::Rotation2Dd turn(geometry::in_rad(placed.turned));
    for (Vector2d& p_mm : points) {
        p_mm = turn * p_mm + placed.moved_mm;
    }
    return points;
}

std::string number(double mm, core::BareUnit unit) {
    return shortest_words(millimetres(mm), unit);
}

void add_off_cut(NestPicture& picture, const core::NestedSheet& sheet) {
    if (sheet.left_mm.minCoeff() < k_least_off_cut_mm) {
        return;
    }
    // Beside the box that is used, or above it: to the board's upper right corner either way.
    NestBox box;
    box.low_mm = picture.size_mm - sheet.left_mm;
    box.high_mm = picture.size_mm;
    box.words =
        "off-cut to keep, " + number(sheet.left_mm.x(), picture.unit) + " × " + number(sheet.left_mm.y(), picture.unit);
    picture.off_cuts.push_back(std::move(box));
}

void add_defects(NestPicture& picture, const core::Board& board) {
    for (const core::BoardDefect& defect : board.defects) {
        if (!defect.along || !defect.across || !defect.length || !defect.width) {
            continue;  // its finding says so
        }
        const Vector2d low(in_mm(defect.along->value), in_mm(defect.across->value));
        picture.defects.push_back(
            {low, low + Vector2d(in_mm(defect.length->value), in_mm(defect.width->value)), defect.name});
    }
}

std::string verdict_of(const core::Nesting& nesting) {
    const std::size_t count = nesting.sheets.size();
    std::string words = std::to_string(count) + (count == 1 ? " sheet" : " sheets");
    if (!nesting.left_out.empty()) {
        return words + " · " + std::to_string(nesting.left_out.size()) + " left out";
    }
    return words + (count <= nesting.least_sheets ? " · none fewer by area"
                                                  : " · " + std::to_string(nesting.least_sheets) + " at least by area");
}

core::State state_of(const core::Nesting& nesting) {
    return nesting.left_out.empty() ? core::State::holds : core::State::falls_short;
}

}  // namespace

geometry::Result<SharedWork> work_of_job(const Evaluation& evaluation, const geometry::Watch& watch,
                                         const std::function<void(SharedWork)>& better) {
    if (!evaluation.buck) {
        return std::make_shared<const BuckWork>();
    }
    auto parts = core::cut_parts(evaluation.job, *evaluation.buck);
    if (!parts) {
        return parts.error();
    }
    if (parts.value().empty()) {
        return std::make_shared<const BuckWork>();
    }
    auto nested = core::nesting(evaluation.job, parts.value(), watch, [&](const core::Nesting& nesting) {
        better(std::make_shared<const BuckWork>(BuckWork{parts.value(), nesting}));
    });
    if (!nested) {
        return nested.error();
    }
    return std::make_shared<const BuckWork>(BuckWork{std::move(parts).value(), std::move(nested).value()});
}

std::size_t sheet_count(const BuckWork& work) {
    return work.nesting.sheets.size();
}

std::size_t part_count(const BuckWork& work) {
    return work.parts.size();
}

NestPicture nest_of_job(const Evaluation& evaluation, const BuckWork& work, std::size_t number_of_sheet) {
    NestPicture picture;
    picture.unit = evaluation.job.unit;
    if (work.parts.empty()) {
        const RibPicture rib = rib_of_job(evaluation, 0, 0);
        picture.words = rib.words.empty() ? "There is nothing to cut." : rib.words;
        return picture;
    }
    if (work.nesting.sheets.empty()) {
        picture.words = "No board takes a part: " + nest_words(work);
        return picture;
    }
    const auto& sheets = work.nesting.sheets;
    const std::size_t which = std::min(number_of_sheet, sheets.size() - 1);
    const core::NestedSheet& sheet = sheets[which];
    const core::Board* board = core::board_of(evaluation.job.buck, sheet.board);
    picture.board = sheet.board;
    picture.number = which + 1;
    picture.count = sheets.size();
    picture.verdict = verdict_of(work.nesting);
    picture.state = state_of(work.nesting);
    picture.margin_mm = in_mm(evaluation.job.buck.margin.value);
    picture.size_mm = sheet.used_mm;
    if (board != nullptr && board->length && board->width) {
        picture.size_mm = {in_mm(board->length->value), in_mm(board->width->value)};
        picture.grain = board->grain;
        add_defects(picture, *board);
    }
    for (const core::PlacedPart& placed : sheet.parts) {
        const core::CutPart& part = work.parts.at(placed.part);
        NestPart made{part.label, on_sheet(part.outline, placed), {}};
        for (const geometry::Profile& inside : part.inside) {
            made.inside_mm.push_back(on_sheet(inside, placed));
        }
        picture.parts.push_back(std::move(made));
    }
    add_off_cut(picture, sheet);
    const double area = picture.size_mm.x() * picture.size_mm.y();
    const double share = area > 0.0 ? 100.0 * sheet.parts_area_mm2 / area : 0.0;
    const std::string of_board = board != nullptr && board->count ? "" : ", number " + std::to_string(sheet.number);
    picture.about = sheet.board + of_board + " · " + number(picture.size_mm.x(), picture.unit) + " × " +
                    number(picture.size_mm.y(), picture.unit) + " " + unit_word(picture.unit) + " · " +
                    std::to_string(sheet.parts.size()) + (sheet.parts.size() == 1 ? " part" : " parts") + " on " +
                    core::fixed_text(share, 0) + " % of it" + (picture.grain ? " · grain along its length" : "") +
                    " · gap " + number(work.nesting.gap_mm, picture.unit);
    return picture;
}

std::string nest_words(const BuckWork& work) {
    std::string words = work.nesting.tries == 0 ? std::string()
                                                : "best of " + std::to_string(work.nesting.tries) +
                                                      (work.nesting.tries == 1 ? " try" : " tries");
    if (!work.nesting.left_out.empty()) {
        words += (words.empty() ? "" : ". ") + std::string("Left out: ");
        for (std::size_t i = 0; i < work.nesting.left_out.size(); ++i) {
            words += (i > 0 ? ", " : "") + work.parts.at(work.nesting.left_out[i]).label;
        }
    }
    return words;
}

}  // namespace sillwright::app

#include "app/link/thickness_of_job.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "app/link/forming_of_job.h"
#include "core/drawn_loft.h"
#include "core/evaluate.h"
#include "core/finding_state.h"
#include "core/skirt/flange_face.h"
#include "core/skirt/fluted_section.h"
#include "core/skirt/thickness.h"

namespace sillwright::app {

using core::Evaluation;
using core::FormedSheet;
using geometry::in_mm;
using geometry::Length;
using geometry::Loft;

namespace {

constexpr const char* k_limits =
    "Predicted: the sheet sticks where it touches, section by section, evenly heated. Measure the first part.";

/// What is named after a node goes so far towards its neighbours (core/forming/thinning.h).
constexpr double k_beside_node = 0.25;

/// From one mark to another.
struct Marks {
    double from = 0.0, to = 0.0;

    [[nodiscard]] bool holds(double mark) const { return from <= mark && mark <= to; }
};

std::optional<double> mark_of(const Loft& line, const std::string& name) {
    const auto& names = line.names();
    const auto found = std::find(names.begin(), names.end(), name);
    return found == names.end() ? std::nullopt : std::optional(static_cast<double>(found - names.begin()));
}

std::optional<Marks> between(const Loft& line, const char* from, const char* to) {
    const auto first = mark_of(line, from);
    const auto last = mark_of(line, to);
    return first && last && *first < *last ? std::optional(Marks{*first, *last}) : std::nullopt;
}

/// Length round the section at which a mark is.
class Round {
public:
    Round(const Loft& line, Length along) {
        const std::vector<geometry::ProfileNode> nodes = line.nodes_at(along);
        double run = 0.0;
        for (std::size_t i = 0; i < nodes.size(); ++i) {
            run += i == 0 ? 0.0 : (nodes[i].p_mm - nodes[i - 1].p_mm).norm();
            at_mm_.push_back(run);
        }
    }

    [[nodiscard]] double at_mm(double mark) const {
        const double last = static_cast<double>(at_mm_.size()) - 1.0;
        const double held = std::clamp(mark, 0.0, last);
        const auto before = static_cast<std::size_t>(std::min(std::floor(held), std::max(0.0, last - 1.0)));
        const std::size_t behind = std::min(before + 1, at_mm_.size() - 1);
        return std::lerp(at_mm_[before], at_mm_[behind], held - static_cast<double>(before));
    }

private:
    std::vector<double> at_mm_;
};

class Maker {
public:
    Maker(const Evaluation& evaluation, const core::PieceForming& forming, const Loft& line, const FormedSheet& formed,
          Length along, ThicknessPicture& picture)
        : evaluation_{evaluation},
          forming_{forming},
          line_{line},
          formed_{formed},
          along_{along},
          picture_{picture},
          round_{line, along},
          flange_{between(line, core::k_flange_root, core::k_flange_end)},
          shelf_{between(line, core::k_shelf_inner, core::k_shelf_edge)} {}

    void make() {
        picture_.along_mm = in_mm(along_);
        picture_.place = core::at_place_words(evaluation_.job, along_);
        picture_.front_mm = in_mm(line_.front());
        picture_.rear_mm = in_mm(line_.rear());
        picture_.sheet_mm = in_mm(formed_.sheet);
        picture_.draw_ratio = forming_.thinning.draw_ratio;
        picture_.limits = k_limits;
        for (std::size_t i = 0; i < line_.names().size(); ++i) {
            if (line_.present_at(i, along_)) {
                picture_.nodes.push_back({line_.names()[i], round_.at_mm(static_cast<double>(i))});
            }
        }
        for (const double mark : marks()) {
            picture_.round.push_back({round_.at_mm(mark), in_mm(formed_.thickness_at(along_, mark))});
        }
        add_needs();
        add_least();
        for (const core::ThinPlace& place : forming_.thinning.places) {
            add_part(place);
        }
        for (std::size_t i = 0; i < forming_.thinning.missing.size(); ++i) {
            picture_.limits += (i == 0 ? " Missing: " : ", ") + forming_.thinning.missing[i];
        }
    }

private:
    /// The sheet's own, and the ends of what something is asked of.
    [[nodiscard]] std::vector<double> marks() const {
        std::vector<double> marks = formed_.marks;
        marks.push_back(0.0);
        marks.push_back(static_cast<double>(line_.names().size()) - 1.0);
        for (const auto& stretch : {flange_, shelf_}) {
            if (stretch) {
                marks.insert(marks.end(), {stretch->from, stretch->to});
            }
        }
        std::sort(marks.begin(), marks.end());
        marks.erase(std::unique(marks.begin(), marks.end()), marks.end());
        return marks;
    }

    [[nodiscard]] double needed_mm(double mark) const {
        const core::Forming& asked = evaluation_.job.forming;
        if (flange_ && flange_->holds(mark)) {
            return in_mm(asked.flange_least.value);
        }
        return in_mm((shelf_ && shelf_->holds(mark) ? asked.shelf_least : asked.rest_least).value);
    }

    void add_needs() {
        std::vector<double> ends{0.0, static_cast<double>(line_.names().size()) - 1.0};
        for (const auto& stretch : {flange_, shelf_}) {
            if (stretch) {
                ends.insert(ends.end(), {stretch->from, stretch->to});
            }
        }
        std::sort(ends.begin(), ends.end());
        for (std::size_t i = 1; i < ends.size(); ++i) {
            if (ends[i] > ends[i - 1]) {
                const double needed = needed_mm((ends[i - 1] + ends[i]) / 2.0);
                picture_.needs.push_back({round_.at_mm(ends[i - 1]), round_.at_mm(ends[i]), needed});
            }
        }
    }

    void add_least() {
        double least = std::numeric_limits<double>::infinity();
        for (const double mark : marks()) {
            const ThicknessPoint point{round_.at_mm(mark), in_mm(formed_.thickness_at(along_, mark))};
            // As the findings judge: less two standard deviations.
            const double margin = (1.0 - core::k_forming_spread) * point.thickness_mm - needed_mm(mark);
            if (margin < least) {
                least = margin;
                picture_.least = point;
                const double band = in_mm(evaluation_.job.limits.close_band.value);
                picture_.least_state =
                    core::state_of(margin, core::close_band_within(band, picture_.sheet_mm - needed_mm(mark)), {});
            }
        }
    }

    void add_part(const core::ThinPlace& place) {
        ThicknessPart part;
        part.name = place.name;
        part.thickness_mm = in_mm(place.thickness);
        part.sd_mm = in_mm(place.sd);
        part.needed_mm = in_mm(place.needed);
        part.sheet_needed_mm = in_mm(place.sheet_needed);
        part.along_mm = in_mm(place.along);
        part.place = core::place_words(evaluation_.job, place.along);
        const core::Finding* finding =
            finding_of(evaluation_, forming_id(evaluation_, forming_) + "thickness/" + place.name);
        if (finding != nullptr) {
            part.state = finding->state;
            for (const core::Input& input : finding->inputs) {
                if (input.name == "limits of the model") {
                    picture_.limits = "Predicted: " + input.value;
                }
            }
        } else {
            const double band = in_mm(evaluation_.job.limits.close_band.value);
            part.state = core::state_of(part.thickness_mm - part.needed_mm,
                                        core::close_band_within(band, picture_.sheet_mm - part.needed_mm), {});
        }
        part.course = course_of(place.name);
        picture_.parts.push_back(std::move(part));
    }

    /// The least along the car of the flange, the shelf, the rest, or at a node of that name.
    [[nodiscard]] std::vector<ThicknessPoint> course_of(const std::string& name) const {
        const auto node = mark_of(line_, name);
        const auto within = [&](double mark) {
            const bool flange = flange_ && flange_->holds(mark);
            const bool shelf = shelf_ && shelf_->holds(mark);
            return name == "flange" ? flange : name == "shelf" ? shelf : name == "rest" && !flange && !shelf;
        };
        std::vector<double> asked;
        if (node) {
            asked = {*node - k_beside_node, *node, *node + k_beside_node};
        } else {
            const std::vector<double> all = marks();
            std::copy_if(all.begin(), all.end(), std::back_inserter(asked), within);
        }
        std::vector<ThicknessPoint> course;
        for (const Length row : asked.empty() ? std::vector<Length>{} : formed_.rows) {
            double least = std::numeric_limits<double>::infinity();
            for (const double mark : asked) {
                least = std::min(least, in_mm(formed_.thickness_at(row, mark)));
            }
            course.push_back({in_mm(row), least});
        }
        return course;
    }

    const Evaluation& evaluation_;
    const core::PieceForming& forming_;
    const Loft& line_;
    const FormedSheet& formed_;
    Length along_;
    ThicknessPicture& picture_;
    Round round_;
    std::optional<Marks> flange_, shelf_;
};

}  // namespace

ThicknessPicture thickness_of_job(const Evaluation& evaluation, std::size_t number, std::optional<Length> along) {
    ThicknessPicture picture;
    picture.unit = evaluation.job.unit;
    const core::PieceForming* forming = forming_of(evaluation, number);
    if (forming == nullptr) {
        picture.words = nothing_formed_words();
        return picture;
    }
    picture.piece = evaluation.job.skirt.pieces.at(forming->piece).name;
    const core::PieceModel* model =
        forming->piece < evaluation.car.pieces.size() ? &evaluation.car.pieces[forming->piece] : nullptr;
    if (model == nullptr || !model->line || !model->formed) {
        picture.words =
            missing_words("To foresee how thick the sheet comes out, decide first:", forming->thinning.missing);
        picture.words = picture.words.empty() ? "The formed thickness is not computed yet." : picture.words;
    }
    if (picture.words.empty()) {
        const Loft& line = *model->line;
        const Length middle = line.front() + (line.rear() - line.front()) / 2.0;
        const Length at = std::clamp(along.value_or(middle), line.front(), line.rear());
        Maker(evaluation, *forming, line, *model->formed, at, picture).make();
    }
    return picture;
}

}  // namespace sillwright::app

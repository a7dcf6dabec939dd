#include "app/link/section_forming.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>
#include <string>

#include "app/drawings/thickness_tint.h"
#include "app/length_words.h"
#include "core/evaluate.h"
#include "core/forming/forming_plan.h"
#include "core/number_text.h"

namespace sillwright::app {

using core::Evaluation;
using Eigen::Vector2d;
using geometry::in_mm;
using geometry::Length;
using geometry::Loft;
using geometry::millimetres;

namespace {

/// The outside is on the left of the drawn line.
Vector2d outward(const Vector2d& from, const Vector2d& to) {
    const Vector2d run = to - from;
    return run.norm() > 0.0 ? Vector2d(-run.y(), run.x()).normalized() : Vector2d::Zero();
}

/// Marks of the sheet and of all corners between, rising.
std::vector<double> marks_of(const core::FormedSheet& formed, std::size_t node_count) {
    std::vector<double> marks = formed.marks;
    for (std::size_t i = 0; i < node_count; ++i) {
        marks.push_back(static_cast<double>(i));
    }
    std::sort(marks.begin(), marks.end());
    marks.erase(std::unique(marks.begin(), marks.end()), marks.end());
    std::erase_if(marks, [&](double mark) { return mark < 0.0 || mark > static_cast<double>(node_count) - 1.0; });
    return marks;
}

/// Bands of twice the sheet's thickness stand clear of the line's own ink.
constexpr double k_band_sheets = 2.0;

void add_bands(SectionPicture& picture, const Evaluation& evaluation, const Loft& line, const core::FormedSheet& formed,
               Length along) {
    const std::vector<geometry::ProfileNode> nodes = line.nodes_at(along);
    const std::vector<double> marks = marks_of(formed, nodes.size());
    double least = in_mm(formed.sheet);
    double most = in_mm(formed.sheet);
    for (const std::vector<double>& row : formed.shares) {
        for (const double share : row) {
            least = std::min(least, share * in_mm(formed.sheet));
            most = std::max(most, share * in_mm(formed.sheet));
        }
    }
    // Of the whole piece, so that a tint means the same in every section.
    const ThicknessTint tint(millimetres(least), millimetres(most), looks::Tone::light);
    for (std::size_t i = 1; i < marks.size(); ++i) {
        const auto corner = static_cast<std::size_t>(std::floor(marks[i - 1]));
        const Vector2d& from = nodes[corner].p_mm;
        const Vector2d& to = nodes[std::min(corner + 1, nodes.size() - 1)].p_mm;
        const double base = static_cast<double>(corner);
        const Vector2d a = from + (marks[i - 1] - base) * (to - from);
        const Vector2d b = from + (marks[i] - base) * (to - from);
        const Vector2d off = k_band_sheets * in_mm(formed.sheet) * outward(from, to);
        const Length thickness =
            std::min(formed.thickness_at(along, marks[i - 1]), formed.thickness_at(along, marks[i]));
        picture.bands.push_back({{a, b, b + off, a + off}, tint.step_of(thickness)});
    }
    if (picture.tints.empty()) {
        for (int step = 0; step <= ThicknessTint::k_steps; ++step) {
            picture.tints.push_back(fine_number(tint.edge(step), evaluation.job.unit));
        }
    }
}

/// The least draft of each strip here: elsewhere along the car it may be another.
void add_drafts(SectionPicture& picture, const core::Job& job, const core::PieceForming& forming, const Loft& line,
                Length along) {
    const core::DrawPlan& draw = forming.draw;
    const auto points = core::draft_points(job, job.skirt.pieces.at(forming.piece), line, along, draw.tilt);
    const std::vector<geometry::ProfileNode> nodes = line.nodes_at(along);
    for (std::size_t i = 0; !points.empty() && i + 1 < nodes.size(); ++i) {
        const Vector2d& a = nodes[i].p_mm;
        const Vector2d& b = nodes[i + 1].p_mm;
        if (a == b) {
            continue;  // A feature that has run out.
        }
        // A strip is straight: half-way it has the draft of all of it but for its rounded ends.
        const geometry::Angle draft = core::draft_at(points, static_cast<double>(i) + 0.5);
        std::string words = core::degree_text(draft, 1);
        if (draft < geometry::Angle{}) {
            words = "◆ " + words + " undercut";
        } else if (draw.needed && draft < *draw.needed) {
            words = "◆ " + words + " of " + core::degree_text(*draw.needed, 1);
        }
        picture.points.push_back({SectionRole::draft, (a + b) / 2.0, words, outward(a, b), {}});
    }
}

/// A line of set-back stands out past the section by this at either end.
constexpr double k_beyond_mm = 10.0;

/// Where the two long edges are to end, seen along the draw direction.
void add_set_back(SectionPicture& picture, const core::PieceForming& forming, const Loft& line, Length along,
                  core::BareUnit unit) {
    if (!forming.platen.set_back) {
        return;
    }
    const double tilt = geometry::in_rad(forming.platen.tilt);
    const Vector2d draw(std::cos(tilt), std::sin(tilt));
    const Vector2d across(-draw.y(), draw.x());
    Eigen::AlignedBox2d box;  // (along the draw direction, square to it)
    for (const geometry::ProfileNode& node : line.nodes_at(along)) {
        box.extend(Vector2d(draw.dot(node.p_mm), across.dot(node.p_mm)));
    }
    const auto add = [&](Length by, double edge, double inward) {
        if (!(by > Length{})) {
            return;
        }
        const Vector2d foot = (edge + inward * in_mm(by)) * across;
        picture.lines.push_back(
            {SectionRole::set_back,
             {foot + (box.min().x() - k_beyond_mm) * draw, foot + (box.max().x() + k_beyond_mm) * draw},
             false,
             "set back " + shortest_words(by, unit)});
    };
    add(forming.platen.set_back->shelf, box.max().y(), -1.0);
    add(forming.platen.set_back->flange, box.min().y(), 1.0);
}

/// The prototype at a station where it was measured, and where most is to be cut and added.
void add_prototype(SectionPicture& picture, const core::AsSculpted& sculpted, Length along, core::BareUnit unit) {
    for (const core::SculptedStation& station : sculpted.stations) {
        if (station.along != along || station.points.empty()) {
            continue;
        }
        SectionLine measured{SectionRole::scan, {}, false, "prototype"};
        for (const core::SculptedPoint& point : station.points) {
            measured.points_mm.push_back(point.at_mm);
        }
        picture.lines.push_back(std::move(measured));
        const auto [low, proud] =
            std::minmax_element(station.points.begin(), station.points.end(),
                                [](const auto& one, const auto& other) { return one.proud < other.proud; });
        const auto add = [&](const core::SculptedPoint& point, const std::string& word, Length by) {
            if (by > Length{}) {
                picture.points.push_back(
                    {SectionRole::draft, point.at_mm, word + fine_number(by, unit), point.at_mm - point.drawn_mm, {}});
            }
        };
        add(*proud, "cut ", proud->proud);
        add(*low, "add ", -low->proud);
    }
}

}  // namespace

void add_forming(SectionPicture& picture, const Evaluation& evaluation, Length along, SectionForming what) {
    if (what == SectionForming::none || !evaluation.forming) {
        return;
    }
    for (const core::PieceForming& forming : evaluation.forming->pieces) {
        if (forming.piece >= evaluation.car.pieces.size()) {
            continue;
        }
        const core::PieceModel& model = evaluation.car.pieces[forming.piece];
        if (!model.line || along < model.line->front() || along > model.line->rear()) {
            continue;
        }
        add_set_back(picture, forming, *model.line, along, evaluation.job.unit);
        add_prototype(picture, forming.sculpted, along, evaluation.job.unit);
        if (what == SectionForming::draft) {
            add_drafts(picture, evaluation.job, forming, *model.line, along);
        } else if (model.formed) {
            add_bands(picture, evaluation, *model.line, *model.formed, along);
        }
    }
}

}  // namespace sillwright::app

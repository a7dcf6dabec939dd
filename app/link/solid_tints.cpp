#include "app/link/solid_tints.h"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>

#include "app/drawings/solid_scene.h"
#include "app/drawings/thickness_tint.h"
#include "app/length_words.h"
#include "core/evaluate.h"
#include "core/forming/forming_plan.h"
#include "core/number_text.h"

namespace sillwright::app {

using core::Evaluation;
using core::PieceForming;
using Eigen::Vector2d;
using geometry::Angle;
using geometry::Length;
using geometry::Loft;
using geometry::RingMesh;

namespace {

/// Steps of draft that is neither undercut nor enough.
constexpr int k_between = ThicknessTint::k_steps - 2;

int draft_step(Angle draft, const std::optional<Angle>& needed) {
    if (draft < Angle{}) {
        return 0;
    }
    if (!needed || draft >= *needed) {
        return ThicknessTint::k_steps - 1;
    }
    return 1 + std::min(k_between - 1, static_cast<int>(draft / *needed * k_between));
}

/// Of all pieces; none if none is formed. Steps are the same in either tone.
std::optional<ThicknessTint> thickness_scale(const Evaluation& evaluation) {
    std::optional<Length> least;
    std::optional<Length> most;
    const auto take = [&](Length thickness) {
        least = std::min(least.value_or(thickness), thickness);
        most = std::max(most.value_or(thickness), thickness);
    };
    for (const core::PieceModel& model : evaluation.car.pieces) {
        if (!model.formed) {
            continue;
        }
        take(model.formed->sheet);
        for (const std::vector<double>& row : model.formed->shares) {
            for (const double share : row) {
                take(share * model.formed->sheet);
            }
        }
    }
    return least ? std::optional(ThicknessTint(*least, *most, looks::Tone::light)) : std::nullopt;
}

const PieceForming* forming_of(const Evaluation& evaluation, std::size_t piece) {
    if (!evaluation.forming) {
        return nullptr;
    }
    const auto& pieces = evaluation.forming->pieces;
    const auto found = std::find_if(pieces.begin(), pieces.end(),
                                    [piece](const PieceForming& forming) { return forming.piece == piece; });
    return found == pieces.end() ? nullptr : &*found;
}

/// The step at a mark of one section.
using StepAtMark = std::function<int(double mark)>;

double mark_of(const geometry::RingStrip& strip, const Vector2d& p_mm,
               const std::vector<geometry::ProfileNode>& nodes) {
    const auto first = static_cast<double>(strip.from_node);
    const Vector2d& from = nodes[strip.from_node].p_mm;
    const Vector2d run = nodes[strip.to_node].p_mm - from;
    if (!(run.squaredNorm() > 0.0)) {
        return first;
    }
    const double part = std::clamp((p_mm - from).dot(run) / run.squaredNorm(), 0.0, 1.0);
    return std::lerp(first, static_cast<double>(strip.to_node), part);
}

/// (out, up) of the middle between two rows and two neighbouring points of the outline.
Vector2d middle_of(const RingMesh& ring, const geometry::TrianglePlace& place) {
    Vector2d sum = Vector2d::Zero();
    for (const std::size_t row : {std::size_t{place.interval}, std::size_t{place.interval} + 1}) {
        for (const std::size_t point : {std::size_t{place.segment}, (place.segment + 1) % ring.point_count}) {
            sum += ring.mesh.points[row * ring.point_count + point].tail<2>();
        }
    }
    return sum / 4.0;
}

std::vector<int> tints(const core::BodyModel& body, const Loft& line,
                       const std::function<StepAtMark(Length along)>& section_at) {
    const RingMesh& ring = *body.ring;
    std::vector<int> steps(body.mesh.triangles.size(), k_no_tint);
    std::optional<std::uint32_t> interval;
    std::vector<geometry::ProfileNode> nodes;
    StepAtMark step_at;
    for (std::size_t i = 0; i < std::min(steps.size(), ring.places.size()); ++i) {
        const geometry::TrianglePlace& place = ring.places[i];
        if (place.part != geometry::RingMeshPart::side) {
            continue;
        }
        if (interval != place.interval) {
            interval = place.interval;
            const Length along = (ring.rows[place.interval] + ring.rows[place.interval + 1]) / 2.0;
            line.nodes_at(along, nodes);
            step_at = section_at(along);
        }
        steps[i] = step_at(mark_of(strip_of(ring, place.segment), middle_of(ring, place), nodes));
    }
    return steps;
}

}  // namespace

std::vector<int> piece_tints(const Evaluation& evaluation, std::size_t piece, SectionForming what) {
    const core::PieceModel& model = evaluation.car.pieces.at(piece);
    if (!model.line || !model.body || !model.body->ring) {
        return {};
    }
    const PieceForming* const forming = forming_of(evaluation, piece);
    if (what == SectionForming::thickness && model.formed) {
        const ThicknessTint scale = *thickness_scale(evaluation);
        return tints(*model.body, *model.line, [&](Length along) -> StepAtMark {
            return [&, along](double mark) { return scale.step_of(model.formed->thickness_at(along, mark)); };
        });
    }
    if (what == SectionForming::draft && forming != nullptr) {
        return tints(*model.body, *model.line, [&](Length along) -> StepAtMark {
            const auto points = core::draft_points(evaluation.job, evaluation.job.skirt.pieces.at(piece), *model.line,
                                                   along, forming->draw.tilt);
            return [points, forming](double mark) {
                return points.empty() ? k_no_tint : draft_step(core::draft_at(points, mark), forming->draw.needed);
            };
        });
    }
    return {};
}

std::vector<std::string> tint_words(const Evaluation& evaluation, SectionForming what) {
    std::vector<std::string> words;
    if (what == SectionForming::thickness) {
        if (const auto scale = thickness_scale(evaluation)) {
            for (int step = 0; step <= ThicknessTint::k_steps; ++step) {
                words.push_back(fine_number(scale->edge(step), evaluation.job.unit));
            }
        }
    } else if (what == SectionForming::draft && evaluation.forming && !evaluation.forming->pieces.empty()) {
        // What is enough is the job's, the same for every piece.
        const auto& needed = evaluation.forming->pieces.front().draw.needed;
        words.assign(ThicknessTint::k_steps + 1, "");
        words[1] = core::degree_text(Angle{});
        for (int step = 1; needed && step <= k_between; ++step) {
            words[static_cast<std::size_t>(step) + 1] = core::degree_text(*needed * (1.0 * step / k_between));
        }
    }
    return words;
}

}  // namespace sillwright::app

#include "core/drag.h"

#include <algorithm>
#include <optional>
#include <utility>
#include <vector>

#include "core/buck/station_outline.h"
#include "core/drag_shape.h"
#include "core/drag_swing.h"
#include "core/drawn_loft.h"
#include "core/edit/drawn_id.h"
#include "core/edit/node_edit.h"
#include "core/findings_of_job.h"
#include "core/mounts/fitting_findings.h"
#include "core/mounts/reach.h"
#include "core/road/end_gap.h"
#include "core/road/road_findings.h"
#include "core/survey/survey_findings.h"

namespace sillwright::core {

using geometry::Error;
using geometry::ErrorCode;
using geometry::Length;
using geometry::Loft;
using geometry::Result;
using geometry::Status;

struct Drag::State {
    std::shared_ptr<const Evaluation> from;
    Evaluation now;  ///< Stays in one place: outcomes point into it.
    std::string node_id, name;
    std::size_t piece = 0, section = 0;
    std::optional<Loft> line;  ///< As it was.
    std::optional<DragShape> shape;
    std::optional<DragSwing> swing;

    [[nodiscard]] const Piece& drawn() const { return now.job.skirt.pieces[piece]; }
};

Drag::Drag(std::unique_ptr<State> state) : state_{std::move(state)} {}
Drag::Drag(Drag&&) noexcept = default;
Drag& Drag::operator=(Drag&&) noexcept = default;
Drag::~Drag() = default;

Result<Drag> Drag::begin(std::shared_ptr<const Evaluation> from, const std::string& node_id, Length deviation) {
    const auto place = find_node(from->job, node_id);
    if (!place || place->drawn.kind != DrawnId::Kind::piece || !from->car.pieces[place->drawn.index].line) {
        return Error{ErrorCode::invalid_argument,
                     "Only a node of the skirt's sections can be followed under the hand; "
                     "\"" +
                         node_id + "\" is none."};
    }
    auto state = std::make_unique<State>();
    state->from = std::move(from);
    state->now = *state->from;
    state->node_id = node_id;
    state->piece = place->drawn.index;
    state->section = place->section;
    state->name = state->drawn().drawn.sections[place->section].nodes[place->node].name;
    PieceModel& piece = state->now.car.pieces[state->piece];
    state->line = piece.line;
    if (piece.body) {
        auto shape =
            DragShape::begin(state->drawn(), *state->line, state->name, state->section, deviation, piece.formed);
        if (!shape) {
            return shape.error();
        }
        state->shape = std::move(shape).value();
        piece.body = state->shape->body();
        auto swing = DragSwing::begin(state->now.job, state->now.car, state->now.body.get(), state->piece,
                                      *state->shape, state->now.outcomes);
        if (!swing) {
            return swing.error();
        }
        state->swing = std::move(swing).value();
    }
    return Drag(std::move(state));
}

Status Drag::to(const Eigen::Vector2d& p_mm) {
    State& state = *state_;
    auto edit = move_node(state.from->job, state.node_id, p_mm);
    if (!edit) {
        return edit.error();
    }
    const std::string what = piece_words(state.drawn());
    auto moved = state.line->moved(state.name, state.section, p_mm);
    if (!moved) {
        return Error{moved.error().code, what + ": " + moved.error().message};
    }
    if (const Status sound = check_stretch(moved.value().loft, moved.value().changed, what); !sound) {
        return sound;
    }
    if (state.shape) {
        if (const Status shaped = state.shape->to(state.drawn(), moved.value().loft, moved.value().changed, p_mm);
            !shaped) {
            return shaped;
        }
        state.swing->moved();
    }
    Evaluation& now = state.now;
    now.job = std::move(edit).value().job;
    PieceModel& piece = now.car.pieces[state.piece];
    piece.line = std::move(moved).value().loft;
    if (state.shape) {
        piece.body = state.shape->body();
    }
    auto report = check_swing(now.job, now.car, now.body,
                              [&](const SwingPair& pair, SwingCase which) { return state.swing->tell(pair, which); });
    if (!report) {
        return report.error();
    }
    now.outcomes = std::move(report.value().outcomes);
    now.plan = mount_plan(now.job, now.car);
    now.findings = findings_of_job(
        now.job, now.car,
        {reach_findings(now.job, now.car, Mends::leave, &now.plan), fitting_findings(now.job, now.car, now.plan),
         road_findings(now.job, now.car, now.plan, Mends::leave), end_gap_findings(now.job, now.car, now.plan),
         now.standing, std::move(report.value().findings),
         outline_findings(now.job, station_outlines(now.job, &now.car)), survey_findings(now.job, *now.survey)});
    return std::monostate{};
}

const Evaluation& Drag::evaluation() const {
    return state_->now;
}

Length Drag::deviation() const {
    const auto& body = state_->now.car.pieces[state_->piece].body;
    return body ? body->mesh.deviation : Length{};
}

}  // namespace sillwright::core

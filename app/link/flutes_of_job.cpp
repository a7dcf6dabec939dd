#include "app/link/flutes_of_job.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "app/length_words.h"
#include "app/link/forming_of_job.h"
#include "core/drawn_loft.h"
#include "core/evaluate.h"
#include "core/skirt/fluted_section.h"

namespace sillwright::app {

using core::Evaluation;
using core::FluteLane;
using core::LaneRow;
using geometry::in_mm;
using geometry::Length;
using geometry::Loft;
using geometry::millimetres;

namespace {

constexpr Length k_step = millimetres(25.0);  ///< Along the shelf: less than a bend of it shows.

std::optional<std::size_t> number_of(const Loft& line, const char* name) {
    const auto& names = line.names();
    const auto found = std::find(names.begin(), names.end(), name);
    return found == names.end() ? std::nullopt : std::optional(static_cast<std::size_t>(found - names.begin()));
}

/// Width of the shelf at a place; no value for a line without one.
std::optional<double> shelf_mm(const Loft& line, Length along) {
    const auto inner = number_of(line, core::k_shelf_inner);
    const auto edge = number_of(line, core::k_shelf_edge);
    if (!inner || !edge) {
        return std::nullopt;
    }
    return (line.node_at(*inner, along).p_mm - line.node_at(*edge, along).p_mm).norm();
}

/// "59", or "57 to 61" where it changes along the car; empty where it is not known.
std::string fence_words(const FluteLane& lane, core::BareUnit unit) {
    std::optional<Length> least;
    std::optional<Length> most;
    for (const LaneRow& row : lane.rows) {
        if (row.fence) {
            least = std::min(least.value_or(*row.fence), *row.fence);
            most = std::max(most.value_or(*row.fence), *row.fence);
        }
    }
    if (!least) {
        return {};
    }
    const std::string from = shortest_words(*least, unit);
    const std::string to = shortest_words(*most, unit);
    return from == to ? from : from + " to " + to;
}

/// On the face there is no shelf to draw it on.
bool on_face(const core::Piece& piece, const FluteLane& lane) {
    return lane.recess && std::any_of(piece.recesses.begin(), piece.recesses.end(), [&](const core::Recess& recess) {
               return recess.name == lane.name && recess.on == core::RecessFace::face;
           });
}

/// The middle of a lane from where the bit goes in to where it comes out.
std::vector<ShelfPoint> middle_of(const FluteLane& lane) {
    const double half = in_mm(lane.mould_width) / 2.0;
    const double from = std::min(in_mm(lane.front) + half, (in_mm(lane.front) + in_mm(lane.rear)) / 2.0);
    const double to = std::max(in_mm(lane.rear) - half, (in_mm(lane.front) + in_mm(lane.rear)) / 2.0);
    std::vector<ShelfPoint> points;
    for (const LaneRow& row : lane.rows) {
        const double along = std::clamp(in_mm(row.along), from, to);
        if (points.empty() || along > points.back().along_mm) {
            points.push_back({along, in_mm(row.edge_offset)});
        }
    }
    if (!points.empty() && points.front().along_mm > from) {
        points.insert(points.begin(), {from, points.front().inward_mm});
    }
    if (!points.empty() && points.back().along_mm < to) {
        points.push_back({to, points.back().inward_mm});
    }
    return points;
}

/// What the ids of a lane's findings begin with.
std::string id_of(const Evaluation& evaluation, const core::PieceForming& forming, const FluteLane& lane) {
    return forming_id(evaluation, forming) + (lane.recess ? "recess/" : "flute/") + lane.name + "/";
}

FluteRow row_of(const Evaluation& evaluation, const core::PieceForming& forming, const FluteLane& lane) {
    const core::BareUnit unit = evaluation.job.unit;
    FluteRow row;
    row.name = lane.name;
    row.recess = lane.recess;
    row.front_mm = in_mm(lane.front);
    row.rear_mm = in_mm(lane.rear);
    row.width_mm = in_mm(lane.mould_width);
    if (!on_face(evaluation.job.skirt.pieces.at(forming.piece), lane)) {
        row.middle = middle_of(lane);
    }
    row.state = worst_state(evaluation, id_of(evaluation, forming, lane));
    row.bit = lane.bit;
    row.depth = shortest_words(lane.depth, unit);
    row.passes = lane.passes > 0 ? std::to_string(lane.passes) : "";
    row.mould_width = shortest_words(lane.mould_width, unit);
    row.seen = shortest_words(lane.part_width, unit);
    row.fence = fence_words(lane, unit);
    row.wood_left = lane.wood_left ? shortest_words(*lane.wood_left, unit) : "";
    row.land = lane.land ? shortest_words(*lane.land, unit) : "";
    row.missing = lane.missing;
    return row;
}

/// Where the base plate has least room.
std::optional<BasePlate> plate_of(const Evaluation& evaluation, const core::PieceForming& forming, const Loft* line) {
    const core::Router& router = evaluation.job.forming.router;
    if (!router.base_radius) {
        return std::nullopt;
    }
    const FluteLane* worst_lane = nullptr;
    const LaneRow* worst = nullptr;
    for (const FluteLane& lane : forming.lanes) {
        for (const LaneRow& row : lane.rows) {
            if (row.room && (worst == nullptr || *row.room < *worst->room)) {
                worst_lane = &lane;
                worst = &row;
            }
        }
    }
    if (worst == nullptr) {
        return std::nullopt;
    }
    const core::BareUnit unit = evaluation.job.unit;
    BasePlate plate;
    plate.flute = worst_lane->name;
    plate.along_mm = in_mm(worst->along);
    plate.middle_mm = in_mm(worst->edge_offset);
    plate.radius_mm = in_mm(router.base_radius->value);
    plate.needed_mm = plate.radius_mm + in_mm(router.base_room.value);
    plate.room_mm = in_mm(*worst->room);
    plate.inner = worst->room_is_inner;
    plate.shelf_mm = line != nullptr ? shelf_mm(*line, worst->along).value_or(0.0) : 0.0;
    plate.state = worst_state(evaluation, id_of(evaluation, forming, *worst_lane) + "base plate");
    const double margin = *plate.room_mm - plate.needed_mm;
    const std::string by = shortest_words(millimetres(std::abs(margin)), unit) + " " + unit_word(unit);
    plate.words = (margin < 0.0 ? "base plate " + by + " short of room" : "base plate has " + by + " to spare") +
                  " on " + worst_lane->name + ", " + core::at_place_words(evaluation.job, worst->along);
    return plate;
}

}  // namespace

FlutePicture flutes_of_job(const Evaluation& evaluation, std::size_t number) {
    FlutePicture picture;
    picture.unit = evaluation.job.unit;
    const core::PieceForming* forming = forming_of(evaluation, number);
    if (forming == nullptr) {
        picture.words = nothing_formed_words();
        return picture;
    }
    picture.piece = evaluation.job.skirt.pieces.at(forming->piece).name;
    if (forming->lanes.empty()) {
        picture.words = "No flute and no recess is drawn on " + picture.piece + ". Add them under Lists.";
        return picture;
    }
    const Loft* line = nullptr;
    if (forming->piece < evaluation.car.pieces.size() && evaluation.car.pieces[forming->piece].line) {
        line = &*evaluation.car.pieces[forming->piece].line;
        for (Length along = line->front();; along = along + k_step) {
            const Length at = std::min(along, line->rear());
            if (const auto wide = shelf_mm(*line, at)) {
                picture.inner.push_back({in_mm(at), *wide});
            }
            if (at == line->rear()) {
                break;
            }
        }
    }
    for (const FluteLane& lane : forming->lanes) {
        picture.rows.push_back(row_of(evaluation, *forming, lane));
    }
    picture.plate = plate_of(evaluation, *forming, line);
    return picture;
}

}  // namespace sillwright::app

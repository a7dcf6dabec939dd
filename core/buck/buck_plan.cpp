#include "core/buck/buck_plan.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "core/buck/assembly.h"
#include "core/buck/datum_rods.h"
#include "core/buck/half_lap.h"
#include "core/buck/plug_surface.h"
#include "core/buck/rib_outline.h"
#include "core/buck/rib_places.h"
#include "core/drawn_loft.h"
#include "core/finding_state.h"
#include "core/forming/mould_chain.h"
#include "core/number_text.h"
#include "core/skirt/surface.h"

namespace sillwright::core {

using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;
using geometry::Result;

namespace {

/// The base board goes on beyond the outermost ribs by this: common practice, no source.
constexpr double k_base_board_room_mm = 30.0;

/// How many labels are used up, so that each is its own within the job.
struct Labels {
    int ribs = 0, spines = 0, bases = 0;
};

/// What is known of one piece before its ribs are made.
struct Making {
    const Piece* piece = nullptr;
    const PieceModel* model = nullptr;
    double rib_mm = 0.0, spine_mm = 0.0;
};

void add_once(std::vector<std::string>& list, const std::string& words) {
    if (std::find(list.begin(), list.end(), words) == list.end()) {
        list.push_back(words);
    }
}

void take_thickness(const Buck& buck, const std::string& name, double& thickness_mm,
                    std::vector<std::string>& missing) {
    const Board* const board = board_of(buck, name);
    const auto thickness = board == nullptr ? std::nullopt : thickness_of(*board);
    if (thickness) {
        thickness_mm = in_mm(*thickness);
    } else {
        add_once(missing, board == nullptr ? "board \"" + name + "\"" : "thickness of board \"" + board->name + "\"");
    }
}

/// One rib's two faces, in heights from the job's origin.
struct RibFaces {
    PlugLayout layout;
    std::vector<PlugPoint> near_points;
    RibEdge near, far;
    RibEdge near_between, far_between, middle_between;  ///< At other places round the section, for the misfit.
    PlugLayout between;
};

struct EdgeAt {
    std::vector<PlugPoint> points;
    RibEdge edge;
};

Result<EdgeAt> edge_at(const PlugSurface& surface, double x_mm, const PlugLayout& layout, Length skin) {
    auto points = surface.inner(x_mm, layout);
    if (!points) {
        return points.error();
    }
    auto edge = rib_edge(points.value(), layout, skin);
    if (!edge) {
        return edge.error();
    }
    return EdgeAt{std::move(points).value(), std::move(edge).value()};
}

Result<RibFaces> faces_of(const PlugSurface& surface, double near_mm, double far_mm, Length skin) {
    const double middle_mm = 0.5 * (near_mm + far_mm);
    auto layout = surface.layout(middle_mm);
    auto between = layout ? surface.layout(middle_mm, true) : layout;
    if (!between) {
        return between.error();
    }
    RibFaces faces;
    faces.layout = std::move(layout).value();
    faces.between = std::move(between).value();
    auto near = edge_at(surface, near_mm, faces.layout, skin);
    if (!near) {
        return near.error();
    }
    faces.near = std::move(near.value().edge);
    faces.near_points = near.value().points;
    struct Wanted {
        double x_mm;
        const PlugLayout* layout;
        RibEdge* edge;
    };
    for (const Wanted& one :
         {Wanted{far_mm, &faces.layout, &faces.far}, Wanted{near_mm, &faces.between, &faces.near_between},
          Wanted{far_mm, &faces.between, &faces.far_between},
          Wanted{middle_mm, &faces.between, &faces.middle_between}}) {
        auto made = edge_at(surface, one.x_mm, *one.layout, skin);
        if (!made) {
            return made.error();
        }
        *one.edge = made.value().edge;
    }
    return faces;
}

/// Whether the section grows rearward at x: the sum of its growth round it.
bool grows_rearward(const std::vector<PlugPoint>& points) {
    double growth = 0.0;
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
        growth += 0.5 * (points[i].growth + points[i + 1].growth) * (points[i + 1].at_mm - points[i].at_mm).norm();
    }
    return growth > 0.0;
}

/// A rib's place along the plug.
struct Standing {
    bool place_is_front = true;
    double front_mm = 0.0, rear_mm = 0.0;

    [[nodiscard]] double near_mm() const { return place_is_front ? front_mm : rear_mm; }
    [[nodiscard]] double far_mm() const { return place_is_front ? rear_mm : front_mm; }
};

Standing standing(double x_mm, double thickness_mm, double length_mm, bool place_is_front) {
    Standing at{place_is_front, place_is_front ? x_mm : x_mm - thickness_mm,
                place_is_front ? x_mm + thickness_mm : x_mm};
    const double by = std::max(0.0, -at.front_mm) - std::max(0.0, at.rear_mm - length_mm);
    at.front_mm += by;
    at.rear_mm += by;
    return at;
}

Result<bool> place_is_front(const PlugSurface& surface, double x_mm, RibFace face) {
    if (face == RibFace::front || face == RibFace::rear) {
        return face == RibFace::front;
    }
    const auto layout = surface.layout(x_mm);
    if (!layout) {
        return layout.error();
    }
    const auto points = surface.inner(x_mm, layout.value());
    if (!points) {
        return points.error();
    }
    return grows_rearward(points.value()) == (face == RibFace::smaller);
}

Finding refused_finding(const Job& job, const Piece& piece, const std::string& label, Length along,
                        const std::string& why) {
    Finding finding;
    finding.id = "buck/" + piece.name + "/outline " + label;
    finding.title = "Outline of rib " + label + ", piece \"" + piece.name + "\"";
    finding.stage = Stage::buck;
    finding.unit = Unit::none;
    finding.found = 0.0;
    finding.required = 1.0;
    finding.margin = -1.0;
    finding.state = state_of(finding.margin, 0.0, {});
    finding.place.along = along;
    finding.place.words = at_place_words(job, along);
    finding.why = "No rib can be cut " + at_place_words(job, along) + ": " + why + ". No rib of the piece is given.";
    finding.formula =
        "outlines that can be made, of one: section of the plug's surface less the skin, square to it in space, that "
        "neither vanishes nor crosses itself nor goes below the base";
    finding.source = "geometry; no source needed";
    finding.mend = Mend{"Make the skin thinner, or the section wider there.", {}, std::nullopt, {}};
    return finding;
}

/// Ribs in heights from the job's origin, still without their profiles.
struct Half {
    Rib rib;
    RibFaces faces;
};

void put_misfit(PieceBuck& buck, const RibFaces& faces, const Rib& rib) {
    const auto look = [&](const RibEdge& edge, const geometry::Profile& outline) {
        buck.surface_misfit_mm = std::max(buck.surface_misfit_mm, misfit_mm(edge, outline, buck.base_mm));
    };
    look(faces.near_between, rib.outline);
    look(faces.far_between, rib.far_outline);
    const RibEdge ruled = half_way(faces.near, faces.far);
    if (ruled.points.size() > 1) {
        if (const auto middle = rib_outline(ruled, faces.layout, buck.base_mm)) {
            look(faces.middle_between, middle.value());
        }
    }
}

bool make_ribs(const Job& job, const Making& making, const PlugSurface& surface, PieceBuck& buck, Labels& labels) {
    const Length skin = job.forming.skin->value;
    const auto chord = job.buck.chord_most ? std::optional<Length>(job.buck.chord_most->value) : std::nullopt;
    std::vector<Half> halves;
    double lowest = std::numeric_limits<double>::max();
    for (const RibPlace& place : rib_places(*making.piece, *making.model->line, chord)) {
        const std::string label = "R" + std::to_string(++labels.ribs);
        const double x_mm = surface.x_mm(place.along);
        const auto refuse = [&](const geometry::Error& error) {
            buck.refused.push_back(refused_finding(job, *making.piece, label, place.along, error.message));
        };
        const auto front = place_is_front(surface, x_mm, job.buck.face);
        if (!front) {
            refuse(front.error());
            continue;
        }
        const Standing at = standing(x_mm, making.rib_mm, surface.length_mm(), front.value());
        auto faces = faces_of(surface, at.near_mm(), at.far_mm(), skin);
        if (!faces) {
            refuse(faces.error());
            continue;
        }
        Half half{{}, std::move(faces).value()};
        half.rib.label = label;
        half.rib.station = place.station;
        half.rib.along = surface.along(at.near_mm());
        half.rib.x_mm = at.near_mm();
        half.rib.place_is_front = at.place_is_front;
        half.rib.thickness_mm = making.rib_mm;
        lowest = std::min({lowest, half.faces.near.lower_end_mm(), half.faces.far.lower_end_mm()});
        halves.push_back(std::move(half));
    }
    if (halves.empty()) {
        return false;
    }
    buck.base_mm = lowest - in_mm(job.buck.base_room.value);
    for (Half& half : halves) {
        auto near = rib_outline(half.faces.near, half.faces.layout, buck.base_mm);
        auto far = near ? rib_outline(half.faces.far, half.faces.layout, buck.base_mm) : near;
        if (!far) {
            buck.refused.push_back(
                refused_finding(job, *making.piece, half.rib.label, half.rib.along, far.error().message));
            continue;
        }
        half.rib.outline = std::move(near).value();
        half.rib.far_outline = std::move(far).value();
        half.rib.bevels =
            bevels(half.faces.near, half.faces.far, half.faces.near_points, half.faces.layout, making.rib_mm);
        put_misfit(buck, half.faces, half.rib);
        for (const SharpCorner& sharp : half.faces.near.sharp) {
            if (sharp.under_mm > in_mm(k_rib_fit)) {  // A straight's own bend is none.
                buck.sharp.push_back({half.rib.label, sharp.where, sharp.under_mm});
            }
        }
        buck.ribs.push_back(std::move(half.rib));
    }
    if (!buck.refused.empty()) {
        buck.ribs.clear();
        buck.sharp.clear();
        return false;
    }
    return true;
}

void put_base(const Job& job, PieceBuck& buck, Labels& labels) {
    if (job.buck.base_board.empty()) {
        return;
    }
    BaseBoard base;
    base.label = "B" + std::to_string(++labels.bases);
    base.front_mm = buck.ribs.front().front_mm() - k_base_board_room_mm;
    base.rear_mm = buck.ribs.back().rear_mm() + k_base_board_room_mm;
    double low = std::numeric_limits<double>::max();
    double high = -low;
    for (const Rib& rib : buck.ribs) {
        for (const geometry::Profile* const face : {&rib.outline, &rib.far_outline}) {
            const double a = start_point(face->segments.back()).x();
            const double b = end_point(face->segments.back()).x();
            low = std::min(low, a);
            high = std::max(high, b);
        }
    }
    base.low_mm = low - k_base_board_room_mm;
    base.high_mm = high + k_base_board_room_mm;
    std::vector<std::string> missing;
    take_thickness(job.buck, job.buck.base_board, base.thickness_mm, missing);
    if (missing.empty()) {
        buck.base = base;
    }
}

PieceBuck piece_buck(const Job& job, const CarModel& car, const PieceForming& forming, Labels& labels) {
    PieceBuck buck;
    buck.piece = forming.piece;
    Making making{&job.skirt.pieces[forming.piece], &car.pieces[forming.piece]};
    buck.tilt = forming.draw.tilt;

    const std::vector<ChainStep> chain = assumed_chain(job);
    for (const bool across : {false, true}) {
        const ChainSize size = chain_size(chain, across);
        for (const std::string& words : size.missing) {
            add_once(buck.missing, words);
        }
        (across ? buck.across_size : buck.along_size) = 1.0 / size.ratio;
    }
    if (!job.forming.mould) {
        add_once(buck.missing, "whether the last mould is male or female");
    }
    if (!job.forming.skin) {
        add_once(buck.missing, "skin of the plug");
    }
    take_thickness(job.buck, job.buck.rib_board, making.rib_mm, buck.missing);
    take_thickness(job.buck, job.buck.spine_board, making.spine_mm, buck.missing);
    if (!job.buck.base_board.empty()) {
        double thickness_mm = 0.0;
        take_thickness(job.buck, job.buck.base_board, thickness_mm, buck.missing);
    }
    const MouldKind mould = job.forming.mould.value_or(MouldKind::male);
    auto law = !making.model->line ? std::nullopt
                                   : outward_law(*making.piece, *making.model->line, making.model->formed.get(),
                                                 std::nullopt, Surface::mould_face, mould);
    if (!law) {
        add_once(buck.missing, making.model->line ? "sheet thickness of piece \"" + making.piece->name + "\""
                                                  : "the sections of " + making.piece->name);
    }
    if (!buck.missing.empty()) {
        return buck;
    }
    buck.skin_mm = in_mm(job.forming.skin->value);
    buck.front = making.model->line->front();
    const PlugSurface surface(
        *making.piece, *making.model->line, std::move(*law),
        {buck.tilt, buck.along_size, buck.across_size, job.forming.skin->value, job.forming.trim_allowance.value});
    if (!make_ribs(job, making, surface, buck, labels)) {
        return buck;
    }
    buck.spines = lay_spines(buck.ribs, lap_making(job.buck, making.spine_mm));
    for (Spine& spine : buck.spines) {
        spine.label = "S" + std::to_string(++labels.spines);
    }
    const std::vector<Eigen::Vector2d> rods = datum_rods(buck.ribs, buck.spines, in_mm(job.buck.pin.value));
    const double level = level_height_mm(buck.ribs);
    for (Rib& rib : buck.ribs) {
        rib.pins_mm = rods;
        rib.level_mm = level;
    }
    put_base(job, buck, labels);
    buck.checks = check_distances(buck);
    buck.worst_swap = worst_wrong_place(buck.ribs, buck.spines);
    return buck;
}

}  // namespace

const Board* board_of(const Buck& buck, const std::string& name) {
    if (name.empty()) {
        return buck.boards.empty() ? nullptr : &buck.boards.front();
    }
    const auto found =
        std::find_if(buck.boards.begin(), buck.boards.end(), [&](const Board& one) { return one.name == name; });
    return found == buck.boards.end() ? nullptr : &*found;
}

std::optional<Length> thickness_of(const Board& board) {
    double sum = 0.0;
    int count = 0;
    for (const auto* const one : {&board.thickness_1, &board.thickness_2, &board.thickness_3}) {
        if (*one) {
            sum += in_mm((*one)->value);
            ++count;
        }
    }
    return count == 0 ? std::nullopt : std::optional(millimetres(sum / count));
}

BuckPlan buck_plan(const Job& job, const CarModel& car, const FormingPlan& forming) {
    BuckPlan plan;
    if (job.buck.boards.empty()) {
        return plan;
    }
    Labels labels;
    for (const PieceForming& one : forming.pieces) {
        plan.pieces.push_back(piece_buck(job, car, one, labels));
    }
    return plan;
}

}  // namespace sillwright::core

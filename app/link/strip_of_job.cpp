#include "app/link/strip_of_job.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <utility>

#include "core/drawn_loft.h"
#include "core/keep_outs/keep_out_body.h"
#include "core/number_text.h"
#include "core/sill_frame.h"
#include "core/skirt/flange_face.h"
#include "core/typed.h"

namespace sillwright::app {

using core::UnrolledSection;
using core::Unrolling;
using Eigen::Vector2d;
using Eigen::Vector3d;
using geometry::in_mm;
using geometry::Length;
using geometry::Loft;
using geometry::millimetres;

namespace {

constexpr int k_samples = 60;  ///< Of a line along the car: one for some ten pixels of a wide screen.
/// What a door shows above its lower edge: enough for its lower corners and its name.
constexpr double k_door_shown_mm = 45.0;
/// Free strip below the lowest line, above the highest; room for a mount that lies beyond the flange.
constexpr double k_room_mm = 12.0;
/// Heights shown are whole steps of this, so that the scale stays while a line is dragged.
constexpr double k_height_step_mm = 20.0;
/// A mount whose axis points down at least this steeply (cosine) sits on the underside.
constexpr double k_down = 0.7071067811865476;

/// A range that grows by what is put in.
struct Range {
    double from = std::numeric_limits<double>::infinity();
    double to = -std::numeric_limits<double>::infinity();

    void take(double value) {
        from = std::min(from, value);
        to = std::max(to, value);
    }
    [[nodiscard]] bool empty() const { return from > to; }
};

/// Evenly spaced places with those between at which something is drawn.
std::vector<Length> places_of(const Loft& loft) {
    std::vector<Length> places = loft.key_places();
    for (int i = 0; i <= k_samples; ++i) {
        places.push_back(loft.front() + (loft.rear() - loft.front()) * (static_cast<double>(i) / k_samples));
    }
    std::sort(places.begin(), places.end());
    places.erase(std::unique(places.begin(), places.end()), places.end());
    return places;
}

std::vector<StripNode> nodes_of(const core::Job& job, const core::Drawn& drawn, const std::string& name) {
    std::vector<StripNode> nodes;
    for (const core::Section& section : drawn.sections) {
        for (const core::Node& node : section.nodes) {
            if (node.name == name) {
                nodes.push_back({node.id, in_mm(core::station_of(job, section.station).along.value)});
            }
        }
    }
    return nodes;
}

/// A mesh's silhouette in slices along the car; nothing where it has no point.
struct Slice {
    Range out, up;
};
std::map<int, Slice> slices_of(const geometry::Mesh& mesh, double step_mm) {
    std::map<int, Slice> slices;
    for (const Vector3d& p_mm : mesh.points) {
        Slice& slice = slices[static_cast<int>(std::floor(p_mm.x() / step_mm))];
        slice.out.take(p_mm.y());
        slice.up.take(p_mm.z());
    }
    return slices;
}

std::string number(const core::Job& job, const core::Entry& entry) {
    return core::entry_text(entry, job.unit);
}

class Strip {
public:
    explicit Strip(const core::Evaluation& evaluation) : all_{evaluation}, job_{evaluation.job} {}

    StripPicture make() {
        add_body();
        add_pieces();
        add_stations();
        add_doors();
        add_mounts();
        add_keep_outs();
        set_ranges();
        return std::move(picture_);
    }

private:
    void add_stations() {
        for (const core::Station& station : job_.stations) {
            picture_.ground.stations.push_back({station.name, in_mm(station.along.value)});
            along_.take(in_mm(station.along.value));
        }
    }

    /// The body's top and its lowest line, and where it ends.
    void add_body() {
        if (!all_.car.body) {
            return;
        }
        const Loft& loft = *all_.car.body;
        StripLine top{StripRole::body, "sill", {}, {}, 3};
        StripLine low{StripRole::body, "", {}, {}, 6};
        const std::size_t lowest = lowest_name(loft);
        low.name = loft.names()[lowest];
        low.nodes = nodes_of(job_, job_.body, low.name);
        for (const Length along : places_of(loft)) {
            const std::vector<geometry::ProfileNode> nodes = loft.nodes_at(along);
            const auto highest = std::max_element(nodes.begin(), nodes.end(),
                                                  [](const auto& a, const auto& b) { return a.p_mm.y() < b.p_mm.y(); });
            const UnrolledSection section = unrolling_at(all_, along).at(along);
            top.points_mm.emplace_back(in_mm(along), highest->p_mm.y());
            low.points_mm.emplace_back(in_mm(along), section.underside_mm(nodes[lowest].p_mm));
            heights_.take(highest->p_mm.y());
        }
        for (const bool front : {true, false}) {
            const Vector2d& above = front ? top.points_mm.front() : top.points_mm.back();
            const Vector2d& below = front ? low.points_mm.front() : low.points_mm.back();
            picture_.ground.body.push_back({StripRole::body, "", {above, below}, {}, 9});
        }
        along_.take(in_mm(loft.front()));
        along_.take(in_mm(loft.rear()));
        underside_.take(std::min(low.points_mm.front().y(), low.points_mm.back().y()));
        picture_.ground.body.push_back(std::move(top));
        picture_.ground.body.push_back(std::move(low));
    }

    static std::size_t lowest_name(const Loft& loft) {
        const std::vector<geometry::ProfileNode> nodes = loft.nodes_at(loft.front());
        const auto lowest = std::min_element(nodes.begin(), nodes.end(),
                                             [](const auto& a, const auto& b) { return a.p_mm.y() < b.p_mm.y(); });
        return static_cast<std::size_t>(lowest - nodes.begin());
    }

    void add_pieces() {
        for (std::size_t i = 0; i < all_.car.pieces.size() && i < job_.skirt.pieces.size(); ++i) {
            const core::PieceModel& model = all_.car.pieces[i];
            if (model.line) {
                add_piece(job_.skirt.pieces[i], *model.line);
            } else if (model.body) {
                add_mesh(model.name, model.body->mesh);
            }
        }
    }

    void add_piece(const core::Piece& piece, const Loft& loft) {
        const Unrolling unrolling(loft);
        const std::vector<std::string>& names = loft.names();
        std::vector<StripLine> lines;
        for (std::size_t i = 0; i < names.size(); ++i) {
            lines.push_back({role_of(names[i], i == unrolling.fold()), names[i], {}, {}, 0});
            lines.back().rank = rank_of(lines.back().role, i);
            lines.back().nodes = nodes_of(job_, piece.drawn, names[i]);
        }
        for (const Length along : places_of(loft)) {
            const UnrolledSection section = unrolling.at(along);
            for (std::size_t i = 0; i < names.size(); ++i) {
                if (loft.present_at(i, along)) {
                    lines[i].points_mm.emplace_back(in_mm(along), section.heights_mm[i]);
                    heights_.take(section.heights_mm[i]);
                }
            }
        }
        add_ends(unrolling, loft);
        for (StripLine& line : lines) {
            picture_.lines.push_back(std::move(line));
        }
        along_.take(in_mm(loft.front()));
        along_.take(in_mm(loft.rear()));
    }

    static StripRole role_of(const std::string& name, bool fold) {
        if (fold) {
            return StripRole::fold;
        }
        if (name == core::k_flange_root) {
            return StripRole::flange_root;
        }
        return name == core::k_flange_end ? StripRole::flange_end : StripRole::skirt;
    }

    static int rank_of(StripRole role, std::size_t number) {
        switch (role) {
            case StripRole::fold:
                return 0;
            case StripRole::flange_end:
                return 1;
            case StripRole::flange_root:
                return 2;
            case StripRole::skirt:
            case StripRole::body:
                break;
        }
        return 4 + static_cast<int>(number);
    }

    /// The two ends of a piece: its outermost line from top to flange end.
    void add_ends(const Unrolling& unrolling, const Loft& loft) {
        for (const Length along : {loft.front(), loft.rear()}) {
            const UnrolledSection section = unrolling.at(along);
            const auto [low, high] = std::minmax_element(section.heights_mm.begin(), section.heights_mm.end());
            picture_.lines.push_back({StripRole::skirt, "", {{in_mm(along), *low}, {in_mm(along), *high}}, {}, 99});
        }
    }

    void add_mesh(const std::string& name, const geometry::Mesh& mesh) {
        const auto [low, high] = std::minmax_element(mesh.points.begin(), mesh.points.end(),
                                                     [](const auto& a, const auto& b) { return a.x() < b.x(); });
        if (low == mesh.points.end() || !(high->x() > low->x())) {
            return;
        }
        const double step = (high->x() - low->x()) / k_samples;
        StripLine top{StripRole::skirt, name, {}, {}, 4};
        StripLine fold{StripRole::fold, "lowest", {}, {}, 0};
        StripLine inner{StripRole::flange_end, "inner edge", {}, {}, 1};
        for (const auto& [number, slice] : slices_of(mesh, step)) {
            const Length along = millimetres((number + 0.5) * step);
            const UnrolledSection section = unrolling_at(all_, along).at(along);
            const double x = std::clamp(in_mm(along), low->x(), high->x());
            top.points_mm.emplace_back(x, slice.up.to);
            fold.points_mm.emplace_back(x, section.fold_mm());
            inner.points_mm.emplace_back(x, section.underside_mm({slice.out.from, section.fold_mm()}));
            heights_.take(slice.up.to);
            heights_.take(inner.points_mm.back().y());
        }
        along_.take(low->x());
        along_.take(high->x());
        for (StripLine* line : {&top, &fold, &inner}) {
            picture_.lines.push_back(std::move(*line));
        }
    }

    void add_doors() {
        for (std::size_t i = 0; i < job_.doors.size(); ++i) {
            const core::Door& door = job_.doors[i];
            StripDoor drawn{door.name, {}, !door.outline.empty()};
            for (const core::OutlinePoint& point : door.outline) {
                drawn.outline_mm.emplace_back(in_mm(point.along.value), in_mm(point.up.value));
            }
            if (drawn.outline_mm.empty() && i < all_.car.doors.size()) {
                drawn.outline_mm = panel_outline(all_.car.doors[i]);
            }
            Range up;
            for (const Vector2d& p_mm : drawn.outline_mm) {
                along_.take(p_mm.x());
                up.take(p_mm.y());
            }
            if (!up.empty()) {
                heights_.take(up.from + k_door_shown_mm);
                picture_.ground.doors.push_back(std::move(drawn));
            }
        }
    }

    /// Of a door whose shut gaps were not measured: round all its bodies.
    static std::vector<Vector2d> panel_outline(const core::DoorModel& door) {
        Range along, up;
        for (const core::DoorPart& part : door.parts) {
            for (const Vector3d& p_mm : part.body.mesh.points) {
                along.take(p_mm.x());
                up.take(p_mm.z());
            }
        }
        if (along.empty()) {
            return {};
        }
        return {{along.from, up.to}, {along.from, up.from}, {along.to, up.from}, {along.to, up.to}};
    }

    void add_mounts() {
        const std::map<std::string, core::State> worst = worst_of_mounts();
        for (const core::Mount& mount : job_.mounts) {
            StripMount drawn;
            const Vector3d at = core::in_mm(mount.at);
            const Vector2d across(at.y(), at.z());
            const UnrolledSection section = unrolling_at(all_, mount.at.along.value).at(mount.at.along.value);
            const bool underside = mount.axis.z() <= -k_down * mount.axis.norm();
            const Vector2d direction = underside ? section.direction_at(across) : Vector2d(0.0, 1.0);
            drawn.name = mount.name;
            drawn.at_mm = {at.x(), underside ? section.underside_mm(across) : at.z()};
            drawn.kind = mount.kind;
            drawn.shape = mount.shape;
            drawn.used = mount.use != core::MountUse::unused;
            if (mount.size) {
                drawn.size_mm = in_mm(mount.size->value);
                drawn.length_mm = mount.slot_length ? in_mm(mount.slot_length->value) : *drawn.size_mm;
            }
            if (mount.part_hole) {
                const double width = in_mm(mount.part_hole->value);
                drawn.part_mm = Vector2d(mount.part_slot ? in_mm(mount.part_slot->value) : width, width);
            }
            if (mount.sd[0] && mount.sd[1] && mount.sd[2]) {
                const Vector2d sd(in_mm(mount.sd[1]->value), in_mm(mount.sd[2]->value));
                drawn.sd_mm = Vector2d(in_mm(mount.sd[0]->value), sd.cwiseProduct(direction).norm());
            }
            const auto found = worst.find(mount.name);
            if (found != worst.end()) {
                drawn.worst = found->second;
            }
            drawn.words = words_of(mount, drawn);
            along_.take(at.x());
            heights_.take(drawn.at_mm.y());
            picture_.mounts.push_back(std::move(drawn));
        }
    }

    std::string words_of(const core::Mount& mount, const StripMount& drawn) const {
        std::string words = mount.name;
        words += mount.kind == core::MountKind::stud      ? ", stud"
                 : mount.kind == core::MountKind::nut     ? ", nut"
                 : mount.shape == core::HoleShape::slot   ? ", slot"
                 : mount.shape == core::HoleShape::square ? ", square hole"
                                                          : ", round hole";
        words += mount.size ? " " + number(job_, *mount.size) : ", size not measured";
        if (mount.size && mount.slot_length) {
            words += " × " + number(job_, *mount.slot_length);
        }
        if (drawn.sd_mm) {
            words += ", ± " + core::fixed_text(drawn.sd_mm->x(), 1) + " along, ± " +
                     core::fixed_text(drawn.sd_mm->y(), 1) + " mm across (1 sd)";
        } else {
            words += ", uncertainty not measured";
        }
        return words;
    }

    /// Of the findings that are close or fall short, by mount; findings come worst first.
    std::map<std::string, core::State> worst_of_mounts() const {
        std::map<std::string, core::State> worst;
        const std::string lead = "mounts/";
        for (const core::Finding& finding : all_.findings) {
            const bool tells = finding.state == core::State::close || finding.state == core::State::falls_short;
            const std::size_t end = finding.id.rfind('/');
            if (tells && finding.id.starts_with(lead) && end > lead.size()) {
                const std::string name = finding.id.substr(lead.size(), end - lead.size());
                const auto [at, fresh] = worst.emplace(name, finding.state);
                if (!fresh && finding.state == core::State::falls_short) {
                    at->second = finding.state;
                }
            }
        }
        return worst;
    }

    void add_keep_outs() {
        for (const core::KeepOut& keep_out : job_.keep_outs) {
            const core::KeepOutBody body = core::keep_out_body(keep_out);
            if (!body.tree) {
                continue;
            }
            const Vector3d& low = body.low_mm;
            const Vector3d& high = body.high_mm;
            const Length middle = millimetres((low.x() + high.x()) / 2.0);
            const UnrolledSection section = unrolling_at(all_, middle).at(middle);
            StripKeepOut drawn{keep_out.name, {low.x(), low.z()}, {high.x(), high.z()}};
            if (low.z() < section.fold_mm()) {  // it stands in the underside's way
                drawn.from_mm.y() = section.underside_mm({low.y(), high.z()});
                drawn.to_mm.y() = section.underside_mm({high.y(), high.z()});
            }
            along_.take(low.x());
            along_.take(high.x());
            picture_.keep_outs.push_back(std::move(drawn));
        }
    }

    void set_ranges() {
        StripGround& ground = picture_.ground;
        if (along_.empty()) {
            return;
        }
        ground.front_mm = along_.from;
        ground.rear_mm = along_.to;
        if (heights_.empty()) {
            heights_.take(0.0);
            heights_.take(k_door_shown_mm);
        }
        if (!underside_.empty()) {
            heights_.take(underside_.from);
        }
        ground.floor_mm = std::floor((heights_.from - k_room_mm) / k_height_step_mm) * k_height_step_mm;
        ground.ceiling_mm = heights_.to + k_room_mm / 2.0;
    }

    const core::Evaluation& all_;
    const core::Job& job_;
    StripPicture picture_;
    Range along_, heights_, underside_;
};

}  // namespace

Unrolling unrolling_at(const core::Evaluation& evaluation, Length along) {
    const Loft* nearest = nullptr;
    double least = std::numeric_limits<double>::infinity();
    const auto look = [&](const Loft& loft) {
        const double off = std::max({in_mm(loft.front() - along), in_mm(along - loft.rear()), 0.0});
        if (off < least) {
            least = off;
            nearest = &loft;
        }
    };
    for (const core::PieceModel& piece : evaluation.car.pieces) {
        if (piece.line) {
            look(*piece.line);
        }
    }
    if (nearest == nullptr && evaluation.car.body) {
        nearest = &*evaluation.car.body;
    }
    if (nearest != nullptr) {
        return Unrolling(*nearest);
    }
    Vector2d fold(-std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity());
    const auto take = [&fold](double out, double up) { fold = {std::max(fold.x(), out), std::min(fold.y(), up)}; };
    for (const core::PieceModel& piece : evaluation.car.pieces) {
        if (piece.body) {
            for (const Vector3d& p_mm : piece.body->mesh.points) {
                take(p_mm.y(), p_mm.z());
            }
        }
    }
    if (!fold.allFinite()) {
        for (const core::Mount& mount : evaluation.job.mounts) {
            take(in_mm(mount.at.out.value), in_mm(mount.at.up.value));
        }
    }
    return Unrolling(fold.allFinite() ? fold : Vector2d::Zero());
}

StripPicture strip_of_job(const core::Evaluation& evaluation) {
    return Strip(evaluation).make();
}

}  // namespace sillwright::app

#include "core/car_model.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <utility>

#include "core/drawn_loft.h"
#include "core/imported_shape.h"
#include "core/number_text.h"
#include "core/sill_frame.h"
#include "core/skirt/end_cap.h"
#include "core/skirt/surface.h"
#include "geometry/sheet_ring.h"
#include "geometry/trim.h"

namespace sillwright::core {

using geometry::Angle;
using geometry::Error;
using geometry::HingeMotion;
using geometry::Length;
using geometry::Loft;
using geometry::Mesh;
using geometry::Result;
using geometry::RingBody;
using geometry::RingMesh;

namespace {

/// Of the deviation asked for, the part that roundings may take; the rest is for the rows.
constexpr double k_sagitta_part = 0.4;

/// A part of a car needs some ten thousands; far more takes minutes, and is a slip of the pen or of the unit.
constexpr std::size_t k_most_points = 200'000;

std::string quoted(const std::string& name) {
    return "\"" + name + "\"";
}

Error led_by(const std::string& what, const Error& error) {
    return {error.code, what + ": " + error.message};
}

Result<BodyModel> with_tree(std::string name, Mesh mesh, std::optional<RingMesh> ring) {
    auto tree = geometry::DistanceTree::build(mesh);
    if (!tree) {
        return led_by(name, tree.error());
    }
    return BodyModel{std::move(name), std::move(mesh), std::move(ring),
                     std::make_shared<const geometry::DistanceTree>(std::move(tree).value())};
}

Result<RingBody> sheet_body(const Loft& line, const geometry::SheetFaces& faces, Length deviation) {
    return geometry::layout_of_sheet(line, faces, k_sagitta_part * deviation)
        .and_then([&](const geometry::RingLayout& layout) { return geometry::sheet_ring(line, faces, layout); });
}

Result<RingBody> solid_body(const Loft& outline, Length deviation) {
    return geometry::layout_of_solid(outline, k_sagitta_part * deviation)
        .and_then([&](const geometry::RingLayout& layout) { return geometry::solid_ring(outline, layout); });
}

/// The mesh of a body, if it is of a size that can be worked with.
Result<RingMesh> meshed_body(const RingBody& body, Length deviation) {
    auto meshed = geometry::mesh_of(body, deviation);
    if (!meshed || meshed.value().mesh.points.size() <= k_most_points) {
        return meshed;
    }
    return Error{geometry::ErrorCode::does_not_fit,
                 "it takes " + std::to_string(meshed.value().mesh.points.size()) + " points to be drawn within " +
                     mm_text(deviation) + ", more than " + std::to_string(k_most_points) +
                     ". Check its largest lengths and radii, and the unit of the job."};
}

/// The shape in a file, its findings passed on.
Result<BodyModel> imported_body(const Job& job, const ShapeFile& file, const std::filesystem::path& folder,
                                const std::string& id, const std::string& name, std::vector<Finding>& findings) {
    auto shape = import_shape(job, file, folder, id, name);
    if (!shape) {
        return shape.error();
    }
    ImportedShape imported = std::move(shape).value();
    findings.insert(findings.end(), imported.findings.begin(), imported.findings.end());
    return with_tree(name, std::move(imported.mesh), std::nullopt);
}

/// One of a door's bodies, trimmed to the door's outline if it was drawn.
Result<BodyModel> door_body(const Job& job, const Door& door, const DoorBody& body, const std::filesystem::path& folder,
                            Length deviation, std::vector<Finding>& findings) {
    const std::string what = "door " + quoted(door.name) + ", " + quoted(body.name);
    if (body.file) {
        return imported_body(job, *body.file, folder, "sections/" + door.name + "/" + body.name, body.name, findings);
    }
    auto loft = loft_of(job, body.drawn, body.closed, what);
    if (!loft) {
        return loft.error();
    }
    const auto ring_body = body.closed ? solid_body(loft.value(), deviation)
                                       : sheet_body(loft.value(), {Length{}, -body.sheet->value}, deviation);
    if (!ring_body) {
        return led_by(what, ring_body.error());
    }
    auto meshed = meshed_body(ring_body.value(), deviation);
    if (!meshed) {
        return led_by(what, meshed.error());
    }
    RingMesh ring = std::move(meshed).value();
    if (door.outline.empty()) {
        Mesh mesh = ring.mesh;
        return with_tree(body.name, std::move(mesh), std::move(ring));
    }
    std::vector<Eigen::Vector2d> outline;
    for (const OutlinePoint& point : door.outline) {
        outline.emplace_back(geometry::in_mm(point.along.value), geometry::in_mm(point.up.value));
    }
    auto trimmed = geometry::trimmed_to_outline(ring.mesh, outline);
    if (!trimmed) {
        return led_by(what, trimmed.error());
    }
    return with_tree(body.name, std::move(trimmed).value(), std::nullopt);
}

/// Half-way along what is known of the door: its bodies, else its outline; none if neither is.
std::optional<double> middle_along(const Door& door, const DoorModel& model) {
    std::vector<double> places;
    for (const DoorPart& part : model.parts) {
        for (const Eigen::Vector3d& p : part.body.mesh.points) {
            places.push_back(p.x());
        }
    }
    if (places.empty()) {
        for (const OutlinePoint& point : door.outline) {
            places.push_back(geometry::in_mm(point.along.value));
        }
    }
    if (places.empty()) {
        return std::nullopt;
    }
    const auto [low, high] = std::minmax_element(places.begin(), places.end());
    return 0.5 * (*low + *high);
}

/// A travel at a distance from the hinge as an angle.
Angle turn_of(const Entry& travel, const Entry& distance) {
    return geometry::radians(std::asin(std::clamp(travel.value / distance.value, -1.0, 1.0)));
}

/// The hinge's lower and upper pin; what lacks of them is put down as missing.
std::optional<std::pair<Eigen::Vector3d, Eigen::Vector3d>> pins_of(const Door& door, DoorModel& model) {
    if (!door.hinge || (door.hinge->lower == PartPosition{} && door.hinge->upper == PartPosition{})) {
        model.missing_motion.push_back("the hinge axis of " + door.name);
        return std::nullopt;
    }
    const auto lower = in_mm(door.hinge->lower);
    const auto upper = in_mm(door.hinge->upper);
    if (!lower) {
        model.missing_motion.push_back("the lower hinge pin of " + door.name);
    }
    if (!upper) {
        model.missing_motion.push_back("the upper hinge pin of " + door.name);
    }
    return lower && upper ? std::optional(std::pair{*lower, *upper}) : std::nullopt;
}

void set_motion(const Door& door, DoorModel& model) {
    model.opening = door.opening;
    const auto pins = pins_of(door, model);
    if (!door.opening) {
        model.missing_motion.push_back("the opening angle of " + door.name);
    }
    if (!pins || !door.opening) {
        return;
    }
    const auto& [lower, upper] = *pins;
    HingeMotion motion;
    motion.axis_point_mm =
        door.hinge->sag_about ? in_mm(*door.hinge->sag_about) : Eigen::Vector3d(0.5 * (lower + upper));
    motion.axis_direction = (upper - lower).normalized();
    motion.opening = *door.opening;
    // A door that lies ahead of its hinge swings, and sags, the other way round.
    // Of a door of which nothing is known it is taken to lie behind, as most do.
    const bool ahead = middle_along(door, model).value_or(motion.axis_point_mm.x()) < motion.axis_point_mm.x();
    if (ahead) {
        motion.axis_direction = -motion.axis_direction;
        motion.sag_direction = -motion.sag_direction;
    }
    model.on_striker = motion;
    if (door.sag && door.sag->drop && door.sag->distance) {
        const Angle sag = turn_of(*door.sag->drop, *door.sag->distance);
        motion.sag_at_once = door.sag->share_at_once * sag;
        motion.sag_growth = (1.0 - door.sag->share_at_once) * sag;
        model.released = motion;
    }
    if (door.over_slam && door.over_slam->travel && door.over_slam->distance) {
        model.over_slam = turn_of(*door.over_slam->travel, *door.over_slam->distance);
    }
}

Result<DoorModel> door_model(const Job& job, const Door& door, const std::filesystem::path& folder, Length deviation,
                             std::vector<Finding>& findings) {
    DoorModel model;
    model.name = door.name;
    for (const DoorBody& body : door.bodies) {
        if (!body.file && body.drawn.empty()) {
            model.missing_parts.push_back({body.kind, "the sections of " + body.name});
            continue;
        }
        if (!body.file && !body.closed && !body.sheet) {
            model.missing_parts.push_back({body.kind, "the thickness of " + body.name});
            continue;
        }
        auto made = door_body(job, door, body, folder, deviation, findings);
        if (!made) {
            return made.error();
        }
        model.parts.push_back({std::move(made).value(), body.kind});
    }
    if (door.bodies.empty()) {
        model.missing_parts.push_back({DoorBodyKind::edge, "the lower edge of " + door.name});
    }
    set_motion(door, model);
    return model;
}

}  // namespace

std::string piece_words(const Piece& piece) {
    return "skirt piece " + quoted(piece.name);
}

Result<Mesh> with_end_caps(const Piece& piece, const RingBody& sheet, Mesh mesh, Length deviation) {
    for (const End end : {End::front, End::rear}) {
        if (end == End::front ? piece.front_closed : piece.rear_closed) {
            const auto cap = end_cap(sheet, end, piece.sheet->value, deviation);
            if (!cap) {
                return led_by(piece_words(piece), cap.error());
            }
            geometry::append(mesh, cap.value());
        }
    }
    return mesh;
}

Result<PieceModel> piece_model(const Job& job, std::size_t index, const std::filesystem::path& folder, Length deviation,
                               std::vector<Finding>& findings) {
    const Piece& piece = job.skirt.pieces[index];
    PieceModel model;
    model.name = piece.name;
    const std::string what = piece_words(piece);
    if (piece.file) {
        auto body = imported_body(job, *piece.file, folder, "sections/" + piece.name, piece.name, findings);
        if (!body) {
            return body.error();
        }
        model.body = std::move(body).value();
        return model;
    }
    if (piece.drawn.empty()) {
        model.missing.push_back("the sections of " + piece.name);
        return model;
    }
    auto line = loft_of(job, piece.drawn, false, what);
    if (!line) {
        return line.error();
    }
    model.line = std::move(line).value();
    const auto faces = sheet_faces(piece);
    if (!faces) {
        model.missing.push_back("the sheet thickness of " + piece.name);
        return model;
    }
    const auto ring_body = sheet_body(*model.line, *faces, deviation);
    if (!ring_body) {
        return led_by(what, ring_body.error());
    }
    auto meshed = meshed_body(ring_body.value(), deviation);
    if (!meshed) {
        return led_by(what, meshed.error());
    }
    RingMesh ring = std::move(meshed).value();
    auto mesh = with_end_caps(piece, ring_body.value(), ring.mesh, deviation);
    if (!mesh) {
        return mesh.error();
    }
    auto body = with_tree(piece.name, std::move(mesh).value(), std::move(ring));
    if (!body) {
        return body.error();
    }
    model.body = std::move(body).value();
    return model;
}

Result<CarModel> car_model(const Job& job, const std::filesystem::path& folder, Length deviation) {
    CarModel car;
    if (!job.body.empty()) {
        auto body = loft_of(job, job.body, false, "body");
        if (!body) {
            return body.error();
        }
        car.body = std::move(body).value();
    }
    for (std::size_t i = 0; i < job.skirt.pieces.size(); ++i) {
        auto piece = piece_model(job, i, folder, deviation, car.findings);
        if (!piece) {
            return piece.error();
        }
        car.pieces.push_back(std::move(piece).value());
    }
    for (const Door& door : job.doors) {
        auto model = door_model(job, door, folder, deviation, car.findings);
        if (!model) {
            return model.error();
        }
        car.doors.push_back(std::move(model).value());
    }
    return car;
}

Result<BodyModel> body_surface(const Loft& body, Length deviation) {
    constexpr Length k_foil = geometry::millimetres(0.01);
    const auto foil = sheet_body(body, {Length{}, -k_foil, geometry::RingFace::outside}, deviation);
    if (!foil) {
        return led_by("body", foil.error());
    }
    auto meshed = meshed_body(foil.value(), deviation);
    if (!meshed) {
        return led_by("body", meshed.error());
    }
    RingMesh ring = std::move(meshed).value();
    Mesh mesh = ring.mesh;
    return with_tree("body", std::move(mesh), std::move(ring));
}

std::string strip_words(const BodyModel& body, const std::optional<Loft>& line, std::int32_t triangle) {
    if (!body.ring || !line) {
        return {};
    }
    const auto index = static_cast<std::size_t>(triangle);
    if (index >= body.ring->places.size() || body.ring->places[index].part != geometry::RingMeshPart::side) {
        return index < body.ring->places.size() ? "end" : "end cap";
    }
    const geometry::RingStrip& strip = geometry::strip_of(*body.ring, body.ring->places[index].segment);
    if (strip.face == geometry::RingFace::edge) {
        return "edge of the sheet at " + line->names()[strip.from_node];
    }
    const std::string& from = line->names()[strip.from_node];
    const std::string& to = line->names()[strip.to_node];
    return from == to ? from : from + " to " + to;
}

}  // namespace sillwright::core

#include "core/car_model.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <utility>

#include "core/drawn_lacking.h"
#include "core/drawn_loft.h"
#include "core/forming/draw.h"
#include "core/forming/formed_sheet.h"
#include "core/imported_shape.h"
#include "core/number_text.h"
#include "core/sill_frame.h"
#include "core/skirt/end_cap.h"
#include "core/skirt/sheet_body.h"
#include "core/survey/results.h"
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

Error stopped() {
    return {geometry::ErrorCode::stopped, "The computation was stopped before its bodies were made."};
}

Result<BodyModel> with_tree(std::string name, Mesh mesh, std::optional<RingMesh> ring, const std::stop_token& stop) {
    auto tree = geometry::DistanceTree::build(mesh, stop);
    if (!tree) {
        return led_by(name, tree.error());
    }
    return BodyModel{std::move(name), std::move(mesh), std::move(ring),
                     std::make_shared<const geometry::DistanceTree>(std::move(tree).value())};
}

Result<RingBody> even_sheet(const Loft& line, const geometry::SheetFaces& faces, Length deviation) {
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
                                const std::string& id, const std::string& name, std::vector<Finding>& findings,
                                const std::stop_token& stop) {
    auto shape = import_shape(job, file, folder, id, name);
    if (!shape) {
        return shape.error();
    }
    ImportedShape imported = std::move(shape).value();
    findings.insert(findings.end(), imported.findings.begin(), imported.findings.end());
    return with_tree(name, std::move(imported.mesh), std::nullopt, stop);
}

/// One of a door's bodies, trimmed to the door's outline if it was drawn.
Result<BodyModel> door_body(const Job& job, const Door& door, const DoorBody& body, const std::filesystem::path& folder,
                            Length deviation, std::vector<Finding>& findings, const std::stop_token& stop) {
    const std::string what = "door " + quoted(door.name) + ", " + quoted(body.name);
    if (body.file) {
        return imported_body(job, *body.file, folder, "sections/" + door.name + "/" + body.name, body.name, findings,
                             stop);
    }
    auto loft = loft_of(job, body.drawn, body.closed, what);
    if (!loft) {
        return loft.error();
    }
    const auto ring_body = body.closed ? solid_body(loft.value(), deviation)
                                       : even_sheet(loft.value(), {Length{}, -body.sheet->value}, deviation);
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
        return with_tree(body.name, std::move(mesh), std::move(ring), stop);
    }
    if (stop.stop_requested()) {
        return stopped();
    }
    std::vector<Eigen::Vector2d> outline;
    for (const OutlinePoint& point : door.outline) {
        outline.emplace_back(geometry::in_mm(point.along.value), geometry::in_mm(point.up.value));
    }
    auto trimmed = geometry::trimmed_to_outline(ring.mesh, outline);
    if (!trimmed) {
        return led_by(what, trimmed.error());
    }
    return with_tree(body.name, std::move(trimmed).value(), std::nullopt, stop);
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

std::vector<std::string> lacking_of_part(const Job& job, const DoorBody& body) {
    if (body.file) {
        return {};
    }
    auto lacking = lacking_for_loft(job, body.drawn, body.closed, body.name);
    if (lacking.empty() && !body.closed && !body.sheet) {
        lacking.push_back("the thickness of " + body.name);
    }
    return lacking;
}

/// Whether a body stands on the same stations, or the shape of a file in the same place of the car.
bool same_ground(const Job& job, const std::optional<ShapeFile>& file, const KnownModels& known) {
    if (!file) {
        return job.stations == known.job->stations;
    }
    return job.side == known.job->side && job.zero_to_midplane == known.job->zero_to_midplane && known.same_file(*file);
}

/// The piece as it was made before; null if it must be made.
const PieceModel* known_piece(const Job& job, const Piece& piece, const KnownModels& known) {
    if (known.car == nullptr || !same_ground(job, piece.file, known) ||
        (!piece.file && !(job.forming == known.job->forming))) {
        return nullptr;
    }
    const auto& before = known.job->skirt.pieces;
    const auto found = std::find(before.begin(), before.end(), piece);
    return found == before.end() ? nullptr : &known.car->pieces[static_cast<std::size_t>(found - before.begin())];
}

/// Likewise a part of a door.
const DoorPart* known_part(const Job& job, const Door& door, const DoorBody& body, const KnownModels& known) {
    if (known.car == nullptr || !same_ground(job, body.file, known)) {
        return nullptr;
    }
    for (std::size_t i = 0; i < known.job->doors.size(); ++i) {
        const Door& before = known.job->doors[i];
        if (before.name != door.name || before.outline != door.outline) {
            continue;
        }
        const auto found = std::find(before.bodies.begin(), before.bodies.end(), body);
        if (found == before.bodies.end()) {
            continue;
        }
        // Parts stand as the bodies, those that could not be made left out.
        const auto number = std::count_if(before.bodies.begin(), found, [&](const DoorBody& earlier) {
            return lacking_of_part(*known.job, earlier).empty();
        });
        return &known.car->doors[i].parts[static_cast<std::size_t>(number)];
    }
    return nullptr;
}

Result<DoorModel> door_model(const Job& job, const Door& door, const std::filesystem::path& folder, Length deviation,
                             const KnownModels& known, const std::stop_token& stop) {
    DoorModel model;
    model.name = door.name;
    for (const DoorBody& body : door.bodies) {
        if (const auto words = lacking_of_part(job, body); !words.empty()) {
            for (const std::string& one : words) {
                model.missing_parts.push_back({body.kind, one});
            }
            continue;
        }
        if (const DoorPart* const part = known_part(job, door, body, known)) {
            model.parts.push_back(*part);
            continue;
        }
        if (stop.stop_requested()) {
            return stopped();
        }
        std::vector<Finding> findings;
        auto made = door_body(job, door, body, folder, deviation, findings, stop);
        if (!made) {
            return made.error();
        }
        model.parts.push_back({std::move(made).value(), body.kind, std::move(findings)});
    }
    if (door.bodies.empty()) {
        model.missing_parts.push_back({DoorBodyKind::edge, "the lower edge of " + door.name});
    }
    set_motion(door, model);
    return model;
}

/// What is said of a piece whose thickness cannot be computed.
Finding not_draped(const Piece& piece, const std::string& why) {
    Finding finding;
    finding.id = "forming/" + piece.name + "/thickness";
    finding.title = piece.name + ", thickness as formed";
    finding.stage = Stage::forming;
    finding.unit = Unit::mm;
    finding.state = State::not_measured;
    finding.why = "The sheet cannot be draped: " + why +
                  " Until then every check takes the sheet to be as thick everywhere as before it is formed.";
    finding.missing = {"a section of " + piece.name + " that the sheet can be drawn to"};
    finding.formula = "the sheet sticks where it touches the mould; what is free thins evenly; its volume is kept";
    finding.source = "sequential contact, geometry of volume conserved; see core/forming/formed_sheet.h";
    return finding;
}

/// How thick the sheet comes out. Null, and a finding that says why, if it cannot be draped; null without more if
/// something is not decided yet, which the thinning says.
std::shared_ptr<const FormedSheet> formed_or_said(const Job& job, const Piece& piece, const Loft& line,
                                                  std::vector<Finding>& findings) {
    if (!lacking_for_formed_sheet(job, piece).empty()) {
        return nullptr;
    }
    auto formed = formed_sheet(job, piece, line, draw_tilt(job, piece, line));
    if (!formed) {
        findings.push_back(not_draped(piece, formed.error().message));
        return nullptr;
    }
    return std::move(formed).value();
}

/// A piece's sheet as a mesh, end caps included, and where on its sections each triangle is.
struct MeshedSheet {
    RingMesh ring;
    Mesh mesh;
};

/// Errors: led by the piece.
Result<MeshedSheet> meshed_sheet(const Piece& piece, const Loft& line, const FormedSheet* formed, Length deviation) {
    const auto body = sheet_body(piece, line, formed, k_sagitta_part * deviation);
    if (!body) {
        return led_by(piece_words(piece), body.error());
    }
    auto ring = meshed_body(body.value(), deviation);
    if (!ring) {
        return led_by(piece_words(piece), ring.error());
    }
    auto mesh = with_end_caps(piece, body.value(), ring.value().mesh, deviation);
    if (!mesh) {
        return mesh.error();
    }
    return MeshedSheet{std::move(ring).value(), std::move(mesh).value()};
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
                               std::vector<Finding>& findings, const std::stop_token& stop) {
    const Piece& piece = job.skirt.pieces[index];
    PieceModel model;
    model.name = piece.name;
    const std::string what = piece_words(piece);
    if (piece.file) {
        auto body = imported_body(job, *piece.file, folder, "sections/" + piece.name, piece.name, findings, stop);
        if (!body) {
            return body.error();
        }
        model.body = std::move(body).value();
        return model;
    }
    model.missing = lacking_for_loft(job, piece.drawn, false, piece.name);
    if (!model.missing.empty()) {
        return model;
    }
    auto line = loft_of(job, piece.drawn, false, what);
    if (!line) {
        return line.error();
    }
    model.line = std::move(line).value();
    if (!piece.sheet) {
        model.missing.push_back("the sheet thickness of " + piece.name);
        return model;
    }
    model.formed = formed_or_said(job, piece, *model.line, findings);
    auto sheet = meshed_sheet(piece, *model.line, model.formed.get(), deviation);
    if (!sheet && model.formed) {
        findings.push_back(not_draped(piece, sheet.error().message));
        model.formed = nullptr;
        sheet = meshed_sheet(piece, *model.line, nullptr, deviation);
    }
    if (!sheet) {
        return sheet.error();
    }
    auto& [ring, mesh] = sheet.value();
    auto body = with_tree(piece.name, std::move(mesh), std::move(ring), stop);
    if (!body) {
        return body.error();
    }
    model.body = std::move(body).value();
    return model;
}

void take_sureness(const Job& job, const survey::Results& results, CarModel& car) {
    car.mount_covariances_mm2.clear();
    car.mounts_together = {};
    for (const Mount& mount : job.mounts) {
        const survey::PlacedPoint* const point = mount.from_book ? results.solution.find(mount.name) : nullptr;
        if (point != nullptr) {
            car.mount_covariances_mm2[mount.name] = point->covariance_mm2;
            car.mounts_together.names.push_back(mount.name);
        }
    }
    car.mounts_together.covariance_mm2 = results.solution.covariance_mm2(car.mounts_together.names);
    for (std::size_t i = 0; i < car.doors.size(); ++i) {
        const Door& door = job.doors[i];
        const survey::HingeAxis* const axis =
            door.hinge && door.hinge->from_book ? survey::axis_of(results, door.name) : nullptr;
        car.doors[i].axis = axis != nullptr ? std::optional(*axis) : std::nullopt;
    }
}

Result<CarModel> car_model(const Job& job, const std::filesystem::path& folder, Length deviation,
                           const KnownModels& known, const geometry::Watch& watch) {
    const double steps = static_cast<double>(job.skirt.pieces.size() + job.doors.size());
    const auto told = [&](std::size_t done) {
        if (watch.progress) {
            watch.progress(static_cast<double>(done) / steps);
        }
    };
    CarModel car;
    car.missing_body = lacking_for_loft(job, job.body, false, "the body");
    if (car.missing_body.empty()) {
        auto body = loft_of(job, job.body, false, "body");
        if (!body) {
            return body.error();
        }
        car.body = std::move(body).value();
    }
    for (std::size_t i = 0; i < job.skirt.pieces.size(); ++i) {
        if (const PieceModel* const same = known_piece(job, job.skirt.pieces[i], known)) {
            car.pieces.push_back(*same);
        } else if (watch.stop.stop_requested()) {
            return stopped();
        } else {
            std::vector<Finding> findings;
            auto piece = piece_model(job, i, folder, deviation, findings, watch.stop);
            if (!piece) {
                return piece.error();
            }
            car.pieces.push_back(std::move(piece).value());
            car.pieces.back().findings = std::move(findings);
        }
        const auto& findings = car.pieces.back().findings;
        car.findings.insert(car.findings.end(), findings.begin(), findings.end());
        told(i + 1);
    }
    for (const Door& door : job.doors) {
        auto model = door_model(job, door, folder, deviation, known, watch.stop);
        if (!model) {
            return model.error();
        }
        car.doors.push_back(std::move(model).value());
        for (const DoorPart& part : car.doors.back().parts) {
            car.findings.insert(car.findings.end(), part.findings.begin(), part.findings.end());
        }
        told(job.skirt.pieces.size() + car.doors.size());
    }
    return car;
}

Result<BodyModel> body_surface(const Loft& body, Length deviation) {
    constexpr Length k_foil = geometry::millimetres(0.01);
    const auto foil = even_sheet(body, {Length{}, -k_foil, geometry::RingFace::outside}, deviation);
    if (!foil) {
        return led_by("body", foil.error());
    }
    auto meshed = meshed_body(foil.value(), deviation);
    if (!meshed) {
        return led_by("body", meshed.error());
    }
    RingMesh ring = std::move(meshed).value();
    Mesh mesh = ring.mesh;
    return with_tree("body", std::move(mesh), std::move(ring), {});
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

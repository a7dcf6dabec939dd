#pragma once

#include <Eigen/Core>
#include <filesystem>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/job.h"
#include "core/survey/hinge_axis.h"
#include "geometry/distance_tree.h"
#include "geometry/loft.h"
#include "geometry/mesh.h"
#include "geometry/motion.h"
#include "geometry/motion_distance.h"
#include "geometry/result.h"
#include "geometry/ring_mesh.h"

/// A job's shapes, computed: what all checks read.
///
/// Units and frame: millimetres; (along, out, up) taken as a right-handed frame,
///   on either side of the car. Distances and angles are the same in the mirror.
namespace sillwright::core::survey {
struct Results;
}

namespace sillwright::core {

struct FormedSheet;

/// A closed body as a mesh with its distance tree, and, if it was drawn, where on
/// its sections each triangle is.
struct BodyModel {
    std::string name;
    geometry::Mesh mesh;
    std::optional<geometry::RingMesh> ring;  ///< Of a body drawn by sections and not trimmed.
    std::shared_ptr<const geometry::DistanceTree> tree;
};

/// One piece of the skirt, as the job has it.
struct PieceModel {
    std::string name;
    std::optional<geometry::Loft> line;           ///< Through the drawn line; none for a file.
    std::optional<BodyModel> body;                ///< The sheet, end caps included; none if something is missing.
    std::vector<std::string> missing;             ///< What must be measured before there is a body.
    std::vector<Finding> findings{};              ///< Of its file.
    std::shared_ptr<const FormedSheet> formed{};  ///< Null: taken to be as thick as the sheet everywhere.
};

struct DoorPart {
    BodyModel body;
    DoorBodyKind kind = DoorBodyKind::edge;
    std::vector<Finding> findings{};  ///< Of its file.
};

/// A body of a door of which too little is measured.
struct MissingPart {
    DoorBodyKind kind = DoorBodyKind::edge;
    std::string words;  ///< What must be measured.
};

/// A door, shut and on its striker, and how it moves.
struct DoorModel {
    std::string name;
    std::vector<DoorPart> parts;
    std::optional<geometry::HingeMotion> on_striker;  ///< Without sag. None if the hinge or the opening is missing.
    std::optional<geometry::HingeMotion> released;    ///< With its sag. None if the sag is not measured.
    std::optional<geometry::Angle> opening;
    std::optional<geometry::Angle> over_slam;  ///< Past shut, positive.
    std::optional<survey::HingeAxis> axis;     ///< How sure it is; none if its pins are not kept from the book.
    std::vector<MissingPart> missing_parts;
    std::vector<std::string> missing_motion;  ///< What must be measured before the door can be swung.
};

/// How sure several places are together.
struct PlacesTogether {
    std::vector<std::string> names;
    Eigen::MatrixXd covariance_mm2;  ///< Three rows each, in that order: along, out, up.
};

struct CarModel {
    std::optional<geometry::Loft> body;     ///< Rocker, pinch weld, floor edge: open lines.
    std::vector<std::string> missing_body;  ///< What must be drawn before there is one.
    std::vector<PieceModel> pieces;         ///< As job.skirt.pieces.
    std::vector<DoorModel> doors;           ///< As job.doors.
    std::vector<Finding> findings{};        ///< Of imported shapes, all of those of pieces and doors.
    /// Of the places of mounts that are kept from the book, by name; other mounts have their typed deviations.
    std::map<std::string, Eigen::Matrix3d> mount_covariances_mm2{};
    PlacesTogether mounts_together{};  ///< The same places, with the covariances between them.
};

/// What was made of an earlier value of a job: taken over where nothing that a body is made from has changed.
struct KnownModels {
    const Job* job = nullptr;
    const CarModel* car = nullptr;                    ///< Null if nothing is known.
    std::function<bool(const ShapeFile&)> same_file;  ///< Whether a file is still what it was then.
};

/// Greatest deviation of the meshes that distances are found on.
constexpr geometry::Length k_check_deviation = geometry::millimetres(0.02);

/// The model of a job whose files lie in `folder`.
/// Errors: does_not_fit where sections cannot be lofted or a sheet cannot be laid
///   on, unreadable_file for shapes; each names the piece or door and the place; stopped.
geometry::Result<CarModel> car_model(const Job& job, const std::filesystem::path& folder,
                                     geometry::Length deviation = k_check_deviation, const KnownModels& known = {},
                                     const geometry::Watch& watch = {});

/// Puts into the model how sure the book makes what is kept from it.
void take_sureness(const Job& job, const survey::Results& results, CarModel& car);

/// One piece alone: for trying a change.
geometry::Result<PieceModel> piece_model(const Job& job, std::size_t piece, const std::filesystem::path& folder,
                                         geometry::Length deviation, std::vector<Finding>& findings,
                                         const std::stop_token& stop = {});

/// "skirt piece "front"", for messages.
std::string piece_words(const Piece& piece);

/// A piece's sheet, of which `mesh` is the mesh, closed at the ends that are closed.
/// Errors: as end_cap, led by the piece.
geometry::Result<geometry::Mesh> with_end_caps(const Piece& piece, const geometry::RingBody& sheet, geometry::Mesh mesh,
                                               geometry::Length deviation);

/// The outer face of the body's sections, for pictures and for what a door carries.
/// Its mesh is that of a foil, so that it is closed.
geometry::Result<BodyModel> body_surface(const geometry::Loft& body, geometry::Length deviation);

/// Between which named nodes a triangle of a drawn body lies: "shelf edge to bead",
/// "bead" for a rounding, "end cap"; empty for a body from a file.
std::string strip_words(const BodyModel& body, const std::optional<geometry::Loft>& line, std::int32_t triangle);

}  // namespace sillwright::core

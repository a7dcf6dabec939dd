#include "core/buck/section_drawings.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <set>
#include <utility>

#include "core/buck/station_outline.h"
#include "core/drawn_loft.h"
#include "core/file_name.h"
#include "core/handover/findings_file.h"
#include "core/number_text.h"
#include "core/plain_text.h"
#include "core/sill_frame.h"
#include "core/skirt/surface.h"
#include "geometry/corner.h"
#include "geometry/mesh_section.h"
#include "geometry/parallel.h"
#include "geometry/varying_parallel.h"

namespace sillwright::core {

using Eigen::Vector2d;
using Eigen::Vector3d;
using geometry::DrawnChain;
using geometry::DrawnLine;
using geometry::DrawnPoint;
using geometry::DrawnText;
using geometry::Error;
using geometry::Length;
using geometry::Loft;
using geometry::millimetres;
using geometry::Profile;
using geometry::Result;
using geometry::Status;

namespace {

const std::string k_drawn = "SKIRT_DRAWN";
const std::string k_inside = "SKIRT_INSIDE";
const std::string k_outside = "SKIRT_OUTSIDE";
const std::string k_painted = "SKIRT_PAINTED";
const std::string k_body = "CAR_BODY";
const std::string k_door = "DOOR_SHUT";
const std::string k_mount = "MOUNT";
const std::string k_point = "NAMED_POINT";
const std::string k_note = "NOTE";

// Of the words, to be read on a sheet at 1:1 (by eye).
constexpr double k_warning_mm = 6.0;
constexpr double k_line_mm = 3.5;
constexpr double k_number_mm = 2.5;
constexpr double k_line_pitch = 1.7;
constexpr double k_beside_mm = 15.0;  ///< From what is drawn to the words.
constexpr double k_axis_behind_mm = 12.0, k_axis_ahead_mm = 28.0;

std::string plain(const std::string& words) {
    return in_ascii(without_controls(words));
}

std::string number(double mm) {
    constexpr double k_hundredths = 100.0;
    return number_text(std::round(mm * k_hundredths) / k_hundredths + 0.0);
}

geometry::Drawing empty_drawing() {
    return {{{k_drawn, 8},
             {k_inside, 4},
             {k_outside, 1},
             {k_painted, 6},
             {k_body, 7},
             {k_door, 5},
             {k_mount, 2},
             {k_point, 1},
             {k_note, 3}},
            {}};
}

bool reaches(const Loft& loft, Length along) {
    return loft.front() <= along && along <= loft.rear();
}

class SectionDrawer {
public:
    SectionDrawer(const Job& job, const CarModel& car, const Station& station, SectionDrawing& section)
        : job_{job}, car_{car}, station_{station}, along_{station.along.value}, section_{section} {}

    /// Whether a piece of the skirt is there.
    [[nodiscard]] bool has_skirt() const {
        return std::any_of(car_.pieces.begin(), car_.pieces.end(),
                           [&](const PieceModel& piece) { return piece.line && reaches(*piece.line, along_); });
    }

    Status draw() {
        for (std::size_t i = 0; i < car_.pieces.size(); ++i) {
            if (auto drawn = add_piece(i); !drawn) {
                return led(drawn.error());
            }
        }
        if (auto drawn = add_body(); !drawn) {
            return led(drawn.error());
        }
        for (std::size_t i = 0; i < car_.doors.size(); ++i) {
            if (auto drawn = add_door(i); !drawn) {
                return led(drawn.error());
            }
        }
        add_mounts();
        add_words();
        return std::monostate{};
    }

private:
    [[nodiscard]] Error led(const Error& error) const {
        return {error.code, "Section at station " + station_.name + ": " + error.message};
    }
    void put(const std::string& layer, geometry::DrawnShape shape) {
        section_.drawing.entities.push_back({layer, std::move(shape)});
    }
    Status put_profile(const std::string& layer, const Profile& profile) {
        auto shape = geometry::shape_of(profile);
        if (!shape) {
            return shape.error();
        }
        put(layer, std::move(shape).value());
        return std::monostate{};
    }
    void put_points(const std::string& layer, const std::vector<Vector2d>& points, bool closed) {
        DrawnChain chain{{}, closed};
        for (const Vector2d& p : points) {
            chain.vertices.push_back({p});
        }
        if (chain.vertices.size() > 1) {
            put(layer, std::move(chain));
        }
    }

    Status add_piece(std::size_t index) {
        const Piece& piece = job_.skirt.pieces[index];
        const PieceModel& model = car_.pieces[index];
        if (!model.line) {
            section_.notes.push_back("Piece \"" + piece.name + "\" is not drawn by sections and is not shown.");
            return std::monostate{};
        }
        if (!reaches(*model.line, along_)) {
            return std::monostate{};
        }
        const auto line = model.line->section_at(along_);
        if (!line) {
            return line.error();
        }
        if (auto drawn = put_profile(k_drawn, line.value()); !drawn) {
            return drawn;
        }
        const std::array faces{std::pair{Surface::inside, &k_inside}, std::pair{Surface::outside, &k_outside},
                               std::pair{Surface::painted_outside, &k_painted}};
        for (const auto& [surface, layer] : faces) {
            if (auto drawn = add_face(piece, model, line.value(), surface, *layer); !drawn) {
                return drawn;
            }
        }
        add_points(piece);
        return std::monostate{};
    }

    Status add_face(const Piece& piece, const PieceModel& model, const Profile& line, Surface surface,
                    const std::string& layer) {
        const auto law = outward_law(piece, *model.line, model.formed.get(), job_.skirt.paint, surface,
                                     job_.forming.mould.value_or(MouldKind::male));
        if (!law) {
            section_.notes.push_back("Piece \"" + piece.name + "\": " + layer + " is not drawn: " +
                                     (piece.sheet ? "the film of paint" : "the sheet thickness") + " is not given.");
            return std::monostate{};
        }
        if (!law->is_same()) {
            return add_formed_face(*model.line, law->at(along_), layer);
        }
        const auto face = geometry::parallel(line, millimetres(law->mm.front()));
        if (!face) {
            return face.error();
        }
        for (const Profile& chain : face.value().chains) {
            if (auto drawn = put_profile(layer, chain); !drawn) {
                return drawn;
            }
        }
        return std::monostate{};
    }

    Status add_formed_face(const Loft& loft, const geometry::OffsetRow& offsets, const std::string& layer) {
        const auto nodes = loft.nodes_at(along_);
        std::vector<geometry::Corner> corners;
        Status found = geometry::find_corners(nodes, loft.names(), false, corners);
        const auto [least, most] = std::minmax_element(offsets.mm.begin(), offsets.mm.end());
        for (const double offset : {*least, *most}) {
            if (found) {
                found = geometry::check_room(corners, loft.names(), false, offset);
            }
        }
        if (!found) {
            return found;
        }
        put_points(layer,
                   geometry::varying_parallel(corners, geometry::plain_marks(nodes.size()), offsets, k_outline_fit),
                   false);
        return std::monostate{};
    }

    void add_points(const Piece& piece) {
        const auto drawn = std::find_if(piece.drawn.sections.begin(), piece.drawn.sections.end(),
                                        [&](const Section& one) { return one.station == station_.name; });
        if (drawn == piece.drawn.sections.end()) {
            return;
        }
        for (const Node& node : drawn->nodes) {
            const Vector2d at{geometry::in_mm(node.out.value), geometry::in_mm(node.up.value)};
            ++points_;
            put(k_point, DrawnPoint{at});
            put(k_note, DrawnText{at + Vector2d{1.0, 1.0}, millimetres(k_number_mm), {}, std::to_string(points_)});
            list_.push_back(std::to_string(points_) + " " + node.name + ": out " + number(at.x()) + ", up " +
                            number(at.y()) + ", radius " + number(geometry::in_mm(node.radius.value)));
        }
    }

    Status add_body() {
        if (!car_.body) {
            for (const std::string& missing : car_.missing_body) {
                section_.notes.push_back("The car's body is not drawn: " + missing + ".");
            }
            return std::monostate{};
        }
        if (!reaches(*car_.body, along_)) {
            return std::monostate{};
        }
        const auto line = car_.body->section_at(along_);
        return line ? put_profile(k_body, line.value()) : Status{line.error()};
    }

    Status add_door(std::size_t index) {
        const Door& door = job_.doors[index];
        for (const DoorBody& body : door.bodies) {
            const auto& parts = car_.doors[index].parts;
            const auto part = std::find_if(parts.begin(), parts.end(),
                                           [&](const DoorPart& one) { return one.body.name == body.name; });
            if (part == parts.end()) {
                section_.notes.push_back("Door \"" + door.name + "\", " + body.name + ": not measured, not shown.");
                continue;
            }
            const bool as_drawn = part->body.ring && body.closed;
            if (auto drawn = as_drawn ? add_drawn_door(door, body) : add_cut_door(part->body.mesh); !drawn) {
                return drawn;
            }
        }
        return std::monostate{};
    }

    /// The drawn section itself, where nothing was taken off it.
    Status add_drawn_door(const Door& door, const DoorBody& body) {
        const auto loft = loft_of(job_, body.drawn, body.closed, "door \"" + door.name + "\"");
        if (!loft) {
            return loft.error();
        }
        if (!reaches(loft.value(), along_)) {
            return std::monostate{};
        }
        const auto line = loft.value().section_at(along_);
        return line ? put_profile(k_door, line.value()) : Status{line.error()};
    }

    Status add_cut_door(const geometry::Mesh& mesh) {
        const geometry::Plane plane{Vector3d(geometry::in_mm(along_), 0.0, 0.0), Vector3d::UnitX()};
        for (const geometry::CutChain& chain : geometry::mesh_section(mesh, plane)) {
            std::vector<Vector2d> points;
            for (const Vector3d& p : chain.points_mm) {
                points.emplace_back(p.y(), p.z());
            }
            put_points(k_door, points, chain.closed);
        }
        return std::monostate{};
    }

    void add_mounts() {
        for (const Mount& mount : job_.mounts) {
            const double rearward = geometry::in_mm(mount.at.along.value - along_);
            if (std::abs(rearward) > geometry::in_mm(k_mount_near)) {
                continue;
            }
            const Vector3d at = core::in_mm(mount.at);
            const Vector2d seat(at.y(), at.z());
            const Vector2d axis(mount.axis.y(), mount.axis.z());
            put(k_mount, DrawnLine{seat - k_axis_behind_mm * axis, seat + k_axis_ahead_mm * axis});
            put(k_mount, DrawnPoint{seat});
            if (mount.size) {
                const Vector2d across = 0.5 * geometry::in_mm(mount.size->value) * Vector2d(-axis.y(), axis.x());
                put(k_mount, DrawnLine{seat - across, seat + across});
            }
            const std::string far = rearward == 0.0 ? ""
                                                    : ", " + number(std::abs(rearward)) + " mm " +
                                                          (rearward > 0.0 ? "to the rear" : "to the front");
            put(k_note, DrawnText{seat + k_axis_ahead_mm * axis - Vector2d(0.0, 1.2 * k_number_mm),
                                  millimetres(k_number_mm),
                                  {},
                                  plain(mount.name)});
            list_.push_back("Mount " + mount.name + far + ": out " + number(seat.x()) + ", up " + number(seat.y()));
        }
    }

    void add_words() {
        const Eigen::AlignedBox2d box = geometry::bounds_mm(section_.drawing);
        Vector2d at{box.max().x() + k_beside_mm, box.max().y()};
        const auto put_line = [&](const std::string& words, double height) {
            at.y() -= k_line_pitch * height;
            put(k_note, DrawnText{at, millimetres(height), {}, plain(words)});
        };
        put_line(k_not_for_buck_warning, k_warning_mm);
        put_line(job_heading(job_), k_line_mm);
        put_line("Station " + station_.name + ", along " + number(geometry::in_mm(along_)) + " mm. x is out, y is up.",
                 k_line_mm);
        put_line(job_.side == Side::right ? "Seen looking forward." : "Seen looking rearward.", k_line_mm);
        put_line(
            std::string("SCALE 1:1. UNIT: ") +
                (job_.buck.unit == DrawingUnit::inches ? "INCHES; numbers below are millimetres." : "MILLIMETRES."),
            k_line_mm);
        for (const std::string& line : list_) {
            put_line(line, k_line_mm);
        }
        const std::set<std::string> once(section_.notes.begin(), section_.notes.end());
        section_.notes.assign(once.begin(), once.end());
        for (const std::string& note : section_.notes) {
            put_line(note, k_line_mm);
        }
    }

    const Job& job_;
    const CarModel& car_;
    const Station& station_;
    Length along_;
    SectionDrawing& section_;
    int points_ = 0;
    std::vector<std::string> list_;
};

}  // namespace

Result<std::vector<SectionDrawing>> section_drawings(const Job& job, const CarModel& car) {
    std::vector<SectionDrawing> sections;
    std::vector<std::string> taken;
    for (const Station& station : job.stations) {
        SectionDrawing section{"", station.along.value, empty_drawing(), {}};
        SectionDrawer drawer(job, car, station, section);
        if (!drawer.has_skirt()) {
            continue;
        }
        if (const auto drawn = drawer.draw(); !drawn) {
            return drawn.error();
        }
        section.stem = unique_file_name("section_" + station.name, taken);
        sections.push_back(std::move(section));
    }
    return sections;
}

}  // namespace sillwright::core

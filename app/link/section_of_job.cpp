#include "app/link/section_of_job.h"

#include <cmath>
#include <cstdio>
#include <optional>
#include <string>
#include <utility>

#include "app/link/door_limits_of_job.h"
#include "core/drawn_loft.h"
#include "core/sill_frame.h"
#include "core/skirt/surface.h"
#include "geometry/mesh_section.h"
#include "geometry/parallel.h"
#include "geometry/profile.h"

namespace sillwright::app {

using Eigen::Vector2d;
using Eigen::Vector3d;
using geometry::in_mm;
using geometry::Length;
using geometry::Loft;
using geometry::Profile;
using geometry::Result;
using geometry::Status;

namespace {

/// Less than a pixel at any scale that a section is drawn at.
constexpr Length k_chord_tolerance = geometry::millimetres(0.02);
/// A mount further off than this says nothing about the section.
constexpr Length k_mount_reach = geometry::millimetres(25.0);
/// Nearer than this a mount is said to be in the section.
constexpr Length k_in_section = geometry::millimetres(0.5);
constexpr double k_axis_behind_mm = 12.0;
constexpr double k_axis_ahead_mm = 28.0;

bool reaches(const Loft& loft, Length along) {
    return loft.front() <= along && along <= loft.rear();
}

class Section {
public:
    Section(const core::Evaluation& evaluation, Length along) : all_{evaluation}, job_{evaluation.job}, along_{along} {
        const bool right = job_.side == core::Side::right;
        picture_.title =
            "section " + core::at_place_words(job_, along) + (right ? " · looking forward" : " · looking rearward");
    }

    Result<SectionPicture> make() {
        if (const Status body = add_body(); !body) {
            return body.error();
        }
        for (std::size_t i = 0; i < job_.doors.size(); ++i) {
            if (const Status door = add_door(i); !door) {
                return door.error();
            }
        }
        if (const Status limits = add_door_limits(); !limits) {
            return limits.error();
        }
        for (std::size_t i = 0; i < job_.skirt.pieces.size(); ++i) {
            if (const Status piece = add_piece(i); !piece) {
                return piece.error();
            }
        }
        for (const core::Mount& mount : job_.mounts) {
            add_mount(mount);
        }
        for (const core::KeepOut& keep_out : job_.keep_outs) {
            add_keep_out(keep_out);
        }
        return std::move(picture_);
    }

private:
    Status add_body() {
        if (!all_.car.body || !reaches(*all_.car.body, along_)) {
            return std::monostate{};
        }
        const auto profile = all_.car.body->section_at(along_);
        return profile ? add_profile(profile.value(), SectionRole::body, "body") : Status{profile.error()};
    }

    Status add_door(std::size_t index) {
        const core::Door& door = job_.doors[index];
        for (const core::DoorBody& body : door.bodies) {
            const core::DoorPart* part = part_of(all_.car.doors[index], body.name);
            if (part == nullptr) {
                continue;  // It lacks something, which a finding says.
            }
            // The drawn section itself, where nothing was taken off it.
            if (part->body.ring && body.closed) {
                if (const Status added = add_drawn_door(door, body); !added) {
                    return added.error();
                }
            } else {
                add_cut(part->body.mesh, SectionRole::door, name_of(door, body));
            }
        }
        return std::monostate{};
    }

    Status add_drawn_door(const core::Door& door, const core::DoorBody& body) {
        const auto loft = core::loft_of(job_, body.drawn, body.closed, "door \"" + door.name + "\"");
        if (!loft) {
            return loft.error();
        }
        if (!reaches(loft.value(), along_)) {
            return std::monostate{};
        }
        const auto profile = loft.value().section_at(along_);
        return profile ? add_profile(profile.value(), SectionRole::door, name_of(door, body)) : Status{profile.error()};
    }

    Status add_door_limits() {
        const auto limits = door_limits_at(all_, along_);
        if (!limits) {
            return limits.error();
        }
        for (const DoorLimit& limit : limits.value()) {
            std::string name = limit.door + " limit";
            for (const std::vector<Vector2d>& chain_mm : limit.chains_mm) {
                picture_.lines.push_back({SectionRole::door_limit, chain_mm, false, std::exchange(name, "")});
            }
        }
        return std::monostate{};
    }

    static const core::DoorPart* part_of(const core::DoorModel& door, const std::string& name) {
        for (const core::DoorPart& part : door.parts) {
            if (part.body.name == name) {
                return &part;
            }
        }
        return nullptr;
    }

    static std::string name_of(const core::Door& door, const core::DoorBody& body) {
        return door.bodies.size() < 2 ? door.name : door.name + ", " + body.name;
    }

    Status add_piece(std::size_t index) {
        const core::Piece& piece = job_.skirt.pieces[index];
        const core::PieceModel& model = all_.car.pieces[index];
        if (!model.line) {
            if (model.body) {
                add_cut(model.body->mesh, SectionRole::skirt_outside, piece.name);
            }
            return std::monostate{};
        }
        if (!reaches(*model.line, along_)) {
            return std::monostate{};
        }
        const auto line = model.line->section_at(along_);
        if (!line) {
            return line.error();
        }
        const bool sheet = core::sheet_faces(piece).has_value();
        if (const Status drawn = add_profile(line.value(), SectionRole::skirt_drawn, sheet ? "" : piece.name); !drawn) {
            return drawn.error();
        }
        for (const auto& [surface, role] : {std::pair{core::Surface::inside, SectionRole::skirt_inside},
                                            std::pair{core::Surface::outside, SectionRole::skirt_outside}}) {
            const std::string name = surface == core::Surface::outside ? piece.name : "";
            if (const Status face = add_face(piece, line.value(), surface, role, name); !face) {
                return face.error();
            }
        }
        add_nodes(*model.line, line.value());
        return std::monostate{};
    }

    Status add_face(const core::Piece& piece, const Profile& line, core::Surface surface, SectionRole role,
                    const std::string& name) {
        const auto offset = core::outward_offset(piece, job_.skirt.paint, surface);
        if (!offset) {
            return std::monostate{};
        }
        const auto face = geometry::parallel(line, *offset);
        if (!face) {
            return face.error();
        }
        for (std::size_t i = 0; i < face.value().chains.size(); ++i) {
            if (const Status added = add_profile(face.value().chains[i], role, i == 0 ? name : ""); !added) {
                return added.error();
            }
        }
        return std::monostate{};
    }

    /// The names of the nodes that are there, on the line itself: a rounding takes
    /// its corner away.
    void add_nodes(const Loft& loft, const Profile& line) {
        const std::vector<geometry::ProfileNode> nodes = loft.nodes_at(along_);
        for (std::size_t i = 0; i < nodes.size(); ++i) {
            if (!loft.present_at(i, along_)) {
                continue;
            }
            const geometry::NearestOnProfile nearest = geometry::nearest_point(line, nodes[i].p_mm);
            const geometry::Segment& segment = line.segments[nearest.segment];
            const Vector2d run = geometry::direction_at(segment, geometry::nearest_fraction(segment, nearest.p_mm));
            picture_.points.push_back(
                {SectionRole::skirt_drawn, nearest.p_mm, loft.names()[i], Vector2d(-run.y(), run.x())});
        }
    }

    void add_mount(const core::Mount& mount) {
        const Length ahead = mount.at.along.value - along_;
        if (std::abs(in_mm(ahead)) > in_mm(k_mount_reach)) {
            return;
        }
        const Vector3d at = core::in_mm(mount.at);
        const Vector2d seat(at.y(), at.z());
        const Vector2d axis(mount.axis.y(), mount.axis.z());
        picture_.lines.push_back(
            {SectionRole::mount_axis, {seat - k_axis_behind_mm * axis, seat + k_axis_ahead_mm * axis}, false, ""});
        picture_.points.push_back({SectionRole::mount_axis, seat, mount.name + how_far(ahead), Vector2d::Zero()});
    }

    /// " (12 mm rearward)" for a mount beside the section.
    static std::string how_far(Length ahead) {
        if (std::abs(in_mm(ahead)) <= in_mm(k_in_section)) {
            return "";
        }
        char text[48];
        std::snprintf(text, sizeof text, " (%.0f mm %s)", std::abs(in_mm(ahead)),
                      ahead > Length{} ? "rearward" : "forward");
        return text;
    }

    void add_keep_out(const core::KeepOut& keep_out) {
        const Vector3d from = core::in_mm(keep_out.from);
        const Vector3d to = core::in_mm(keep_out.to);
        const Vector3d low = from.cwiseMin(to);
        const Vector3d high = from.cwiseMax(to);
        if (in_mm(along_) < low.x() || in_mm(along_) > high.x()) {
            return;
        }
        picture_.lines.push_back({SectionRole::keep_out,
                                  {{low.y(), low.z()}, {high.y(), low.z()}, {high.y(), high.z()}, {low.y(), high.z()}},
                                  true,
                                  keep_out.name});
    }

    Status add_profile(const Profile& profile, SectionRole role, const std::string& name) {
        auto points = geometry::polyline(profile, k_chord_tolerance);
        if (!points) {
            return points.error();
        }
        std::vector<Vector2d> points_mm = std::move(points).value();
        if (profile.closed) {
            points_mm.pop_back();
        }
        picture_.lines.push_back({role, std::move(points_mm), profile.closed, name});
        return std::monostate{};
    }

    void add_cut(const geometry::Mesh& mesh, SectionRole role, const std::string& name) {
        const geometry::Plane plane{Vector3d(in_mm(along_), 0.0, 0.0), Vector3d::UnitX()};
        bool first = true;
        for (const geometry::CutChain& chain : geometry::mesh_section(mesh, plane)) {
            SectionLine line{role, {}, chain.closed, first ? name : ""};
            for (const Vector3d& p_mm : chain.points_mm) {
                line.points_mm.emplace_back(p_mm.y(), p_mm.z());
            }
            picture_.lines.push_back(std::move(line));
            first = false;
        }
    }

    const core::Evaluation& all_;
    const core::Job& job_;
    Length along_;
    SectionPicture picture_;
};

}  // namespace

Result<SectionPicture> section_of_job(const core::Evaluation& evaluation, Length along) {
    return Section(evaluation, along).make();
}

}  // namespace sillwright::app

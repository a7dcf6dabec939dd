#include "app/link/section_strokes.h"

#include <utility>
#include <vector>

#include "core/keep_outs/keep_out_body.h"
#include "core/sill_frame.h"
#include "geometry/mesh_section.h"

namespace sillwright::app {

using Eigen::Vector2d;
using Eigen::Vector3d;
using geometry::in_mm;
using geometry::Length;

geometry::Status add_profile(SectionPicture& picture, const geometry::Profile& profile, const Stroke& stroke) {
    auto points = geometry::polyline(profile, k_chord_tolerance);
    if (!points) {
        return points.error();
    }
    std::vector<Vector2d> points_mm = std::move(points).value();
    if (profile.closed) {
        points_mm.pop_back();
    }
    picture.lines.push_back({stroke.role, std::move(points_mm), profile.closed, stroke.name, stroke.item});
    return std::monostate{};
}

void add_cut(SectionPicture& picture, const geometry::Mesh& mesh, Length along, const Eigen::Isometry3d& pose,
             const Stroke& stroke) {
    // The plane is turned back instead of the whole mesh being turned.
    const Eigen::Isometry3d back = pose.inverse();
    const geometry::Plane plane{back * Vector3d(in_mm(along), 0.0, 0.0), back.linear() * Vector3d::UnitX()};
    std::string name = stroke.name;
    for (const geometry::CutChain& chain : geometry::mesh_section(mesh, plane)) {
        SectionLine line{stroke.role, {}, chain.closed, std::exchange(name, ""), stroke.item};
        line.points_mm.reserve(chain.points_mm.size());
        for (const Vector3d& shut_mm : chain.points_mm) {
            const Vector3d p_mm = pose * shut_mm;
            line.points_mm.emplace_back(p_mm.y(), p_mm.z());
        }
        picture.lines.push_back(std::move(line));
    }
}

void add_keep_out(SectionPicture& picture, const core::KeepOut& keep_out, Length along) {
    if (keep_out.shape != core::KeepOutShape::box) {
        add_cut(picture, core::keep_out_body(keep_out).mesh, along, Eigen::Isometry3d::Identity(),
                {SectionRole::keep_out, keep_out.name, {Item::Kind::keep_out, keep_out.name}});
        return;
    }
    const Vector3d from = core::in_mm(keep_out.from);
    const Vector3d to = core::in_mm(keep_out.to);
    const Vector3d low = from.cwiseMin(to);
    const Vector3d high = from.cwiseMax(to);
    if (in_mm(along) < low.x() || in_mm(along) > high.x()) {
        return;
    }
    picture.lines.push_back({SectionRole::keep_out,
                             {{low.y(), low.z()}, {high.y(), low.z()}, {high.y(), high.z()}, {low.y(), high.z()}},
                             true,
                             keep_out.name,
                             {Item::Kind::keep_out, keep_out.name}});
}

bool reaches(const geometry::Loft& loft, Length along) {
    return loft.front() <= along && along <= loft.rear();
}

}  // namespace sillwright::app

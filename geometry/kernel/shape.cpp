#include "geometry/kernel/shape.h"

#include <BRepBuilderAPI_Copy.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepGProp.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRep_Tool.hxx>
#include <GProp_GProps.hxx>
#include <Poly_Triangulation.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Face.hxx>
#include <array>
#include <cmath>
#include <map>

#include "geometry/kernel/shape_access.h"
#include "geometry/text.h"

namespace sillwright::geometry {

namespace {

/// Angle between neighbouring triangles that the kernel's mesher aims at (radians):
/// its own usual value.
constexpr double k_mesher_angle = 0.5;
/// Mesh corners nearer than this are one: the kernel's own confusion of points, 1e-7 mm, and rounding.
constexpr double k_same_corner_mm = 1e-6;

std::size_t count(const TopoDS_Shape& shape, TopAbs_ShapeEnum kind) {
    std::size_t n = 0;
    for (TopExp_Explorer it(shape, kind); it.More(); it.Next()) {
        ++n;
    }
    return n;
}

/// Numbers corners, the same number for the same place.
class CornerNumbers {
public:
    explicit CornerNumbers(std::vector<Eigen::Vector3d>& points) : points_{points} {}

    std::int32_t number(const Eigen::Vector3d& p) {
        std::array<long long, 3> cell{};
        for (int k = 0; k < 3; ++k) {
            cell[static_cast<std::size_t>(k)] = std::llround(p[k] / k_same_corner_mm);
        }
        // A place at the border of its cell may have been numbered in the next.
        for (int dx = -1; dx <= 1; ++dx) {
            for (int dy = -1; dy <= 1; ++dy) {
                for (int dz = -1; dz <= 1; ++dz) {
                    const auto found = numbers_.find({cell[0] + dx, cell[1] + dy, cell[2] + dz});
                    if (found != numbers_.end() &&
                        (points_[static_cast<std::size_t>(found->second)] - p).norm() < k_same_corner_mm) {
                        return found->second;
                    }
                }
            }
        }
        const auto fresh = static_cast<std::int32_t>(points_.size());
        points_.push_back(p);
        numbers_.emplace(cell, fresh);
        return fresh;
    }

private:
    std::vector<Eigen::Vector3d>& points_;
    std::map<std::array<long long, 3>, std::int32_t> numbers_;
};

void add_face(Mesh& mesh, CornerNumbers& numbers, const TopoDS_Face& face, const Handle(Poly_Triangulation) & grid,
              const TopLoc_Location& location) {
    std::vector<std::int32_t> corner_of;
    for (int i = 1; i <= grid->NbNodes(); ++i) {
        const gp_Pnt p = grid->Node(i).Transformed(location.Transformation());
        corner_of.push_back(numbers.number({p.X(), p.Y(), p.Z()}));
    }
    for (int i = 1; i <= grid->NbTriangles(); ++i) {
        int a = 0;
        int b = 0;
        int c = 0;
        grid->Triangle(i).Get(a, b, c);
        if (face.Orientation() == TopAbs_REVERSED) {
            std::swap(b, c);
        }
        const auto at = [&](int k) { return corner_of[static_cast<std::size_t>(k - 1)]; };
        if (at(a) != at(b) && at(b) != at(c) && at(c) != at(a)) {
            mesh.triangles.push_back({at(a), at(b), at(c)});
        }
    }
}

}  // namespace

Result<bool> is_valid(const Shape& shape) {
    return at_kernel_border("checking a shape", [&]() -> Result<bool> {
        return static_cast<bool>(BRepCheck_Analyzer(kernel_shape(shape)).IsValid());
    });
}

Result<double> kernel_volume_mm3(const Shape& shape) {
    return at_kernel_border("measuring a volume", [&]() -> Result<double> {
        GProp_GProps properties;
        BRepGProp::VolumeProperties(kernel_shape(shape), properties);
        return properties.Mass();
    });
}

std::size_t solid_count(const Shape& shape) {
    return count(kernel_shape(shape), TopAbs_SOLID);
}

std::size_t face_count(const Shape& shape) {
    return count(kernel_shape(shape), TopAbs_FACE);
}

Result<Mesh> mesh_of(const Shape& shape, Length deflection) {
    if (!(deflection > Length{})) {
        return Error{ErrorCode::invalid_argument, "The mesh deflection must be more than zero."};
    }
    return at_kernel_border("meshing a shape within " + text(deflection), [&]() -> Result<Mesh> {
        const TopoDS_Shape copy = BRepBuilderAPI_Copy(kernel_shape(shape), true, false).Shape();
        const BRepMesh_IncrementalMesh mesher(copy, in_mm(deflection), false, k_mesher_angle);
        if (!mesher.IsDone()) {
            return Error{ErrorCode::kernel_failure, "The shape could not be meshed within " + text(deflection) + "."};
        }
        Mesh mesh;
        CornerNumbers numbers(mesh.points);
        for (TopExp_Explorer it(copy, TopAbs_FACE); it.More(); it.Next()) {
            const TopoDS_Face face = TopoDS::Face(it.Current());
            TopLoc_Location location;
            const Handle(Poly_Triangulation) grid = BRep_Tool::Triangulation(face, location);
            if (grid.IsNull()) {
                return Error{ErrorCode::kernel_failure, "A face of the shape could not be meshed within " +
                                                            text(deflection) + "; try another deflection."};
            }
            add_face(mesh, numbers, face, grid, location);
        }
        mesh.deviation = 2.0 * deflection;
        return mesh;
    });
}

}  // namespace sillwright::geometry

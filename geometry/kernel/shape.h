#pragma once

#include <memory>

#include "geometry/mesh.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::geometry {

/// A shape of the modelling kernel, owned; copies share it. The kernel's own types
/// stay behind kernel/shape_access.h.
///
/// Units and frame: millimetres, the frame of what it was made from.
class Shape {
public:
    struct Inside;
    explicit Shape(std::shared_ptr<const Inside> inside) : inside_{std::move(inside)} {}
    [[nodiscard]] const Inside& inside() const { return *inside_; }

private:
    std::shared_ptr<const Inside> inside_;
};

/// Whether the kernel's own checker finds nothing wrong.
/// Errors: kernel_failure if the kernel gives up.
Result<bool> is_valid(const Shape& shape);

/// Volume by the kernel's integrator (Gauss points on each face's spans), positive
/// for solids that face outward. Cubic millimetres.
/// Accuracy: not stated by the kernel; compare with a mesh's volume.
/// Errors: kernel_failure if the kernel gives up.
Result<double> kernel_volume_mm3(const Shape& shape);

std::size_t solid_count(const Shape& shape);
std::size_t face_count(const Shape& shape);

/// The kernel's own triangles, corners at one place joined. For shapes that come
/// from files; bodies made from lofts have better meshes of their own.
///
/// Accuracy: the kernel aims at `deflection`, measured in the middle of its triangles
///   and edges, and does not prove it; `deviation` is stated as twice that.
/// Errors: invalid_argument if the deflection is not positive; kernel_failure if the
///   kernel gives up or a face stays without triangles.
Result<Mesh> mesh_of(const Shape& shape, Length deflection);

}  // namespace sillwright::geometry

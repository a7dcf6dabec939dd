#include "core/sill_frame.h"

#include <utility>

namespace sillwright::core {

using Eigen::Vector3d;
using geometry::Mesh;

SillFrame::SillFrame(Side side, const std::optional<Entry>& zero_to_midplane)
    : sign_{side == Side::right ? 1.0 : -1.0},
      zero_mm_{zero_to_midplane ? geometry::in_mm(zero_to_midplane->value) : 0.0},
      placed_{zero_to_midplane.has_value()} {}

Vector3d SillFrame::car_from_sill(const Vector3d& p_sill_mm) const {
    return {p_sill_mm.x(), sign_ * (p_sill_mm.y() + zero_mm_), p_sill_mm.z()};
}

Vector3d SillFrame::sill_from_car(const Vector3d& p_car_mm) const {
    return {p_car_mm.x(), sign_ * p_car_mm.y() - zero_mm_, p_car_mm.z()};
}

Vector3d SillFrame::turned(const Vector3d& direction) const {
    return {direction.x(), sign_ * direction.y(), direction.z()};
}

Mesh SillFrame::car_from_sill(Mesh mesh_sill) const {
    for (Vector3d& point : mesh_sill.points) {
        point = car_from_sill(point);
    }
    return turned_about(std::move(mesh_sill));
}

Mesh SillFrame::sill_from_car(Mesh mesh_car) const {
    for (Vector3d& point : mesh_car.points) {
        point = sill_from_car(point);
    }
    return turned_about(std::move(mesh_car));
}

Mesh SillFrame::turned_about(Mesh mesh) const {
    if (sign_ < 0.0) {
        for (geometry::Triangle& triangle : mesh.triangles) {
            std::swap(triangle[1], triangle[2]);
        }
    }
    return mesh;
}

Vector3d in_mm(const Position& position) {
    return {geometry::in_mm(position.along.value), geometry::in_mm(position.out.value),
            geometry::in_mm(position.up.value)};
}

std::optional<Vector3d> in_mm(const PartPosition& position) {
    if (!position.along || !position.out || !position.up) {
        return std::nullopt;
    }
    return Vector3d(geometry::in_mm(position.along->value), geometry::in_mm(position.out->value),
                    geometry::in_mm(position.up->value));
}

}  // namespace sillwright::core

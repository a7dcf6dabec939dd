#pragma once

#include <cstddef>
#include <optional>

#include "core/car_model.h"
#include "core/job.h"
#include "core/mounts/landing.h"

namespace sillwright::core {

/// The piece of the skirt that a mount is fixed to.
struct MountPiece {
    std::size_t piece = 0;
    bool drawn = false;   ///< Its flange is drawn; else the piece is a mesh.
    double off_mm = 0.0;  ///< How far along the car the mount is from its stretch; zero within.
};

/// The piece carried by the body, with a flange or from a file, that is nearest along the car; the first of equals.
/// Precondition: `car` is the model of `job`.
std::optional<MountPiece> mount_piece(const Job& job, const CarModel& car, const Mount& mount);

/// A mount where it lands on a drawn flange.
struct LandedMount {
    std::size_t piece = 0;
    Landing landing;
};

/// Where a mount lands on its piece's drawn flange, with the covariance of the book where its place is kept from it,
/// else the typed one. No value where there is no drawn flange, or the axis does not meet it.
std::optional<LandedMount> landed_mount(const Job& job, const CarModel& car, const Mount& mount);

/// The covariance of the book where the mount's place is kept from it, else the typed one.
void take_covariance(const CarModel& car, const Mount& mount, Landing& landing);

}  // namespace sillwright::core

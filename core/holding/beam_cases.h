#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "core/car_model.h"
#include "core/holding/load_cases.h"
#include "core/holding/part_sections.h"
#include "core/job.h"
#include "core/material.h"
#include "core/mounts/hole_plan.h"
#include "geometry/continuous_beam.h"
#include "geometry/result.h"

/// A piece of the skirt as a beam on its mounts.
///
/// Model: the whole section bends (Euler, Bernoulli) between fasteners that do not give; how far the open section
///   twists or its shelf tilts between two fasteners is not in it. Section by section with the sheet as it is.
///
/// What a fastener is pulled by, in words. Look at the section from the front: the flange lies under the sill, flat on
///   its seat; a fastener goes up through it. Everything that hangs outboard of the fastener (face, shelf, a foot)
///   wants to turn the part about along, the outer side down. The flange cannot follow upward, because it lies on the
///   seat: it levers about its inner free edge. So the fastener is pulled by the load itself, and by moment / arm
///   more, where the arm is from the fastener to the flange's free edge. A moment the other way levers about the
///   flange's heel, at the bend. Where the top edge is screwed or taped, the couple is taken by two forces across
///   instead, at the top edge and at the flange, moment / their distance each; the fastener is then pulled by the
///   load alone. A load that presses the flange to its seat takes nothing off the pull. The moment of a load between
///   two fasteners is shared by the law of the lever; beyond the last one it is the last one's.
/// Source: statics.
namespace sillwright::core {

/// One fastener of a piece's flange.
struct HeldBy {
    const Mount* mount = nullptr;
    std::size_t number = 0;            ///< In the job's mounts.
    Eigen::Vector3d p_mm;              ///< Where it goes through the flange.
    double free_arm_mm = 0.0;          ///< To the flange's free edge, against the outer side going down.
    double heel_arm_mm = 0.0;          ///< To where the flange is flat at the bend, the other way.
    std::optional<double> top_arm_mm;  ///< To the top edge, if that is screwed or taped.
};

/// A piece made ready: its sections, fasteners and beams. The beams' stiffness is that of a modulus of 1 MPa, so that
/// deflections are divided by the material's own.
struct PartBeam {
    std::size_t piece = 0;
    std::vector<PartSection> sections;
    std::vector<HeldBy> held_by;  ///< Front to rear.
    std::vector<StepPlace> places;
    std::optional<geometry::ContinuousBeam> down, outward;

    [[nodiscard]] double sideways(LoadWay way) const;  ///< Greatest of all sections, in size.
};

/// Errors: as part_sections and ContinuousBeam::make (does_not_fit for fewer than two fasteners), led by the piece.
/// Precondition: the piece is drawn and has a sheet.
geometry::Result<PartBeam> part_beam(const Job& job, const CarModel& car, const MountPlan& plan, std::size_t piece);

/// What one load does.
struct BeamAnswer {
    geometry::BeamState state;       ///< For a modulus of 1 MPa.
    double deflection_mm_mpa = 0.0;  ///< Greatest, its way across taken along, times the modulus.
    geometry::Length deflection_at;
    double stress_mpa = 0.0;  ///< Greatest, in the sheet.
    geometry::Length stress_at;
    std::vector<double> pull_n;       ///< On each fastener.
    std::vector<double> moment_n_mm;  ///< About along at each fastener; positive: the outer side goes down.
    std::vector<double> top_n;        ///< Across at the top edge, opposite each fastener; zero if it is free.
};

geometry::Result<BeamAnswer> answer(const PartBeam& part, const LoadCase& load);

/// One load case of a piece, as numbers that can be drawn.
struct BeamCase {
    std::string piece, name;
    LoadKind kind = LoadKind::weight;
    LoadWay way = LoadWay::down;
    bool lasting = false;
    std::vector<Eigen::Vector2d>
        curve_mm;  ///< (along, deflection), hot, or by creep where lasting; none without modulus.
    struct AtMount {
        std::string mount;
        double along_mm = 0.0, reaction_n = 0.0, pull_n = 0.0;
    };
    std::vector<AtMount> mounts;
    std::optional<double> deflection_mm, strain;
};

/// All load cases of all drawn pieces that two fasteners or more hold; pieces that cannot be computed are left out (the
/// findings say why).
std::vector<BeamCase> beam_cases(const Job& job, const CarModel& car, const MountPlan& plan);

}  // namespace sillwright::core

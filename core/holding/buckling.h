#pragma once

#include <cstddef>

#include "core/finding.h"
#include "core/job.h"
#include "core/mounts/hole_plan.h"
#include "geometry/units.h"

namespace sillwright::core {

/// Strain at which a flange that is held flat at two fasteners waves between them: (pi²/3) (t/p)² K.
/// Source: Euler's column, clamped at both ends: 4 pi² E I / (A p²) with I/A = t²/12. K = 1 is that; the bend beside
///   the flange makes it more, which is not counted on.
double buckling_strain(geometry::Length thickness, geometry::Length pitch, double k = 1.0);

/// How much longer a warm part wants to be than the body lets it, as a strain: a_p dT_p - a_b dT_b, from when it was
///   fitted.
double squeeze_strain(double part_per_k, double part_kelvins, double body_per_k, double body_kelvins);

/// Whether the part can slide at a fastener through all its states: the fastener lets it, and the hole is long enough.
bool slides(const HolePlan& hole, const Mount& mount);

/// `mounts/<piece>/buckling between fasteners`, in percent of strain, of the flange as thick as core/skirt/thickness.h
/// has it, where it is thinnest along the piece. Where no more than one fastener sticks nothing is squeezed and it
/// holds; its inputs say what would be if all stuck. Its mend makes slots as planned and takes fasteners that let the
/// flange slide.
Finding buckling_finding(const Job& job, const MountPlan& plan, std::size_t piece, Mends mends,
                         const PieceModel* model = nullptr);

}  // namespace sillwright::core

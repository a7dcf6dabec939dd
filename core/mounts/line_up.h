#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/job.h"
#include "core/mounts/hole_plan.h"

namespace sillwright::core {

constexpr std::size_t k_draws = 100'000;

/// How often one fastener alone keeps the part off: everything else goes home without it.
struct Blame {
    std::string mount;
    double share = 0.0;  ///< Of all draws.
};

/// The probability that every fastener goes home.
struct LineUp {
    std::size_t draws = 0, fit = 0;
    double probability = 0.0;
    double low = 0.0, high = 0.0;  ///< Binomial interval of 95 % (Wilson's score).
    std::vector<Blame> blame;      ///< Worst first; only of mounts that are ever to blame.
    std::optional<double> growth_length_mm,
        growth_width_mm;               ///< Of every clearance and guide slot, for the asked probability.
    std::vector<std::string> missing;  ///< What must be known before there is a probability; then draws is 0.
};

/// Draws parts from the drilling tolerances and cars from the survey's covariance (and car to car), as fitted, and
/// counts those that go on when the fitter may shift and turn the part.
///
/// Draws: places of the part's holes uniform within its half-width (a disc? stated in the source), of the body's holes
///   normal with the survey's covariance, uniform within car to car; each draw one feasibility problem
///   (geometry/slot_fit). Growth is at its worst state of hot, cold, as fitted: every state must fit.
/// Seeded: the same job gives the same numbers, on any machine.
/// Holes: as the job has them (`drawn`); those it has not are taken as planned (`cut`).
LineUp line_up(const Job& job, const MountPlan& plan, std::size_t draws = k_draws, const std::stop_token& stop = {});

/// `mounts/line-up`: the probability against the limit asked for, with who is to blame; its mend grows slots.
Finding line_up_finding(const Job& job, const MountPlan& plan, const LineUp& line_up);

}  // namespace sillwright::core

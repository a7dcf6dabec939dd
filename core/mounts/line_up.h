#pragma once

#include <cstddef>
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
    /// What every clearance and guide slot would have to be larger by for the asked probability: longer, its width as
    /// it is; wider, its length as it is (a hole is never shorter than it is wide); both. 0 if nothing is to be grown,
    /// none if `k_most_growth_mm` is not enough.
    std::optional<double> growth_length_mm, growth_width_mm, growth_both_mm;
    std::vector<std::string> missing;  ///< What must be known before there is a probability; then draws is 0.
};

/// Draws parts from the drilling tolerances and cars from the survey's covariance (and car to car), and counts those
/// that go on when the fitter may shift and turn the part.
///
/// Draws: a hole of the part is off its place evenly within the ellipse of its half-widths (a disc where they are
///   alike), and a fixed fastener by its tilt likewise; a hole of the body is off by the normal law with the survey's
///   covariance of its landing, and, as seen from the locator, evenly within the disc of `car_to_car` if the part must
///   fit others. All are independent: how the survey's places hang together is not known here, and what they share
///   would be taken up by the shift and the turn, so more parts go on than is said.
/// Fits: there is one position, found by shifting and turning, in which each fastener is in its hole in every state of
///   the growth. The fasteners are tightened when the part is fitted and hold it there at the locator, from which it
///   grows; so the position is the same in every season, and the play of the locator's hole is all that the fitter
///   has to choose from. That a part could be pushed on within that play by a slot's end is not counted.
///   A screw with a loose nut stands where it was tightened within the room of its hole in the body; to be on the
///   sure side its part's hole is then taken as the largest slot that lies within it in all states, and a factory slot
///   as round.
/// Pieces: each has a position of its own, and all must go on.
/// Seeded: the same job gives the same numbers, on any machine, and a larger hole never fewer draws that fit.
/// Holes: as the job has them (`drawn`); those it has not are taken as planned (`cut`).
LineUp line_up(const Job& job, const MountPlan& plan, std::size_t draws = k_draws, const std::stop_token& stop = {});

/// `mounts/line-up`: the probability against the limit asked for, with who is to blame; its mend grows slots by whole
/// steps of the cutter, and is drawn again. Close also where the limit lies within the interval.
Finding line_up_finding(const Job& job, const MountPlan& plan, const LineUp& line_up, Mends mends = Mends::look_for);

/// Wilson's score interval of 95 % for `fit` of `draws`. Precondition: draws > 0.
struct Interval {
    double low = 0.0, high = 1.0;
};
Interval wilson_interval(std::size_t fit, std::size_t draws);

/// No slot is grown by more: then the flange is not where its mounts are.
constexpr double k_most_growth_mm = 20.0;
constexpr std::size_t k_looked_into = 10'000;

}  // namespace sillwright::core

#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/finding.h"

namespace sillwright::core {

/// How a finding stands, from its margin (in its own unit) and from what is still
/// missing. The one place where this is decided.
///
/// A margin below zero falls short, even if something is missing: what is missing
///   can only add to the requirement. Otherwise anything missing, or no margin at
///   all, is not measured. A margin of exactly zero holds; below `close_band` (same
///   unit) it is close. With a band of zero nothing is close.
/// Precondition: the margin is a number.
State state_of(std::optional<double> margin, double close_band, const std::vector<std::string>& missing);

/// The band within which a margin is close, where a margin cannot be greater than
/// `widest`: the job's own band, but no more than a quarter of `widest`, as else
/// all that holds would be close. Both in the finding's unit.
double close_band_within(double job_band, double widest);

}  // namespace sillwright::core

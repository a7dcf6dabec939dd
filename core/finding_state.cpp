#include "core/finding_state.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace sillwright::core {

namespace {

/// Part of the widest possible margin that is called close.
constexpr double k_close_share = 0.25;

}  // namespace

State state_of(std::optional<double> margin, double close_band, const std::vector<std::string>& missing) {
    assert(!margin || !std::isnan(*margin));
    if (margin && *margin < 0.0) {
        return State::falls_short;
    }
    if (!margin || !missing.empty()) {
        return State::not_measured;
    }
    return *margin < close_band ? State::close : State::holds;
}

double close_band_within(double job_band, double widest) {
    return std::min(job_band, k_close_share * widest);
}

}  // namespace sillwright::core

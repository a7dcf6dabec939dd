#include "geometry/natural_spline.h"

#include <algorithm>
#include <cmath>
#include <string>

namespace sillwright::geometry {

namespace {

/// Second derivatives at the places: h(i-1) m(i-1) + 2 (h(i-1) + h(i)) m(i) + h(i) m(i+1) = 6 (slope jump at i),
/// zero at both ends.
std::vector<double> second_derivatives(const std::vector<double>& at, const std::vector<double>& value) {
    const std::size_t n = at.size();
    std::vector<double> bend(n, 0.0);
    std::vector<double> above(n, 0.0);  // above the diagonal, after elimination
    for (std::size_t i = 1; i + 1 < n; ++i) {
        const double before = at[i] - at[i - 1];
        const double after = at[i + 1] - at[i];
        const double jump = (value[i + 1] - value[i]) / after - (value[i] - value[i - 1]) / before;
        const double diagonal = 2.0 * (before + after) - before * above[i - 1];
        above[i] = after / diagonal;
        bend[i] = (6.0 * jump - before * bend[i - 1]) / diagonal;
    }
    for (std::size_t i = n; i-- > 1;) {
        bend[i - 1] -= above[i - 1] * bend[i];
    }
    return bend;
}

}  // namespace

Result<NaturalSpline> NaturalSpline::through(const std::vector<Length>& places, const std::vector<double>& values) {
    if (places.size() < 2 || places.size() != values.size()) {
        return Error{ErrorCode::invalid_argument, "A batten needs two or more places and one value for each; it got " +
                                                      std::to_string(places.size()) + " places and " +
                                                      std::to_string(values.size()) + " values."};
    }
    NaturalSpline spline;
    for (std::size_t i = 0; i < places.size(); ++i) {
        const double at = in_mm(places[i]);
        if (!std::isfinite(at) || !std::isfinite(values[i])) {
            return Error{ErrorCode::invalid_argument, "Place " + std::to_string(i + 1) + " of a batten is no number."};
        }
        if (i > 0 && !(at > spline.at_.back())) {
            return Error{ErrorCode::invalid_argument, "Place " + std::to_string(i + 1) + " of a batten (" +
                                                          std::to_string(at) + " mm) must be behind the one before (" +
                                                          std::to_string(spline.at_.back()) + " mm)."};
        }
        spline.at_.push_back(at);
    }
    spline.value_ = values;
    spline.bend_ = second_derivatives(spline.at_, spline.value_);
    return spline;
}

double NaturalSpline::value(Length along) const {
    const double s = in_mm(along);
    const auto behind = std::upper_bound(at_.begin() + 1, at_.end() - 1, s);
    const auto k = static_cast<std::size_t>(behind - at_.begin());
    const double h = at_[k] - at_[k - 1];
    const double b = (s - at_[k - 1]) / h;
    const double a = 1.0 - b;
    const double chord = a * value_[k - 1] + b * value_[k];
    const double c = std::clamp(b, 0.0, 1.0);  // beyond an end, straight with the end's slope
    const double d = 1.0 - c;
    const double curve = ((d * d * d - d) * bend_[k - 1] + (c * c * c - c) * bend_[k]) * h * h / 6.0;
    // Slopes of the curve's second part at the ends: -h² (2 m0 + m1) / 6 and h² (m0 + 2 m1) / 6 over b.
    const double slope = b < 0.0   ? -h * h * (2.0 * bend_[k - 1] + bend_[k]) / 6.0
                         : b > 1.0 ? h * h * (bend_[k - 1] + 2.0 * bend_[k]) / 6.0
                                   : 0.0;
    return chord + curve + slope * (b - c);
}

}  // namespace sillwright::geometry

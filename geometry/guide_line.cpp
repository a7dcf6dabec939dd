#include "geometry/guide_line.h"

#include <algorithm>
#include <cmath>
#include <string>

namespace sillwright::geometry {

namespace {

/// Akima's weights count as zero below this part of the kink between them: they
/// are then rounding, and would throw the slope to either side at random.
constexpr double k_no_weight = 1e-9;

/// Slopes of the intervals, with two more at either end from Akima's parabola:
/// slope i of the data is at i + 2.
std::vector<double> interval_slopes(const std::vector<double>& at, const std::vector<double>& value) {
    const std::size_t n = at.size() - 1;
    std::vector<double> m(n + 4);
    for (std::size_t i = 0; i < n; ++i) {
        m[i + 2] = (value[i + 1] - value[i]) / (at[i + 1] - at[i]);
    }
    m[1] = 2.0 * m[2] - m[3];
    m[0] = 2.0 * m[1] - m[2];
    m[n + 2] = 2.0 * m[n + 1] - m[n];
    m[n + 3] = 2.0 * m[n + 2] - m[n + 1];
    return m;
}

/// Akima's slope between intervals of slopes m2 and m3, with m1 before and m4 after.
double akima_slope(double m1, double m2, double m3, double m4) {
    const double before = std::abs(m2 - m1);
    const double after = std::abs(m4 - m3);
    if (before + after <= k_no_weight * std::abs(m3 - m2)) {
        return (m2 + m3) / 2.0;
    }
    return (after * m2 + before * m3) / (before + after);
}

std::vector<double> slopes_at_places(const std::vector<double>& at, const std::vector<double>& value) {
    if (at.size() == 2) {
        const double m = (value[1] - value[0]) / (at[1] - at[0]);
        return {m, m};
    }
    const std::vector<double> m = interval_slopes(at, value);
    std::vector<double> slope(at.size());
    for (std::size_t i = 0; i < at.size(); ++i) {
        slope[i] = akima_slope(m[i], m[i + 1], m[i + 2], m[i + 3]);
    }
    return slope;
}

}  // namespace

Result<GuideLine> GuideLine::through(const std::vector<Length>& places, const std::vector<double>& values) {
    if (places.size() < 2 || places.size() != values.size()) {
        return Error{ErrorCode::invalid_argument,
                     "A guide line needs two or more places and one value for each; it got " +
                         std::to_string(places.size()) + " places and " + std::to_string(values.size()) + " values."};
    }
    std::vector<double> at;
    for (std::size_t i = 0; i < places.size(); ++i) {
        at.push_back(in_mm(places[i]));
        if (!std::isfinite(at[i]) || !std::isfinite(values[i])) {
            return Error{ErrorCode::invalid_argument,
                         "Place " + std::to_string(i + 1) + " of a guide line is not a number."};
        }
        if (i > 0 && !(at[i] > at[i - 1])) {
            return Error{ErrorCode::invalid_argument,
                         "Place " + std::to_string(i + 1) + " of a guide line (" + std::to_string(at[i]) +
                             " mm) must be behind the one before (" + std::to_string(at[i - 1]) + " mm)."};
        }
    }
    const std::vector<double> slope = slopes_at_places(at, values);
    GuideLine line;
    line.pieces_.reserve(at.size() - 1);
    for (std::size_t i = 0; i + 1 < at.size(); ++i) {
        const double h = at[i + 1] - at[i];
        const double m = (values[i + 1] - values[i]) / h;
        line.pieces_.push_back({at[i], values[i], slope[i], (3.0 * m - 2.0 * slope[i] - slope[i + 1]) / h,
                                (slope[i] + slope[i + 1] - 2.0 * m) / (h * h)});
    }
    line.rear_ = at.back();
    line.rear_value_ = values.back();
    return line;
}

const GuideLine::Piece& GuideLine::piece_at(double along_mm) const {
    const auto behind = std::upper_bound(pieces_.begin() + 1, pieces_.end(), along_mm,
                                         [](double along, const Piece& piece) { return along < piece.at; });
    return *(behind - 1);
}

double GuideLine::clamped(Length along) const {
    return std::clamp(in_mm(along), pieces_.front().at, rear_);
}

double GuideLine::value(Length along) const {
    const double s = clamped(along);
    if (s == rear_) {
        return rear_value_;
    }
    const Piece& p = piece_at(s);
    const double t = s - p.at;
    return p.c0 + t * (p.c1 + t * (p.c2 + t * p.c3));
}

double GuideLine::slope(Length along) const {
    const double s = clamped(along);
    const Piece& p = piece_at(s);
    const double t = s - p.at;
    return p.c1 + t * (2.0 * p.c2 + t * 3.0 * p.c3);
}

double GuideLine::bend(Length along) const {
    const double s = clamped(along);
    const Piece& p = piece_at(s);
    return 2.0 * p.c2 + 6.0 * p.c3 * (s - p.at);
}

bool GuideLine::widen_by_difference(const GuideLine& other, Length& from, Length& to) const {
    bool different = false;
    for (std::size_t i = 0; i < pieces_.size(); ++i) {
        const bool last = i + 1 == pieces_.size();
        if (pieces_[i] == other.pieces_[i] && (!last || rear_value_ == other.rear_value_)) {
            continue;
        }
        different = true;
        from = std::min(from, millimetres(pieces_[i].at));
        to = std::max(to, millimetres(last ? rear_ : pieces_[i + 1].at));
    }
    return different;
}

}  // namespace sillwright::geometry

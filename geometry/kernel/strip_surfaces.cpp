#include "geometry/kernel/strip_surfaces.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "geometry/text.h"

namespace sillwright::geometry {

namespace {

/// A strip narrower than this has no width: the kernel's confusion of points.
constexpr double k_no_width_mm = 1e-7;
/// Places where a width begins are found to this, along the car.
constexpr double k_place_mm = 1e-9;
/// Step for slopes: short against any curve along the car, long against rounding.
constexpr double k_slope_step_mm = 0.05;
/// The step is never more than this part of the interval that it stands in.
constexpr double k_slope_step_share = 0.01;
/// Rows nearer than this will not follow a curve better.
constexpr double k_least_interval_mm = 0.01;
/// Looks for a begin or end of a width between two key places.
constexpr int k_looks = 8;
constexpr std::array<double, 3> k_probes{0.25, 0.5, 0.75};

using Controls = std::vector<StripControl>;

/// How a strip's section bends: +1, -1, or 0 without width; lines with width are +1.
using Widths = std::vector<int>;

StripControl control(double along_mm, const StripCurve& c) {
    StripControl k;
    k.col(0) << along_mm, c.from_mm, 1.0;
    k.col(1) << c.weight * along_mm, c.weight * c.middle_mm, c.weight;
    k.col(2) << along_mm, c.to_mm, 1.0;
    return k;
}

double width_mm(const StripControl& c) {
    return (c.col(2) - c.col(0)).segment<2>(1).norm();
}

/// The point of a strip's middle: from + 2 w middle + to over its weight.
Eigen::Vector3d middle_point(const StripControl& c) {
    const Eigen::Vector4d sum = c.col(0) + 2.0 * c.col(1) + c.col(2);
    return sum.head<3>() / sum.w();
}

double difference(const StripControl& a, const StripControl& b) {
    return std::max(
        {(a.col(0) - b.col(0)).norm(), (a.col(2) - b.col(2)).norm(), (middle_point(a) - middle_point(b)).norm()});
}

class Follower {
public:
    Follower(const RingBody& body, double fit_mm) : body_{body}, fit_mm_{fit_mm} {}

    Result<std::vector<StripPiece>> follow() {
        auto cuts = find_cuts();
        if (!cuts) {
            return cuts.error();
        }
        std::vector<StripPiece> pieces;
        for (std::size_t k = 0; k + 1 < cuts.value().size(); ++k) {
            auto piece = follow_piece(cuts.value()[k], cuts.value()[k + 1]);
            if (!piece) {
                return piece.error();
            }
            pieces.push_back(std::move(piece).value());
        }
        return pieces;
    }

private:
    Result<Controls> at(double along_mm) {
        if (auto status = body_.curves(millimetres(along_mm), curves_); !status) {
            return status.error();
        }
        Controls controls;
        controls.reserve(curves_.size());
        for (const StripCurve& c : curves_) {
            controls.push_back(control(along_mm, c));
        }
        return controls;
    }

    Result<Widths> widths(double along_mm) {
        if (auto status = body_.curves(millimetres(along_mm), curves_); !status) {
            return status.error();
        }
        Widths result;
        for (std::size_t i = 0; i < curves_.size(); ++i) {
            const StripCurve& c = curves_[i];
            const Eigen::Vector2d a = c.middle_mm - c.from_mm;
            const Eigen::Vector2d b = c.to_mm - c.middle_mm;
            const bool wide = (c.to_mm - c.from_mm).norm() > k_no_width_mm;
            const bool right = body_.strips[i].shape == StripShape::arc && a.x() * b.y() - a.y() * b.x() < 0.0;
            result.push_back(wide ? (right ? -1 : 1) : 0);
        }
        return result;
    }

    /// The place between two where a strip's width begins or ends, on its narrow side.
    Result<double> find_change(std::size_t strip, double from, int from_width, double to) {
        double zero = from_width == 0 ? from : to;
        while (to - from > k_place_mm) {
            const double middle = (from + to) / 2.0;
            if (middle <= from || middle >= to) {
                break;
            }
            const auto here = widths(middle);
            if (!here) {
                return here.error();
            }
            if (here.value()[strip] == 0) {
                zero = middle;
            }
            (here.value()[strip] == from_width ? from : to) = middle;
        }
        return from_width == 0 ? from : (std::abs(zero - to) <= k_place_mm ? zero : to);
    }

    Result<std::vector<double>> find_cuts() {
        std::vector<double> cuts{in_mm(body_.key_places.front()), in_mm(body_.key_places.back())};
        for (const Length place : body_.run_outs) {
            cuts.push_back(in_mm(place));
        }
        for (std::size_t k = 0; k + 1 < body_.key_places.size(); ++k) {
            const double gap_from = in_mm(body_.key_places[k]);
            const double gap = in_mm(body_.key_places[k + 1]) - gap_from;
            // Key places themselves may lie in two stretches; look just inside.
            const double inside = std::min(k_least_interval_mm, gap * k_slope_step_share);
            double from = gap_from + inside;
            auto before = widths(from);
            for (int look = 1; look <= k_looks; ++look) {
                if (!before) {
                    return before.error();
                }
                const double to = gap_from + std::min(gap - inside, gap * look / k_looks);
                auto behind = widths(to);
                if (!behind) {
                    return behind.error();
                }
                for (std::size_t strip = 0; strip < body_.strips.size(); ++strip) {
                    if (before.value()[strip] == behind.value()[strip]) {
                        continue;
                    }
                    const auto place = find_change(strip, from, before.value()[strip], to);
                    if (!place) {
                        return place.error();
                    }
                    cuts.push_back(place.value());
                }
                from = to;
                before = std::move(behind);
            }
        }
        std::sort(cuts.begin(), cuts.end());
        // Two ends of strips at one place are one cut.
        const auto same = [](double a, double b) { return b - a < k_slope_step_share * k_least_interval_mm; };
        cuts.erase(std::unique(cuts.begin(), cuts.end(), same), cuts.end());
        return cuts;
    }

    /// Slope from one side, by three values.
    Result<Controls> slope_to(const ControlRow& row, double step) {
        const auto near = at(row.along_mm + step);
        const auto far = at(row.along_mm + 2.0 * step);
        if (!near) {
            return near.error();
        }
        if (!far) {
            return far.error();
        }
        Controls slope;
        for (std::size_t i = 0; i < row.value.size(); ++i) {
            slope.push_back((4.0 * near.value()[i] - far.value()[i] - 3.0 * row.value[i]) / (2.0 * step));
        }
        return slope;
    }

    Result<ControlRow> row_at(double along_mm, double room_before, double room_behind) {
        ControlRow row{along_mm, {}, {}};
        auto value = at(along_mm);
        if (!value) {
            return value.error();
        }
        row.value = std::move(value).value();
        for (const double room : {-room_before, room_behind}) {
            if (room == 0.0) {
                continue;
            }
            const double step = std::copysign(std::min(k_slope_step_mm, k_slope_step_share * std::abs(room)), room);
            auto slope = slope_to(row, step);
            if (!slope) {
                return slope.error();
            }
            if (row.slope.empty()) {
                row.slope = std::move(slope).value();
            } else {
                for (std::size_t i = 0; i < row.slope.size(); ++i) {
                    row.slope[i] = (row.slope[i] + slope.value()[i]) / 2.0;
                }
            }
        }
        return row;
    }

    Result<bool> follows(const ControlRow& a, const ControlRow& b) {
        const double h = b.along_mm - a.along_mm;
        for (const double t : k_probes) {
            const auto truth = at(a.along_mm + t * h);
            if (!truth) {
                return truth.error();
            }
            const double s = 1.0 - t;
            for (std::size_t i = 0; i < a.value.size(); ++i) {
                const StripControl fitted = s * s * (1.0 + 2.0 * t) * a.value[i] +
                                            t * t * (3.0 - 2.0 * t) * b.value[i] + h * s * s * t * a.slope[i] -
                                            h * t * t * s * b.slope[i];
                if (!(difference(fitted, truth.value()[i]) <= fit_mm_)) {
                    return false;
                }
            }
        }
        return true;
    }

    Status add_rows(StripPiece& piece, const ControlRow& end) {
        const ControlRow& begin = piece.rows.back();
        const auto good = follows(begin, end);
        if (!good) {
            return good.error();
        }
        if (good.value()) {
            piece.rows.push_back(end);
            return std::monostate{};
        }
        const double h = end.along_mm - begin.along_mm;
        if (h < k_least_interval_mm) {
            return Error{ErrorCode::does_not_fit, "Near " + text(millimetres(begin.along_mm)) +
                                                      " the surface jumps and cannot be followed by a solid's faces."};
        }
        const auto middle = row_at(begin.along_mm + h / 2.0, h / 2.0, h / 2.0);
        if (!middle) {
            return middle.error();
        }
        if (auto status = add_rows(piece, middle.value()); !status) {
            return status;
        }
        return add_rows(piece, end);
    }

    Result<StripPiece> follow_piece(double from, double to) {
        std::vector<double> places{from};
        for (const Length key : body_.key_places) {
            if (in_mm(key) > from + k_least_interval_mm && in_mm(key) < to - k_least_interval_mm) {
                places.push_back(in_mm(key));
            }
        }
        places.push_back(to);
        StripPiece piece;
        for (std::size_t k = 0; k < places.size(); ++k) {
            const double before = k == 0 ? 0.0 : places[k] - places[k - 1];
            const double behind = k + 1 == places.size() ? 0.0 : places[k + 1] - places[k];
            const auto row = row_at(places[k], before, behind);
            if (!row) {
                return row.error();
            }
            if (k == 0) {
                piece.rows.push_back(row.value());
            } else if (auto status = add_rows(piece, row.value()); !status) {
                return status.error();
            }
        }
        const auto inside = widths((from + to) / 2.0);
        if (!inside) {
            return inside.error();
        }
        for (std::size_t i = 0; i < inside.value().size(); ++i) {
            piece.has_width.push_back(inside.value()[i] != 0);
            piece.closed_front.push_back(width_mm(piece.rows.front().value[i]) <= 10.0 * k_no_width_mm);
            piece.closed_rear.push_back(width_mm(piece.rows.back().value[i]) <= 10.0 * k_no_width_mm);
        }
        return piece;
    }

    const RingBody& body_;
    double fit_mm_;
    std::vector<StripCurve> curves_;
};

}  // namespace

Result<std::vector<StripPiece>> strip_pieces(const RingBody& body, Length fit) {
    return Follower(body, in_mm(fit)).follow();
}

}  // namespace sillwright::geometry

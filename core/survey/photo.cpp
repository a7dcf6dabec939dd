#include "core/survey/photo.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>

namespace sillwright::core::survey {

using Eigen::Matrix2d;
using Eigen::Vector2d;
using Eigen::Vector3d;
using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;

namespace {

/// Places that a person types are read off the car. Common practice, no source.
constexpr double k_typed_sd_mm = 0.5;
/// A map from a photo's pixels is taken over some hundreds of them: a move of one pixel shows its scale.
constexpr double k_one_pixel = 1.0;

std::string rounded(double mm) {
    std::array<char, 32> text{};
    std::snprintf(text.data(), text.size(), "%.1f", mm);
    return text.data();
}

std::string name_of(const Photo& photo, std::size_t i) {
    const PhotoPoint& point = photo.points[i];
    return point.point.empty() ? "point " + std::to_string(i + 1) : point.point;
}

const Station* station_of(const Job& job, const Photo& photo) {
    const auto found = std::find_if(job.stations.begin(), job.stations.end(),
                                    [&](const Station& station) { return station.name == photo.station; });
    return found == job.stations.end() ? nullptr : &*found;
}

RectifiedPoint typed_point(const PhotoPoint& point) {
    RectifiedPoint known;
    if (point.across && point.up) {
        known.known_mm = Vector2d(in_mm(point.across->value), in_mm(point.up->value));
        known.sd_mm = k_typed_sd_mm;
    } else {
        known.lacks = "Choose a point of the measuring book, or type both of its numbers.";
    }
    return known;
}

RectifiedPoint book_point(const Photo& photo, const PhotoPoint& point, const Solution& solution) {
    RectifiedPoint known;
    const PlacedPoint* placed = solution.find(point.point);
    if (placed == nullptr) {
        known.lacks = "The measuring book does not place " + point.point + " yet.";
        return known;
    }
    const int across = photo.plane == PhotoPlane::section ? 1 : 0;
    known.known_mm = Vector2d(placed->at_mm(across), placed->at_mm(2));
    known.sd_mm =
        std::sqrt(std::max(0.0, 0.5 * (placed->covariance_mm2(across, across) + placed->covariance_mm2(2, 2))));
    return known;
}

/// How far each of the book's points stands in front of the plane that is shown; the middle of them for a side photo.
void warn_off_plane(const Job& job, const Photo& photo, const Solution& solution, RectifiedPhoto& rectified) {
    const bool section = photo.plane == PhotoPlane::section;
    std::vector<std::pair<std::size_t, double>> depths;
    for (std::size_t i = 0; i < photo.points.size(); ++i) {
        if (const PlacedPoint* placed = solution.find(photo.points[i].point)) {
            depths.emplace_back(i, placed->at_mm(section ? 0 : 1));
        }
    }
    if (depths.empty()) {
        return;
    }
    double plane = 0.0;
    if (section) {
        const Station* station = station_of(job, photo);
        if (station == nullptr) {
            return;
        }
        plane = in_mm(station->along.value);
    } else {
        std::vector<double> sorted;
        for (const auto& depth : depths) {
            sorted.push_back(depth.second);
        }
        std::sort(sorted.begin(), sorted.end());
        plane = sorted[sorted.size() / 2];
    }
    for (const auto& [i, depth] : depths) {
        if (std::abs(depth - plane) > k_off_plane_mm) {
            rectified.cautions.push_back(name_of(photo, i) + " lies " + rounded(std::abs(depth - plane)) + " mm " +
                                         (section ? "along the car from the section" : "in or out from the others") +
                                         ": a photo is true in one plane only. Take a point that lies in it.");
        }
    }
}

/// The worst point, where the residuals are larger than the sds say.
void warn_worst(const Photo& photo, RectifiedPhoto& rectified) {
    /// Chi-squared's 99 % point over its degrees of freedom, for two (9.21 / 2); less for more (from memory).
    constexpr double k_too_large = 4.61;
    if (!rectified.map || rectified.map->degrees_of_freedom() < 2 ||
        rectified.map->sum_of_squares() <= k_too_large * rectified.map->degrees_of_freedom()) {
        return;
    }
    std::size_t worst = 0;
    double most = -1.0;
    for (std::size_t i = 0; i < rectified.points.size(); ++i) {
        if (rectified.points[i].residual_mm && rectified.points[i].residual_mm->norm() > most) {
            most = rectified.points[i].residual_mm->norm();
            worst = i;
        }
    }
    rectified.cautions.push_back("The points do not agree; " + name_of(photo, worst) + " is off most, by " +
                                 rounded(most) +
                                 " mm. Pick it again, look at its numbers, or at a lens that bends straights.");
}

std::string too_few(std::size_t known, std::size_t all) {
    std::string words = "Four known points are needed to straighten a photo; there ";
    words += known == 1 ? "is 1" : "are " + std::to_string(known);
    if (all > known) {
        words += " (" + std::to_string(all - known) + " more without a known place)";
    }
    return words + ". Press on a mark in the photo, then choose its point or type its place.";
}

}  // namespace

RectifiedPhoto rectify(const Job& job, const Photo& photo, const Solution& solution) {
    RectifiedPhoto rectified;
    std::vector<geometry::PlanePair> pairs;
    std::vector<std::size_t> point_of_pair;
    for (std::size_t i = 0; i < photo.points.size(); ++i) {
        const PhotoPoint& point = photo.points[i];
        rectified.points.push_back(point.point.empty() ? typed_point(point) : book_point(photo, point, solution));
        if (const auto& known = rectified.points.back().known_mm) {
            pairs.push_back({{point.right_px, point.down_px}, *known, k_pick_sd_px, rectified.points.back().sd_mm});
            point_of_pair.push_back(i);
        }
    }
    if (photo.plane == PhotoPlane::section && station_of(job, photo) == nullptr) {
        rectified.lacks = photo.station.empty()
                              ? "Choose the station that the photo was taken at."
                              : "There is no station \"" + photo.station + "\" any more. Choose the photo's station.";
        return rectified;
    }
    if (pairs.size() < 4) {
        rectified.lacks = too_few(pairs.size(), photo.points.size());
        return rectified;
    }
    for (const bool in_photo : {true, false}) {
        std::vector<Vector2d> places;
        for (const geometry::PlanePair& pair : pairs) {
            places.push_back(in_photo ? pair.from : pair.to);
        }
        if (const auto line = geometry::on_one_line(places)) {
            rectified.lacks = name_of(photo, point_of_pair[(*line)[0]]) + ", " +
                              name_of(photo, point_of_pair[(*line)[1]]) + " and " +
                              name_of(photo, point_of_pair[(*line)[2]]) +
                              " lie on one line. Four points are needed of which no three do, best near the corners.";
            return rectified;
        }
    }
    auto map = geometry::Homography::fit(pairs);
    if (!map) {
        rectified.lacks = map.error().code == geometry::ErrorCode::does_not_fit
                              ? "The points do not lie round in the same order in the photo and on the car: two of "
                                "them may be mixed up."
                              : map.error().message;
        return rectified;
    }
    rectified.map = std::move(map).value();
    double squares = 0.0;
    for (std::size_t i = 0; i < pairs.size(); ++i) {
        const Vector2d& residual = rectified.map->residuals()[i];
        rectified.points[point_of_pair[i]].residual_mm = residual;
        squares += residual.squaredNorm() / static_cast<double>(pairs.size());
    }
    rectified.rms_mm = std::sqrt(squares);
    warn_off_plane(job, photo, solution, rectified);
    warn_worst(photo, rectified);
    return rectified;
}

std::optional<Length> RectifiedPhoto::sd_at(const Vector2d& photo_px) const {
    if (!map) {
        return std::nullopt;
    }
    const auto covariance = map->covariance(photo_px);
    const auto here = map->map(photo_px);
    const auto right = map->map(photo_px + Vector2d(k_one_pixel, 0.0));
    const auto below = map->map(photo_px + Vector2d(0.0, k_one_pixel));
    if (!covariance || !here || !right || !below) {
        return std::nullopt;
    }
    Matrix2d scale;
    scale << *right - *here, *below - *here;
    const Matrix2d whole = *covariance + k_pick_sd_px * k_pick_sd_px * scale * scale.transpose();
    return millimetres(
        std::sqrt(std::max(0.0, Eigen::SelfAdjointEigenSolver<Matrix2d>(whole).eigenvalues().maxCoeff())));
}

}  // namespace sillwright::core::survey

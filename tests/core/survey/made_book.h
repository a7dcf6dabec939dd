#pragma once

#include <Eigen/Geometry>
#include <cmath>
#include <map>
#include <random>
#include <string>
#include <vector>

#include "core/survey/book.h"
#include "core/survey/shown.h"

/// Books made of known places: what a reading would show, with or without an error.
namespace sillwright::core::survey {

struct MadeBook {
    Book book;
    std::map<std::string, Eigen::Vector3d> truth;
    std::map<std::string, Eigen::Vector2d> lean_rad;  ///< By set-up; none: level.
    double noise_sd_mm = 0.0;
    double noise_sd_rad = 0.0;
    std::mt19937 random{5};

    static Entry entry(double mm) { return {geometry::millimetres(mm), ""}; }

    void hold(const std::string& name, const std::string& coordinates) {
        Point& p = point(name);
        const Eigen::Vector3d at = truth.at(name);
        for (const char c : coordinates) {
            (c == 'a' ? p.along : c == 'o' ? p.out : p.up) = entry(at[c == 'a' ? 0 : c == 'o' ? 1 : 2]);
        }
    }

    void about(const std::string& name, const Eigen::Vector3d& at) {
        Point& p = point(name);
        p.about_along = entry(at.x());
        p.about_out = entry(at.y());
        p.about_up = entry(at.z());
    }

    Point& point(const std::string& name) {
        for (Point& p : book.points) {
            if (p.name == name) {
                return p;
            }
        }
        book.points.emplace_back().name = name;
        return book.points.back();
    }

    /// A reading that shows the truth plus noise plus `blunder_mm`.
    Reading& read(ReadingKind kind, const std::vector<std::string>& points, double blunder_mm = 0.0,
                  const std::string& set_up = "", double tilt_rad = 0.0, const std::string& trace = "") {
        std::vector<Eigen::Vector3d> places;
        for (const std::string& name : points) {
            places.push_back(truth.at(name));
        }
        const auto lean = lean_rad.find(set_up);
        const Eigen::Vector2d leans = lean == lean_rad.end() ? Eigen::Vector2d(Eigen::Vector2d::Zero()) : lean->second;
        const auto number = [&](int n) { return shown(kind, n, places, leans, tilt_rad).value; };
        Reading& reading = book.readings.emplace_back();
        reading.id = "r" + std::to_string(book.readings.size());
        reading.kind = kind;
        reading.points = points;
        reading.set_up = set_up;
        reading.trace = trace;
        std::normal_distribution<double> normal;
        if (kind == ReadingKind::angle || kind == ReadingKind::slope) {
            reading.angle = geometry::radians(number(0) + noise_sd_rad * normal(random));
            reading.angle_sd = geometry::radians(std::max(noise_sd_rad, 1e-4));
        } else {
            reading.value = entry(number(0) + noise_sd_mm * normal(random) + blunder_mm);
            reading.sd = entry(std::max(noise_sd_mm, 0.1));
        }
        if (kind == ReadingKind::gauge) {
            reading.up = entry(number(1) + noise_sd_mm * normal(random));
        }
        return reading;
    }

    Reading& tie(const std::string& from, const std::string& to, double blunder_mm = 0.0) {
        return read(ReadingKind::tie, {from, to}, blunder_mm);
    }

    void tie_all(const std::vector<std::string>& names) {
        for (std::size_t i = 0; i < names.size(); ++i) {
            for (std::size_t j = i + 1; j < names.size(); ++j) {
                tie(names[i], names[j]);
            }
        }
    }
};

/// Marks A, B and C held 3-2-1 and taped to each other, with rough places that say which side B and C are on.
inline MadeBook made_marks() {
    MadeBook made;
    made.truth = {{"A", {0, 0, 0}}, {"B", {1500, 0, 0}}, {"C", {700, 600, 0}}};
    made.hold("A", "aou");
    made.hold("B", "ou");
    made.hold("C", "u");
    made.about("B", {1400, 0, 0});
    made.about("C", {700, 500, 0});
    made.tie_all({"A", "B", "C"});
    return made;
}

}  // namespace sillwright::core::survey

#pragma once

#include <cmath>
#include <cstdio>
#include <map>
#include <string>
#include <vector>

#include "core/edit/book_edit.h"
#include "core/typed.h"

/// An invented sill that is measured in tests: six marks with known places, two clip holes that are tied to them. Ties
/// are the distances between the places, rounded to a tenth of a millimetre as a tape is read.
namespace sillwright::app::measured_sill {

inline const std::map<std::string, Eigen::Vector3d>& places_mm() {
    static const std::map<std::string, Eigen::Vector3d> all{
        {"A", {0, 0, 0}},         {"B", {1900, 0, 0}},    {"C", {950, 400, 150}},   {"D", {300, 500, -100}},
        {"E", {1500, 520, -120}}, {"F", {1000, 60, 300}}, {"H1", {620, 210, -110}}, {"H2", {1310, 240, -118}}};
    return all;
}

inline std::string tie_line(const std::string& from, const std::string& to, double wrong_by_mm = 0.0) {
    const double mm = (places_mm().at(from) - places_mm().at(to)).norm() + wrong_by_mm;
    char text[64];
    std::snprintf(text, sizeof text, "%s %s %.1f", from.c_str(), to.c_str(), mm);
    return text;
}

/// Eight ties; the third was read 18 mm too long.
inline std::vector<std::string> eight_ties(double wrong_by_mm = 18.0) {
    return {tie_line("A", "H1"), tie_line("B", "H1"), tie_line("C", "H1", wrong_by_mm),
            tie_line("D", "H1"), tie_line("F", "H1"), tie_line("A", "H2"),
            tie_line("B", "H2"), tie_line("E", "H2")};
}

inline core::Job with_marks(core::Job job = {}) {
    for (const std::string name : {"A", "B", "C", "D", "E", "F"}) {
        core::survey::Point point;
        point.name = name;
        const Eigen::Vector3d& at = places_mm().at(name);
        point.along = core::entry(geometry::millimetres(at.x()));
        point.out = core::entry(geometry::millimetres(at.y()));
        point.up = core::entry(geometry::millimetres(at.z()));
        job = core::set_point(job, point).value().job;
    }
    return job;
}

inline core::Job with_lines(core::Job job, const std::vector<std::string>& lines) {
    for (const std::string& line : lines) {
        job = core::add_reading(job, line).value().job;
    }
    return job;
}

}  // namespace sillwright::app::measured_sill

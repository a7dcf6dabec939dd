#pragma once

#include <gtest/gtest.h>

#include <map>
#include <string>
#include <vector>

#include "core/survey/book.h"
#include "core/survey/start.h"

/// Books made in tests: short ways to write points and readings.
namespace sillwright::core::survey::tests {

inline Entry mm(double value) {
    return {geometry::millimetres(value), ""};
}

inline Point held(const std::string& name, const Eigen::Vector3d& at_mm) {
    Point point;
    point.name = name;
    point.along = mm(at_mm.x());
    point.out = mm(at_mm.y());
    point.up = mm(at_mm.z());
    return point;
}

inline Point unheld(const std::string& name, PointKind kind = PointKind::mark) {
    Point point;
    point.name = name;
    point.kind = kind;
    return point;
}

/// A reading of any kind that has one length; ids count up in the order of the book.
inline Reading reading(ReadingKind kind, const std::vector<std::string>& points, double value_mm, double sd_mm = 1.0) {
    Reading made;
    made.kind = kind;
    made.points = points;
    made.value = mm(value_mm);
    made.sd = mm(sd_mm);
    return made;
}

inline void add(Book& book, Reading reading) {
    reading.id = "r" + std::to_string(book.readings.size() + 1);
    book.readings.push_back(std::move(reading));
}

inline Start start_at(const std::map<std::string, Eigen::Vector3d>& at_mm) {
    Start start;
    start.at_mm = at_mm;
    return start;
}

}  // namespace sillwright::core::survey::tests

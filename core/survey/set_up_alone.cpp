#include "core/survey/set_up_alone.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <optional>
#include <set>
#include <vector>

#include "core/survey/network_problems.h"
#include "core/survey/reading_check.h"
#include "core/survey/solve.h"

namespace sillwright::core::survey {

using Eigen::Vector3d;

namespace {

/// A third point nearer to the line of the others than this share of their distance makes no frame.
constexpr double k_off_line = 0.05;

/// The points that each set-up's readings name, in the order of the book's set-ups.
std::vector<std::set<std::string>> named_in(const Book& book) {
    std::vector<std::set<std::string>> named(book.set_ups.size());
    for (const Reading& reading : book.readings) {
        if (reading.dropped.empty() && why_not_usable(book, reading).empty() && !is_spot(reading)) {
            const auto index = static_cast<std::size_t>(set_up_of(book, reading) - book.set_ups.data());
            named[index].insert(reading.points.begin(), reading.points.end());
        }
    }
    return named;
}

/// Three points far apart: the frame.
struct Triangle {
    std::array<Vector3d, 3> at_mm;
    std::array<std::string, 3> names;
};

std::optional<Triangle> triangle_of(const std::vector<std::string>& names, const Solution& whole) {
    Triangle best;
    double apart = 0.0;
    for (const std::string& a : names) {
        for (const std::string& b : names) {
            const double distance = (whole.find(a)->at_mm - whole.find(b)->at_mm).norm();
            if (distance > apart) {
                apart = distance;
                best.names = {a, b, ""};
                best.at_mm = {whole.find(a)->at_mm, whole.find(b)->at_mm, Vector3d::Zero()};
            }
        }
    }
    double off = k_off_line * apart;
    for (const std::string& c : names) {
        const Vector3d line = (best.at_mm[1] - best.at_mm[0]) / apart;
        const double distance = line.cross(whole.find(c)->at_mm - best.at_mm[0]).norm();
        if (apart > 0.0 && distance > off) {
            off = distance;
            best.names[2] = c;
            best.at_mm[2] = whole.find(c)->at_mm;
        }
    }
    return best.names[2].empty() ? std::nullopt : std::optional(best);
}

void hold(Point& point, Eigen::Index coordinate, const Vector3d& at_mm) {
    const Entry entry{geometry::millimetres(at_mm[coordinate]), ""};
    (coordinate == 0 ? point.along : coordinate == 1 ? point.out : point.up) = entry;
}

Point& entry_of(Book& book, const std::string& name) {
    const auto found =
        std::find_if(book.points.begin(), book.points.end(), [&](const Point& p) { return p.name == name; });
    if (found != book.points.end()) {
        return *found;
    }
    book.points.emplace_back().name = name;
    return book.points.back();
}

/// Three coordinates of the first, of the second those across the line to it, of the third the one that stops a turn
/// about that line.
void hold_frame(Book& book, const Triangle& triangle) {
    const Vector3d line = triangle.at_mm[1] - triangle.at_mm[0];
    const Vector3d normal = line.cross(triangle.at_mm[2] - triangle.at_mm[0]);
    Eigen::Index along = 0;
    line.cwiseAbs().maxCoeff(&along);
    // A turn about the line moves the third point along the normal.
    Eigen::Index across = 0;
    normal.cwiseAbs().maxCoeff(&across);
    for (Eigen::Index c = 0; c < 3; ++c) {
        hold(entry_of(book, triangle.names[0]), c, triangle.at_mm[0]);
        if (c != along) {
            hold(entry_of(book, triangle.names[1]), c, triangle.at_mm[1]);
        }
    }
    hold(entry_of(book, triangle.names[2]), across, triangle.at_mm[2]);
}

Solution alone(const Book& book, std::size_t set_up, const Triangle& triangle, const Solution& whole) {
    Book own = book;
    std::erase_if(own.readings, [&](const Reading& reading) {
        return !why_not_usable(book, reading).empty() || set_up_of(book, reading) != &book.set_ups[set_up];
    });
    for (Point& point : own.points) {
        point.along = point.out = point.up = point.sd = std::nullopt;
    }
    SetUp& leaning = own.set_ups[set_up];
    leaning.level = false;
    leaning.roll = leaning.pitch = leaning.lean_sd = std::nullopt;
    hold_frame(own, triangle);
    Start start;
    std::set<std::string> named(triangle.names.begin(), triangle.names.end());
    for (const Reading& reading : own.readings) {
        named.insert(reading.points.begin(), reading.points.end());
    }
    for (const PlacedPoint& point : whole.points) {
        if (named.contains(point.name)) {
            start.at_mm[point.name] = point.at_mm;
        }
    }
    const PlacedSetUp& placed = whole.set_ups[set_up];
    start.lean_rad[leaning.name] = {geometry::in_rad(placed.roll), geometry::in_rad(placed.pitch)};
    return solve(own, start, false);
}

}  // namespace

SetUpsAlone set_ups_alone(const Book& book) {
    SetUpsAlone result;
    const auto named = named_in(book);
    std::vector<std::size_t> used;
    for (std::size_t i = 0; i < named.size(); ++i) {
        if (!named[i].empty()) {
            used.push_back(i);
        }
    }
    if (used.size() < 2) {
        result.lacks = "Only one set-up has readings: measure three marks in the other one too.";
        return result;
    }
    result.first_name = book.set_ups[used[0]].name;
    result.second_name = book.set_ups[used[1]].name;
    const Solution whole = solve(book, false);
    std::vector<std::string> shared;
    for (const PlacedPoint& point : whole.points) {
        if (named[used[0]].contains(point.name) && named[used[1]].contains(point.name)) {
            shared.push_back(point.name);
        }
    }
    const auto triangle = triangle_of(shared, whole);
    if (!triangle) {
        result.lacks = "\"" + result.first_name + "\" and \"" + result.second_name + "\" share " +
                       (shared.empty() ? "no placed mark" : listed(shared) + " only") +
                       ": measure three marks in both that do not lie on one line.";
        return result;
    }
    result.first = alone(book, used[0], *triangle, whole);
    result.second = alone(book, used[1], *triangle, whole);
    return result;
}

}  // namespace sillwright::core::survey

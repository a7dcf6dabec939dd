#include "core/survey/reading_check.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "core/survey/reading_sd.h"
#include "core/survey/shown.h"

namespace sillwright::core::survey {

using geometry::in_mm;
using geometry::in_rad;

namespace {

const SetUp k_level{"", true, {}, {}, {}, {}};

std::string lacking_number(const Reading& reading) {
    if (reading.kind == ReadingKind::angle || reading.kind == ReadingKind::slope) {
        if (!reading.angle) {
            return "It has no angle: type what was read.";
        }
        return std::isfinite(in_rad(*reading.angle)) ? "" : "Its angle is not a number.";
    }
    if (!reading.value) {
        return "It has no value: type what was read.";
    }
    if (reading.kind == ReadingKind::gauge && !reading.up) {
        return "A gauge reading has two numbers, out and up: up is missing.";
    }
    const bool finite =
        std::isfinite(in_mm(reading.value->value)) && (!reading.up || std::isfinite(in_mm(reading.up->value)));
    return finite ? "" : "Its value is not a number.";
}

std::string wrong_points(const Reading& reading) {
    const int count = static_cast<int>(reading.points.size());
    if (count != point_count(reading.kind) && !is_spot(reading)) {
        return "It names " + std::to_string(count) + (count == 1 ? " point" : " points") + " and needs " +
               std::to_string(point_count(reading.kind)) + ".";
    }
    std::set<std::string> seen;
    for (const std::string& name : reading.points) {
        if (name.empty()) {
            return "One of its points has no name.";
        }
        if (!seen.insert(name).second) {
            return "It names " + name + " twice: it needs different points.";
        }
    }
    return "";
}

std::string impossible_number(const Reading& reading) {
    const double mm = reading.value ? in_mm(reading.value->value) : 0.0;
    if (reading.kind == ReadingKind::tie && mm <= 0.0) {
        return "A tape length must be above zero.";
    }
    const bool distance = reading.kind == ReadingKind::gap || reading.kind == ReadingKind::depth;
    if (distance && !is_spot(reading) && mm < 0.0) {
        return "A distance between two points cannot be negative.";
    }
    return "";
}

std::string wrong_sd(const Book& book, const Reading& reading) {
    for (int number = 0; number < number_count(reading.kind); ++number) {
        const double sd = number_sd(book, reading, number);
        if (!(sd > 0.0 && std::isfinite(sd))) {
            return "Its standard deviation must be above zero.";
        }
    }
    return "";
}

}  // namespace

const SetUp* set_up_of(const Book& book, const Reading& reading) {
    if (reading.set_up.empty()) {
        return book.set_ups.empty() ? &k_level : &book.set_ups.front();
    }
    const auto found = std::find_if(book.set_ups.begin(), book.set_ups.end(),
                                    [&](const SetUp& one) { return one.name == reading.set_up; });
    return found == book.set_ups.end() ? nullptr : &*found;
}

bool may_lean(const SetUp& set_up) {
    return !set_up.level && (!set_up.roll || !set_up.pitch || set_up.lean_sd);
}

bool is_plumb(ReadingKind kind) {
    return kind == ReadingKind::height || kind == ReadingKind::offset || kind == ReadingKind::slope;
}

bool is_spot(const Reading& reading) {
    return (reading.kind == ReadingKind::gap || reading.kind == ReadingKind::depth) && reading.points.size() == 1;
}

std::string why_not_usable(const Book& book, const Reading& reading) {
    if (set_up_of(book, reading) == nullptr) {
        return "The book has no set-up \"" + reading.set_up + "\".";
    }
    for (std::string why : {wrong_points(reading), lacking_number(reading), impossible_number(reading)}) {
        if (!why.empty()) {
            return why;
        }
    }
    return wrong_sd(book, reading);
}

}  // namespace sillwright::core::survey

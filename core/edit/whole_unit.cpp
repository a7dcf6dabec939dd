#include "core/edit/whole_unit.h"

#include <cmath>

namespace sillwright::core {

geometry::Length whole_unit(BareUnit unit) {
    return unit == BareUnit::in ? geometry::inches(1.0 / 16.0) : geometry::millimetres(1.0);
}

geometry::Length to_whole_unit(geometry::Length length, BareUnit unit) {
    const geometry::Length one = whole_unit(unit);
    return std::round(length / one) * one;
}

std::string whole_unit_words(BareUnit unit) {
    return unit == BareUnit::in ? "sixteenths of an inch" : "whole millimetres";
}

}  // namespace sillwright::core

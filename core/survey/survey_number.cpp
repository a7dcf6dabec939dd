#include "core/survey/survey_number.h"

#include "core/number_text.h"
#include "core/typed.h"

namespace sillwright::core::survey {

namespace {

bool by_angle(ReadingKind kind) {
    return kind == ReadingKind::angle || kind == ReadingKind::slope;
}

}  // namespace

std::string survey_number(double value, ReadingKind kind, BareUnit unit) {
    if (by_angle(kind)) {
        return degree_text(geometry::radians(value));
    }
    const int decimals = unit == BareUnit::mm ? 1 : unit == BareUnit::cm ? 2 : 3;
    return fixed_text(to_unit(geometry::millimetres(value), unit), decimals);
}

std::string survey_unit(ReadingKind kind, BareUnit unit) {
    return by_angle(kind) ? "" : unit == BareUnit::in ? " in" : unit == BareUnit::cm ? " cm" : " mm";
}

}  // namespace sillwright::core::survey

#include "core/typed.h"

#include <array>
#include <charconv>

#include "geometry/length_text.h"

namespace sillwright::core {

using geometry::Length;

namespace {

constexpr double k_mm_in_a_cm = 10.0;
constexpr std::size_t k_number_room = 40;  // longest double in general form, with room to spare

std::string digits(double number, int precision) {
    std::array<char, k_number_room> room{};
    const auto end =
        std::to_chars(room.data(), room.data() + room.size(), number, std::chars_format::general, precision);
    return {room.data(), end.ptr};
}

geometry::WrittenUnit written(BareUnit unit) {
    switch (unit) {
        case BareUnit::cm:
            return geometry::WrittenUnit::cm;
        case BareUnit::in:
            return geometry::WrittenUnit::in;
        case BareUnit::mm:
            break;
    }
    return geometry::WrittenUnit::mm;
}

}  // namespace

Length from_unit(double number, BareUnit unit) {
    switch (unit) {
        case BareUnit::cm:
            return geometry::millimetres(number * k_mm_in_a_cm);
        case BareUnit::in:
            return geometry::inches(number);
        case BareUnit::mm:
            break;
    }
    return geometry::millimetres(number);
}

double to_unit(Length length, BareUnit unit) {
    const double rough = length / from_unit(1.0, unit);
    return shortest_number(rough, [&](double number) { return from_unit(number, unit) == length; });
}

double shortest_number(double rough, const std::function<bool(double)>& same) {
    for (const int precision : {15, 16, 17}) {
        const std::string text = digits(rough, precision);
        double number = rough;
        std::from_chars(text.data(), text.data() + text.size(), number);
        if (same(number)) {
            return number;
        }
    }
    return rough;
}

geometry::Result<Entry> typed_entry(const std::string& text, BareUnit unit) {
    return geometry::read_length(text, written(unit)).transform([&](Length value) { return Entry{value, text}; });
}

Entry entry(Length value) {
    return Entry{value, ""};
}

std::string entry_text(const Entry& entry, BareUnit unit) {
    if (!entry.typed.empty()) {
        return entry.typed;
    }
    std::array<char, k_number_room> room{};
    const auto end = std::to_chars(room.data(), room.data() + room.size(), to_unit(entry.value, unit));
    return {room.data(), end.ptr};
}

}  // namespace sillwright::core

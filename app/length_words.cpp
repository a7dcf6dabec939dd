#include "app/length_words.h"

#include "core/number_text.h"
#include "core/typed.h"

namespace sillwright::app {

using core::BareUnit;

std::string short_number(geometry::Length length, BareUnit unit) {
    return core::fixed_text(core::to_unit(length, unit), unit == BareUnit::mm ? 1 : 2);
}

std::string fine_number(geometry::Length length, BareUnit unit) {
    return core::fixed_text(core::to_unit(length, unit), unit == BareUnit::mm ? 2 : 3);
}

std::string shortest_words(geometry::Length length, BareUnit unit) {
    std::string text = short_number(length, unit);
    while (text.ends_with('0')) {
        text.pop_back();
    }
    if (text.ends_with('.')) {
        text.pop_back();
    }
    return text;
}

std::string unit_word(BareUnit unit) {
    switch (unit) {
        case BareUnit::cm:
            return "cm";
        case BareUnit::in:
            return "in";
        case BareUnit::mm:
            break;
    }
    return "mm";
}

std::string entry_words(const core::Entry& entry, BareUnit unit) {
    return entry.typed.empty() ? shortest_words(entry.value, unit) : entry.typed;
}

}  // namespace sillwright::app

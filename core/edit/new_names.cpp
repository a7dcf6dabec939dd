#include "core/edit/new_names.h"

#include <algorithm>
#include <charconv>
#include <optional>
#include <string_view>

#include "core/edit/drawn_id.h"

namespace sillwright::core {

namespace {

/// Numbers beyond this are not counted on from: no list is that long.
constexpr std::size_t k_most_number = 1'000'000'000;

/// The number behind `stem`, if `name` is that stem with one.
std::optional<std::size_t> number_behind(std::string_view name, std::string_view stem) {
    if (!name.starts_with(stem)) {
        return std::nullopt;
    }
    name.remove_prefix(stem.size());
    std::size_t number = 0;
    const auto [end, error] = std::from_chars(name.data(), name.data() + name.size(), number);
    const bool whole = error == std::errc() && end == name.data() + name.size();
    return whole && number < k_most_number ? std::optional(number) : std::nullopt;
}

}  // namespace

std::string next_name(const std::set<std::string>& taken, const std::string& stem) {
    std::size_t highest = 0;
    for (const std::string& name : taken) {
        highest = std::max(highest, number_behind(name, stem).value_or(0));
    }
    return stem + std::to_string(highest + 1);
}

NodeIds::NodeIds(const Job& job) {
    for (const DrawnId id : all_drawn(job)) {
        for (const Section& section : drawn(job, id).sections) {
            for (const Node& node : section.nodes) {
                last_ = std::max(last_, number_behind(node.id, "n").value_or(0));
            }
        }
    }
}

std::string NodeIds::next() {
    return "n" + std::to_string(++last_);
}

}  // namespace sillwright::core

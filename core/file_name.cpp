#include "core/file_name.h"

#include <algorithm>
#include <string_view>

namespace sillwright::core {

namespace {

/// Room for a folder, a number and an ending within any system's limit.
constexpr std::size_t k_most_letters = 60;

bool is_plain(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_';
}

char small(char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

bool same_in_any_case(const std::string& a, const std::string& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](char p, char q) { return small(p) == small(q); });
}

}  // namespace

std::string safe_file_name(const std::string& name) {
    std::string safe = name.substr(0, k_most_letters);
    std::replace_if(
        safe.begin(), safe.end(), [](char c) { return !is_plain(c); }, '_');
    return safe.empty() ? "_" : safe;
}

std::string unique_file_name(const std::string& name, std::vector<std::string>& taken) {
    const std::string safe = safe_file_name(name);
    std::string unique = safe;
    const auto is_taken = [&] {
        return std::any_of(taken.begin(), taken.end(),
                           [&](const std::string& other) { return same_in_any_case(other, unique); });
    };
    for (int number = 2; is_taken(); ++number) {
        unique = safe + "_" + std::to_string(number);
    }
    taken.push_back(unique);
    return unique;
}

}  // namespace sillwright::core

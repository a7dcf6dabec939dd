#include "core/mounts/fastener_table.h"

#include <algorithm>
#include <cassert>
#include <nlohmann/json.hpp>
#include <string_view>

#include "core/job_file/words.h"
#include "core/resource_text.h"
#include "core/table_row.h"
#include "core/typed.h"

namespace sillwright::core {

using geometry::Length;
using nlohmann::json;
using table_row::length;
using table_row::length_if;

namespace {

template <class Choice, std::size_t n>
Choice choice(const json& word, const job_file::Words<Choice, n>& words) {
    const auto text = word.get<std::string>();
    const auto found = std::find_if(words.begin(), words.end(), [&](const auto& one) { return one.first == text; });
    assert(found != words.end());  // A test reads the whole table.
    return found->second;
}

FastenerRow fastener(const json& row) {
    FastenerRow one;
    one.name = row.at("name").get<std::string>();
    one.kind = choice(row.at("kind"), job_file::k_fastener_words);
    one.into = choice(row.at("into"), job_file::k_mount_words);
    for (const json& shape : row.at("shapes")) {
        one.shapes.push_back(choice(shape, job_file::k_shape_words));
    }
    one.diameter = length(row, "diameter");
    one.head_diameter = length(row, "head_diameter");
    one.grip_least = length(row, "grip_least");
    one.grip_most = length(row, "grip_most");
    one.hole_least = length(row, "hole_least");
    one.hole_most = length(row, "hole_most");
    one.length = length_if(row, "length");
    one.tail = length_if(row, "tail");
    one.holds = geometry::newtons(row.at("holds_n").get<double>());
    one.slides = row.at("slides").get<bool>();
    return one;
}

}  // namespace

const std::vector<FastenerRow>& fastener_table() {
    static const std::vector<FastenerRow> table = [] {
        const json file = json::parse(fasteners_text());
        std::vector<FastenerRow> all;
        for (const json& row : file.at("fasteners")) {
            all.push_back(fastener(row));
        }
        return all;
    }();
    return table;
}

const FastenerRow* find_fastener(const std::string& name) {
    const auto& table = fastener_table();
    const auto found = std::find_if(table.begin(), table.end(), [&](const auto& one) { return one.name == name; });
    return found == table.end() ? nullptr : &*found;
}

bool goes_into(const FastenerRow& row, const Mount& mount) {
    return row.into == mount.kind && (mount.kind != MountKind::hole ||
                                      std::find(row.shapes.begin(), row.shapes.end(), mount.shape) != row.shapes.end());
}

Fastener fastener_of(const FastenerRow& row, const Fastener& before, const std::optional<Length>& stack) {
    Fastener taken;
    taken.name = row.name;
    taken.kind = row.kind;
    taken.diameter = entry(row.diameter);
    taken.head_diameter = entry(row.head_diameter);
    taken.grip_least = entry(row.grip_least);
    taken.grip_most = entry(row.grip_most);
    taken.spacer = before.spacer;
    taken.hole_least = entry(row.hole_least);
    taken.hole_most = entry(row.hole_most);
    if (row.tail) {
        taken.tail = entry(*row.tail);
    } else if (row.length && stack) {
        taken.tail = entry(std::max(Length{}, *row.length - *stack));
    }
    taken.holds = row.holds;
    taken.slides = row.slides;
    taken.unknown = before.unknown;
    return taken;
}

}  // namespace sillwright::core

#include "core/forming/bit_table.h"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "core/resource_text.h"

namespace sillwright::core {

using geometry::degrees;
using geometry::Length;
using geometry::millimetres;
using nlohmann::json;

namespace {

std::optional<Entry> length(const json& row, const char* key) {
    return row.contains(key) ? std::optional(Entry{millimetres(row.at(key).get<double>()), ""}) : std::nullopt;
}

Bit bit(const json& row) {
    Bit one;
    one.name = row.at("name").get<std::string>();
    const auto form = row.at("form").get<std::string>();
    one.form = form == "vee" ? BitForm::vee : form == "flat" ? BitForm::flat : BitForm::round_nose;
    one.diameter = length(row, "diameter");
    if (row.contains("angle_deg")) {
        one.angle = degrees(row.at("angle_deg").get<double>());
    }
    one.corner_radius = length(row, "corner_radius");
    one.reach = length(row, "reach");
    return one;
}

geometry::BitShape shape_of(BitForm form) {
    switch (form) {
        case BitForm::round_nose:
            return geometry::BitShape::round_nose;
        case BitForm::flat:
            return geometry::BitShape::flat;
        case BitForm::vee:
            return geometry::BitShape::vee;
    }
    return geometry::BitShape::flat;
}

}  // namespace

const std::vector<Bit>& bit_table() {
    static const std::vector<Bit> table = [] {
        const json file = json::parse(bits_text());
        std::vector<Bit> all;
        for (const json& row : file.at("bits")) {
            all.push_back(bit(row));
        }
        return all;
    }();
    return table;
}

std::vector<Bit> bits_of(const Router& router) {
    return router.bits.empty() ? bit_table() : router.bits;
}

std::optional<Bit> find_bit(const Router& router, const std::string& name) {
    for (const std::vector<Bit>* bits : {&router.bits, &bit_table()}) {
        const auto found = std::find_if(bits->begin(), bits->end(), [&](const Bit& one) { return one.name == name; });
        if (found != bits->end()) {
            return *found;
        }
    }
    return std::nullopt;
}

std::optional<geometry::RouterBit> form_of(const Bit& bit) {
    if (!bit.diameter || !(bit.diameter->value > Length{}) || (bit.form == BitForm::vee && !bit.angle)) {
        return std::nullopt;
    }
    geometry::RouterBit form;
    form.shape = shape_of(bit.form);
    form.diameter = bit.diameter->value;
    form.angle = bit.angle.value_or(geometry::Angle{});
    if (bit.corner_radius) {
        form.corner_radius = std::clamp(bit.corner_radius->value, Length{}, 0.5 * form.diameter);
    }
    return form;
}

}  // namespace sillwright::core

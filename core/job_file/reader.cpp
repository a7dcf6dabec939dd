#include "core/job_file/reader.h"

#include <cmath>

#include "core/job_file/words.h"
#include "core/typed.h"

namespace sillwright::core::job_file {

namespace {

/// Directions nearer to unit length than this are kept bit for bit.
constexpr double k_unit_slack = 1e-14;
/// A direction shorter than this has no sure sense.
constexpr double k_least_direction = 1e-9;
/// Digits behind the point tried for a direction that was typed by hand.
constexpr int k_direction_digits = 9;

const Json& empty_object() {
    static const Json empty = Json::object();
    return empty;
}

}  // namespace

void Reading::refuse(const std::string& pointer, const std::string& message) {
    if (!first) {
        first = Misfit{pointer, message};
    }
}

std::optional<Direction> unit_direction(const Direction& typed) {
    const double size = typed.stableNorm();
    if (!(size > k_least_direction) || !std::isfinite(size)) {
        return std::nullopt;
    }
    return std::abs(size - 1.0) <= k_unit_slack ? typed : Direction(typed / size);
}

std::optional<Direction> hand_direction(const Direction& unit) {
    const Direction whole = unit / unit.cwiseAbs().maxCoeff();
    double scale = 1.0;
    for (int digits = 0; digits <= k_direction_digits; ++digits, scale *= 10.0) {
        const Direction tried = (whole * scale).array().round() / scale;
        if (unit_direction(tried) == unit) {
            return tried;
        }
    }
    return std::nullopt;
}

JobReader::JobReader(const Json& object, std::string pointer, Reading& reading)
    : object_{object.is_object() ? object : empty_object()}, pointer_{std::move(pointer)}, reading_{reading} {
    if (!object.is_object()) {
        reading_.refuse(pointer_, shown(object) + " is not an object. Write its fields in braces, { ... }.");
    }
}

std::string JobReader::shown(const Json& value) {
    if (value.is_string()) {
        return in_quotes(value.get_ref<const std::string&>());
    }
    if (value.is_structured()) {
        return value.is_object() ? "an object" : "a list";
    }
    return value.dump();
}

const Json* JobReader::find(const char* key) {
    known_.insert(key);
    const auto found = object_.find(key);
    return found == object_.end() || found->is_null() ? nullptr : &*found;
}

const Json* JobReader::need(const char* key) {
    const Json* found = find(key);
    if (found == nullptr) {
        refuse(key, "the field " + in_quotes(key) + " is missing. Add it to the object.");
    }
    return found;
}

void JobReader::version(const char* key) {
    const Json* found = find(key);
    const std::string right = "\"version\": " + std::to_string(k_version);
    if (found == nullptr) {
        refuse(key,
               "the field \"version\" is missing, so this may not be a job file. Write " + right + " first in it.");
    } else if (!found->is_number_integer() || *found < 1) {
        refuse(key, shown(*found) + " is not a version. Write " + right + ".");
    } else if (*found > k_version) {
        refuse(key, "the file has version " + found->dump() + ", this program reads up to version " +
                        std::to_string(k_version) + ". Open it with the newer program that wrote it.");
    }
}

void JobReader::bare_unit(const char* key, BareUnit& unit) {
    word(key, unit, k_unit_words);
    reading_.unit = unit;
}

void JobReader::text(const char* key, std::string& value) {
    const Json* found = find(key);
    if (found == nullptr) {
        return;
    }
    if (!found->is_string()) {
        refuse(key, shown(*found) + " is not text. Write it in quotation marks.");
        return;
    }
    value = found->get<std::string>();
}

void JobReader::name(const char* key, std::string& value) {
    if (need(key) != nullptr) {
        text(key, value);
        if (value.empty()) {
            refuse(key, "this text is empty. Write a name.");
        }
    }
}

void JobReader::names(const char* key, std::vector<std::string>& values) {
    const Json* found = find(key);
    if (found == nullptr || !is_list(*found, key)) {
        return;
    }
    const std::string pointer = pointer_to(pointer_, key);
    for (std::size_t i = 0; i < found->size(); ++i) {
        const Json& value = (*found)[i];
        if (!value.is_string() || value.get_ref<const std::string&>().empty()) {
            reading_.refuse(pointer_to(pointer, std::to_string(i)),
                            shown(value) + " is not a name. Write it in quotation marks.");
            return;
        }
        values.push_back(value.get<std::string>());
    }
}

std::optional<Entry> JobReader::read_length(const Json& value, const std::string& pointer) {
    Entry entry;
    if (value.is_number()) {
        entry.value = from_unit(value.get<double>(), reading_.unit);
    } else if (value.is_string()) {
        const auto typed = typed_entry(value.get_ref<const std::string&>(), reading_.unit);
        if (!typed) {
            reading_.refuse(pointer, shown(value) + " is not a length. " + typed.error().message);
            return std::nullopt;
        }
        entry = typed.value();
    } else {
        reading_.refuse(pointer, shown(value) +
                                     " is not a length. Write a number, or a length in quotation marks such "
                                     "as \"38.5 mm\".");
        return std::nullopt;
    }
    if (!(std::abs(geometry::in_mm(entry.value)) <= k_most_mm)) {
        reading_.refuse(pointer, shown(value) + " is longer than 1 km. Check the unit and the digits.");
        return std::nullopt;
    }
    return entry;
}

void JobReader::length(const char* key, Entry& value) {
    if (const Json* found = need(key)) {
        value = read_length(*found, pointer_to(pointer_, key)).value_or(Entry{});
    }
}

void JobReader::length(const char* key, std::optional<Entry>& value) {
    if (const Json* found = find(key)) {
        value = read_length(*found, pointer_to(pointer_, key));
    }
}

void JobReader::length_or(const char* key, Entry& value, const Entry& usual) {
    value = usual;
    if (const Json* found = find(key)) {
        value = read_length(*found, pointer_to(pointer_, key)).value_or(usual);
    }
}

void JobReader::three_lengths(const char* key, std::array<std::optional<Entry>, 3>& value) {
    const Json* found = find(key);
    if (found == nullptr) {
        return;
    }
    if (!found->is_array() || found->size() != value.size()) {
        refuse(key, "this is not a list of three lengths. Write [along, out, up], null for what is not measured.");
        return;
    }
    for (std::size_t i = 0; i < value.size(); ++i) {
        if (!(*found)[i].is_null()) {
            value[i] = read_length((*found)[i], pointer_to(pointer_to(pointer_, key), std::to_string(i)));
        }
    }
}

std::optional<double> JobReader::read_number(const Json& value, const char* key) {
    if (!value.is_number()) {
        refuse(key, shown(value) + " is not a number. Write a bare number, without quotation marks.");
        return std::nullopt;
    }
    return value.get<double>();
}

void JobReader::number(const char* key, std::optional<double>& value) {
    if (const Json* found = find(key)) {
        value = read_number(*found, key);
    }
}

void JobReader::number_or(const char* key, double& value, double usual) {
    std::optional<double> read;
    number(key, read);
    value = read.value_or(usual);
}

void JobReader::angle(const char* key, std::optional<geometry::Angle>& value) {
    std::optional<double> read;
    number(key, read);
    if (read) {
        value = geometry::degrees(*read);
    }
}

void JobReader::angle_setting(const char* key, geometry::Angle& value, geometry::Angle usual) {
    std::optional<geometry::Angle> read;
    angle(key, read);
    value = read.value_or(usual);
}

void JobReader::flag(const char* key, bool& value, bool usual) {
    value = usual;
    if (const Json* found = find(key)) {
        if (!found->is_boolean()) {
            refuse(key, shown(*found) + " is neither true nor false. Write true or false, without quotation marks.");
            return;
        }
        value = found->get<bool>();
    }
}

void JobReader::direction(const char* key, Direction& value) {
    const Json* found = find(key);
    if (found == nullptr) {
        return;
    }
    const bool three = found->is_array() && found->size() == 3 && (*found)[0].is_number() && (*found)[1].is_number() &&
                       (*found)[2].is_number();
    if (!three) {
        refuse(key, "this is not a direction. Write three numbers, [along, out, up], such as [0, 0, -1] for down.");
        return;
    }
    const Direction read((*found)[0].get<double>(), (*found)[1].get<double>(), (*found)[2].get<double>());
    const auto unit = unit_direction(read);
    if (!unit) {
        refuse(key, "the direction has no length. Write three numbers, [along, out, up], such as [0, 0, -1] for down.");
        return;
    }
    value = *unit;
}

bool JobReader::is_list(const Json& value, const char* key) {
    if (!value.is_array()) {
        refuse(key, shown(value) + " is not a list. Write its objects in square brackets, [ ... ].");
    }
    return value.is_array();
}

void JobReader::rest(Unknown& unknown) {
    for (const auto& item : object_.items()) {
        if (!known_.contains(item.key())) {
            unknown.fields.emplace(item.key(), item.value().dump());
        }
    }
}

}  // namespace sillwright::core::job_file

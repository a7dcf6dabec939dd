#pragma once

#include <map>
#include <string>

#include "geometry/units.h"

namespace sillwright::core {

/// The unit that a bare number in the job file has.
enum class BareUnit { mm, cm, in };

/// A length as a person entered it: its value, and the words it was written in
/// (empty once the program itself has changed the value).
struct Entry {
    geometry::Length value;
    std::string typed;

    friend bool operator==(const Entry&, const Entry&) = default;
};

/// Fields of a job file that this version does not know, kept for the next
/// writing: JSON text by key.
struct Unknown {
    std::map<std::string, std::string> fields;

    friend bool operator==(const Unknown&, const Unknown&) = default;
};

}  // namespace sillwright::core

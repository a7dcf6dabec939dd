#pragma once

#include <string>

namespace sillwright::app {

/// Something on a drawing or in a list that can be pointed at, chosen, taken hold of.
struct Item {
    enum class Kind { none, node, mount, station, keep_out, door, finding, point, reading };
    Kind kind = Kind::none;
    std::string id;  ///< Node id; mount, station, keep-out, door or point name; finding or reading id.

    explicit operator bool() const { return kind != Kind::none; }
    friend bool operator==(const Item&, const Item&) = default;
};

}  // namespace sillwright::app

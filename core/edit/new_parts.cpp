#include "core/edit/new_parts.h"

#include <algorithm>
#include <array>

namespace sillwright::core {

Door new_door(const Job& job) {
    const auto taken = [&](const std::string& name) {
        return std::any_of(job.doors.begin(), job.doors.end(), [&](const Door& door) { return door.name == name; });
    };
    const std::array<std::string, 2> usual{"front door", "rear door"};
    const auto* const free = std::find_if(usual.begin(), usual.end(), [&](const auto& name) { return !taken(name); });
    Door door;
    if (free != usual.end()) {
        door.name = *free;
    }
    for (std::size_t number = usual.size() + 1; door.name.empty(); ++number) {
        const std::string name = "door " + std::to_string(number);
        door.name = taken(name) ? "" : name;
    }
    DoorBody body;
    body.name = "door panel";
    door.bodies.push_back(body);
    return door;
}

Piece new_piece(const std::string& name) {
    Piece piece;
    piece.name = name;
    piece.carried_by = "body";
    return piece;
}

}  // namespace sillwright::core

#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "core/job.h"

namespace sillwright::core {

/// Which of a job's bodies that are drawn by sections.
struct DrawnId {
    enum class Kind { body, piece, door_body };
    Kind kind = Kind::body;
    std::size_t index = 0;  ///< Of the piece, or of the door.
    std::size_t part = 0;   ///< Of the door's bodies.

    friend bool operator==(const DrawnId&, const DrawnId&) = default;
};

/// Precondition: the job has it.
const Drawn& drawn(const Job& job, DrawnId id);
Drawn& drawn(Job& job, DrawnId id);
/// "the body", "the skirt", "front door, cladding": as a person calls it.
std::string name_of(const Job& job, DrawnId id);
/// Whether its section is a closed outline.
bool closed(const Job& job, DrawnId id);
/// All of a job, in its order.
std::vector<DrawnId> all_drawn(const Job& job);

/// Where a node stands in a job.
struct NodePlace {
    DrawnId drawn;
    std::size_t section = 0, node = 0;
};
/// None if no node has that id.
std::optional<NodePlace> find_node(const Job& job, const std::string& node_id);

}  // namespace sillwright::core

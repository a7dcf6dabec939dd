#include "core/edit/node_edit.h"

#include "core/typed.h"

namespace sillwright::core {

using geometry::Result;

namespace {

geometry::Error no_such_node(const std::string& node_id) {
    return {geometry::ErrorCode::invalid_argument, "There is no node \"" + node_id + "\" in this job."};
}

}  // namespace

Result<Edit> move_node(const Job& job, const std::string& node_id, const Eigen::Vector2d& to_mm) {
    const auto place = find_node(job, node_id);
    if (!place) {
        return no_such_node(node_id);
    }
    Job moved = job;
    Section& section = drawn(moved, place->drawn).sections[place->section];
    Node& node = section.nodes[place->node];
    node.out = entry(geometry::millimetres(to_mm.x()));
    node.up = entry(geometry::millimetres(to_mm.y()));
    const std::string words = "move " + node.name + " at station " + section.station;
    return checked_edit(std::move(moved), words);
}

}  // namespace sillwright::core

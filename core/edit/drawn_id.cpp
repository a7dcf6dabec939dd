#include "core/edit/drawn_id.h"

namespace sillwright::core {

const Drawn& drawn(const Job& job, DrawnId id) {
    switch (id.kind) {
        case DrawnId::Kind::piece:
            return job.skirt.pieces.at(id.index).drawn;
        case DrawnId::Kind::door_body:
            return job.doors.at(id.index).bodies.at(id.part).drawn;
        case DrawnId::Kind::body:
            break;
    }
    return job.body;
}

Drawn& drawn(Job& job, DrawnId id) {
    return const_cast<Drawn&>(drawn(static_cast<const Job&>(job), id));
}

std::string name_of(const Job& job, DrawnId id) {
    switch (id.kind) {
        case DrawnId::Kind::piece:
            return job.skirt.pieces.at(id.index).name;
        case DrawnId::Kind::door_body:
            return job.doors.at(id.index).name + ", " + job.doors[id.index].bodies.at(id.part).name;
        case DrawnId::Kind::body:
            break;
    }
    return "the body";
}

bool closed(const Job& job, DrawnId id) {
    return id.kind == DrawnId::Kind::door_body && job.doors.at(id.index).bodies.at(id.part).closed;
}

std::vector<DrawnId> all_drawn(const Job& job) {
    std::vector<DrawnId> all{{DrawnId::Kind::body, 0, 0}};
    for (std::size_t i = 0; i < job.skirt.pieces.size(); ++i) {
        all.push_back({DrawnId::Kind::piece, i, 0});
    }
    for (std::size_t i = 0; i < job.doors.size(); ++i) {
        for (std::size_t part = 0; part < job.doors[i].bodies.size(); ++part) {
            all.push_back({DrawnId::Kind::door_body, i, part});
        }
    }
    return all;
}

std::optional<NodePlace> find_node(const Job& job, const std::string& node_id) {
    for (const DrawnId id : all_drawn(job)) {
        const Drawn& body = drawn(job, id);
        for (std::size_t section = 0; section < body.sections.size(); ++section) {
            const std::vector<Node>& nodes = body.sections[section].nodes;
            for (std::size_t node = 0; node < nodes.size(); ++node) {
                if (nodes[node].id == node_id) {
                    return NodePlace{id, section, node};
                }
            }
        }
    }
    return std::nullopt;
}

}  // namespace sillwright::core

#include "core/edit/run_out_edit.h"

#include <utility>

#include "core/drawn_loft.h"
#include "core/edit/checked_drawing.h"
#include "core/edit/drawn_change.h"
#include "core/typed.h"

namespace sillwright::core {

using geometry::Error;
using geometry::ErrorCode;
using geometry::Length;
using geometry::Result;

namespace {

Error bad(std::string message) {
    return {ErrorCode::invalid_argument, std::move(message)};
}

Error no_such_node(const std::string& node_id) {
    return bad("There is no node \"" + node_id + "\" in this job.");
}

/// Whether two places lie between the same two sections of a body.
bool in_one_gap(const Job& job, const Drawn& body, Length a, Length b) {
    for (const Section& section : body.sections) {
        const Length at = station_of(job, section.station).along.value;
        if ((a < at) != (b < at)) {
            return false;
        }
    }
    return true;
}

}  // namespace

Result<Edit> delete_node(const Job& job, const std::string& node_id) {
    const auto place = find_node(job, node_id);
    if (!place) {
        return no_such_node(node_id);
    }
    Job changed = job;
    Drawn& body = drawn(changed, place->drawn);
    Section& section = body.sections[place->section];
    const std::string words = "delete " + section.nodes[place->node].name + " at station " + section.station;
    section.nodes.erase(section.nodes.begin() + static_cast<std::ptrdiff_t>(place->node));
    if (section.nodes.empty()) {
        body.sections.erase(body.sections.begin() + static_cast<std::ptrdiff_t>(place->section));
    }
    drop_idle_run_outs(job, drawn(job, place->drawn), changed, body);
    return checked_drawing(job, std::move(changed), {place->drawn}, words);
}

Result<Edit> run_out_node(const Job& job, const std::string& node_id, const std::string& typed_along) {
    const auto place = find_node(job, node_id);
    if (!place) {
        return no_such_node(node_id);
    }
    const auto along = typed_entry(typed_along, job.unit);
    if (!along) {
        return bad("\"" + typed_along + "\" is not a length for along. " + along.error().message);
    }
    Job changed = job;
    Drawn& body = drawn(changed, place->drawn);
    const std::string name = body.sections[place->section].nodes[place->node].name;
    RunOut run_out{name, along.value()};
    if (!in_use(job, body, run_out)) {
        return bad(typed_along + " is not between a section of " + name_of(job, place->drawn) + " that has " + name +
                   " and a neighbour that has not. Write a place between two such stations.");
    }
    std::erase_if(body.run_outs, [&](const RunOut& other) {
        return other.name == name && in_one_gap(job, body, other.along.value, run_out.along.value);
    });
    body.run_outs.push_back(std::move(run_out));
    return checked_edit(std::move(changed), "let " + name + " run out");
}

}  // namespace sillwright::core

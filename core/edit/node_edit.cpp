#include "core/edit/node_edit.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <set>
#include <utility>

#include "core/edit/checked_drawing.h"
#include "core/edit/drawn_change.h"
#include "core/edit/new_names.h"
#include "core/typed.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::Error;
using geometry::ErrorCode;
using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;
using geometry::Result;

namespace {

/// The nodes of a skirt's section in their order (glossary in DEVELOPERS.md).
constexpr std::array k_piece_names{"top return end", "shelf inner", "shelf edge",  "bead",
                                   "knee",           "lower edge",  "flange root", "flange end"};
/// A new node keeps this part of the free straight off either end.
constexpr double k_least_share = 0.02;

Error bad(std::string message) {
    return {ErrorCode::invalid_argument, std::move(message)};
}

Error no_such_node(const std::string& node_id) {
    return bad("There is no node \"" + node_id + "\" in this job.");
}

Vector2d place_mm(const Node& node) {
    return {in_mm(node.out.value), in_mm(node.up.value)};
}

void put(Node& node, const Vector2d& at_mm) {
    node.out = entry(millimetres(at_mm.x()));
    node.up = entry(millimetres(at_mm.y()));
}

std::string words_of(const std::string& what, const Section& section, const std::string& node) {
    return what + " " + node + " at station " + section.station;
}

std::set<std::string> names_of(const Drawn& body) {
    std::set<std::string> names;
    for (const Section& section : body.sections) {
        for (const Node& node : section.nodes) {
            names.insert(node.name);
        }
    }
    return names;
}

/// How much of either straight the rounding of node `at` takes; none at an open line's end.
double room_taken_mm(const std::vector<Node>& nodes, std::size_t at, bool closed) {
    const std::size_t n = nodes.size();
    if (!closed && (at == 0 || at + 1 == n)) {
        return 0.0;
    }
    const Vector2d u = place_mm(nodes[at]) - place_mm(nodes[(at + n - 1) % n]);
    const Vector2d v = place_mm(nodes[(at + 1) % n]) - place_mm(nodes[at]);
    const double turn = std::abs(std::atan2(u.x() * v.y() - u.y() * v.x(), u.dot(v)));
    return in_mm(nodes[at].radius.value) * std::tan(0.5 * turn);
}

/// Puts a node on the straight behind node `after`, at `share` of its way or as near to that as the
/// roundings at its ends leave room: so the line stays as it is.
void put_on_straight(Section& section, std::size_t after, double share, bool closed, Node node) {
    std::vector<Node>& nodes = section.nodes;
    const std::size_t next = (after + 1) % nodes.size();
    const Vector2d from = place_mm(nodes[after]);
    const Vector2d to = place_mm(nodes[next]);
    const double whole = (to - from).norm();
    double least = room_taken_mm(nodes, after, closed);
    double most = whole - room_taken_mm(nodes, next, closed);
    const double margin = k_least_share * std::max(0.0, most - least);
    least += margin;
    most -= margin;
    const double at = least <= most ? std::clamp(share * whole, least, most) : 0.5 * (least + most);
    put(node, whole > 0.0 ? Vector2d(from + (at / whole) * (to - from)) : from);
    nodes.insert(nodes.begin() + static_cast<std::ptrdiff_t>(after + 1), std::move(node));
}

/// The part of the way from a to b at which `p` lies square beside the straight.
double share_of_way(const Vector2d& a, const Vector2d& b, const Vector2d& p) {
    const Vector2d way = b - a;
    const double squared = way.squaredNorm();
    return squared > 0.0 ? std::clamp((p - a).dot(way) / squared, 0.0, 1.0) : 0.5;
}

/// Gives a section the fellow of a new node that stands right behind `after` in `order`.
void add_fellow(Section& section, const std::vector<std::string>& order, std::size_t after, double share, bool closed,
                Node node) {
    for (std::size_t back = after + 1; back-- > 0;) {
        const auto before = node_of(section, order[back]);
        if (!before) {
            continue;
        }
        if (closed || *before + 1 < section.nodes.size()) {
            put_on_straight(section, *before, share, closed, std::move(node));
        } else {  // Behind the open line's end: on the end itself, where it changes nothing.
            put(node, place_mm(section.nodes[*before]));
            section.nodes.push_back(std::move(node));
        }
        return;
    }
    if (!section.nodes.empty()) {
        put(node, place_mm(section.nodes.front()));
        section.nodes.insert(section.nodes.begin(), std::move(node));
    }
}

/// The name of the next node that is drawn at the end of a section.
std::string next_drawn_name(const Drawn& body, const Section& section, DrawnId id) {
    const std::set<std::string> taken = names_of(body);
    const auto here = [&](const std::string& name) { return node_of(section, name).has_value(); };
    const auto next_in = [&](const auto& names) -> std::optional<std::string> {
        auto at = names.begin();
        if (!section.nodes.empty()) {
            at = std::find(names.begin(), names.end(), section.nodes.back().name);
            at = at == names.end() ? at : at + 1;
        }
        const auto found = std::find_if(at, names.end(), [&](const auto& name) { return !here(name); });
        return found == names.end() ? std::nullopt : std::optional<std::string>(*found);
    };
    const bool only = std::all_of(body.sections.begin(), body.sections.end(), [&](const Section& other) {
        return other.station == section.station || other.nodes.empty();
    });
    if (!only) {
        if (const auto name = next_in(names_in_order(body))) {
            return *name;
        }
    } else if (id.kind == DrawnId::Kind::piece) {
        if (const auto name = next_in(k_piece_names)) {
            return *name;
        }
    }
    return next_name(taken, "point ");
}

}  // namespace

Result<Edit> move_node(const Job& job, const std::string& node_id, const Vector2d& to_mm) {
    const auto place = find_node(job, node_id);
    if (!place) {
        return no_such_node(node_id);
    }
    Job moved = job;
    const Section& section = drawn(moved, place->drawn).sections[place->section];
    Node& node = drawn(moved, place->drawn).sections[place->section].nodes[place->node];
    put(node, to_mm);
    const std::string words = words_of("move", section, node.name);
    return checked_drawing(job, std::move(moved), {place->drawn}, words);
}

Result<Edit> type_node_number(const Job& job, const std::string& node_id, NodeNumber which, const std::string& typed) {
    const auto place = find_node(job, node_id);
    if (!place) {
        return no_such_node(node_id);
    }
    const auto read = typed_entry(typed, job.unit);
    const std::string what = which == NodeNumber::radius ? "radius" : which == NodeNumber::up ? "up" : "out";
    if (!read) {
        return bad("\"" + typed + "\" is not a length for " + what + ". " + read.error().message);
    }
    Job changed = job;
    const Section& section = drawn(changed, place->drawn).sections[place->section];
    Node& node = drawn(changed, place->drawn).sections[place->section].nodes[place->node];
    (which == NodeNumber::radius ? node.radius : which == NodeNumber::up ? node.up : node.out) = read.value();
    const std::string words = words_of("write " + what + " of", section, node.name);
    return checked_drawing(job, std::move(changed), {place->drawn}, words);
}

Result<Edit> round_node(const Job& job, const std::string& node_id, Length radius) {
    const auto place = find_node(job, node_id);
    if (!place) {
        return no_such_node(node_id);
    }
    Job changed = job;
    const Section& section = drawn(changed, place->drawn).sections[place->section];
    Node& node = drawn(changed, place->drawn).sections[place->section].nodes[place->node];
    node.radius = entry(radius);
    const std::string words = words_of("round", section, node.name);
    return checked_drawing(job, std::move(changed), {place->drawn}, words);
}

Result<Edit> add_node(const Job& job, DrawnId id, std::size_t section, std::size_t after, const Vector2d& at_mm,
                      const std::string& name) {
    const Drawn& body = drawn(job, id);
    const bool is_closed = closed(job, id);
    if (section >= body.sections.size() || after >= body.sections[section].nodes.size()) {
        return bad("There is no such node in " + name_of(job, id) + " to put one behind.");
    }
    const Section& here = body.sections[section];
    if (!is_closed && after + 1 == here.nodes.size()) {
        return bad("The line ends at " + here.nodes[after].name +
                   ": a new node goes between two others. Press on the line, or draw on from its end.");
    }
    const std::string given = name.empty() ? next_name(names_of(body), "point ") : name;
    if (names_of(body).contains(given)) {
        return bad("There is a node " + given + " in " + name_of(job, id) + " already. Give the new one another name.");
    }
    const std::vector<std::string> order = names_in_order(body);
    const auto in_order =
        static_cast<std::size_t>(std::find(order.begin(), order.end(), here.nodes[after].name) - order.begin());
    const double share =
        share_of_way(place_mm(here.nodes[after]), place_mm(here.nodes[(after + 1) % here.nodes.size()]), at_mm);
    Job changed = job;
    NodeIds ids(job);
    std::vector<Section>& sections = drawn(changed, id).sections;
    for (std::size_t i = 0; i < sections.size(); ++i) {
        Node node;
        node.id = ids.next();
        node.name = given;
        if (i == section) {
            put(node, at_mm);
            sections[i].nodes.insert(sections[i].nodes.begin() + static_cast<std::ptrdiff_t>(after + 1), node);
        } else {
            add_fellow(sections[i], order, in_order, share, is_closed, std::move(node));
        }
    }
    return checked_drawing(job, std::move(changed), {id}, words_of("add", here, given));
}

Result<Edit> delete_nodes(const Job& job, const std::string& node_id) {
    const auto place = find_node(job, node_id);
    if (!place) {
        return no_such_node(node_id);
    }
    Job changed = job;
    Drawn& body = drawn(changed, place->drawn);
    const std::string name = body.sections[place->section].nodes[place->node].name;
    for (Section& section : body.sections) {
        std::erase_if(section.nodes, [&](const Node& node) { return node.name == name; });
    }
    std::erase_if(body.sections, [](const Section& section) { return section.nodes.empty(); });
    std::erase_if(body.run_outs, [&](const RunOut& run_out) { return run_out.name == name; });
    return checked_drawing(job, std::move(changed), {place->drawn},
                           "delete " + name + " of " + name_of(job, place->drawn));
}

Result<Edit> rename_nodes(const Job& job, const std::string& node_id, const std::string& name) {
    const auto place = find_node(job, node_id);
    if (!place) {
        return no_such_node(node_id);
    }
    if (name.empty()) {
        return bad("The name is empty. Write a name such as \"shelf edge\".");
    }
    Job changed = job;
    Drawn& body = drawn(changed, place->drawn);
    const std::string old = body.sections[place->section].nodes[place->node].name;
    for (Section& section : body.sections) {
        for (Node& node : section.nodes) {
            node.name = node.name == old ? name : node.name;
        }
    }
    for (RunOut& run_out : body.run_outs) {
        run_out.name = run_out.name == old ? name : run_out.name;
    }
    return checked_edit(std::move(changed), "call " + old + " " + name);
}

Result<Edit> append_node(const Job& job, DrawnId id, const std::string& station, const Vector2d& at_mm) {
    if (!station_index(job, station)) {
        return bad("There is no station \"" + station + "\" in this job. Add it first.");
    }
    Job changed = job;
    Drawn& body = drawn(changed, id);
    Section& section = section_made_at(job, body, station);
    Node node;
    node.id = NodeIds(job).next();
    node.name = next_drawn_name(body, section, id);
    put(node, at_mm);
    section.nodes.push_back(node);
    drop_idle_run_outs(job, drawn(job, id), changed, body);
    const std::string words = words_of("draw", Section{station, {}, {}}, node.name);
    return checked_edit(std::move(changed), words);
}

}  // namespace sillwright::core

#include "core/section_check.h"

#include <map>
#include <set>
#include <vector>

#include "geometry/corner.h"

namespace sillwright::core {

namespace {

using Point = Eigen::Vector2d;

Point place(const Node& node) {
    return {geometry::in_mm(node.out.value), geometry::in_mm(node.up.value)};
}

double turn(const Point& a, const Point& b, const Point& c) {
    const Point u = b - a;
    const Point v = c - a;
    return u.x() * v.y() - u.y() * v.x();
}

bool apart(double a, double b) {
    return (a > 0.0 && b < 0.0) || (a < 0.0 && b > 0.0);
}

bool crosses(const Point& a, const Point& b, const Point& c, const Point& d) {
    return apart(turn(a, b, c), turn(a, b, d)) && apart(turn(c, d, a), turn(c, d, b));
}

/// Which name comes straight after which, in the first `count` sections.
using Followers = std::map<std::string, std::set<std::string>>;

/// Whether `to` can be reached from `from`.
bool leads_to(const Followers& followers, const std::string& from, const std::string& to) {
    std::vector<std::string> open{from};
    std::set<std::string> seen{from};
    while (!open.empty()) {
        const std::string name = open.back();
        open.pop_back();
        if (name == to) {
            return true;
        }
        const auto found = followers.find(name);
        if (found == followers.end()) {
            continue;
        }
        for (const std::string& next : found->second) {
            if (seen.insert(next).second) {
                open.push_back(next);
            }
        }
    }
    return false;
}

}  // namespace

std::optional<std::pair<std::size_t, std::size_t>> first_crossing(const Section& section, bool closed) {
    const std::size_t n = section.nodes.size();
    if (n < 2) {
        return std::nullopt;
    }
    const std::size_t straights = closed ? n : n - 1;
    for (std::size_t i = 0; i < straights; ++i) {
        for (std::size_t j = i + 2; j < straights; ++j) {
            if (crosses(place(section.nodes[i]), place(section.nodes[(i + 1) % n]), place(section.nodes[j]),
                        place(section.nodes[(j + 1) % n]))) {
                return std::pair{i, j};
            }
        }
    }
    return std::nullopt;
}

std::optional<std::string> section_misfit(const Section& section, bool closed) {
    const std::size_t n = section.nodes.size();
    if (n < (closed ? 3U : 2U)) {
        return std::nullopt;
    }
    if (const auto cross = first_crossing(section, closed)) {
        const auto name = [&](std::size_t i) { return section.nodes[i % n].name; };
        return "the line from " + name(cross->second) + " to " + name(cross->second + 1) +
               " would cross the one from " + name(cross->first) + " to " + name(cross->first + 1) +
               ". Put these nodes where the line does not cross itself.";
    }
    std::vector<geometry::ProfileNode> nodes;
    std::vector<std::string> names;
    for (const Node& node : section.nodes) {
        nodes.push_back({place(node), node.radius.value});
        names.push_back(node.name);
    }
    std::vector<geometry::Corner> corners;
    auto status = geometry::find_corners(nodes, names, closed, corners);
    if (status) {
        status = geometry::check_room(corners, names, closed, 0.0);
    }
    return status ? std::nullopt : std::optional(status.error().message + ".");
}

std::optional<OutOfOrder> first_out_of_order(const Drawn& drawn) {
    Followers followers;
    for (std::size_t s = 0; s < drawn.sections.size(); ++s) {
        const auto& nodes = drawn.sections[s].nodes;
        for (std::size_t i = 0; i + 1 < nodes.size(); ++i) {
            if (followers[nodes[i].name].contains(nodes[i + 1].name)) {
                continue;  // known from another section
            }
            if (leads_to(followers, nodes[i + 1].name, nodes[i].name)) {
                return OutOfOrder{s, i + 1, nodes[i + 1].name};
            }
            followers[nodes[i].name].insert(nodes[i + 1].name);
        }
    }
    return std::nullopt;
}

}  // namespace sillwright::core

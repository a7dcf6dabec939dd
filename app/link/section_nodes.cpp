#include "app/link/section_nodes.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "app/length_words.h"
#include "app/link/section_strokes.h"

namespace sillwright::app {

using core::DrawnId;
using Eigen::Vector2d;
using geometry::in_mm;
using geometry::Length;

namespace {

Vector2d place_of(const core::Node& node) {
    return {in_mm(node.out.value), in_mm(node.up.value)};
}

SectionNumber number_of(const core::Entry& entry, core::BareUnit unit) {
    return {entry_words(entry, unit), !entry.typed.empty()};
}

const core::Node* node_named(const core::Section* section, const std::string& name) {
    if (section == nullptr) {
        return nullptr;
    }
    const auto found = std::find_if(section->nodes.begin(), section->nodes.end(),
                                    [&](const core::Node& node) { return node.name == name; });
    return found == section->nodes.end() ? nullptr : &*found;
}

Item item_of(const core::Node* node) {
    return node == nullptr ? Item{} : Item{Item::Kind::node, node->id};
}

}  // namespace

const core::Station* station_at(const core::Job& job, Length along) {
    for (const core::Station& station : job.stations) {
        if (std::abs(in_mm(station.along.value - along)) <= in_mm(k_in_section)) {
            return &station;
        }
    }
    return nullptr;
}

const core::Section* section_at(const core::Drawn& drawn, const std::string& station) {
    for (const core::Section& section : drawn.sections) {
        if (section.station == station) {
            return &section;
        }
    }
    return nullptr;
}

SectionRole role_of(DrawnId id) {
    switch (id.kind) {
        case DrawnId::Kind::piece:
            return SectionRole::skirt_drawn;
        case DrawnId::Kind::door_body:
            return SectionRole::door;
        case DrawnId::Kind::body:
            break;
    }
    return SectionRole::body;
}

void add_nodes(SectionPicture& picture, const core::Job& job, DrawnId id, const core::Section& section) {
    const std::size_t count = section.nodes.size();
    const bool closed = core::closed(job, id);
    for (std::size_t i = 0; i < count; ++i) {
        const core::Node& node = section.nodes[i];
        SectionNode made{node.id,
                         node.name,
                         place_of(node),
                         in_mm(node.radius.value),
                         number_of(node.out, job.unit),
                         number_of(node.up, job.unit),
                         number_of(node.radius, job.unit),
                         std::nullopt,
                         std::nullopt,
                         role_of(id)};
        if (i > 0 || closed) {
            made.before_mm = place_of(section.nodes[(i + count - 1) % count]);
        }
        if (i + 1 < count || closed) {
            made.behind_mm = place_of(section.nodes[(i + 1) % count]);
        }
        picture.nodes.push_back(std::move(made));
    }
}

void add_ticks(SectionPicture& picture, const geometry::Loft& loft, const geometry::Profile& line, Length along,
               SectionRole role, bool named, const core::Section* section) {
    const std::vector<geometry::ProfileNode> nodes = loft.nodes_at(along);
    for (std::size_t i = 0; i < nodes.size(); ++i) {
        if (!loft.present_at(i, along)) {
            continue;
        }
        const geometry::NearestOnProfile nearest = geometry::nearest_point(line, nodes[i].p_mm);
        const geometry::Segment& segment = line.segments[nearest.segment];
        const Vector2d run = geometry::direction_at(segment, geometry::nearest_fraction(segment, nearest.p_mm));
        const std::string& name = loft.names()[i];
        picture.points.push_back(
            {role, nearest.p_mm, named ? name : "", Vector2d(-run.y(), run.x()), item_of(node_named(section, name))});
    }
}

void add_straights(SectionPicture& picture, const core::Job& job, DrawnId id, const core::Section& section) {
    SectionLine line{role_of(id), {}, core::closed(job, id), core::name_of(job, id), {}};
    const bool piece = id.kind == DrawnId::Kind::piece;
    for (std::size_t i = 0; i < section.nodes.size(); ++i) {
        const core::Node& node = section.nodes[i];
        line.points_mm.push_back(place_of(node));
        const Vector2d run = i > 0 ? Vector2d(place_of(node) - place_of(section.nodes[i - 1])) : Vector2d::UnitX();
        picture.points.push_back(
            {line.role, place_of(node), piece ? node.name : "", Vector2d(-run.y(), run.x()), item_of(&node)});
    }
    picture.lines.push_back(std::move(line));
}

}  // namespace sillwright::app

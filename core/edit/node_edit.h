#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <string>
#include <vector>

#include "core/edit/drawn_id.h"
#include "core/edit/edit.h"

/// Changes of nodes. Places are (out, up) in the section plane.
/// Errors of all: invalid_argument if there is no such node; as checked_drawing.
namespace sillwright::core {

/// The node put at a place. Its numbers lose the words that they were typed in.
geometry::Result<Edit> move_node(const Job& job, const std::string& node_id, const Eigen::Vector2d& to_mm);

enum class NodeNumber { out, up, radius };
/// One number of a node as a person typed it: `38`, `1 1/2"`. Errors: also as typed_entry.
geometry::Result<Edit> type_node_number(const Job& job, const std::string& node_id, NodeNumber which,
                                        const std::string& typed);
/// A rounding's radius drawn by its handle.
geometry::Result<Edit> round_node(const Job& job, const std::string& node_id, geometry::Length radius);

/// A new named node at `at_mm` of one section, behind node `after` (from 0) in order; the other
/// sections get it on their own line, at the same part of the way, so that their shape
/// stays: exactly at their stations; between them guide lines are drawn anew, and on lines measured to half a
/// millimetre differ by some hundredths. Where roundings are in the way the node gives way to them.
/// An empty name gets one that is free ("point 1").
/// Errors: also for a name that the body has, and behind the last node of an open line.
geometry::Result<Edit> add_node(const Job& job, DrawnId id, std::size_t section, std::size_t after,
                                const Eigen::Vector2d& at_mm, const std::string& name);
/// A node and its fellows of the same name at all other stations taken away, and where it runs out.
geometry::Result<Edit> delete_nodes(const Job& job, const std::string& node_id);
/// All nodes of that node's name in its body given another name. It may be one that other sections
/// have: so a section that was drawn by itself joins them.
geometry::Result<Edit> rename_nodes(const Job& job, const std::string& node_id, const std::string& name);

/// A node drawn behind the last one of a section that is being drawn by hand, at this
/// station alone: how a first section comes about, click by click. Its name is the next one of
/// the body's other sections; of a piece that has none, of the standard names (DEVELOPERS.md); else one that is free.
geometry::Result<Edit> append_node(const Job& job, DrawnId id, const std::string& station,
                                   const Eigen::Vector2d& at_mm);

}  // namespace sillwright::core

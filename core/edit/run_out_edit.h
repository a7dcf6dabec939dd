#pragma once

#include <string>

#include "core/edit/edit.h"

/// Changes of where a feature ends between two stations. Errors of both: invalid_argument if there is no such
/// node; as checked_edit.
namespace sillwright::core {

/// One node taken away at its own station alone. At the front or rear of its name's stations the feature then
/// runs out before that station, where `run_out_node` says; between them it must be drawn again.
geometry::Result<Edit> delete_node(const Job& job, const std::string& node_id);

/// Where a node's feature runs out, as a person typed it: between a section that has it and a neighbour that
/// has not. What was said before of the same gap goes.
/// Errors: also as typed_entry, and for a place that is not between two such sections.
geometry::Result<Edit> run_out_node(const Job& job, const std::string& node_id, const std::string& typed_along);

}  // namespace sillwright::core

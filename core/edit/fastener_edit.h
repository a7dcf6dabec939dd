#pragma once

#include <string>

#include "core/edit/edit.h"
#include "core/finding.h"
#include "core/mounts/fastener_table.h"

/// Changes of what a mount is fastened with.
namespace sillwright::core {

/// A mount's fastener taken from the table; its spacer stays. `stack`: what it goes through, as far as it is known: a
/// screw's tail follows from it.
/// Errors: invalid_argument if there is no such mount.
geometry::Result<Edit> take_fastener(const Job& job, const std::string& mount, const FastenerRow& row,
                                     const std::optional<geometry::Length>& stack = std::nullopt);

/// A fastener written into the job file whole. Precondition: the mount is there.
FieldChange fastener_change(const Job& job, const std::string& mount, const Fastener& fastener);

}  // namespace sillwright::core

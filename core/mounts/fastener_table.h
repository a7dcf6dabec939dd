#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/job.h"
#include "geometry/units.h"

namespace sillwright::core {

/// A kind of fastener that can be bought. Lengths as in Fastener.
struct FastenerRow {
    std::string name;
    FastenerKind kind = FastenerKind::clip;
    MountKind into = MountKind::hole;
    std::vector<HoleShape> shapes;  ///< Of the body's hole.
    geometry::Length diameter, head_diameter;
    geometry::Length grip_least, grip_most;
    geometry::Length hole_least, hole_most;  ///< The body's hole across; the thread of a stud or nut.
    std::optional<geometry::Length> length;  ///< Of a screw, under its head.
    std::optional<geometry::Length> tail;    ///< Behind the panel, whatever the stack.
    geometry::Force holds;
    bool slides = false;
};

/// The table of fasteners: resources/fasteners.json. Source: common practice, no source.
const std::vector<FastenerRow>& fastener_table();
/// Null if the table has none of that name.
const FastenerRow* find_fastener(const std::string& name);

/// Whether a row goes into a mount at all: its kind and, of a hole, its shape.
bool goes_into(const FastenerRow& row, const Mount& mount);

/// A mount's fastener taken from the table; its spacer stays. A screw's tail is its length less the stack; not known
/// without the stack.
Fastener fastener_of(const FastenerRow& row, const Fastener& before, const std::optional<geometry::Length>& stack);

}  // namespace sillwright::core

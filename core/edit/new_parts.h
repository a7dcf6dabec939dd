#pragma once

#include <string>

#include "core/job.h"

/// Parts of a job of which nothing is measured yet.
namespace sillwright::core {

/// A door with a free name, "front door", "rear door", then "door 3", and one body,
/// "door panel", that is to be drawn.
Door new_door(const Job& job);

/// A piece carried by the body, to be drawn.
Piece new_piece(const std::string& name);

}  // namespace sillwright::core

#pragma once

#include <utility>
#include <vector>

#include "core/survey/placing.h"

namespace sillwright::core::survey {

/// Places a cluster: points that no single one of can be placed, but which ties between them make rigid. It is solved
/// in a frame of its own from its distances and angles, then moved (turned over too, if that suits) to where its
/// readings to placed points, its plumb readings and the coordinates held in it put it. True if one was placed.
///
/// Another pose that suits alike goes to `other_poses`.
bool place_cluster(const Network& network, Placing& placing);

}  // namespace sillwright::core::survey

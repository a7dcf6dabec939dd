#pragma once

#include <cstddef>
#include <optional>

#include "app/drawings/thickness_picture.h"
#include "geometry/units.h"

namespace sillwright::core {
struct Evaluation;
}

namespace sillwright::app {

/// How thick a piece comes out; `number` is that of the planned pieces, `along` where the section is, the middle of the
/// piece if nowhere.
///
/// Shape: lengths round the section are from corner to corner, roundings left out, so that a mark has its place.
ThicknessPicture thickness_of_job(const core::Evaluation& evaluation, std::size_t number,
                                  std::optional<geometry::Length> along);

}  // namespace sillwright::app

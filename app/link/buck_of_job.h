#pragma once

#include <cstddef>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/drawings/assembly_picture.h"
#include "app/drawings/rib_picture.h"
#include "geometry/motion_distance.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::core {
struct BuckPlan;
struct BuckWork;
struct Evaluation;
struct PieceBuck;
}  // namespace sillwright::core

/// The buck of a computed job for the stage Buck.
namespace sillwright::app {

/// The pieces that have a buck, or lack something for it, by name and in their order.
std::vector<std::string> buck_pieces(const core::Evaluation& evaluation);

/// Of those, number `number`; null if there are not so many.
const core::PieceBuck* buck_of(const core::Evaluation& evaluation, std::size_t number);

/// A rib as it is chosen: "R3 · station 3", and where it stands.
struct RibChoice {
    std::string words;
    geometry::Length along;
};
std::vector<RibChoice> ribs_of(const core::Evaluation& evaluation, std::size_t piece);
/// The rib nearest to a place; none where there are no ribs.
std::optional<std::size_t> nearest_rib(const std::vector<RibChoice>& ribs, geometry::Length along);

RibPicture rib_of_job(const core::Evaluation& evaluation, std::size_t piece, std::size_t rib);

/// `chosen`: number of a rib.
AssemblyPicture assembly_of_job(const core::Evaluation& evaluation, std::size_t piece,
                                std::optional<std::size_t> chosen);

/// What is said where there is no board yet, or no piece that is drawn to its end.
std::string no_buck_words(const core::Evaluation& evaluation);

}  // namespace sillwright::app

#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/evaluate.h"
#include "core/handover/document.h"

namespace sillwright::core {

/// One page for the installer: what is in the box, tools, order of work with the holes numbered in a picture, section
/// where a door comes nearest, end gaps by temperature, card test of the doors, where nothing may be drilled, whom to
/// call. None where no mount lands on a drawn flange.
std::optional<Document> fitting_sheet(const Evaluation& evaluation);

/// A card pushed between door and skirt at the place where they come nearest.
struct CardTest {
    std::string door, what, where;
    geometry::Angle opening;
    geometry::Length card;  ///< The gap asked for, without room for what is unsure: the car itself is there now.
};
/// One of each moving question of a door that was answered without contact; a card is no thicker than the gap found.
std::vector<CardTest> card_tests(const Evaluation& evaluation);

/// Part and car are fitted between these: common practice, no source.
constexpr geometry::Temperature k_fit_coldest = geometry::celsius(10.0);
constexpr geometry::Temperature k_fit_hottest = geometry::celsius(30.0);

}  // namespace sillwright::core

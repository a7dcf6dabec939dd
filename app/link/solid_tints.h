#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "app/link/section_forming.h"

namespace sillwright::core {
struct Evaluation;
}

namespace sillwright::app {

/// For every triangle of a piece's body the step of its tint, from 0, the strongest, to ThicknessTint::k_steps - 1; or
/// k_no_tint on end caps. Empty where the piece has no body drawn by sections, or nothing of it is computed.
///
/// Thickness: in equal steps from the thinnest to the thickest of all pieces, the sheet before forming included, so
///   that a tint means the same on each.
/// Draft: undercut is the strongest, enough the palest, with equal steps from none to enough between them. While it is
///   not known what is enough, all that is no undercut is the palest.
/// Accuracy: of the middle between two rows of the mesh and two points of its outline; a rounding is as at its node.
std::vector<int> piece_tints(const core::Evaluation& evaluation, std::size_t piece, SectionForming what);

/// What is at the edges of the steps, from the strongest tint to the palest; empty words beyond the last number, no
/// words at all where nothing is tinted.
std::vector<std::string> tint_words(const core::Evaluation& evaluation, SectionForming what);

}  // namespace sillwright::app

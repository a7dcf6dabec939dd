#pragma once

#include <string>
#include <vector>

#include "core/finding.h"
#include "core/forming/forming_plan.h"

namespace sillwright::core {
struct Evaluation;
}

/// What the pictures of the stage Forming have in common.
namespace sillwright::app {

/// The pieces of a computed job whose forming is planned, by name and in their order.
std::vector<std::string> formed_pieces(const core::Evaluation& evaluation);

/// Of those, number `number`; null if there are not so many.
const core::PieceForming* forming_of(const core::Evaluation& evaluation, std::size_t number);

/// The finding of an id; null if there is none.
const core::Finding* finding_of(const core::Evaluation& evaluation, const std::string& id);

/// The worst of the findings whose ids begin with `beginning`; not measured if there is none.
core::State worst_state(const core::Evaluation& evaluation, const std::string& beginning);

/// "forming/skirt/": what the ids of a piece's findings begin with.
std::string forming_id(const core::Evaluation& evaluation, const core::PieceForming& forming);

/// A sentence, and below it what must be decided first, a line each; empty if nothing is missing.
std::string missing_words(const std::string& sentence, const std::vector<std::string>& missing);

/// What is said where no piece's forming is planned.
std::string nothing_formed_words();

}  // namespace sillwright::app

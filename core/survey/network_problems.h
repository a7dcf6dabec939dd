#pragma once

#include <string>
#include <vector>

#include "core/survey/freedom.h"
#include "core/survey/network.h"

namespace sillwright::core::survey {

/// What is wrong with the book as a whole, each with what to do: empty, one mark, no frame, parts that nothing ties
/// together, a set-up whose lean no reading fixes.
std::vector<std::string> network_problems(const Network& network, const Freedom& freedom);

/// "A", "A and B", "A, B and C"; of more than `most` names the first and how many there are besides.
std::string listed(const std::vector<std::string>& names, std::size_t most = 4);

}  // namespace sillwright::core::survey

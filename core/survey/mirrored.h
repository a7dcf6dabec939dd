#pragma once

#include <vector>

#include "core/survey/network.h"
#include "core/survey/placing.h"
#include "core/survey/solution.h"

namespace sillwright::core::survey {

/// Tries the mirror image of each point, and of all that hangs on it, in the plane through those that it hangs on; all
/// is adjusted again. Takes the image where it suits the readings better, or alike and nearer to the rough places in
/// the book; asks about it where it suits alike and no rough place answers.
///
/// Alike: the sum of squares differs by less than the 99.9 % point of chi-squared with one degree of freedom.
std::vector<Mirrored> settle_mirrors(const Network& network, const Book& book, Placing& placing);

}  // namespace sillwright::core::survey

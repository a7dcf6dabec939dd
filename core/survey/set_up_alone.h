#pragma once

#include <string>

#include "core/survey/book.h"
#include "core/survey/solution.h"

namespace sillwright::core::survey {

/// What the readings of each of two set-ups say by themselves.
struct SetUpsAlone {
    std::string first_name, second_name;
    Solution first, second;
    std::string lacks;  ///< Why not; empty if both are there.
};

/// Of the first two set-ups that have readings. Both in one and the same frame of three points that both measured: held
/// where the whole book puts them, three coordinates of one, two of the second, one of the third, so that the frame
/// does not bend what was read. How the car leans is sought anew.
SetUpsAlone set_ups_alone(const Book& book);

}  // namespace sillwright::core::survey

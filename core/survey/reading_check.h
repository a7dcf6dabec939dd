#pragma once

#include <string>

#include "core/survey/book.h"

namespace sillwright::core::survey {

/// The set-up of a reading: the one it names; else the first of the book; level if the book has none. Null if it names
/// one that the book has not.
const SetUp* set_up_of(const Book& book, const Reading& reading);

/// Whether a set-up's plumb line may lean, so that heights, offsets and slopes depend on it.
bool may_lean(const SetUp& set_up);

/// Whether its number depends on how the set-up leans: height, offset, slope.
bool is_plumb(ReadingKind kind);

/// A number at one place, with no coordinates: gap or depth of one point.
bool is_spot(const Reading& reading);

/// Why a reading can never be used as it stands, in one sentence; empty if it can: it lacks a number, has another count
/// of points than its kind, names a point twice or a set-up that the book has not, is negative where nothing is, or
/// its sd is not above zero.
std::string why_not_usable(const Book& book, const Reading& reading);

}  // namespace sillwright::core::survey

#pragma once

#include <Eigen/Core>
#include <string_view>
#include <vector>

#include "geometry/drawing.h"
#include "geometry/units.h"

namespace sillwright::geometry {

/// Greatest width of a letter with its gap, in heights of a capital.
inline constexpr double k_stroke_letter_width = 1.0;
/// How far below the base line, and above it, strokes reach at most, in heights: of "(" and "g", and of "(" and "/".
inline constexpr double k_stroke_below = 1.0 / 3.0;
inline constexpr double k_stroke_above = 25.0 / 21.0;

/// Words as strokes of a pointed tool: open chains of straights.
///
/// Units and frame: millimetres; the base line begins at `at_mm` and goes in the direction `turned`.
/// Shape: ASCII 32 to 126 and the degree sign (UTF-8); anything else is drawn as "?". `height` is a capital's.
///   Letters are drawn 7/8 of their usual width, wide ones narrower still, so that none with its gap is wider than it
///   is high. Curves are chords, as the source has them: about 1/40 of the height off at most (by eye).
/// Source: resources/letters.txt: A. V. Hershey's letters, US National Bureau of Standards, 1967.
std::vector<DrawnChain> stroke_text(std::string_view words, const Eigen::Vector2d& at_mm, Length height,
                                    Angle turned = {});

/// From the beginning of the first letter to the end of the last one with its gap: 0 for no words.
Length stroke_width(std::string_view words, Length height);

}  // namespace sillwright::geometry

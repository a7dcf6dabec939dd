#pragma once

#include <Eigen/Geometry>
#include <optional>
#include <string>
#include <vector>

#include "core/buck/cut_part.h"
#include "core/buck/part_room.h"

namespace sillwright::core {

/// Where a marked direction goes on a part that lies as it is drawn.
enum class MarkWay { right, left, up, to_reader, from_reader };

/// A word with an arrow behind it; of a direction that comes out of the face, a ring with a dot; that goes into it, a
/// ring with a cross.
struct DirectionMark {
    std::string word;
    MarkWay way = MarkWay::right;
};

/// One line of lettering: words, or marks in a row.
struct Lettering {
    std::vector<std::string> words;               ///< Longest first: the first that has room is taken.
    std::vector<DirectionMark> marks{};           ///< Instead of words.
    std::optional<Eigen::AlignedBox2d> within{};  ///< It belongs there; else anywhere.
};

/// Puts lettering on a part, off its edges, slots, holes and what is engraved already (`room`, which then has the new
/// too). All in letters of one height, from `letters_mm` down to `k_least_letters`: the greatest at which all has room;
/// where there is none, that at which least is left out, and then in the order of `wanted`. Lines without a place of
/// their own go together as a block where they can, else each for itself.
///
/// Words take `k_letter_width` heights a letter (rib_label.h). What finds no room, however short, is put down in
/// `part.left_out`.
void engrave(const std::vector<Lettering>& wanted, double letters_mm, PartRoom& room, CutPart& part);

/// What cannot be read at arm's length is no help: common practice, no source.
constexpr geometry::Length k_least_letters = geometry::millimetres(4.0);

}  // namespace sillwright::core

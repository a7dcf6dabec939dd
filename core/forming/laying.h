#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "core/forming/mould_chain.h"
#include "core/forming/platen.h"
#include "core/forming/silhouette.h"
#include "core/job.h"
#include "geometry/window_fit.h"

namespace sillwright::core {

/// What a machine leaves for the mould: the free window less the clamp distance all round. A mould has the clamp
/// distance all round, round its corners too, just if it lies in that smaller window.
struct Room {
    Eigen::Vector2d size_mm = Eigen::Vector2d::Zero();
    double trim_mm = 0.0;  ///< By which the mould goes on beyond the trim line.
    MouldSize mould = {};  ///< Of the part that is laid: parts are given at their own size.
};

/// What is not known of the machine counts as nothing.
Room room_of(const Forming& forming, const Machine& machine, const MouldSize& mould);

/// The silhouette of the mould that a part comes off, about the part's middle; without trim allowance.
Silhouette mould_of(const Silhouette& part, const MouldSize& mould);

/// A part's mould laid in a room: straight, or across, where it goes in like that; else at its best turn.
geometry::WindowFit laid(const Silhouette& part, const Room& room);

/// The part on the forming's machine, without set-back and splits: see platen().
Platen laid_platen(const Forming& forming, const Piece& piece, const Silhouette& part, geometry::Angle tilt,
                   const MouldSize& mould);

/// What is checked of a part on its machine.
enum class PlatenCheck { window, depth, oven, gauge };
inline constexpr PlatenCheck k_platen_checks[] = {PlatenCheck::window, PlatenCheck::depth, PlatenCheck::oven,
                                                  PlatenCheck::gauge};

/// A check's numbers in millimetres; found must be at most the required. A number with something missing is that at
/// least, and is left out where it would hold.
struct PlatenNumber {
    std::optional<double> found, required, margin;
    std::vector<std::string> missing;
};

PlatenNumber platen_number(PlatenCheck check, const Forming& forming, const Piece& piece, const Platen& platen);

}  // namespace sillwright::core

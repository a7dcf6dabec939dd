#pragma once

#include <string>
#include <vector>

#include "core/finding.h"
#include "core/job.h"
#include "geometry/units.h"

namespace sillwright::core {

struct PieceModel;

/// What a fastener goes through, as far as it is known: body panel, spacer (tape too), formed flange, paint.
struct Stack {
    geometry::Length thickness;
    geometry::Length half_width;  ///< Two standard deviations: the root of the sum of the parts' squares.
    std::vector<Input> inputs;
    std::vector<std::string> missing;
};

/// Formed flange: see thickness.h; with the piece's model as it is computed where it is. A panel's standard deviation:
/// `k_panel_sd`; a film's: `k_film_sd_share` of it. A spacer is taken as exact. Missing: panel, sheet, paint (0 if the
/// part stays bare).
Stack stack_of(const Job& job, const Mount& mount, const Piece& piece, const PieceModel* model = nullptr);

/// Cold-rolled sheet of about 0.8 mm keeps within some +-0.06 mm: EN 10131, from memory.
constexpr geometry::Length k_panel_sd = geometry::millimetres(0.03);
/// A sprayed film keeps within some +-30 %: common practice, no source.
constexpr double k_film_sd_share = 0.15;

}  // namespace sillwright::core

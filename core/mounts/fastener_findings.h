#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/job.h"

namespace sillwright::core {

/// Whether the body's hole (or thread) is one that the fastener is made for: `mounts/<mount>/hole fit`. Two-sided: the
/// margin is to the nearer end of its range.
Finding hole_fit_finding(const Job& job, const Mount& mount, const Piece* piece, const PieceModel* model = nullptr);

/// Whether there is room behind the panel: `mounts/<mount>/free depth`: tail + room asked for <= free depth. A screw
/// comes out further where the stack is thinner: by two standard deviations of it.
/// Precondition: not a stud, of which nothing goes in.
Finding free_depth_finding(const Job& job, const Mount& mount, const Piece* piece, const PieceModel* model = nullptr);

/// How many of one fastener are used for flanges, and how many spares are bought: one in ten, at least one.
struct FastenerCount {
    std::string name;
    std::size_t used = 0, spares = 0;
    double holds_n = 0.0;  ///< All of them together, as far as is known.
};
/// By name. Mounts without a fastener are left out.
std::vector<FastenerCount> fastener_counts(const Job& job);

/// How many of which fastener, with spares (one in ten, at least one of each), and what they hold together:
/// `mounts/fasteners`.
Finding fastener_list_finding(const Job& job);

/// Both of every mount used for the flange, and the list. Mends take a fastener of the table. `piece` above is the one
/// that the mount is fixed to; null if there is none yet: then there is no mend by the table.
/// Source: common practice, no source.
std::vector<Finding> fastener_findings(const Job& job, const CarModel& car);

}  // namespace sillwright::core

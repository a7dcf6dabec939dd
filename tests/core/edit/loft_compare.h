#pragma once

#include <algorithm>
#include <string>

#include "bench_job.h"
#include "core/drawn_loft.h"
#include "geometry/profile.h"

namespace sillwright::core::bench {

inline geometry::Loft loft(const Job& job, DrawnId id) {
    auto made = loft_of(job, drawn(job, id), closed(job, id), name_of(job, id));
    EXPECT_TRUE(made) << (made ? "" : made.error().message);
    return std::move(made).value();
}

/// The greatest distance of a section's points from the other section, either way, in millimetres.
inline double apart_mm(const geometry::Loft& a, const geometry::Loft& b, double along_mm) {
    const auto one = a.section_at(geometry::millimetres(along_mm));
    const auto other = b.section_at(geometry::millimetres(along_mm));
    EXPECT_TRUE(one && other) << "at " << along_mm;
    double most = 0.0;
    const auto look = [&](const geometry::Profile& from, const geometry::Profile& to) {
        // A straight is nowhere further off a convex bound than at its ends: chords of 1e-5 mm are as good as the line.
        const auto points = geometry::polyline(from, geometry::millimetres(1e-5)).value();
        for (const Eigen::Vector2d& p : points) {
            most = std::max(most, geometry::in_mm(geometry::nearest_point(to, p).distance));
        }
    };
    look(one.value(), other.value());
    look(other.value(), one.value());
    return most;
}

}  // namespace sillwright::core::bench

#pragma once

#include <vector>

#include "geometry/units.h"

namespace sillwright::geometry {

/// How far a face lies to the left of its line in one section, by mark.
///
/// Marks: the number of a node and the part of the way from its corner to the next one's: 2.5 is half-way from node 2
///   to node 3. So a place stays with its strip where nodes move or the section changes along the car.
struct OffsetRow {
    std::vector<double> marks;  ///< Rising, one at least.
    std::vector<double> mm;     ///< One each; negative is to the right.

    /// Linear between marks, and beyond them as at the last.
    [[nodiscard]] double at(double mark) const;
    /// Greatest and least between two marks.
    [[nodiscard]] double most(double from, double to) const;
    [[nodiscard]] double least(double from, double to) const;
};

/// The same by place along the car too.
///
/// Shape: `mm` row by row, rows.size() · marks.size() of them, one at least.
struct OffsetLaw {
    std::vector<Length> rows;  ///< Rising.
    std::vector<double> marks;
    std::vector<double> mm;

    /// The same everywhere.
    static OffsetLaw same(Length offset);
    [[nodiscard]] bool is_same() const { return mm.size() == 1; }

    /// Linear between rows, and beyond them as at the last; written over `row`.
    void at(Length along, OffsetRow& row) const;
    [[nodiscard]] OffsetRow at(Length along) const;
    [[nodiscard]] double at(Length along, double mark) const;

    [[nodiscard]] double most() const;
    [[nodiscard]] double least() const;
};

}  // namespace sillwright::geometry

#include "geometry/offset_law.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace sillwright::geometry {

namespace {

/// What of `values` lies between two marks, the values at these too, joined by `pick`.
template <class Pick>
double picked(const OffsetRow& row, double from, double to, const Pick& pick) {
    double value = pick(row.at(from), row.at(to));
    for (auto mark = std::upper_bound(row.marks.begin(), row.marks.end(), from); mark != row.marks.end() && *mark < to;
         ++mark) {
        value = pick(value, row.mm[static_cast<std::size_t>(mark - row.marks.begin())]);
    }
    return value;
}

}  // namespace

double OffsetRow::at(double mark) const {
    const auto behind = std::upper_bound(marks.begin(), marks.end(), mark);
    if (behind == marks.begin()) {
        return mm.front();
    }
    if (behind == marks.end()) {
        return mm.back();
    }
    const auto k = static_cast<std::size_t>(behind - marks.begin());
    return std::lerp(mm[k - 1], mm[k], (mark - marks[k - 1]) / (marks[k] - marks[k - 1]));
}

double OffsetRow::most(double from, double to) const {
    return picked(*this, from, to, [](double a, double b) { return std::max(a, b); });
}

double OffsetRow::least(double from, double to) const {
    return picked(*this, from, to, [](double a, double b) { return std::min(a, b); });
}

OffsetLaw OffsetLaw::same(Length offset) {
    return {{Length{}}, {0.0}, {in_mm(offset)}};
}

void OffsetLaw::at(Length along, OffsetRow& row) const {
    assert(!rows.empty() && !marks.empty() && mm.size() == rows.size() * marks.size());
    row.marks = marks;
    row.mm.resize(marks.size());
    const auto behind = std::upper_bound(rows.begin(), rows.end(), along);
    const std::size_t k =
        behind == rows.begin() ? 0 : std::min(static_cast<std::size_t>(behind - rows.begin()) - 1, rows.size() - 1);
    const bool between = behind != rows.begin() && behind != rows.end();
    const double part = between ? in_mm(along - rows[k]) / in_mm(rows[k + 1] - rows[k]) : 0.0;
    const double* const here = mm.data() + k * marks.size();
    const double* const next = between ? here + marks.size() : here;
    for (std::size_t i = 0; i < marks.size(); ++i) {
        row.mm[i] = std::lerp(here[i], next[i], part);
    }
}

OffsetRow OffsetLaw::at(Length along) const {
    OffsetRow row;
    at(along, row);
    return row;
}

double OffsetLaw::at(Length along, double mark) const {
    const auto in_row = [&](std::size_t row) {
        const double* const here = mm.data() + row * marks.size();
        const auto behind = std::upper_bound(marks.begin(), marks.end(), mark);
        if (behind == marks.begin() || behind == marks.end()) {
            return behind == marks.end() ? here[marks.size() - 1] : here[0];
        }
        const auto k = static_cast<std::size_t>(behind - marks.begin());
        return std::lerp(here[k - 1], here[k], (mark - marks[k - 1]) / (marks[k] - marks[k - 1]));
    };
    const auto behind = std::upper_bound(rows.begin(), rows.end(), along);
    if (behind == rows.begin() || behind == rows.end()) {
        return in_row(behind == rows.end() ? rows.size() - 1 : 0);
    }
    const auto k = static_cast<std::size_t>(behind - rows.begin());
    return std::lerp(in_row(k - 1), in_row(k), in_mm(along - rows[k - 1]) / in_mm(rows[k] - rows[k - 1]));
}

double OffsetLaw::most() const {
    return *std::max_element(mm.begin(), mm.end());
}

double OffsetLaw::least() const {
    return *std::min_element(mm.begin(), mm.end());
}

}  // namespace sillwright::geometry

#include "core/mounts/clearance_rules.h"

#include <array>
#include <cmath>

namespace sillwright::core {

using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;

namespace {

struct ClearanceRow {
    double screw_mm, fine_mm, medium_mm, coarse_mm;
};

/// ISO 273.
constexpr std::array<ClearanceRow, 7> k_iso_273{{
    {4, 4.3, 4.5, 4.8},
    {5, 5.3, 5.5, 5.8},
    {6, 6.4, 6.6, 7.0},
    {7, 7.4, 7.6, 8.0},
    {8, 8.4, 9.0, 10.0},
    {10, 10.5, 11.0, 12.0},
    {12, 13.0, 13.5, 14.5},
}};

/// Shanks nearer to a screw of the table than this are that screw: far below what can be measured.
constexpr double k_same_mm = 1e-6;

double of(const ClearanceRow& row, HoleFit fit) {
    switch (fit) {
        case HoleFit::fine:
            return row.fine_mm;
        case HoleFit::medium:
            return row.medium_mm;
        case HoleFit::coarse:
            return row.coarse_mm;
    }
    return row.coarse_mm;
}

double fine_clearance(const ClearanceRow& row) {
    return row.fine_mm - row.screw_mm;
}

}  // namespace

Length floating_hole(Length fastener, Length tolerance) {
    return fastener + tolerance;
}

Length fixed_hole(Length fastener, Length tolerance, Length held) {
    return fastener + tolerance + held;
}

Length fixed_hole(Length fastener, Length tolerance, Length held, Length through, Length depth) {
    return fastener + tolerance + held * (1.0 + 2.0 * (through / depth));
}

std::optional<Length> clearance_hole(Length screw, HoleFit fit) {
    for (const ClearanceRow& row : k_iso_273) {
        if (std::abs(row.screw_mm - in_mm(screw)) < k_same_mm) {
            return millimetres(of(row, fit));
        }
    }
    return std::nullopt;
}

Length close_hole(Length shank) {
    const double d = in_mm(shank);
    if (d <= k_iso_273.front().screw_mm) {
        return shank + millimetres(fine_clearance(k_iso_273.front()));
    }
    for (std::size_t i = 1; i < k_iso_273.size(); ++i) {
        const ClearanceRow& less = k_iso_273[i - 1];
        const ClearanceRow& more = k_iso_273[i];
        if (d <= more.screw_mm) {
            const double part = (d - less.screw_mm) / (more.screw_mm - less.screw_mm);
            return millimetres(less.fine_mm + part * (more.fine_mm - less.fine_mm));
        }
    }
    return shank + millimetres(fine_clearance(k_iso_273.back()));
}

}  // namespace sillwright::core

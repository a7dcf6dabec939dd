#include "core/forming/laying.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "core/forming/machine_table.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::Angle;
using geometry::in_mm;
using geometry::in_rad;
using geometry::millimetres;
using geometry::WindowFit;

namespace {

/// Round corners are drawn by chords of this turn, which divides a right angle: so the extents are exact.
constexpr double k_chord_turn = std::numbers::pi / 24.0;

double mm_or_none(const std::optional<Entry>& entry) {
    return entry ? in_mm(entry->value) : 0.0;
}

std::vector<Vector2d> placed(std::vector<Vector2d> points, const WindowFit& fit) {
    const Eigen::Rotation2Dd turn(in_rad(fit.yaw));
    for (Vector2d& p : points) {
        p = turn * p + fit.shift_mm;
    }
    return points;
}

Vector2d size_of(const std::vector<Vector2d>& points) {
    Vector2d low = points.front();
    Vector2d high = points.front();
    for (const Vector2d& p : points) {
        low = low.cwiseMin(p);
        high = high.cwiseMax(p);
    }
    return high - low;
}

/// A hull grown by a distance all round: a point for each direction of the chords, at the corner that is furthest
/// there.
std::vector<Vector2d> grown(const std::vector<Vector2d>& points, double by_mm) {
    const std::vector<Vector2d> hull = geometry::convex_hull(points);
    std::vector<Vector2d> all;
    const auto count = static_cast<int>(std::lround(2.0 * std::numbers::pi / k_chord_turn));
    for (int i = 0; i < count; ++i) {
        const Vector2d out(std::cos(k_chord_turn * i), std::sin(k_chord_turn * i));
        for (const Vector2d& p : hull) {
            all.push_back(p + by_mm * out);
        }
    }
    return by_mm > 0.0 ? geometry::convex_hull(all) : hull;
}

using Words = std::vector<std::string>;

/// What is not known, by what it is needed for.
struct Lacks {
    Words sheet, machine, opening, clamps;
};

void list_if(Words& words, bool lacks, const std::string& what) {
    if (lacks) {
        words.push_back(what);
    }
}

Lacks lacks_of(const Forming& forming, const Piece& piece, const Machine* machine) {
    Lacks lacks;
    list_if(lacks.sheet, !piece.sheet, "the sheet thickness of " + piece.name);
    if (machine == nullptr) {
        list_if(lacks.machine, true,
                forming.machine.empty() ? "the machine that forms the sheet"
                                        : "the numbers of the machine \"" + forming.machine + "\", which no table has");
    } else {
        list_if(lacks.opening, !machine->length, "the length of the opening of " + machine->name);
        list_if(lacks.opening, !machine->width, "the width of the opening of " + machine->name);
        list_if(lacks.opening, !machine->clamp_margin, "what the clamps take at each side of " + machine->name);
    }
    list_if(lacks.clamps, !forming.clamp_distance, "the distance from the mould's foot to the clamp line");
    return lacks;
}

Words joined(std::initializer_list<Words> lists) {
    Words all;
    for (const Words& list : lists) {
        all.insert(all.end(), list.begin(), list.end());
    }
    return all;
}

/// Found at most required; less than the whole truth if something is missing.
PlatenNumber at_most(double found, const std::optional<double>& required, std::vector<std::string> missing) {
    PlatenNumber number;
    number.missing = std::move(missing);
    number.required = required;
    const bool falls_short = required && *required < found;
    if (number.missing.empty() || falls_short) {
        number.found = found;
        number.margin = required ? std::optional(*required - found) : std::nullopt;
    }
    return number;
}

/// One of a machine's numbers; what it is goes to what is missing if the machine has none.
std::optional<double> limit(const Machine* machine, const std::optional<Entry> Machine::*number, const char* words,
                            Words& missing) {
    if (machine == nullptr) {
        return std::nullopt;
    }
    if (!(machine->*number)) {
        missing.push_back(words + machine->name);
        return std::nullopt;
    }
    return in_mm((machine->*number)->value);
}

PlatenNumber window_number(const Lacks& lacks, const Platen& platen) {
    const Words missing = joined({lacks.sheet, lacks.machine, lacks.opening, lacks.clamps});
    return platen.window_mm.isZero() ? at_most(0.0, std::nullopt, missing)
                                     : at_most(in_mm(platen.excess), 0.0, missing);
}

PlatenNumber oven_number(const Lacks& lacks, const Machine* machine, const Platen& platen) {
    Words missing = joined({lacks.sheet, lacks.machine, lacks.clamps});
    const auto length = limit(machine, &Machine::oven_length, "the length that is heated evenly by ", missing);
    const auto width = limit(machine, &Machine::oven_width, "the width that is heated evenly by ", missing);
    if (!length && !width) {
        return at_most(0.0, std::nullopt, missing);
    }
    constexpr double k_far = std::numeric_limits<double>::infinity();
    return at_most((platen.size_mm - Vector2d(length.value_or(k_far), width.value_or(k_far))).maxCoeff(), 0.0, missing);
}

}  // namespace

Room room_of(const Forming& forming, const Machine& machine, const MouldSize& mould) {
    const double taken = 2.0 * (mm_or_none(machine.clamp_margin) + mm_or_none(forming.clamp_distance));
    return {Vector2d(mm_or_none(machine.length) - taken, mm_or_none(machine.width) - taken),
            in_mm(forming.trim_allowance.value), mould};
}

Silhouette mould_of(const Silhouette& part, const MouldSize& mould) {
    const double along = 0.5 * (part.rows.front().along_mm + part.rows.back().along_mm);
    const double across = 0.5 * (part.low_mm + part.high_mm);
    // Nothing is moved, not even by rounding, where nothing is scaled.
    const auto scaled = [](double at, double about, double by) { return at + (by - 1.0) * (at - about); };
    Silhouette large = part;
    for (SilhouetteRow& row : large.rows) {
        row.along_mm = scaled(row.along_mm, along, mould.along);
        row.low_mm = scaled(row.low_mm, across, mould.across);
        row.high_mm = scaled(row.high_mm, across, mould.across);
    }
    large.low_mm = scaled(part.low_mm, across, mould.across);
    large.high_mm = scaled(part.high_mm, across, mould.across);
    large.crown_mm = scaled(part.crown_mm, part.foot_mm, mould.across);
    return large;
}

WindowFit laid(const Silhouette& part, const Room& room) {
    const std::vector<Vector2d> mould = geometry::convex_hull(outline_of(mould_of(part, room.mould), room.trim_mm));
    for (const Angle turn : {geometry::degrees(0.0), geometry::degrees(90.0)}) {
        const auto fit = geometry::window_fit_at(mould, room.size_mm, turn);
        if (fit && in_mm(fit.value().excess) <= 0.0) {
            return fit.value();
        }
    }
    // A silhouette has rows and finite numbers, as a loft has: nothing is refused.
    return geometry::window_fit(mould, room.size_mm).value();
}

Platen laid_platen(const Forming& forming, const Piece& piece, const Silhouette& part, Angle tilt,
                   const MouldSize& mould) {
    const Machine* const machine = machine_of(forming);
    Platen platen;
    platen.machine = forming.machine;
    platen.tilt = tilt;
    platen.mould_size = mould;
    const Silhouette large = mould_of(part, mould);
    platen.height = millimetres(large.crown_mm - large.foot_mm) + forming.trim_allowance.value;
    const Lacks lacks = lacks_of(forming, piece, machine);
    platen.missing = joined({lacks.sheet, lacks.machine, lacks.opening, lacks.clamps});
    WindowFit fit;
    const double trim = in_mm(forming.trim_allowance.value);
    const auto outline = outline_of(large, trim);
    if (machine != nullptr && machine->length && machine->width) {
        platen.window_mm = {in_mm(machine->length->value), in_mm(machine->width->value)};
        const double clamps = mm_or_none(machine->clamp_margin);
        platen.free_mm = platen.window_mm - Vector2d(2.0 * clamps, 2.0 * clamps);
        fit = laid(part, room_of(forming, *machine, mould));
        platen.excess = fit.excess;
    } else {
        fit = geometry::window_fit_at(outline, Vector2d::Zero(), Angle{}).value();
    }
    platen.yaw = fit.yaw;
    platen.part_mm = placed(outline_of(part, 0.0), fit);
    platen.mould_mm = placed(outline, fit);
    const double clamp = mm_or_none(forming.clamp_distance);
    platen.need_mm = grown(platen.mould_mm, clamp);
    platen.size_mm = size_of(platen.mould_mm) + Vector2d(2.0 * clamp, 2.0 * clamp);
    return platen;
}

PlatenNumber platen_number(PlatenCheck check, const Forming& forming, const Piece& piece, const Platen& platen) {
    const Machine* const machine = machine_of(forming);
    const Lacks lacks = lacks_of(forming, piece, machine);
    Words missing = joined({lacks.sheet, lacks.machine});
    switch (check) {
        case PlatenCheck::window:
            return window_number(lacks, platen);
        case PlatenCheck::depth: {
            const auto most = limit(machine, &Machine::draw_depth, "the draw depth of ", missing);
            return at_most(in_mm(platen.height), most, missing);
        }
        case PlatenCheck::oven:
            return oven_number(lacks, machine, platen);
        case PlatenCheck::gauge: {
            const auto most = limit(machine, &Machine::sheet_most, "the thickest sheet that is heated by ", missing);
            return at_most(piece.sheet ? in_mm(piece.sheet->value) : 0.0, most, missing);
        }
    }
    return {};
}

}  // namespace sillwright::core

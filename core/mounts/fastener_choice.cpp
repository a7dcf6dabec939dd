#include "core/mounts/fastener_choice.h"

#include <algorithm>
#include <cmath>

#include "core/edit/fastener_edit.h"
#include "core/mounts/fastener_findings.h"
#include "core/mounts/grip.h"
#include "core/mounts/stack.h"
#include "core/number_text.h"

namespace sillwright::core {

using geometry::in_mm;
using geometry::Length;

namespace {

/// Shanks that differ by less are as thick as one another.
constexpr double k_same_shank_mm = 0.05;

Mount with_row(const Job& job, const Mount& mount, const Piece& piece, const PieceModel* model,
               const FastenerRow& row) {
    const Stack stack = stack_of(job, mount, piece, model);
    Mount trial = mount;
    trial.fastener =
        fastener_of(row, mount.fastener, stack.missing.empty() ? std::optional(stack.thickness) : std::nullopt);
    return trial;
}

/// Whether the row suits, by its own numbers alone: nothing here looks for a mend, so that nothing goes round.
bool suits(const Job& job, const Mount& mount, const Piece& piece, const PieceModel* model, const FastenerRow& row) {
    if (!goes_into(row, mount) || mount.size->value < row.hole_least || mount.size->value > row.hole_most) {
        return false;
    }
    const Stack stack = stack_of(job, mount, piece, model);
    if (!stack.missing.empty() || stack.thickness - stack.half_width < row.grip_least ||
        stack.thickness + stack.half_width > row.grip_most) {
        return false;
    }
    if (mount.part_hole && mount.part_hole->value < row.diameter) {
        return false;
    }
    const Mount trial = with_row(job, mount, piece, model, row);
    if (!mount.free_depth || !trial.fastener.tail) {
        return true;
    }
    const Length thinner = row.kind == FastenerKind::clip ? Length{} : stack.half_width;
    return trial.fastener.tail->value + job.limits.tail_room.value + thinner <= mount.free_depth->value;
}

Finding checked(const Job& job, const Mount& mount, const Piece& piece, const PieceModel* model, FastenerCheck check) {
    switch (check) {
        case FastenerCheck::grip:
            return grip_finding(job, mount, piece, model);
        case FastenerCheck::hole_fit:
            return hole_fit_finding(job, mount, &piece, model);
        case FastenerCheck::free_depth:
            return free_depth_finding(job, mount, &piece, model);
    }
    return {};
}

}  // namespace

const FastenerRow* fitting_row(const Job& job, const Mount& mount, const Piece& piece, const PieceModel* model) {
    if (!mount.size) {
        return nullptr;
    }
    const auto strangeness = [&](const FastenerRow& row) {
        const bool other_shank = !mount.fastener.diameter ||
                                 std::abs(in_mm(row.diameter - mount.fastener.diameter->value)) > k_same_shank_mm;
        return (row.kind != mount.fastener.kind ? 2 : 0) + (other_shank ? 1 : 0);
    };
    const FastenerRow* best = nullptr;
    for (const FastenerRow& row : fastener_table()) {
        if ((best == nullptr || strangeness(row) < strangeness(*best)) && suits(job, mount, piece, model, row)) {
            best = &row;
        }
    }
    return best;
}

std::optional<Mend> fastener_mend(const Job& job, const Mount& mount, const Piece& piece, FastenerCheck check,
                                  const PieceModel* model) {
    const FastenerRow* const row = fitting_row(job, mount, piece, model);
    if (row == nullptr) {
        return std::nullopt;
    }
    const Mount trial = with_row(job, mount, piece, model, *row);
    const Finding after = checked(job, trial, piece, model, check);
    if (!after.margin || *after.margin < 0.0) {
        return std::nullopt;
    }
    return Mend{"Take the fastener \"" + row->name + "\".",
                {},
                after.margin,
                {fastener_change(job, mount.name, trial.fastener)}};
}

}  // namespace sillwright::core

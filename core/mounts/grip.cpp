#include "core/mounts/grip.h"

#include <cmath>

#include "core/finding_state.h"
#include "core/mounts/fastener_choice.h"
#include "core/mounts/mount_finding.h"
#include "core/mounts/stack.h"
#include "core/number_text.h"

namespace sillwright::core {

using geometry::in_mm;
using geometry::Length;

namespace {

void judge(Finding& finding, const Job& job, const Stack& stack, const Fastener& fastener) {
    const Length least = fastener.grip_least ? fastener.grip_least->value : Length{};
    finding.found = in_mm(stack.thickness);
    if (!fastener.grip_most && !fastener.grip_least) {
        finding.state = State::not_measured;
        return;
    }
    const bool thin = !fastener.grip_most || (stack.missing.empty() && fastener.grip_least &&
                                              stack.thickness - least < fastener.grip_most->value - stack.thickness);
    double band = in_mm(job.limits.close_band.value);
    if (fastener.grip_most && fastener.grip_least) {
        const Length widest = 0.5 * (fastener.grip_most->value - least) - stack.half_width;
        band = close_band_within(band, std::max(0.0, in_mm(widest)));
    }
    put_numbers(finding, in_mm(stack.thickness),
                in_mm(thin ? least + stack.half_width : fastener.grip_most->value - stack.half_width), thin, band);
    if (thin && !stack.missing.empty() && finding.state == State::falls_short) {
        finding.state = State::not_measured;  // What is missing makes the stack thicker.
    }
}

Mend in_words(const Finding& finding, const Stack& stack) {
    return {"Take a fastener that grips " + mm_text(stack.thickness) + " ± " + mm_text(stack.half_width) +
                (finding.at_least ? ", or put a spacer of " : ", or take ") +
                mm_text(geometry::millimetres(-*finding.margin)) +
                (finding.at_least ? " between seat and flange." : " out of the stack."),
            {},
            std::nullopt};
}

}  // namespace

Finding grip_finding(const Job& job, const Mount& mount, const Piece& piece, const PieceModel* model) {
    const Stack stack = stack_of(job, mount, piece, model);
    const Fastener& fastener = mount.fastener;
    Finding finding = mount_finding(job, mount, "grip", "stack in the fastener's grip");
    finding.place.on_other_mm = std::nullopt;
    finding.inputs = stack.inputs;
    finding.missing = stack.missing;
    if (!fastener.grip_least) {
        finding.missing.push_back("the least grip of " + mount.name + "'s fastener");
    } else {
        finding.inputs.push_back({"least grip", mm_text(fastener.grip_least->value)});
    }
    if (!fastener.grip_most) {
        finding.missing.push_back("the greatest grip of " + mount.name + "'s fastener");
    } else {
        finding.inputs.push_back({"greatest grip", mm_text(fastener.grip_most->value)});
    }
    judge(finding, job, stack, fastener);
    const std::string words = std::string(stack.missing.empty() ? "The stack is " : "What is known of the stack is ") +
                              mm_text(stack.thickness) + " ± " + mm_text(stack.half_width);
    if (finding.state == State::falls_short) {
        finding.why = words + (finding.at_least ? ", too thin" : ", too thick") + " for the fastener's grip.";
        finding.mend = fastener_mend(job, mount, piece, FastenerCheck::grip, model);
        if (!finding.mend) {
            finding.mend = in_words(finding, stack);
        }
    } else {
        finding.why = words + (finding.state == State::not_measured ? "." : ", within the fastener's grip.");
    }
    finding.formula = "least grip <= panel + spacer + formed flange + paint, ± 2 sd <= greatest grip";
    return finding;
}

}  // namespace sillwright::core

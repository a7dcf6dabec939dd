#include "core/mounts/grip.h"

#include "core/drawn_loft.h"
#include "core/finding_state.h"
#include "core/number_text.h"

namespace sillwright::core {

using geometry::in_mm;
using geometry::Length;

namespace {

/// What the fastener goes through, as far as it is known.
struct Stack {
    Length known;
    std::vector<Input> inputs;
    std::vector<std::string> missing;

    void add(const std::string& name, const std::optional<Entry>& thickness, const std::string& words) {
        if (!thickness) {
            missing.push_back(words);
            return;
        }
        known = known + thickness->value;
        inputs.push_back({name, mm_text(thickness->value)});
    }
};

Stack stack_of(const Job& job, const Mount& mount, const Piece& piece) {
    Stack stack;
    stack.add("body panel", mount.panel_thickness, "the panel thickness at " + mount.name);
    if (mount.fastener.spacer) {
        stack.add("spacer", mount.fastener.spacer, {});
    }
    stack.add("sheet", piece.sheet, "the sheet thickness of " + piece.name);
    stack.add("paint", job.skirt.paint, "the skirt's film of paint (0 if it stays bare)");
    return stack;
}

void judge(Finding& finding, const Job& job, const Stack& stack, const Fastener& fastener) {
    const Length least = fastener.grip_least ? fastener.grip_least->value : Length{};
    finding.found = in_mm(stack.known);
    if (!fastener.grip_most && !fastener.grip_least) {
        finding.state = State::not_measured;
        return;
    }
    const bool thin = !fastener.grip_most || (stack.missing.empty() && fastener.grip_least &&
                                              stack.known - least < fastener.grip_most->value - stack.known);
    finding.at_least = thin;
    finding.required = in_mm(thin ? least : fastener.grip_most->value);
    finding.margin = thin ? *finding.found - *finding.required : *finding.required - *finding.found;
    const double band =
        fastener.grip_most && fastener.grip_least
            ? close_band_within(in_mm(job.limits.close_band.value), 0.5 * in_mm(fastener.grip_most->value - least))
            : in_mm(job.limits.close_band.value);
    finding.state = state_of(finding.margin, band, finding.missing);
    if (thin && !stack.missing.empty() && finding.state == State::falls_short) {
        finding.state = State::not_measured;  // What is missing makes the stack thicker.
    }
}

}  // namespace

Finding grip_finding(const Job& job, const Mount& mount, const Piece& piece) {
    const Stack stack = stack_of(job, mount, piece);
    const Fastener& fastener = mount.fastener;
    Finding finding;
    finding.id = "mounts/" + mount.name + "/grip";
    finding.title = mount.name + ", stack in the fastener's grip";
    finding.stage = Stage::mounts;
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
    finding.place.along = mount.at.along.value;
    finding.place.mount = mount.name;
    finding.place.words = mount.name + " " + at_place_words(job, mount.at.along.value);
    judge(finding, job, stack, fastener);
    const std::string stack_words =
        std::string(stack.missing.empty() ? "The stack is " : "What is known of the stack is ") + mm_text(stack.known);
    if (finding.state == State::falls_short) {
        finding.why = stack_words + (finding.at_least ? ", too thin" : ", too thick") + " for the fastener's grip.";
        finding.mend = Mend{"Take a fastener that grips " + mm_text(stack.known) +
                                (finding.at_least ? ", or put a spacer of " : ", or take ") +
                                mm_text(geometry::millimetres(-*finding.margin)) +
                                (finding.at_least ? " between seat and flange." : " out of the stack."),
                            {},
                            std::nullopt};
    } else {
        finding.why = stack_words + (finding.state == State::not_measured ? "." : ", within the fastener's grip.");
    }
    finding.formula = "least grip <= panel + spacer + sheet + paint <= greatest grip";
    finding.source = "common practice, no source";
    return finding;
}

}  // namespace sillwright::core

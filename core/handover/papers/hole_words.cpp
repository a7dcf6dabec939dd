#include "core/handover/papers/hole_words.h"

#include "core/number_text.h"

namespace sillwright::core {

namespace {

/// A hole that is longer than wide by no more is drilled round.
constexpr double k_round_mm = 0.05;

}  // namespace

MadeHole made_hole(const HolePlan& plan) {
    if (plan.drawn) {
        return {*plan.drawn, plan.drawn_shift_mm, true};
    }
    return {plan.cut, plan.shift_mm, false};
}

std::string size_words(const HoleSize& size) {
    if (size.length_mm - size.width_mm <= k_round_mm) {
        return "round " + fixed_text(size.width_mm, 1);
    }
    return fixed_text(size.length_mm, 1) + " × " + fixed_text(size.width_mm, 1);
}

std::string role_words(HoleRole role) {
    switch (role) {
        case HoleRole::locator:
            return "LOCATOR";
        case HoleRole::guide:
            return "guide";
        case HoleRole::clearance:
            break;
    }
    return "slot";
}

std::string body_words(const Mount& mount) {
    if (mount.kind != MountKind::hole) {
        const std::string kind = mount.kind == MountKind::stud ? "stud" : "nut";
        return mount.size ? kind + " " + mm_text(mount.size->value, 1) : kind + ", thread not measured";
    }
    const std::string shape = mount.shape == HoleShape::round  ? "round hole"
                              : mount.shape == HoleShape::slot ? "slot"
                                                               : "square hole";
    if (!mount.size) {
        return shape + ", size not measured";
    }
    std::string words = shape + " " + fixed_text(geometry::in_mm(mount.size->value), 1);
    if (mount.shape == HoleShape::slot && mount.slot_length) {
        words += " × " + fixed_text(geometry::in_mm(mount.slot_length->value), 1);
    }
    return words + " mm";
}

std::string fixing_words(const Fastener& fastener) {
    switch (fastener.kind) {
        case FastenerKind::clip:
            return "pressed in";
        case FastenerKind::screw:
            return "screw with a loose nut";
        case FastenerKind::fixed_screw:
            break;
    }
    return "screw into a fixed nut or thread";
}

std::string fastener_words(const Fastener& fastener) {
    return fastener.name.empty() ? "not chosen" : fastener.name;
}

}  // namespace sillwright::core

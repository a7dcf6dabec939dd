#include "core/mounts/stack.h"

#include <cmath>

#include "core/mounts/mount_check.h"
#include "core/number_text.h"
#include "core/skirt/thickness.h"

namespace sillwright::core {

using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;

namespace {

class Adding {
public:
    void add(const std::string& name, Length thickness, Length sd) {
        stack_.thickness = stack_.thickness + thickness;
        variance_mm2_ += in_mm(sd) * in_mm(sd);
        stack_.inputs.push_back({name, mm_text(thickness)});
    }

    void lacks(const std::string& words) { stack_.missing.push_back(words); }

    Stack done() {
        stack_.half_width = millimetres(k_sd_factor * std::sqrt(variance_mm2_));
        stack_.inputs.push_back({"the stack's half-width (two standard deviations)", mm_text(stack_.half_width)});
        return std::move(stack_);
    }

private:
    Stack stack_;
    double variance_mm2_ = 0.0;
};

}  // namespace

Stack stack_of(const Job& job, const Mount& mount, const Piece& piece, const PieceModel* model) {
    Adding stack;
    if (mount.panel_thickness) {
        stack.add("body panel", mount.panel_thickness->value, k_panel_sd);
    } else {
        stack.lacks("the panel thickness at " + mount.name);
    }
    if (mount.fastener.spacer) {
        stack.add("spacer", mount.fastener.spacer->value, Length{});
    }
    if (const auto flange = flange_thickness(piece, mount.at.along.value, model)) {
        stack.add(flange->of_sheet   ? "flange, no thicker than the sheet"
                  : flange->computed ? "flange as formed, computed"
                                     : "flange as formed",
                  flange->thickness, flange->sd);
    } else {
        stack.lacks("the sheet thickness of " + piece.name);
    }
    if (job.skirt.paint) {
        stack.add("paint", job.skirt.paint->value, job.skirt.paint->value * k_film_sd_share);
    } else {
        stack.lacks("the skirt's film of paint (0 if it stays bare)");
    }
    return stack.done();
}

}  // namespace sillwright::core

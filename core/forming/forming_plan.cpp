#include "core/forming/forming_plan.h"

#include <algorithm>
#include <iterator>
#include <utility>

#include "core/forming/chain_findings.h"
#include "core/forming/radius_findings.h"
#include "core/forming/slot_cover.h"

namespace sillwright::core {

namespace {

/// What is scribed on a piece: along it, and up its section where that is known.
ScribeTicks ticks_of(const Job& job, const std::vector<ChainStep>& chain, const geometry::Loft& line,
                     const std::vector<LadderOf>& ladders) {
    const auto height = std::find_if(ladders.begin(), ladders.end(),
                                     [](const LadderOf& one) { return one.dimension.name == k_section_height; });
    return scribe_ticks(job, chain, line.rear() - line.front(),
                        height == ladders.end() ? geometry::Length{} : height->dimension.value);
}

const SculptedScan* scan_in(const Prototype& prototype) {
    return prototype && *prototype ? &prototype->value() : nullptr;
}

}  // namespace

FormingPlan forming_plan(const Job& job, const CarModel& car, const Prototype& prototype) {
    FormingPlan plan;
    plan.chain = chain_of(job);
    for (std::size_t i = 0; i < car.pieces.size(); ++i) {
        const PieceModel& model = car.pieces[i];
        if (!model.line) {
            continue;
        }
        const Piece& piece = job.skirt.pieces[i];
        const geometry::Loft& line = *model.line;
        PieceForming forming;
        forming.piece = i;
        forming.draw = draw_plan(job, piece, line);
        forming.thinning = thinning(job, piece, line, model.formed.get());
        forming.platen = platen(job, piece, line, forming.draw);
        forming.blank = blank(job, piece, forming.platen);
        forming.lanes = flute_lanes(job, piece, line, model.formed.get());
        for (const Dimension& dimension : main_dimensions(job, piece, line, model.formed.get())) {
            forming.ladders.push_back(ladder(job, plan.chain, dimension));
        }
        forming.ticks = ticks_of(job, plan.chain, line, forming.ladders);
        forming.sculpted = as_sculpted(job, piece, line, plan.chain, scan_in(prototype));
        if (prototype && !*prototype) {
            forming.sculpted.missing = {prototype->error().message};
        }
        plan.pieces.push_back(std::move(forming));
    }
    return plan;
}

std::vector<Finding> forming_findings(const Job& job, const CarModel& car, const MountPlan& mounts,
                                      const FormingPlan& plan, Mends mends, const Prototype& prototype) {
    std::vector<Finding> all;
    const auto append = [&all](std::vector<Finding>&& more) {
        all.insert(all.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
    };
    for (const PieceForming& forming : plan.pieces) {
        const Piece& piece = job.skirt.pieces[forming.piece];
        const PieceModel& model = car.pieces[forming.piece];
        const geometry::Loft& line = *model.line;
        const FormedSheet* const formed = model.formed.get();
        append(draw_findings(job, piece, line, forming.draw, mends));
        append(thinning_findings(job, piece, line, formed, forming.thinning, mends));
        append(platen_findings(job, piece, line, forming.draw, forming.platen, mends));
        append(blank_findings(job, piece, forming.blank));
        append(flute_findings(job, piece, line, formed, forming.lanes, mends));
        append(sculpted_findings(job, piece, forming.sculpted, mends, scan_in(prototype)));
        append(radius_findings(job, piece, line, formed, plan.chain, mends));
    }
    append(chain_findings(job, plan.chain, mends));
    append(slot_findings(job, plan.chain, mounts, mends));
    return all;
}

}  // namespace sillwright::core

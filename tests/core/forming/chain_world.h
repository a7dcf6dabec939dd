#pragma once

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "core/forming/mould_chain.h"
#include "core/job.h"
#include "tests/core/mounts/flange_world.h"

namespace sillwright::core {

inline Generation generation(const std::string& name, GenerationKind kind, double shrinkage, double sd) {
    Generation one;
    one.name = name;
    one.kind = kind;
    one.shrink_along = one.shrink_across = shrinkage;
    one.shrink_sd = sd;
    return one;
}

inline Generation plug() {
    Generation one;
    one.name = "plug";
    return one;
}

inline Tick tick(const std::string& name, double before, double now, double sd, bool across = false) {
    Tick one;
    one.name = name;
    one.across = across;
    one.before = mm(before);
    one.now = mm(now);
    one.sd = mm(sd);
    return one;
}

/// Plug, two laminates of 0.2 %, sheet of 0.6 %: section 8.1 of the project's reference values.
inline std::vector<Generation> usual_chain() {
    return {plug(), generation("female mould", GenerationKind::female, 0.002, 0.001),
            generation("male mould", GenerationKind::male, 0.002, 0.001),
            generation("sheet", GenerationKind::sheet, 0.006, 0.001)};
}

inline Job chain_job() {
    Job job;
    job.forming.mould = MouldKind::male;
    job.forming.generations = usual_chain();
    job.forming.skin = mm(3);
    job.skirt.paint = mm(0.12);
    job.skirt.material.name = "ABS";
    return job;
}

}  // namespace sillwright::core

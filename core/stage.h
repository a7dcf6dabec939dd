#pragma once

#include <array>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/job.h"

namespace sillwright::core {

/// All stages, in the order of the work.
inline constexpr std::array k_stages{Stage::measure, Stage::sections, Stage::mounts,  Stage::swing,
                                     Stage::forming, Stage::buck,     Stage::handover};

/// A stage as it is written: "measure" in files, "Measure" on the screen, and what it is for, in one sentence.
struct StageWords {
    std::string key, name, purpose;
};
const StageWords& words(Stage stage);

/// Something that a stage works with.
struct StageNeed {
    std::string what;  ///< "the hinge axis of front door"
    bool there = false;
    std::string where;  ///< Where it is entered: "doors, hinge"; empty where this version has no place for it.
};

/// What a stage works with, and whether the job has it; in the order in which it is measured.
/// What no job can hold yet is listed too, as not there.
std::vector<StageNeed> stage_needs(const Job& job, Stage stage);

}  // namespace sillwright::core

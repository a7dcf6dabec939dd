#pragma once

#include <filesystem>
#include <memory>

#include "core/evaluate.h"
#include "core/job_file.h"

namespace sillwright::app {

/// Estate A, invented, evaluated; on the other side of the car if asked.
inline std::shared_ptr<const core::Evaluation> estate(core::Side side = core::Side::right) {
    const std::filesystem::path file = SILLWRIGHT_SOURCE_DIR "/samples/estate_a.sillwright";
    core::Job job = core::read_job(file).value();
    job.side = side;
    return core::evaluate(job, file.parent_path()).value();
}

}  // namespace sillwright::app

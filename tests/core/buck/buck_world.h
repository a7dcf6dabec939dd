#pragma once

#include <gtest/gtest.h>

#include <filesystem>
#include <memory>
#include <string>

#include "core/buck/buck_plan.h"
#include "core/evaluate.h"
#include "core/forming/forming_plan.h"
#include "core/job_file.h"
#include "core/typed.h"

namespace sillwright::core {

inline Board mdf_12() {
    Board board;
    const auto mm = [](double value) { return entry(geometry::millimetres(value)); };
    board.name = "mdf 12";
    board.length = mm(2440);
    board.width = mm(1220);
    board.thickness_1 = mm(11.9);
    board.thickness_2 = mm(12.0);
    board.thickness_3 = mm(11.9);
    return board;
}

/// A sample whose buck is to be cut from MDF of 12 mm.
inline Job buck_job(const std::string& sample) {
    Job job = read_job(std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples" / (sample + ".sillwright")).value();
    job.buck.boards = {mdf_12()};
    job.buck.bit = "flat 6";
    return job;
}

/// The model, how it is formed and its buck, each by its own function.
struct BuckWorld {
    Job job;
    CarModel car;
    FormingPlan forming;
    BuckPlan plan;

    [[nodiscard]] const PieceBuck& buck() const { return plan.pieces.front(); }
};

inline BuckWorld buck_world(const Job& job) {
    BuckWorld world;
    world.job = job;
    auto car = car_model(job, std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples");
    EXPECT_TRUE(car) << (car ? "" : car.error().message);
    world.car = std::move(car).value();
    world.forming = forming_plan(job, world.car);
    world.plan = buck_plan(job, world.car, world.forming);
    return world;
}

}  // namespace sillwright::core

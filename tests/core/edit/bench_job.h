#pragma once

#include <gtest/gtest.h>

#include <filesystem>
#include <string>
#include <vector>

#include "core/edit/drawn_id.h"
#include "core/edit/edit.h"
#include "core/job.h"
#include "core/job_file.h"
#include "core/typed.h"

/// Jobs to try edits on.
namespace sillwright::core::bench {

inline const DrawnId k_body{DrawnId::Kind::body, 0, 0};
inline const DrawnId k_piece{DrawnId::Kind::piece, 0, 0};
inline const DrawnId k_door_body{DrawnId::Kind::door_body, 0, 0};
inline const std::filesystem::path k_samples = std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples";

inline Entry mm(double value) {
    return entry(geometry::millimetres(value));
}

inline Job estate() {
    auto job = read_job(k_samples / "estate_a.sillwright");
    EXPECT_TRUE(job) << (job ? "" : job.error().message);
    return job ? std::move(job).value() : Job{};
}

/// A skirt piece at stations 1, 2, 3 (0, 100, 300 mm), at each a channel 100 mm wide and high that opens
/// inwards, its two outer corners rounded by 5 mm. Ids are "1a" to "3d".
inline Job channel() {
    Job job;
    job.stations = {{"1", mm(0), {}}, {"2", mm(100), {}}, {"3", mm(300), {}}};
    Piece piece;
    piece.name = "skirt";
    piece.carried_by = "body";
    piece.sheet = mm(3);
    for (const std::string station : {"1", "2", "3"}) {
        piece.drawn.sections.push_back({station,
                                        {{station + "a", "top return end", mm(0), mm(100), mm(0), {}},
                                         {station + "b", "shelf edge", mm(100), mm(100), mm(5), {}},
                                         {station + "c", "lower edge", mm(100), mm(0), mm(5), {}},
                                         {station + "d", "flange end", mm(0), mm(0), mm(0), {}}},
                                        {}});
    }
    job.skirt.pieces.push_back(piece);
    return job;
}

inline const Node& node(const Job& job, const std::string& id) {
    const auto place = find_node(job, id);
    EXPECT_TRUE(place) << id;
    return drawn(job, place->drawn).sections[place->section].nodes[place->node];
}

/// The job of an edit that must be taken; the job as it was if it is not.
inline Job after(const geometry::Result<Edit>& edit, const Job& before) {
    EXPECT_TRUE(edit) << (edit ? "" : edit.error().message);
    return edit ? edit.value().job : before;
}

inline std::string words(const geometry::Result<Edit>& edit) {
    return edit ? edit.value().words : "refused: " + edit.error().message;
}

inline std::string refusal(const geometry::Result<Edit>& edit) {
    return edit ? "taken" : edit.error().message;
}

/// The job read again from its own text.
inline void expect_kept(const Job& job) {
    const auto again = parse_job(job_text(job), "again");
    ASSERT_TRUE(again) << again.error().message;
    EXPECT_EQ(again.value(), job);
}

}  // namespace sillwright::core::bench

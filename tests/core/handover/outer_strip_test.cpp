#include "core/handover/outer_strip.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>

#include "core/evaluate.h"
#include "core/job_file.h"

namespace sillwright::core {
namespace {

using Eigen::Vector2d;

const Evaluation& estate_to_lay() {
    static const std::filesystem::path file = SILLWRIGHT_SOURCE_DIR "/samples/estate_a.sillwright";
    static const auto known = evaluate(read_job(file).value(), file.parent_path(), {}, Mends::leave).value();
    return *known;
}

TEST(OuterStrip, OutsideLiesOutsideOfTheInside) {
    const Evaluation& estate = estate_to_lay();
    const auto lines = outside_line(estate.job, estate.car, 0, estate.job.stations[1].along.value);
    ASSERT_EQ(lines.size(), 1U);
    double most = 0.0;
    for (const Vector2d& p : lines[0]) {
        most = std::max(most, p.x());
    }
    const auto nodes = estate.car.pieces[0].line->nodes_at(estate.job.stations[1].along.value);
    double drawn = 0.0;
    for (const auto& node : nodes) {
        drawn = std::max(drawn, node.p_mm.x());
    }
    EXPECT_GT(most, drawn - 2.0);
    EXPECT_LT(most, drawn + 5.0);
}

// The corner of the outside lies on both outsides: as far from either drawn straight as the sheet there.
TEST(OuterStrip, CornerIsWhereBothOutsidesMeet) {
    const Evaluation& estate = estate_to_lay();
    const auto found = outer_strip(estate.job, estate.car, 0, FreeEdge::flange_end);
    ASSERT_TRUE(found.strip);
    const auto nodes = estate.car.pieces[0].line->nodes_at(found.strip->along.front());
    const Vector2d corner = found.strip->rungs.front().near_mm.tail<2>();
    const auto off = [&](std::size_t from, std::size_t to) {
        const Vector2d way = (nodes[to].p_mm - nodes[from].p_mm).normalized();
        return Vector2d(-way.y(), way.x()).dot(corner - nodes[from].p_mm);
    };
    const std::size_t end = nodes.size() - 1;
    EXPECT_NEAR(off(end - 1, end), off(end - 2, end - 1), 0.6);  // The sheet thins from strip to strip.
    EXPECT_GE(off(end - 1, end), -1e-9);
}

}  // namespace
}  // namespace sillwright::core

#include "core/handover/papers/prototype_list.h"

#include <gmock/gmock.h>

#include <cmath>

#include "core/forming/forming_plan.h"
#include "core/number_text.h"
#include "tests/core/handover/papers/paper_world.h"

namespace sillwright::core {
namespace {

using geometry::in_mm;
using testing::HasSubstr;

/// Estate A is drawn on its inside, which is the face of its male mould: places are middles of the drawn straights.
TEST(PrototypeList, ChecksTheMiddlesOfTheStraights) {
    const Evaluation& evaluation = paper_world::estate_a();
    const auto paper = prototype_list(evaluation);
    ASSERT_TRUE(paper);
    paper_world::expect_sound(*paper);
    const Section& section = evaluation.job.skirt.pieces[0].drawn.sections.front();
    const auto place = "1 · " + fixed_text(in_mm(evaluation.job.stations[0].along.value), 0);
    std::size_t straights = 0;
    for (std::size_t i = 0; i + 1 < section.nodes.size(); ++i) {
        const Node& a = section.nodes[i];
        const Node& b = section.nodes[i + 1];
        const double out = (in_mm(a.out.value) + in_mm(b.out.value)) / 2.0;
        const double up = (in_mm(a.up.value) + in_mm(b.up.value)) / 2.0;
        const std::string strip = a.name + " to " + b.name;
        if (std::hypot(in_mm(b.out.value - a.out.value), in_mm(b.up.value - a.up.value)) < 10.0) {
            continue;
        }
        ++straights;
        EXPECT_EQ(paper_world::cell_of(*paper, {place, strip}, "out, mm"), fixed_text(out, 1));
        EXPECT_EQ(paper_world::cell_of(*paper, {place, strip}, "up, mm"), fixed_text(up, 1));
        EXPECT_EQ(paper_world::cell_of(*paper, {place, strip}, "limit, mm"), "± 1.2");  // 2 * 0.6
    }
    EXPECT_GE(straights, 5U);
}

TEST(PrototypeList, TakesTheSheetOffALineThatIsDrawnOutside) {
    Job job = paper_world::sample_job("estate_a");
    job.skirt.pieces[0].drawn_face = DrawnFace::outside;
    job.forming.mould.reset();  // then it is as thick as the sheet everywhere: 5 mm
    const auto paper = prototype_list(*paper_world::evaluated(job));
    ASSERT_TRUE(paper);
    const Section& section = job.skirt.pieces[0].drawn.sections.front();
    const auto bead =
        std::find_if(section.nodes.begin(), section.nodes.end(), [](const Node& node) { return node.name == "bead"; });
    const Eigen::Vector2d a(in_mm(bead->out.value), in_mm(bead->up.value));
    const Eigen::Vector2d b(in_mm((bead + 1)->out.value), in_mm((bead + 1)->up.value));
    const Eigen::Vector2d way = (b - a).normalized();
    // Down the face the car is on the right: (way.y, -way.x).
    const Eigen::Vector2d inside = (a + b) / 2.0 + 5.0 * Eigen::Vector2d(way.y(), -way.x());
    EXPECT_LT(inside.x(), (a.x() + b.x()) / 2.0);
    EXPECT_EQ(paper_world::cell_of(*paper, {"1 · 0", "bead to knee"}, "out, mm"), fixed_text(inside.x(), 1));
}

TEST(PrototypeList, SaysThatThereIsNoLimitWithoutOne) {
    Evaluation evaluation = paper_world::estate_a();
    evaluation.job.skirt.forming_sd.reset();
    const auto paper = prototype_list(evaluation);
    EXPECT_THAT(paper_world::all_text(*paper), HasSubstr("No limit can be said"));
    EXPECT_FALSE(prototype_list(Evaluation{}));
}

TEST(PrototypeList, SaysHowMuchLargerThePrototypeIs) {
    const Evaluation& evaluation = paper_world::estate_a();
    const double ratio = chain_size(evaluation.forming->chain, true).ratio;
    EXPECT_LT(ratio, 1.0);
    EXPECT_THAT(paper_world::all_text(*prototype_list(evaluation)),
                HasSubstr("larger across by " + fixed_text(100.0 * (1.0 / ratio - 1.0), 2) + " %"));
}

}  // namespace
}  // namespace sillwright::core

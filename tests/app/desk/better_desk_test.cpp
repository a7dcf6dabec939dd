#include "app/desk/better_desk.h"

#include <gtest/gtest.h>

#include "app/desk/open_job.h"
#include "app/drawings/bars_drawing.h"
#include "tests/app/link/estate.h"

namespace sillwright::app {
namespace {

// Estate A says how sure its survey, its forming and the sag of both doors are.
TEST(BetterDesk, ShowsABarForEachDoorWithTheLargestPartFirst) {
    OpenJob open;
    BetterDesk desk(open);
    EXPECT_TRUE(desk.drawing().picture().bars.empty());
    const auto results = estate();
    open.open(results->job, {}, results);
    const auto& bars = desk.drawing().picture().bars;
    ASSERT_FALSE(bars.empty());
    for (const Bar& bar : bars) {
        double whole = 0.0;
        for (std::size_t i = 0; i < bar.parts.size(); ++i) {
            whole += bar.parts[i].share;
            EXPECT_TRUE(i == 0 || bar.parts[i].share <= bar.parts[i - 1].share) << bar.label;
        }
        EXPECT_NEAR(whole, 1.0, 1e-12) << bar.label;
    }
}

}  // namespace
}  // namespace sillwright::app

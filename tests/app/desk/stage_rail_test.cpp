#include "app/desk/stage_rail.h"

#include <gtest/gtest.h>

#include <QSignalSpy>

namespace sillwright::app {
namespace {

using core::Stage;
using core::State;

core::Finding of(Stage stage, State state) {
    core::Finding finding;
    finding.stage = stage;
    finding.state = state;
    return finding;
}

TEST(StageRail, CountsWhatStandsInTheWay) {
    StageRail rail;
    rail.show_findings(
        {of(Stage::swing, State::falls_short), of(Stage::swing, State::not_measured),
         of(Stage::swing, State::not_measured), of(Stage::mounts, State::close), of(Stage::sections, State::holds),
         of(Stage::buck, State::falls_short), of(Stage::buck, State::falls_short)},
        false);
    EXPECT_EQ(rail.button(Stage::swing).sentence(), "1 falls short\n2 not measured");
    EXPECT_EQ(rail.button(Stage::swing).state(), State::falls_short);
    EXPECT_EQ(rail.button(Stage::mounts).sentence(), "1 close");
    EXPECT_EQ(rail.button(Stage::sections).sentence(), "holds");
    EXPECT_EQ(rail.button(Stage::buck).sentence(), "2 fall short");
    EXPECT_EQ(rail.button(Stage::forming).sentence(), "not checked yet");
    EXPECT_FALSE(rail.button(Stage::forming).state());
    rail.show_findings({of(Stage::swing, State::holds)}, true);
    EXPECT_EQ(rail.button(Stage::swing).sentence(), "being computed") << "stale is never shown as current";
}

TEST(StageRail, AnyStageMayBeOpened) {
    StageRail rail;
    QSignalSpy chosen(&rail, &StageRail::stage_chosen);
    for (const Stage stage : core::k_stages) {
        auto* button = rail.findChild<QAbstractButton*>("stage" + QString::fromStdString(core::words(stage).name));
        ASSERT_NE(button, nullptr);
        button->click();
        EXPECT_EQ(rail.stage(), stage);
        EXPECT_GE(button->minimumSizeHint().height(), 40) << "usable with gloves on";
    }
    EXPECT_EQ(chosen.count(), 7);
}

}  // namespace
}  // namespace sillwright::app

#include "app/desk/finding_card.h"

#include <gtest/gtest.h>

#include <QListView>
#include <QPixmap>

#include "app/desk/findings_model.h"
#include "app/looks.h"
#include "tests/app/invented_job.h"

namespace sillwright::app {
namespace {

using core::Finding;

Finding numbers(std::optional<double> found, std::optional<double> required) {
    Finding finding;
    finding.found = found;
    finding.required = required;
    return finding;
}

TEST(FindingCard, BarShowsWhereFoundLiesAgainstTheLimit) {
    // By hand: the bar reaches as far as the limit to either side of it.
    EXPECT_DOUBLE_EQ(*bar_place(numbers(2.0, 4.0)), 0.25);
    EXPECT_DOUBLE_EQ(*bar_place(numbers(4.0, 4.0)), 0.5);
    EXPECT_DOUBLE_EQ(*bar_place(numbers(-3.0, 4.0)), 0.0);
    EXPECT_DOUBLE_EQ(*bar_place(numbers(90.0, 4.0)), 1.0);
    EXPECT_DOUBLE_EQ(*bar_place(numbers(-0.25, -0.5)), 0.75);
    EXPECT_FALSE(bar_place(numbers({}, 4.0)));
    EXPECT_FALSE(bar_place(numbers(2.0, {})));
    EXPECT_FALSE(bar_place(numbers(2.0, 0.0))) << "nothing to compare with";
}

/// A list of one finding, as it is seen.
class Shown {
public:
    Shown(const Finding& finding, int width, core::BareUnit unit = core::BareUnit::mm) {
        model_.set_findings({finding}, unit);
        list_.setPalette(looks::palette(looks::Tone::light));
        list_.setModel(&model_);
        list_.setItemDelegate(&card_);
        list_.setFrameShape(QFrame::NoFrame);
        list_.setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
        list_.resize(width, 700);
        list_.show();
    }
    [[nodiscard]] int height() const { return list_.visualRect(model_.index(0)).height(); }
    [[nodiscard]] QImage picture() { return list_.viewport()->grab().toImage(); }

    FindingsModel model_;
    FindingCard card_;
    QListView list_;
};

Finding long_worded() {
    Finding finding = invented_job().findings[2];
    finding.title = "Frontdoorcladdingwithanamethatsomebodywrotewithoutasinglespaceinit, moving, to skirt";
    finding.place.words = "at 3.9 · 700 mm, doorwithanamethatsomebodywrotewithoutasinglespaceinit at 6.2°";
    return finding;
}

TEST(FindingCard, BreaksWordsThatAreLongerThanItself) {
    for (const int width : {330, 480}) {
        Shown shown(long_worded(), width, core::BareUnit::in);
        const QImage picture = shown.picture();
        const QRgb paper = looks::colours(looks::Tone::light).paper.rgb();
        // Between the text and the card's edge there is nothing but paper: nothing runs over.
        const int x = width - FindingCard::k_apart - 6;
        for (int y = 14; y < shown.height() - 14; ++y) {
            ASSERT_EQ(picture.pixel(x, y), paper) << width << " wide, at height " << y;
        }
        EXPECT_GT(shown.height(), Shown(invented_job().findings[2], width).height());
    }
}

TEST(FindingCard, LeavesRoomForTheSheetOfTheOpenCardOnly) {
    Shown shown(invented_job().findings[2], 330);
    const int folded = shown.height();
    shown.card_.set_open("swing/front door/moving", 200);
    shown.list_.doItemsLayout();
    EXPECT_EQ(shown.height(), folded + 200);
    shown.card_.set_open("another", 200);
    shown.list_.doItemsLayout();
    EXPECT_EQ(shown.height(), folded);
}

TEST(FindingCard, StaleIsPaler) {
    Shown shown(invented_job().findings[2], 330);
    const QImage now = shown.picture();
    shown.model_.set_stale(true);
    EXPECT_NE(shown.picture(), now);
    shown.model_.set_stale(false);
    EXPECT_EQ(shown.picture(), now);
}

}  // namespace
}  // namespace sillwright::app

#include "app/drawings/thickness_plot.h"

#include <QTest>
#include <set>

#include "app/drawings/thickness_tint.h"
#include "tests/app/drawings/formed_skirt.h"
#include "tests/app/drawings/readable.h"

namespace sillwright::app {
namespace {

using geometry::millimetres;

const QSizeF k_below_section(830.0, 350.0);  ///< On the smallest screen.

TEST(ThicknessPlot, CanBeReadOnSmallAndLargeSheets) {
    ThicknessPlot plot;
    plot.set_picture(thinned_skirt());
    for (const QSizeF& size : {k_below_section, QSizeF(1300.0, 640.0), QSizeF(2000.0, 900.0)}) {
        SCOPED_TRACE(std::to_string(size.width()));
        expect_readable(plot.compose(size));
    }
    ThicknessPicture inches = thinned_skirt();
    inches.unit = core::BareUnit::in;
    plot.set_picture(inches);
    expect_readable(plot.compose(k_below_section));
    EXPECT_EQ(times_written(plot.compose(k_below_section), "0.068 ± 0.007 in, flange"), 1) << "1.72 / 25.4, 2 · 0.09 / 25.4";
}

TEST(ThicknessPlot, SaysTheWorstInLargeWithItsState) {
    ThicknessPlot plot;
    plot.set_picture(thinned_skirt());
    const Composition made = plot.compose(k_below_section);
    const auto* worst = writing_of(made, "1.72 ± 0.18 mm, flange");
    ASSERT_NE(worst, nullptr);
    EXPECT_GE(worst->look.pixels, looks::k_number);
    EXPECT_EQ(worst->look.colour, looks::text_colour(core::State::falls_short, plot.tone()));
    EXPECT_EQ(times_written(made, "falls short, needs 2.00"), 1);
    EXPECT_EQ(times_written(made, "draw ratio 1.83"), 1);
    EXPECT_EQ(times_written(made, "measure the first part"), 1) << "the model's limits stand beside the numbers";
    // In the heading, in this section, and in the flange's own picture twice.
    EXPECT_EQ(shapes_of(made, core::State::falls_short), 4);
}

TEST(ThicknessPlot, NamesEveryNodeAndEveryPart) {
    ThicknessPlot plot;
    plot.set_picture(thinned_skirt());
    const Composition made = plot.compose(k_below_section);
    for (const ThicknessNode& node : plot.picture().nodes) {
        EXPECT_GE(times_written(made, QString::fromStdString(node.name)), 1) << node.name;
    }
    EXPECT_EQ(times_written(made, "bead 3.62"), 1);
    EXPECT_EQ(times_written(made, "needs 2.20"), 3);
    EXPECT_EQ(times_written(made, "flute 1 2.28"), 1);
    EXPECT_EQ(times_written(made, "least here 1.72"), 1);
    EXPECT_EQ(times_written(made, "sheet 4.00"), 2) << "in the heading and at its level";
}

TEST(ThicknessPlot, APressOnThePartsGoesThere) {
    ThicknessPlot plot;
    plot.set_picture(thinned_skirt());
    plot.resize(k_below_section.toSize());
    std::vector<double> places;
    QObject::connect(&plot, &ThicknessPlot::went, &plot, [&](double along_mm) { places.push_back(along_mm); });
    const int near_bottom = static_cast<int>(k_below_section.height()) - 30;
    QTest::mouseClick(&plot, Qt::LeftButton, {}, {60, near_bottom});
    QTest::mouseClick(&plot, Qt::LeftButton, {}, {110, near_bottom});
    QTest::mouseClick(&plot, Qt::LeftButton, {}, {300, 80});
    ASSERT_EQ(places.size(), 2U) << "the plot round the section is no place along the car";
    // Five panels and what is between two, 8 pixels, share 806 pixels: 154.8 of them are 1900 mm.
    EXPECT_NEAR(places[1] - places[0], 50.0 / 154.8 * 1900.0, 1e-6);
}

TEST(ThicknessPlot, DrawsWhatIsSeen) {
    ThicknessPlot plot;
    plot.set_picture(thinned_skirt());
    expect_drawn_as_seen(plot, k_below_section.toSize());
}

TEST(ThicknessTint, GoesFromStrongToPaleInStepsOfOneHueWithoutAStatesColour) {
    for (const looks::Tone tone : {looks::Tone::light, looks::Tone::dark}) {
        const ThicknessTint tint(millimetres(1.6), millimetres(4.0), tone);
        EXPECT_EQ(tint.step_of(millimetres(0.5)), 0);
        EXPECT_EQ(tint.step_of(millimetres(1.99)), 0);
        EXPECT_EQ(tint.step_of(millimetres(2.01)), 1) << "a sixth of 2.4 mm is 0.4";
        EXPECT_EQ(tint.step_of(millimetres(9.0)), ThicknessTint::k_steps - 1);
        EXPECT_DOUBLE_EQ(geometry::in_mm(tint.edge(3)), 2.8);
        const QColor paper = looks::colours(tone).paper;
        int before = 1000;
        for (int step = 0; step < ThicknessTint::k_steps; ++step) {
            const int off = std::abs(tint.of_step(step).lightness() - paper.lightness());
            EXPECT_LT(off, before) << "the thicker, the paler";
            before = off;
            for (const core::State state :
                 {core::State::holds, core::State::close, core::State::falls_short, core::State::not_measured}) {
                EXPECT_NE(tint.of_step(step), looks::shape_colour(state, tone));
            }
        }
    }
    const ThicknessTint even(millimetres(3.0), millimetres(3.0), looks::Tone::light);
    EXPECT_EQ(even.step_of(millimetres(3.0)), 0) << "a sheet that is the same everywhere has one tint";
}

}  // namespace
}  // namespace sillwright::app

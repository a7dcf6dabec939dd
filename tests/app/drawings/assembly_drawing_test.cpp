#include "app/drawings/assembly_drawing.h"

#include <QTest>

#include "tests/app/drawings/made_buck.h"
#include "tests/app/drawings/readable.h"

namespace sillwright::app {
namespace {

const QSizeF k_page(930.0, 560.0);  ///< On the smallest screen.

TEST(AssemblyDrawing, CanBeReadOnSmallAndLargeSheets) {
    AssemblyDrawing drawing;
    for (const int ribs : {2, 11, 40}) {
        drawing.set_picture(made_buck(ribs));
        for (const QSizeF& size : {k_page, QSizeF(drawing.minimumSizeHint()), QSizeF(1500.0, 800.0)}) {
            SCOPED_TRACE(std::to_string(ribs) + " ribs on " + std::to_string(size.width()));
            expect_readable(drawing.compose(size));
        }
    }
}

TEST(AssemblyDrawing, NamesEveryBoardAndEveryDistance) {
    AssemblyDrawing drawing;
    drawing.set_picture(made_buck());
    const Composition made = drawing.compose(k_page);
    for (const char* label : {"R1", "R4", "R7", "R11", "B"}) {
        EXPECT_TRUE(std::any_of(made.writings().begin(), made.writings().end(), [&](const auto& one) {
            return one.text == QLatin1String(label);
        })) << label;
    }
    EXPECT_EQ(times_written(made, "S1"), 2) << "in both views";
    EXPECT_EQ(times_written(made, "S2"), 2);
    EXPECT_EQ(times_written(made, "B1 to B4: 1944.6"), 1);
    EXPECT_EQ(times_written(made, "rod 1 of R1 to rod 2 of R11: 1902.3"), 1);
    EXPECT_EQ(times_written(made, "stands 4 mm off the base"), 1);
    EXPECT_EQ(shapes_of(made, core::State::holds), 1);
}

TEST(AssemblyDrawing, SaysByHowMuchAcrossIsDrawnLarger) {
    AssemblyDrawing drawing;
    drawing.set_picture(made_buck());
    const int times = drawing.times_across(k_page);
    EXPECT_GT(times, 1) << "ten times as long as wide: there is room";
    const Composition made = drawing.compose(k_page);
    EXPECT_EQ(times_written(made, QStringLiteral("across drawn %1 times").arg(times)), 1);
    // Ribs of 120 + i by 12 from above: 12 along, so many times as much across.
    int ribs = 0;
    for (const Composition::Stroke& stroke : made.strokes()) {
        const QRectF box = stroke.points.boundingRect();
        ribs += std::abs(box.height() / box.width() - 120.0 * times / 12.0) < 1e-6;
    }
    EXPECT_EQ(ribs, 1) << "the first one";
    drawing.set_picture(made_buck(2));
    AssemblyPicture square = made_buck(2);
    square.ribs[0].high_mm = square.ribs[1].high_mm = square.base->high_mm = 1900.0;
    drawing.set_picture(square);
    EXPECT_EQ(drawing.times_across(k_page), 1);
    EXPECT_EQ(times_written(drawing.compose(k_page), "true scale"), 1);
}

TEST(AssemblyDrawing, TheChosenRibIsAlwaysNamed) {
    AssemblyDrawing drawing;
    AssemblyPicture many = made_buck(60);
    for (std::size_t chosen = 0; chosen < many.ribs.size(); chosen += 7) {
        for (std::size_t i = 0; i < many.ribs.size(); ++i) {
            many.ribs[i].chosen = i == chosen;
        }
        drawing.set_picture(many);
        const Composition made = drawing.compose(k_page);
        expect_readable(made);
        const auto& writings = made.writings();
        EXPECT_TRUE(std::any_of(writings.begin(), writings.end(), [&](const auto& one) {
            return one.text == QString::fromStdString(many.ribs[chosen].label) && one.look.bold;
        })) << chosen;
    }
}

TEST(AssemblyDrawing, APressChoosesTheNearestRib) {
    AssemblyDrawing drawing;
    drawing.resize(930, 560);
    std::vector<std::size_t> chosen;
    QObject::connect(&drawing, &AssemblyDrawing::chose, &drawing, [&](std::size_t rib) { chosen.push_back(rib); });
    QTest::mousePress(&drawing, Qt::LeftButton, {}, {400, 200});
    EXPECT_TRUE(chosen.empty()) << "nothing is drawn yet";
    drawing.set_picture(made_buck());
    QTest::mousePress(&drawing, Qt::LeftButton, {}, {5, 200});
    QTest::mousePress(&drawing, Qt::LeftButton, {}, {925, 200});
    EXPECT_EQ(chosen, (std::vector<std::size_t>{0, 10}));
}

TEST(AssemblyDrawing, DrawsWhatIsSeen) {
    AssemblyDrawing drawing;
    drawing.set_picture(made_buck());
    expect_drawn_as_seen(drawing, {930, 560});
}

TEST(AssemblyDrawing, SaysWhatMustBeDecidedFirst) {
    AssemblyDrawing drawing;
    AssemblyPicture none;
    none.words = "No board is given yet.";
    drawing.set_picture(none);
    const Composition made = drawing.compose(k_page);
    expect_readable(made);
    EXPECT_EQ(times_written(made, "No board is given yet."), 1);
    EXPECT_EQ(drawing.times_across(k_page), 0);
}

}  // namespace
}  // namespace sillwright::app

#include "app/drawings/arc_drawing.h"

#include <gtest/gtest.h>

#include <cmath>

namespace sillwright::app {
namespace {

ArcPicture arcs() {
    ArcPicture picture;
    picture.door = "front door";
    picture.axis = true;
    TargetArc arc{"T1", {}};
    for (int i = 0; i < 5; ++i) {
        arc.places.push_back({i + 1, {600.0 * std::cos(0.2 * i), 600.0 * std::sin(0.2 * i)}, {0.2, -0.1}, false});
    }
    picture.targets = {arc};
    return picture;
}

TEST(ArcDrawing, DrawsArcsWhereThereIsAnAxisAndWordsWhereThereIsNone) {
    ArcDrawing drawing;
    drawing.resize(420, 320);
    drawing.set_picture(arcs());
    const QImage with = drawing.grab().toImage();
    ArcPicture suspect = arcs();
    suspect.targets[0].places[2].suspect = true;
    drawing.set_picture(suspect);
    EXPECT_NE(drawing.grab().toImage(), with) << "the worst place stands out";
    ArcPicture none;
    none.words = "Measure T1 at three openings.";
    drawing.set_picture(none);
    EXPECT_NE(drawing.grab().toImage(), with);
    EXPECT_EQ(drawing.accessibleDescription(), "Measure T1 at three openings.");
}

}  // namespace
}  // namespace sillwright::app

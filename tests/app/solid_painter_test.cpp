#include "app/drawings/solid_painter.h"

#include <gtest/gtest.h>

#include <condition_variable>
#include <mutex>

namespace sillwright::app {
namespace {

/// A cube of 100 mm, seen from outside on a sheet that is 200 mm high.
SolidPicture cube() {
    auto mesh = std::make_shared<geometry::Mesh>();
    for (const double z : {0.0, 100.0}) {
        for (const auto& [x, y] : {std::pair{0, 0}, std::pair{100, 0}, std::pair{100, 100}, std::pair{0, 100}}) {
            mesh->points.emplace_back(x, y, z);
        }
    }
    mesh->triangles = {{0, 2, 1}, {0, 3, 2}, {4, 5, 6}, {4, 6, 7}, {0, 1, 5}, {0, 5, 4},
                       {1, 2, 6}, {1, 6, 5}, {2, 3, 7}, {2, 7, 6}, {3, 0, 4}, {3, 4, 7}};
    SolidPicture picture;
    picture.bodies = {{SolidRole::skirt, mesh}};
    picture.about = bounds_of(*mesh);
    picture.look.across = geometry::millimetres(200);
    picture.look.centre_mm = {50, 50, 50};
    picture.look = looking_from(LookFrom::outside, true, picture.look);
    picture.pixels = {300, 200};
    return picture;
}

/// Rows and columns of an image that are not all paper.
QRect covered(const QImage& image, const QColor& paper) {
    QRect rect;
    for (int y = 0; y < image.height(); ++y) {
        for (int x = 0; x < image.width(); ++x) {
            if (image.pixelColor(x, y) != paper) {
                rect |= QRect(x, y, 1, 1);
            }
        }
    }
    return rect;
}

class SolidPainterOnX11 : public testing::Test {
protected:
    void SetUp() override {
        if (qEnvironmentVariableIsEmpty("SILLWRIGHT_TEST_ON_X11")) {
            GTEST_SKIP() << "needs X11; run through xvfb-run with SILLWRIGHT_TEST_ON_X11 set";
        }
    }
    static const QColor& paper() { return looks::colours(looks::Tone::light).paper; }
};

TEST_F(SolidPainterOnX11, DrawsAtTheScaleOfTheLook) {
    // 200 mm on 200 pixels: a cube of 100 mm stands on the middle 100 of 300 and of 200.
    SolidPainter painter([](const PaintedSolid&) {});
    const PaintedSolid painted = painter.now(cube());
    ASSERT_EQ(painted.failure, "");
    const QRect rect = covered(painted.image, paper());
    EXPECT_NEAR(rect.left(), 100, 1.5);
    EXPECT_NEAR(rect.right(), 199, 1.5);
    EXPECT_NEAR(rect.top(), 50, 1.5);
    EXPECT_NEAR(rect.bottom(), 149, 1.5);
}

TEST_F(SolidPainterOnX11, AgreesWithTheLookWhereverOneLooksFrom) {
    SolidPainter painter([](const PaintedSolid&) {});
    SolidPicture picture = cube();
    for (const QSize pixels : {QSize(300, 200), QSize(200, 320)}) {
        picture.pixels = pixels;
        for (const QPointF by : {QPointF(20, 10), QPointF(-130, 25), QPointF(33, -60)}) {
            picture.look = turned(picture.look, by, QSizeF(pixels));
            const QRect rect = covered(painter.now(picture).image, paper());
            QRectF expected;
            for (const Eigen::Vector3d& corner : picture.about.corners_mm()) {
                const QPointF p = picture.look.on_sheet(corner, QSizeF(pixels));
                expected |= QRectF(p, QSizeF(1e-6, 1e-6));
            }
            EXPECT_NEAR(rect.left(), expected.left(), 1.5);
            EXPECT_NEAR(rect.right(), expected.right(), 1.5);
            EXPECT_NEAR(rect.top(), expected.top(), 1.5);
            EXPECT_NEAR(rect.bottom(), expected.bottom(), 1.5);
        }
    }
}

TEST_F(SolidPainterOnX11, TellsWhatABodyHides) {
    SolidPainter painter([](const PaintedSolid&) {});
    SolidPicture picture = cube();  // the eye is where y is large
    picture.watched_mm = {{50, -10, 50}, {50, 110, 50}, {150, -10, 50}};
    EXPECT_EQ(painter.now(picture).hidden, (std::vector<bool>{true, false, false}));
}

TEST_F(SolidPainterOnX11, OnlyTheLatestCountsAndItComesFineInTheEnd) {
    std::mutex mutex;
    std::condition_variable came;
    std::vector<PaintedSolid> all;
    SolidPainter painter([&](const PaintedSolid& painted) {
        const std::lock_guard lock(mutex);
        all.push_back(painted);
        came.notify_one();
    });
    SolidPicture picture = cube();
    picture.fine = false;
    constexpr std::uint64_t wishes = 200;
    for (picture.number = 1; picture.number < wishes; ++picture.number) {
        painter.want(picture);
    }
    painter.want(picture);
    std::unique_lock lock(mutex);
    ASSERT_TRUE(came.wait_for(lock, std::chrono::seconds(60),
                              [&] { return !all.empty() && all.back().number == wishes && all.back().fine; }));
    EXPECT_LT(all.size(), wishes / 2);
    for (std::size_t i = 1; i < all.size(); ++i) {
        EXPECT_LE(all[i - 1].number, all[i].number);
    }
}

TEST_F(SolidPainterOnX11, APictureBeyondAllBoundsIsRefusedInWords) {
    SolidPainter painter([](const PaintedSolid&) {});
    SolidPicture picture = cube();
    picture.pixels = {1 << 20, 1 << 20};
    const PaintedSolid painted = painter.now(picture);
    EXPECT_TRUE(painted.image.isNull());
    EXPECT_TRUE(painted.failure.contains("1048576"));
    EXPECT_EQ(painter.now(cube()).failure, "") << "the next is drawn";
}

TEST(SolidPainter, WithoutAServerItSaysSo) {
    const QByteArray display = qgetenv("DISPLAY");
    qputenv("DISPLAY", ":nowhere");
    {
        SolidPainter painter([](const PaintedSolid&) {});
        const PaintedSolid painted = painter.now(cube());
        EXPECT_TRUE(painted.image.isNull());
        EXPECT_TRUE(painted.failure.contains("There is no solid picture here"));
    }
    qputenv("DISPLAY", display);
}

/// Tints are of the skirt's hue: the strongest has more of it in the same light.
TEST_F(SolidPainterOnX11, DrawsTrianglesInTheirTints) {
    SolidPainter painter([](const PaintedSolid&) {});
    const auto middle_of = [&painter](std::optional<int> tint) {
        SolidPicture picture = cube();
        if (tint) {
            picture.bodies[0].tints = std::make_shared<const std::vector<int>>(12, *tint);
        }
        return painter.now(picture).image.pixelColor(150, 100);
    };
    EXPECT_GT(middle_of(0).saturation(), middle_of(3).saturation());
    EXPECT_GT(middle_of(3).saturation(), middle_of(5).saturation());
    EXPECT_EQ(middle_of(k_no_tint), middle_of(std::nullopt)) << "in its own colour";
}

TEST(SolidPainter, EndsWithoutAWish) {
    const SolidPainter painter([](const PaintedSolid&) {});
}

}  // namespace
}  // namespace sillwright::app

#pragma once

#include <gtest/gtest.h>

#include <QFontMetricsF>
#include <QImage>
#include <QPainter>
#include <algorithm>

#include "app/drawings/composition.h"

/// What is asked of every drawing that is a composition.
namespace sillwright::app {

/// Words may come as near as this, pixels: their boxes are higher than their letters.
constexpr double k_touching = 1.0;

/// No word leaves the sheet, its box, or the least size of text, and none stands on another or on a state's shape.
inline void expect_readable(const Composition& made) {
    const auto& writings = made.writings();
    for (std::size_t i = 0; i < writings.size(); ++i) {
        const Composition::Writing& one = writings[i];
        SCOPED_TRACE(one.text.toStdString());
        EXPECT_TRUE(made.sheet().contains(one.box))
            << one.box.left() << ", " << one.box.top() << " to " << one.box.right() << ", " << one.box.bottom();
        EXPECT_GE(one.look.pixels, looks::k_text);
        const QRectF inner = one.box.adjusted(0.0, 0.0, k_touching, k_touching);
        const QRectF needed = QFontMetricsF(one.look.font()).boundingRect(inner, one.align, one.text);
        EXPECT_LE(needed.width(), inner.width());
        EXPECT_LE(needed.height(), inner.height());
        const QRectF core = one.box.adjusted(k_touching, k_touching, -k_touching, -k_touching);
        for (std::size_t j = i + 1; j < writings.size(); ++j) {
            EXPECT_FALSE(core.intersects(writings[j].box)) << "stands on " << writings[j].text.toStdString();
        }
        for (const Composition::Shape& shape : made.shapes()) {
            EXPECT_FALSE(core.intersects(shape.box)) << "stands on a state's shape";
        }
    }
    EXPECT_FALSE(writings.empty());
}

/// How often words are there, alone or among others.
inline int times_written(const Composition& made, const QString& words) {
    return static_cast<int>(std::count_if(made.writings().begin(), made.writings().end(),
                                          [&](const auto& one) { return one.text.contains(words); }));
}

inline const Composition::Writing* writing_of(const Composition& made, const QString& words) {
    const auto found = std::find_if(made.writings().begin(), made.writings().end(),
                                    [&](const auto& one) { return one.text.contains(words); });
    return found == made.writings().end() ? nullptr : &*found;
}

inline int shapes_of(const Composition& made, core::State state) {
    return static_cast<int>(
        std::count_if(made.shapes().begin(), made.shapes().end(), [&](const auto& one) { return one.state == state; }));
}

/// The drawing is the whole sheet, and what is seen is what is drawn on any other one of that size.
inline void expect_drawn_as_seen(ComposedPaper& paper, const QSize& size) {
    paper.resize(size);
    QImage drawn(size, QImage::Format_RGB32);
    drawn.fill(Qt::magenta);
    QPainter painter(&drawn);
    paper.draw(painter, QSizeF(size));
    painter.end();
    EXPECT_EQ(paper.grab().toImage().convertToFormat(QImage::Format_RGB32), drawn);
    for (int x = 0; x < size.width(); ++x) {
        ASSERT_EQ(drawn.pixel(x, 0), paper.colours().paper.rgb()) << "something runs over the upper edge";
        ASSERT_EQ(drawn.pixel(x, size.height() - 1), paper.colours().paper.rgb()) << "or over the lower one";
    }
}

}  // namespace sillwright::app

#pragma once

#include <QPainter>
#include <QString>
#include <QWidget>

#include "app/looks.h"

namespace sillwright::app {

/// A sheet of paper with a drawing on it. All that is seen is drawn by `draw` alone, so that
/// it prints and copies exactly as it is seen (paper_copy.h).
class Paper : public QWidget {
    Q_OBJECT

public:
    using QWidget::QWidget;

    /// Draws the whole sheet on (0, 0) to `sheet`, in the units of the widget's pixels.
    virtual void draw(QPainter& painter, const QSizeF& sheet) const = 0;
    /// What it shows, for the name of a file and the head of a page: "section at 3.9 · 700 mm".
    [[nodiscard]] virtual QString title() const = 0;

    /// Light or dark, by the widget's palette.
    [[nodiscard]] looks::Tone tone() const { return looks::tone_of(palette()); }
    [[nodiscard]] const looks::Colours& colours() const { return looks::colours(tone()); }

protected:
    void paintEvent(QPaintEvent* event) override;
    void changeEvent(QEvent* event) override;
};

}  // namespace sillwright::app

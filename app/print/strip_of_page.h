#pragma once

#include <QPainter>
#include <QRectF>
#include <functional>
#include <memory>
#include <vector>

#include "app/print/figure_picture.h"
#include "core/handover/document.h"

namespace sillwright::app::print {

/// A piece of a paper that is not divided: a line of words, a row of a table, a figure with its caption.
///
/// Units: hundredths of a millimetre.
struct Strip {
    double height = 0.0;
    double before = 0.0;     ///< Free above it; not at a page's top.
    bool with_next = false;  ///< Not the last on a page.
    std::function<void(QPainter& painter, const QRectF& box)> draw;
    std::shared_ptr<const Strip> head{};  ///< Comes first where a page begins with this strip.
};

/// How a paper is set.
struct Setting {
    double width = 0.0, height = 0.0;  ///< Of what is between a page's head and foot.
    double text_size = 1.0;            ///< Of the usual sizes of letters.
    double figure_size = 1.0;          ///< Of the shares of height that figures ask for.

    static constexpr double k_body_points = 9.5;
    static constexpr double k_least_points = 7.5;  ///< Nothing is set smaller.
    [[nodiscard]] double points(double usual = k_body_points) const {
        return usual * text_size < k_least_points ? k_least_points : usual * text_size;
    }
};

/// What a finding that falls short says on paper: its title, its numbers, its place, its mend.
QString falls_short_words(const core::Finding& finding);

/// All of a paper from its top: what falls short, what is still open, then its blocks.
std::vector<Strip> strips_of(const core::Document& document, const Setting& setting, const FigureSource& figures);

}  // namespace sillwright::app::print

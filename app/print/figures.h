#pragma once

#include <memory>

#include "app/print/figure_picture.h"
#include "core/evaluate.h"

namespace sillwright::app::print {

/// The figures of a job's papers, by the program's own drawings in their light tone. What takes long to compute is
/// computed once for all papers.
///
/// Shape: a figure for which something is not measured shows the drawing's own sentence, or words behind its caption.
/// Precondition: there is a QApplication: the drawings are widgets, which are never shown.
/// Lifetime: holds the evaluation's address, and its pictures may draw as long as they are there.
class Figures {
public:
    explicit Figures(const core::Evaluation& evaluation);
    ~Figures();
    Figures(const Figures&) = delete;
    Figures& operator=(const Figures&) = delete;

    [[nodiscard]] FigurePicture picture(const core::Figure& figure, const QSizeF& room);
    [[nodiscard]] FigureSource source() {
        return [this](const core::Figure& figure, const QSizeF& room) { return picture(figure, room); };
    }

private:
    class Studio;
    std::unique_ptr<Studio> studio_;
};

}  // namespace sillwright::app::print

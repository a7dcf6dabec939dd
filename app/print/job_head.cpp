#include "app/print/job_head.h"

#include <QPageLayout>
#include <QPdfWriter>

#include "app/length_words.h"
#include "app/text_of.h"
#include "core/handover/template_drawing.h"

namespace sillwright::app::print {

QString JobHead::line() const {
    const auto given = [](const QString& word, const QString& value) {
        return value.isEmpty() ? QStringLiteral("no %1 given").arg(word) : value;
    };
    return given(QStringLiteral("vehicle"), vehicle) +
           (revision.isEmpty() ? QStringLiteral(" · no revision given") : QStringLiteral(" · revision ") + revision) +
           QStringLiteral(" · ") + given(QStringLiteral("date"), date) + QStringLiteral(" · numbers in ") + unit;
}

JobHead head_of(const core::Job& job) {
    return {text_of(job.vehicle), text_of(job.revision), text_of(job.date), text_of(unit_word(job.unit)),
            text_of(core::side_words(job.side))};
}

QPageSize page_size(core::PaperSize size) {
    switch (size) {
        case core::PaperSize::letter:
            return QPageSize(QPageSize::Letter);
        case core::PaperSize::a3:
            return QPageSize(QPageSize::A3);
        case core::PaperSize::a4:
            break;
    }
    return QPageSize(QPageSize::A4);
}

QSizeF page_units(core::PaperSize size, bool lying) {
    const QSizeF upright = page_size(size).size(QPageSize::Millimeter) * 100.0;
    return lying ? upright.transposed() : upright;
}

void set_up(QPdfWriter& writer, core::PaperSize size, bool lying, const QString& title) {
    writer.setTitle(title);
    writer.setCreator(QStringLiteral("Sillwright"));
    writer.setResolution(k_dots_per_inch);
    writer.setPageLayout(
        QPageLayout(page_size(size), lying ? QPageLayout::Landscape : QPageLayout::Portrait, QMarginsF()));
}

}  // namespace sillwright::app::print

#include "app/drawings/ladder_drawing.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "app/length_words.h"
#include "app/text_of.h"
#include "core/number_text.h"

namespace sillwright::app {

using geometry::millimetres;

namespace {

constexpr double k_edge = 12.0;
constexpr double k_head = 30.0;
constexpr double k_rung = 28.0;  ///< Height of the words on a rung.
constexpr double k_step = 24.0;  ///< Of what stands between two.
constexpr double k_least_rail = 320.0;
constexpr double k_words_in = 14.0;  ///< Between rail and words.

double names_width(const LadderPicture& picture, const Lettering& look) {
    double widest = 0.0;
    for (const LadderRung& rung : picture.rungs) {
        widest = std::max(widest, look.size_of(text_of(rung.generation)).width());
    }
    return widest;
}

QString value_words(const LadderRung& rung, core::BareUnit unit) {
    return QStringLiteral("%1 ± %2").arg(text_of(fine_number(millimetres(rung.value_mm), unit)),
                                         text_of(fine_number(millimetres(2.0 * rung.sd_mm), unit)));
}

QString measured_words(const LadderRung& rung, core::BareUnit unit) {
    if (!rung.measured_mm) {
        return {};
    }
    const double off = *rung.measured_mm - rung.value_mm;
    const QString sign = off < 0.0 ? QStringLiteral("−") : QStringLiteral("+");
    return LadderDrawing::tr("measured %1 (%2%3)")
        .arg(text_of(fine_number(millimetres(*rung.measured_mm), unit)), sign,
             text_of(fine_number(millimetres(std::abs(off)), unit)));
}

}  // namespace

LadderDrawing::LadderDrawing(QWidget* parent) : ComposedPaper(parent) {
    setObjectName(QStringLiteral("ladderDrawing"));
    setAccessibleName(tr("Sizes from the finished part down to the buck"));
}

void LadderDrawing::set_picture(LadderPicture picture) {
    picture_ = std::move(picture);
    QString said = text_of(picture_.words.empty() ? picture_.dimension : picture_.words);
    for (const LadderRung& rung : picture_.rungs) {
        said += QStringLiteral("; %1 %2").arg(text_of(rung.generation), value_words(rung, picture_.unit));
    }
    setAccessibleDescription(said);
    updateGeometry();
    update();
}

QString LadderDrawing::title() const {
    return tr("%1, from part to buck").arg(text_of(picture_.dimension));
}

QSize LadderDrawing::minimumSizeHint() const {
    if (!picture_.words.empty() || picture_.rungs.empty()) {
        return {400, 120};
    }
    const auto count = static_cast<double>(picture_.rungs.size());
    const double below = picture_.rungs.back().step.empty() ? 0.0 : k_step;
    const Lettering bold{colours().graphite, looks::k_text, true};
    double measured = 0.0;
    for (const LadderRung& rung : picture_.rungs) {
        measured = std::max(measured, bold.size_of(measured_words(rung, picture_.unit)).width());
    }
    return QSizeF(names_width(picture_, bold) + k_least_rail + measured + 4.0 * k_edge,
                  k_head + count * k_rung + (count - 1.0) * k_step + below + 2.0 * k_edge)
        .toSize();
}

Composition LadderDrawing::compose(const QSizeF& sheet) const {
    if (!picture_.words.empty()) {
        return sentence(sheet, picture_.words);
    }
    Composition made(sheet, tone());
    const looks::Colours& c = made.colours();
    made.write({k_edge, 6.0},
               tr("%1, %2, in %3, ± two standard deviations")
                   .arg(text_of(picture_.dimension), picture_.across ? tr("across the car") : tr("along the car"),
                        text_of(unit_word(picture_.unit))),
               {c.graphite, looks::k_text, true});
    if (picture_.rungs.empty()) {
        return made;
    }
    const Lettering bold{c.graphite, looks::k_text, true};
    const auto count = static_cast<double>(picture_.rungs.size());
    const double left = 2.0 * k_edge + names_width(picture_, bold);
    double measured_wide = 0.0;
    for (const LadderRung& rung : picture_.rungs) {
        measured_wide = std::max(measured_wide, bold.size_of(measured_words(rung, picture_.unit)).width());
    }
    const double right = std::clamp(sheet.width() - measured_wide - 3.0 * k_edge, left + 200.0, left + 460.0);
    const double top = k_head + k_edge;
    const double below = picture_.rungs.back().step.empty() ? 0.0 : k_step;
    const double free = sheet.height() - k_edge - top - count * k_rung - below;
    const double between = std::clamp(count > 1.0 ? free / (count - 1.0) : 0.0, k_step, 2.0 * k_step);
    const double bottom = top + count * k_rung + (count - 1.0) * between;
    const QPen rail(c.graphite, 3.0);
    made.line({QPointF(left, top - 4.0), QPointF(left, bottom + 4.0)}, rail);
    made.line({QPointF(right, top - 4.0), QPointF(right, bottom + 4.0)}, rail);
    double y = top;
    for (std::size_t i = 0; i < picture_.rungs.size(); ++i) {
        const LadderRung& rung = picture_.rungs[i];
        const bool end = i == 0 || i + 1 == picture_.rungs.size();
        const double foot = y + k_rung;
        made.line({QPointF(left, foot), QPointF(right, foot)}, QPen(c.skirt, end ? 3.0 : 1.8));
        const QSizeF name = bold.size_of(text_of(rung.generation));
        made.write_ending({left - k_edge, foot - name.height() / 2.0}, text_of(rung.generation),
                          end ? bold : made.plain());
        const Lettering value{c.graphite, end ? looks::k_number : looks::k_text, end};
        const QString words = value_words(rung, picture_.unit);
        made.write({left + k_words_in, foot - value.size_of(words).height() - 1.0}, words, value);
        if (rung.measured_mm) {
            made.write({right + k_edge, foot - name.height() / 2.0}, measured_words(rung, picture_.unit), bold);
        }
        if (!rung.step.empty()) {
            Lettering step = made.lesser();
            step.italic = rung.assumed;
            QString text = text_of(rung.step);
            if (rung.assumed) {
                text += tr(", assumed");
            }
            made.write(
                {left + 3.0 * k_words_in,
                 foot + ((i + 1 < picture_.rungs.size() ? between : k_step) - step.size_of(text).height()) / 2.0},
                QStringLiteral("↓ ") + text, step);
        }
        y = foot + between;
    }
    return made;
}

}  // namespace sillwright::app

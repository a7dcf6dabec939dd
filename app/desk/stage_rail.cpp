#include "app/desk/stage_rail.h"

#include <QButtonGroup>
#include <QPainter>
#include <QStyle>
#include <QStyleOption>
#include <QVBoxLayout>
#include <algorithm>

#include "app/finding_look.h"
#include "app/looks.h"

namespace sillwright::app {

using core::Stage;
using core::State;

namespace {

constexpr int k_heading = 17;
constexpr int k_small = 14;
constexpr int k_shape = 18;
constexpr int k_pad = 12;
constexpr int k_gap = 10;

std::optional<State> state_of(const core::StateCounts& counts) {
    if (counts.falls_short > 0) {
        return State::falls_short;
    }
    if (counts.not_measured > 0) {
        return State::not_measured;
    }
    if (counts.close > 0) {
        return State::close;
    }
    return counts.holds > 0 ? std::optional(State::holds) : std::nullopt;
}

QString sentence_of(const core::StateCounts& counts) {
    QStringList parts;
    if (counts.falls_short > 0) {
        parts += counts.falls_short == 1 ? QObject::tr("1 falls short")
                                         : QObject::tr("%1 fall short").arg(counts.falls_short);
    }
    if (counts.not_measured > 0) {
        parts += QObject::tr("%1 not measured").arg(counts.not_measured);
    }
    if (parts.isEmpty() && counts.close > 0) {
        parts += QObject::tr("%1 close").arg(counts.close);
    }
    if (parts.isEmpty()) {
        parts += counts.holds > 0 ? QObject::tr("holds") : QObject::tr("not checked yet");
    }
    return parts.join(QStringLiteral("\n"));
}

}  // namespace

StageButton::StageButton(Stage stage, QWidget* parent) : QAbstractButton(parent), sentence_{tr("not checked yet")} {
    const core::StageWords& stage_words = core::words(stage);
    setObjectName(QStringLiteral("stage") + QString::fromStdString(stage_words.name));
    setText(QString::fromStdString(stage_words.name));
    setToolTip(QString::fromStdString(stage_words.purpose));
    setCheckable(true);
    setFocusPolicy(Qt::StrongFocus);
    setSizePolicy(QSizePolicy::Preferred, QSizePolicy::Preferred);
    setAccessibleName(text());
}

void StageButton::say(std::optional<State> state, const QString& sentence) {
    if (state != state_ || sentence != sentence_) {
        state_ = state;
        sentence_ = sentence;
        setAccessibleDescription(QString(sentence).replace(QLatin1Char('\n'), QStringLiteral(", ")));
        update();
    }
}

QSize StageButton::sizeHint() const {
    const QFontMetrics heading(looks::font(k_heading, true));
    const QFontMetrics small(looks::font(k_small));
    const int text = std::max(heading.horizontalAdvance(QString::fromStdString(core::words(Stage::handover).name)),
                              small.horizontalAdvance(tr("99 not measured")));
    return {k_pad + k_shape + k_gap + text + k_pad, heading.height() + 2 * small.height() + k_pad};
}

QSize StageButton::minimumSizeHint() const {
    return {sizeHint().width(), std::max(looks::k_target, QFontMetrics(looks::font(k_heading, true)).height() +
                                                              QFontMetrics(looks::font(k_small)).height() + 4)};
}

void StageButton::paintEvent(QPaintEvent* /*event*/) {
    const looks::Tone tone = looks::tone_of(palette());
    const looks::Colours& colours = looks::colours(tone);
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const QRectF card = QRectF(rect()).adjusted(2, 1, -2, -1);
    if (isChecked() || underMouse() || hasFocus()) {
        painter.setPen(hasFocus() ? QPen(colours.skirt, 2.0) : QPen(colours.edge, 1.0));
        painter.setBrush(isChecked() ? QBrush(colours.paper) : Qt::NoBrush);
        painter.drawRoundedRect(card, 6.0, 6.0);
    }
    const int lines = static_cast<int>(sentence_.count(QLatin1Char('\n'))) + 1;
    const QFontMetrics heading(looks::font(k_heading, isChecked()));
    const QFontMetrics small(looks::font(k_small));
    const int shown = height() >= heading.height() + lines * small.height() + 4 ? lines : 1;
    const int text_height = heading.height() + shown * small.height();
    const int top = (height() - text_height) / 2;
    const int left = k_pad + k_shape + k_gap;
    looks::draw_shape(painter, QRectF(k_pad, top + 0.5 * (heading.height() - k_shape), k_shape, k_shape),
                      state_.value_or(State::not_measured), tone);
    painter.setFont(looks::font(k_heading, isChecked()));
    painter.setPen(colours.graphite);
    painter.drawText(left, top + heading.ascent(), text());
    painter.setFont(looks::font(k_small));
    painter.setPen(colours.pencil);
    const QStringList words = sentence_.split(QLatin1Char('\n'));
    for (int i = 0; i < shown; ++i) {
        painter.drawText(left, top + heading.height() + i * small.height() + small.ascent(), words.at(i));
    }
}

StageRail::StageRail(QWidget* parent) : QWidget(parent) {
    setObjectName(QStringLiteral("stageRail"));
    setAccessibleName(tr("Stages of the job"));
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(4, 4, 4, 4);
    column->setSpacing(4);
    auto* group = new QButtonGroup(this);
    for (const Stage stage : core::k_stages) {
        auto* button = new StageButton(stage, this);
        buttons_.at(static_cast<std::size_t>(stage)) = button;
        group->addButton(button);
        column->addWidget(button);
        connect(button, &QAbstractButton::clicked, this, [this, stage] {
            stage_ = stage;
            emit stage_chosen(stage);
        });
    }
    column->addStretch(1);
    show_stage(stage_);
}

void StageRail::show_findings(const std::vector<core::Finding>& findings, bool stale) {
    for (const Stage stage : core::k_stages) {
        const core::StateCounts counts = core::count_states(findings, stage);
        QString sentence = sentence_of(counts);
        if (stale && state_of(counts)) {
            sentence = tr("being computed");
        }
        buttons_.at(static_cast<std::size_t>(stage))->say(state_of(counts), sentence);
    }
}

void StageRail::show_stage(Stage stage) {
    stage_ = stage;
    buttons_.at(static_cast<std::size_t>(stage))->setChecked(true);
}

}  // namespace sillwright::app

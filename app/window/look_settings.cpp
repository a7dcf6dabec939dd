#include "app/window/look_settings.h"

#include <QApplication>
#include <QSettings>

namespace sillwright::app {

namespace {

const QString k_dark = QStringLiteral("look/dark");
const QString k_round = QStringLiteral("look/round");
const QString k_below = QStringLiteral("look/below");

}  // namespace

LookSettings read_look_settings() {
    const QSettings kept;
    LookSettings settings;
    settings.tone = kept.value(k_dark, false).toBool() ? looks::Tone::dark : looks::Tone::light;
    settings.round_shown = kept.value(k_round, settings.round_shown).toBool();
    settings.below_shown = kept.value(k_below, settings.below_shown).toBool();
    return settings;
}

void keep_look_settings(const LookSettings& settings) {
    QSettings kept;
    kept.setValue(k_dark, settings.tone == looks::Tone::dark);
    kept.setValue(k_round, settings.round_shown);
    kept.setValue(k_below, settings.below_shown);
}

void wear(looks::Tone tone) {
    // The desktop's own style may not follow a palette; this one does, everywhere alike.
    static const QStyle* const style = QApplication::setStyle(QStringLiteral("Fusion"));
    Q_UNUSED(style);
    QApplication::setPalette(looks::palette(tone));
    QApplication::setFont(looks::font(looks::k_text));
    const looks::Colours& c = looks::colours(tone);
    qApp->setStyleSheet(
        QStringLiteral("QToolTip { color: %1; background: %2; border: 1px solid %3; padding: 6px; }"
                       "QMenuBar { background: %4; } QMenuBar::item { padding: 11px 12px; }"
                       "QMenu::item { padding: 11px 24px 11px 24px; }"
                       "QPushButton, QToolButton { color: %1; background: %2; border: 1px solid %5; border-radius: 6px;"
                       " padding: 6px 10px; min-height: 26px; }"
                       "QPushButton:hover, QToolButton:hover { border-color: %6; }"
                       "QPushButton:focus, QToolButton:focus { border: 2px solid %6; padding: 5px 9px; }"
                       "QPushButton:disabled, QToolButton:disabled { color: %5; border-color: %3; }"
                       "#stationBefore, #stationBeyond { border: none; background: transparent; }"
                       "QPushButton:checked { background: %6; color: %2; }")
            .arg(c.graphite.name(), c.paper.name(), c.edge.name(), c.desk.name(), c.pencil.name(), c.skirt.name()));
}

}  // namespace sillwright::app

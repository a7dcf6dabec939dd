#include "app/drawings/angle_text.h"

#include <QCoreApplication>
#include <QLocale>
#include <QRegularExpression>
#include <cmath>

#include "core/number_text.h"

namespace sillwright::app {

QString angle_text(geometry::Angle angle) {
    return QString::fromStdString(core::degree_text(angle, 1));
}

geometry::Result<geometry::Angle> read_angle(const QString& text) {
    static const QRegularExpression written(
        QStringLiteral("^\\s*([+-]?(?:\\d+[.,]?\\d*|[.,]\\d+))\\s*(?:°|deg\\.?|degrees?)?\\s*$"),
        QRegularExpression::CaseInsensitiveOption);
    const QRegularExpressionMatch match = written.match(QString(text).replace(QChar(0x2212), QLatin1Char('-')));
    bool read = false;
    const double number = QLocale::c().toDouble(match.captured(1).replace(QLatin1Char(','), QLatin1Char('.')), &read);
    if (!match.hasMatch() || !read || !std::isfinite(number)) {
        return geometry::Error{
            geometry::ErrorCode::invalid_argument,
            QCoreApplication::translate("angle_text", "\"%1\" is no angle. Write degrees, such as 12 or 12.5°.")
                .arg(text.trimmed())
                .toStdString()};
    }
    return geometry::degrees(number);
}

}  // namespace sillwright::app

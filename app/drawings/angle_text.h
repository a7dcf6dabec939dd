#pragma once

#include <QString>

#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::app {

/// "6.2°": one decimal.
QString angle_text(geometry::Angle angle);

/// An angle as people write it: `12`, `12.5°`, `12,5 °`, `12 deg`, `12 degrees`.
/// Errors: invalid_argument: what was typed, and what would be right.
geometry::Result<geometry::Angle> read_angle(const QString& text);

}  // namespace sillwright::app

#pragma once

#include "geometry/result.h"

namespace sillwright::app::window {

/// Chooses Qt's platform by the environment; call before the QApplication. With
/// `picture_only` a machine without a display will do. Qt ends the process where
/// it finds no display; this says so instead.
/// Errors: does_not_fit where there is none.
geometry::Status prepare_display(bool picture_only);

}  // namespace sillwright::app::window

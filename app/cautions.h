#pragma once

#include "core/handover/cautions.h"

namespace sillwright::app {

using core::cautions;

}  // namespace sillwright::app

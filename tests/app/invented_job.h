#pragma once

#include "app/checked_job.h"

namespace sillwright::app {

/// "Estate A", invented: four findings, one of each state, a curve, a door
/// limit, three stations, a section and a few bodies with one door.
CheckedJob invented_job();

}  // namespace sillwright::app

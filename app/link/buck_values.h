#pragma once

// A rib's field has a name that is a macro of Qt's, which the precompiled headers bring along. So this is for sources
// that have nothing of Qt's signals, for no header, and comes before what else includes core's buck.
#undef slots

#include "core/buck/buck_work.h"

#pragma once

// A buck has slots; Qt takes that word for its own, and would take it away from core's headers.
#pragma push_macro("slots")
#undef slots
#include "core/handover/documents.h"
#pragma pop_macro("slots")

#pragma once

#include "core/finding_words.h"

/// How findings look, the same in the terminal and in the window: see core/finding_words.h.
namespace sillwright::app {

using core::count_sentence;
using core::FindingNumbers;
using core::look;
using core::numbers_of;
using core::StateLook;
using core::worst_first;

}  // namespace sillwright::app

#pragma once

namespace sillwright::bench {

/// Prints what was measured beside its targets, in a few minutes; false if a target is missed by more than
/// half as much again, or the answers disagree.
bool check();

}  // namespace sillwright::bench

#pragma once

namespace sillwright::app {

/// The whole program: reads the words, runs what they ask for. Returns the exit
/// code. No exception leaves it.
int start(int argc, char** argv);

}  // namespace sillwright::app

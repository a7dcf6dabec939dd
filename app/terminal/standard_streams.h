#pragma once

#include <string_view>

#include "geometry/result.h"

/// The program's standard input, output and error as the system has them.
namespace sillwright::app::terminal {

/// Call first. A closed stream is opened on /dev/null, so that no file opened
/// later takes its number and has our text written into it; standard output so
/// that writing to it still fails. A reader that has gone away is an error
/// from write(), not the end of the program.
void secure_standard_streams();

/// How writing went, where it did not fail.
enum class Written { all, reader_gone };

/// Writes all of `text` to standard output. A reader that wants no more
/// (`| head`) is no error.
/// Errors: unreadable_file, with the system's reason, for a full disk or a
///   closed output.
geometry::Result<Written> write_out(std::string_view text);

/// Writes "sillwright: `message`" as a line to standard error, control
/// characters as spaces, as far as it goes.
void complain(std::string_view message);

}  // namespace sillwright::app::terminal

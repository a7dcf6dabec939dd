#include "app/terminal/standard_streams.h"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <string>
#include <system_error>

#include "app/terminal/plain_text.h"

namespace sillwright::app::terminal {

namespace {

/// The system's error number, or 0.
int write_all(int stream, std::string_view text) {
    while (!text.empty()) {
        const ssize_t written = write(stream, text.data(), text.size());
        if (written >= 0) {
            text.remove_prefix(static_cast<std::size_t>(written));
        } else if (errno != EINTR) {
            return errno;
        }
    }
    return 0;
}

}  // namespace

void secure_standard_streams() {
    std::signal(SIGPIPE, SIG_IGN);
    for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) {
        if (fcntl(stream, F_GETFD) == -1 && errno == EBADF) {
            // The lowest free number is taken, which is this one. Standard output is
            // opened for reading so that it is known to be of no use.
            open("/dev/null", stream == STDERR_FILENO ? O_WRONLY : O_RDONLY);
        }
    }
}

geometry::Result<Written> write_out(std::string_view text) {
    const int reason = write_all(STDOUT_FILENO, text);
    if (reason == EPIPE) {
        return Written::reader_gone;
    }
    if (reason != 0) {
        return geometry::Error{
            geometry::ErrorCode::unreadable_file,
            "The result could not be written to the standard output: " + std::generic_category().message(reason) +
                ". Send it to a file or a disk that has room."};
    }
    return Written::all;
}

void complain(std::string_view message) {
    // Nowhere is left to say that standard error cannot be written either.
    write_all(STDERR_FILENO, "sillwright: " + without_controls(message) + "\n");
}

}  // namespace sillwright::app::terminal

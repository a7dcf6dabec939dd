#include "tests/support/command.h"

#include <sys/wait.h>

#include <array>
#include <cstdio>

namespace sillwright::tests {

Output run(const std::string& command) {
    FILE* pipe = ::popen((command + " 2>&1").c_str(), "r");  // NOLINT(cert-env33-c)
    if (pipe == nullptr) {
        return {-1, "cannot start: " + command};
    }
    Output output{0, ""};
    std::array<char, 4096> buffer{};
    while (const std::size_t n = std::fread(buffer.data(), 1, buffer.size(), pipe)) {
        output.text.append(buffer.data(), n);
    }
    const int status = ::pclose(pipe);
    output.status = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    return output;
}

std::size_t count(const std::string& text, const std::string& part) {
    std::size_t found = 0;
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + part.size())) {
        ++found;
    }
    return found;
}

}  // namespace sillwright::tests

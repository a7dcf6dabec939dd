#pragma once

#include <array>
#include <memory>
#include <string>

class QApplication;

namespace sillwright::app::terminal {

/// Pages are set with fonts and with the window's own drawings, which need Qt's application, but no display: one is
/// there while this lives, unless there was one before.
class PageApplication {
public:
    PageApplication();
    PageApplication(const PageApplication&) = delete;
    PageApplication& operator=(const PageApplication&) = delete;
    ~PageApplication();

private:
    int count_ = 1;
    std::string name_ = "sillwright";
    std::array<char*, 2> words_{name_.data(), nullptr};
    std::unique_ptr<QApplication> application_;
};

}  // namespace sillwright::app::terminal

#pragma once

#include <string>
#include <vector>

#include "core/finding.h"
#include "core/job.h"

namespace sillwright::core {
struct Evaluation;
}

/// What the handover folder of a computed job will hold.
namespace sillwright::app {

enum class InFolder { there, in_part, missing };

struct FolderItem {
    std::string what;    ///< "Fitting sheet"
    std::string reader;  ///< "for the installer"; empty for a file that is for programs.
    InFolder state = InFolder::there;
    std::vector<std::string> why;  ///< What is missing, or is open and bears on it; a line each.
};

/// In the order in which they are needed. Takes as long as its papers' words take: not for the window's thread.
std::vector<FolderItem> handover_of_job(const core::Evaluation& evaluation);

/// A finding that is open: what it is, its numbers, what is missing.
struct OpenFinding {
    core::State state = core::State::not_measured;
    std::string title, numbers, place, why;
    std::vector<std::string> missing;
};

/// Findings that fall short, then those that are not measured.
std::vector<OpenFinding> open_findings(const std::vector<core::Finding>& findings, core::BareUnit unit);

}  // namespace sillwright::app

#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "geometry/result.h"

/// What a person typed after `sillwright`.
namespace sillwright::app::terminal {

/// `sillwright [JOB] [--picture FILE | --measure-frames FILE]`
struct OpenWindow {
    std::optional<std::filesystem::path> job;
    std::optional<std::filesystem::path> picture;   ///< Write a picture of the window there, then end.
    std::optional<std::filesystem::path> measures;  ///< Write how fast the window is there, then end.
};

/// `sillwright check JOB [--json]`
struct Check {
    std::filesystem::path job;
    bool json = false;
};

/// `sillwright handover JOB --to DIR`
struct HandOver {
    std::filesystem::path job;
    std::filesystem::path to;
};

/// `sillwright survey JOB [--json] [--csv FILE] [--sheet FILE] [--copy FILE] [--take FILE | --drop ID --why TEXT]`
struct Survey {
    std::filesystem::path job;
    bool json = false;
    std::optional<std::filesystem::path> csv;    ///< Write the readings there.
    std::optional<std::filesystem::path> sheet;  ///< Write the blank measuring sheet there (PDF).
    std::optional<std::filesystem::path> copy;   ///< Write the copy of the book there (PDF).
    std::optional<std::filesystem::path> take;   ///< Take readings from there (CSV) into the job.
    std::string drop, why;                       ///< Id of a reading to leave out, and the reason.
};

/// `sillwright other-hand JOB --to FILE`
struct OtherHand {
    std::filesystem::path job;
    std::filesystem::path to;
};

/// `sillwright forming JOB`
struct FormingSheet {
    std::filesystem::path job;
};

enum class Topic { all, check, handover, survey, other_hand, forming };

/// `sillwright [COMMAND] --help`
struct ShowHelp {
    Topic topic = Topic::all;
};

/// `sillwright --version`
struct ShowVersion {};

using Command = std::variant<OpenWindow, Check, HandOver, Survey, OtherHand, FormingSheet, ShowHelp, ShowVersion>;

/// Reads the words after the program's name. Looks at no file.
///
/// Options may stand anywhere; a value is the next word or follows `=`; after
///   `--` all words are files. A wish for help wins over everything but the
///   command that it is about; then a wish for the version.
/// Errors: invalid_argument for an unknown command or option (with the nearest
///   known one), an option without its value or given twice, a file missing or
///   too many, an empty name. The message says what would be right.
geometry::Result<Command> read_arguments(const std::vector<std::string>& words);

}  // namespace sillwright::app::terminal

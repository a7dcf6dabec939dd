#pragma once

#include <string>
#include <vector>

#include "core/edit/edit.h"
#include "core/job.h"

namespace sillwright::core {

enum class SettingGroup { fitting, part, loads, road, forming, router, buck, papers };
/// `text`: words of the maker's own; `words`: one of those given.
enum class SettingKind { length, number, words, flag, text };

/// One number or choice of a job that stands in no table.
struct Setting {
    SettingGroup group = SettingGroup::fitting;
    SettingKind kind = SettingKind::length;
    std::string name;                ///< "hot, part"
    std::string unit;                ///< Behind the field: "°C"; empty for lengths, which carry theirs.
    std::string help;                ///< What may be written there, in one sentence.
    std::string pointer;             ///< Where the job file has it (RFC 6901).
    std::vector<std::string> words;  ///< Of a choice or a flag; an empty one is "not decided".
};

/// All settings of a job, in the order in which they are asked for: some are there for each mount or piece.
std::vector<Setting> settings_of(const Job& job);

/// What each of them is, as it is typed: empty where it is not measured or not decided.
std::vector<std::string> setting_texts(const Job& job, const std::vector<Setting>& settings);

/// One of them written anew; empty text takes it back to not measured, or to what is usual.
/// Errors: invalid_argument for what cannot be meant, led by the setting's name.
geometry::Result<Edit> write_setting(const Job& job, const Setting& setting, const std::string& text);

}  // namespace sillwright::core

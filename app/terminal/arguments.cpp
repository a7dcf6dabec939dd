#include "app/terminal/arguments.h"

#include <algorithm>
#include <map>
#include <numeric>
#include <string_view>
#include <utility>

namespace sillwright::app::terminal {

using geometry::Error;
using geometry::ErrorCode;
using geometry::Result;

namespace {

/// A wrong word at most this many letters away from a known one is taken for it in the message.
constexpr std::size_t k_letters_off = 2;

struct Option {
    std::string name;
    std::string value;  ///< What follows it, in capitals; empty if nothing does.
};

/// One way to call the program.
struct Form {
    Topic topic;
    std::string command;  ///< Empty for the window.
    std::string usage;
    std::vector<Option> options;
};

const std::vector<Form>& forms() {
    static const std::vector<Form> all{
        {Topic::all,
         "",
         "sillwright [JOB] [--picture FILE | --measure-frames FILE]",
         {{"--picture", "FILE"}, {"--measure-frames", "FILE"}, {"--version", ""}}},
        {Topic::check, "check", "sillwright check JOB [--json]", {{"--json", ""}}},
        {Topic::handover, "handover", "sillwright handover JOB --to DIR", {{"--to", "DIR"}}},
        {Topic::survey,
         "survey",
         "sillwright survey JOB [--json] [--csv FILE] [--sheet FILE] [--copy FILE] "
         "[--take FILE | --drop ID --why TEXT]",
         {{"--json", ""},
          {"--csv", "FILE"},
          {"--sheet", "FILE"},
          {"--copy", "FILE"},
          {"--take", "FILE"},
          {"--drop", "ID"},
          {"--why", "TEXT"}}},
        {Topic::other_hand, "other-hand", "sillwright other-hand JOB --to FILE", {{"--to", "FILE"}}},
        {Topic::forming, "forming", "sillwright forming JOB", {}},
    };
    return all;
}

std::string in_quotes(std::string_view word) {
    return "\"" + std::string(word) + "\"";
}

Error refusal(const std::string& message) {
    return Error{ErrorCode::invalid_argument, message};
}

/// Number of letters to change, add or leave out. Source: Levenshtein 1966, by
/// the usual table, one row at a time.
std::size_t letters_apart(std::string_view a, std::string_view b) {
    std::vector<std::size_t> row(b.size() + 1);
    std::iota(row.begin(), row.end(), std::size_t{0});
    for (std::size_t i = 0; i < a.size(); ++i) {
        std::size_t diagonal = std::exchange(row[0], i + 1);
        for (std::size_t j = 0; j < b.size(); ++j) {
            const std::size_t changed = diagonal + (a[i] == b[j] ? 0 : 1);
            diagonal = row[j + 1];
            row[j + 1] = std::min({changed, row[j] + 1, diagonal + 1});
        }
    }
    return row.back();
}

std::optional<std::string> nearest(std::string_view word, const std::vector<std::string>& known) {
    const auto best = std::min_element(known.begin(), known.end(), [&](const auto& a, const auto& b) {
        return letters_apart(word, a) < letters_apart(word, b);
    });
    if (best == known.end() || letters_apart(word, *best) > k_letters_off) {
        return std::nullopt;
    }
    return *best;
}

/// The words, told apart.
struct Told {
    std::vector<std::string> files;
    std::map<std::string, std::string> options;
};

const Form& form_of(const std::vector<std::string>& words) {
    const auto first = std::find_if(words.begin(), words.end(), [](const auto& w) { return !w.starts_with("-"); });
    const auto end_of_options = std::find(words.begin(), words.end(), "--");
    if (first < end_of_options) {
        for (const Form& form : forms()) {
            if (!form.command.empty() && form.command == *first) {
                return form;
            }
        }
    }
    return forms().front();
}

Error unknown_option(const std::string& name, const Form& form) {
    std::vector<std::string> known{"--help"};
    for (const Option& option : form.options) {
        known.push_back(option.name);
    }
    for (const Form& other : forms()) {
        for (const Option& option : other.options) {
            if (other.topic != form.topic && option.name == name) {
                return refusal("The option " + name + " does not belong here; it is used so: " + other.usage + ".");
            }
        }
    }
    std::string message = "There is no option " + in_quotes(name) + ".";
    if (const auto guess = nearest(name, known)) {
        return refusal(message + " Did you mean " + *guess + "?");
    }
    return refusal(message + " Right would be: " + form.usage + "; sillwright --help tells more.");
}

/// Takes the option at `words[i]` and moves `i` to its last word.
geometry::Status take_option(const std::vector<std::string>& words, std::size_t& i, const Form& form, Told& told) {
    const std::string& word = words[i];
    const std::size_t equals = word.find('=');
    const std::string name = word.substr(0, equals);
    const auto option =
        std::find_if(form.options.begin(), form.options.end(), [&](const auto& o) { return o.name == name; });
    if (option == form.options.end()) {
        return unknown_option(name, form);
    }
    if (told.options.contains(name)) {
        return refusal("The option " + name + " stands there twice; once is right: " + form.usage + ".");
    }
    std::string value;
    if (option->value.empty()) {
        if (equals != std::string::npos) {
            return refusal("The option " + name + " takes no value; write just " + name + ".");
        }
    } else if (equals != std::string::npos) {
        value = word.substr(equals + 1);
    } else if (i + 1 < words.size() && !words[i + 1].starts_with("-")) {
        value = words[++i];
    }
    if (!option->value.empty() && value.empty()) {
        return refusal("The option " + name + " needs a " + option->value + " after it: " + form.usage + ".");
    }
    told.options.emplace(name, value);
    return std::monostate{};
}

Result<Told> tell_apart(const std::vector<std::string>& words, const Form& form) {
    Told told;
    bool options_over = false;
    bool command_seen = form.command.empty();
    for (std::size_t i = 0; i < words.size(); ++i) {
        const std::string& word = words[i];
        if (!options_over && word == "--") {
            options_over = true;
        } else if (!options_over && word.starts_with("-") && word != "-") {
            if (const auto taken = take_option(words, i, form, told); !taken) {
                return taken.error();
            }
        } else if (!command_seen && word == form.command) {
            command_seen = true;
        } else if (word.empty()) {
            return refusal("The name of a job file is empty. Right would be: " + form.usage + ".");
        } else {
            told.files.push_back(word);
        }
    }
    return told;
}

Error too_many_files(const Told& told, const Form& form) {
    if (form.command.empty()) {
        std::vector<std::string> commands;
        for (const Form& other : forms()) {
            if (!other.command.empty()) {
                commands.push_back(other.command);
            }
        }
        std::string message = "There is no command " + in_quotes(told.files.front()) + ".";
        if (const auto guess = nearest(told.files.front(), commands)) {
            return refusal(message + " Did you mean \"" + *guess + "\"?");
        }
        return refusal(
            message +
            " The commands are check, handover, survey, other-hand and forming; a job file alone opens the window.");
    }
    return refusal("One job file at a time: " + in_quotes(told.files[1]) +
                   " is one too many. Right would be: " + form.usage + ".");
}

/// Help and version, wherever they stand before `--`.
std::optional<Command> wish(const std::vector<std::string>& words, const Form& form) {
    const auto end = std::find(words.begin(), words.end(), "--");
    if (std::find(words.begin(), end, "--help") != end || std::find(words.begin(), end, "-h") != end) {
        return Command{ShowHelp{form.topic}};
    }
    if (std::find(words.begin(), end, "--version") != end) {
        return Command{ShowVersion{}};
    }
    return std::nullopt;
}

std::string text_option(const Told& told, const std::string& name) {
    const auto found = told.options.find(name);
    return found == told.options.end() ? "" : found->second;
}

std::optional<std::filesystem::path> file_option(const Told& told, const std::string& name) {
    const auto found = told.options.find(name);
    return found == told.options.end() ? std::nullopt : std::optional<std::filesystem::path>{found->second};
}

Result<Command> survey_of(const Told& told, const Form& form) {
    Survey survey{told.files.front(),           told.options.contains("--json"), file_option(told, "--csv"),
                  file_option(told, "--sheet"), file_option(told, "--copy"),     file_option(told, "--take"),
                  text_option(told, "--drop"),  text_option(told, "--why")};
    if (survey.take && !survey.drop.empty()) {
        return refusal("One change at a time: take a file or drop a reading. Right would be: " + form.usage + ".");
    }
    if (survey.drop.empty() != survey.why.empty()) {
        return refusal(survey.why.empty() ? "A reading is dropped with a reason: add --why TEXT."
                                          : "The reason needs its reading: add --drop ID.");
    }
    for (const auto& file : {survey.sheet, survey.copy}) {
        if (file && file->extension() != ".pdf") {
            return refusal("The sheet is written as PDF; give it a name that ends in .pdf, not " +
                           in_quotes(file->string()) + ".");
        }
    }
    return Command{std::move(survey)};
}

}  // namespace

Result<Command> read_arguments(const std::vector<std::string>& words) {
    const Form& form = form_of(words);
    if (auto wished = wish(words, form)) {
        return *std::move(wished);
    }
    const auto result = tell_apart(words, form);
    if (!result) {
        return result.error();
    }
    const Told& told = result.value();
    if (told.files.size() > 1) {
        return too_many_files(told, form);
    }
    if (form.topic == Topic::all) {
        OpenWindow window{{}, file_option(told, "--picture"), file_option(told, "--measure-frames")};
        if (window.picture && window.measures) {
            return refusal("A picture and measures at once would disturb each other. Right would be: " + form.usage +
                           ".");
        }
        if (window.measures && told.files.empty()) {
            return refusal(
                "The window is measured with a job in it. Right would be: sillwright JOB --measure-frames FILE.");
        }
        if (!told.files.empty()) {
            window.job = told.files.front();
        }
        return Command{window};
    }
    if (told.files.empty()) {
        return refusal("A job file is missing. Right would be: " + form.usage + ".");
    }
    if (form.topic == Topic::check) {
        return Command{Check{told.files.front(), told.options.contains("--json")}};
    }
    if (form.topic == Topic::survey) {
        return survey_of(told, form);
    }
    if (form.topic == Topic::forming) {
        return Command{FormingSheet{told.files.front()}};
    }
    const auto to = file_option(told, "--to");
    if (!to) {
        const std::string what = form.topic == Topic::other_hand ? "job file" : "folder";
        return refusal("The " + what + " to write to is missing. Right would be: " + form.usage + ".");
    }
    if (form.topic == Topic::other_hand) {
        return Command{OtherHand{told.files.front(), *to}};
    }
    return Command{HandOver{told.files.front(), *to}};
}

}  // namespace sillwright::app::terminal

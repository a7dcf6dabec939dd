#include "app/terminal/run.h"

#include <string>

#include "app/finding_look.h"
#include "app/terminal/findings_json.h"
#include "app/terminal/findings_text.h"
#include "app/terminal/help.h"
#include "app/terminal/page_application.h"
#include "app/terminal/plain_text.h"
#include "app/terminal/standard_streams.h"

namespace sillwright::app::terminal {

namespace {

/// `code`, if `text` could be written.
ExitCode print(const std::string& text, ExitCode code) {
    const auto written = write_out(text);
    return written ? code : fail(written.error());
}

std::string handover_text(const HandedOver& handed_over, const TextLook& look) {
    std::string text = "Written to " + handed_over.folder.string() + "\n";
    for (const auto& file : handed_over.files) {
        text += "  " + file.string() + "\n";
    }
    text += "\n";
    const auto add = [&](const std::string& sentence) {
        for (const std::string& line : wrapped(without_controls(sentence), look.width)) {
            text += (look.utf8 ? line : in_ascii(line)) + "\n";
        }
    };
    for (const std::string& note : handed_over.notes) {
        add(note);
    }
    add(count_sentence(handed_over.findings));
    // File names stay as the system has them, so that they can be copied from here.
    return text;
}

}  // namespace

ExitCode run(const Check& command, const CoreLink& core) {
    const auto checked = core.check(command.job);
    if (!checked) {
        return fail(checked.error());
    }
    const ExitCode code = exit_code_of(checked.value().findings);
    if (!command.json) {
        return print(findings_text(checked.value(), look_of_standard_output()), code);
    }
    const auto json = findings_json(checked.value());
    return json ? print(json.value(), code) : fail(json.error());
}

ExitCode run(const HandOver& command, const CoreLink& core) {
    const auto checked = core.check(command.job);
    if (!checked) {
        return fail(checked.error());
    }
    const PageApplication application;
    const auto handed_over = core.hand_over(checked.value(), command.to, {});
    if (!handed_over) {
        return fail(handed_over.error());
    }
    return print(handover_text(handed_over.value(), look_of_standard_output()), ExitCode::all_hold);
}

ExitCode run(const ShowHelp& command) {
    return print(help(command.topic), ExitCode::all_hold);
}

ExitCode run(const ShowVersion& /*command*/) {
    return print(version() + "\n", ExitCode::all_hold);
}

ExitCode fail(const geometry::Error& error) {
    complain(error.message);
    return exit_code_of(error);
}

}  // namespace sillwright::app::terminal

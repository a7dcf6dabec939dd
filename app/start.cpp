#include "app/start.h"

#include <exception>
#include <string>
#include <variant>
#include <vector>

#include "app/core_link.h"
#include "app/terminal/arguments.h"
#include "app/terminal/forming_command.h"
#include "app/terminal/other_hand_command.h"
#include "app/terminal/run.h"
#include "app/terminal/standard_streams.h"
#include "app/terminal/survey_command.h"
#include "app/window/show.h"

namespace sillwright::app {

namespace {

using terminal::ExitCode;

ExitCode run_words(int argc, char** argv) {
    const auto command = terminal::read_arguments(std::vector<std::string>(argv + (argc > 0 ? 1 : 0), argv + argc));
    if (!command) {
        return terminal::fail(command.error());
    }
    if (const auto* window = std::get_if<terminal::OpenWindow>(&command.value())) {
        return window::show(*window, core_link(), argc, argv);
    }
    if (const auto* check = std::get_if<terminal::Check>(&command.value())) {
        return terminal::run(*check, core_link());
    }
    if (const auto* hand_over = std::get_if<terminal::HandOver>(&command.value())) {
        return terminal::run(*hand_over, core_link());
    }
    if (const auto* survey = std::get_if<terminal::Survey>(&command.value())) {
        return terminal::run(*survey);
    }
    if (const auto* other_hand = std::get_if<terminal::OtherHand>(&command.value())) {
        return terminal::run(*other_hand);
    }
    if (const auto* forming = std::get_if<terminal::FormingSheet>(&command.value())) {
        return terminal::run(*forming, core_link());
    }
    if (const auto* help = std::get_if<terminal::ShowHelp>(&command.value())) {
        return terminal::run(*help);
    }
    return terminal::run(std::get<terminal::ShowVersion>(command.value()));
}

}  // namespace

int start(int argc, char** argv) {
    terminal::secure_standard_streams();
    try {
        return static_cast<int>(run_words(argc, argv));
    } catch (const std::exception& failure) {
        terminal::complain(std::string("Sillwright failed, which is our fault, not yours: ") + failure.what() +
                           ". Please report it with the job file.");
    } catch (...) {
        terminal::complain("Sillwright failed, which is our fault, not yours. Please report it with the job file.");
    }
    return static_cast<int>(ExitCode::our_fault);
}

}  // namespace sillwright::app

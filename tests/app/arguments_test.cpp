#include "app/terminal/arguments.h"

#include <gtest/gtest.h>

// Expected values: the usage lines of the manual page, by hand.
namespace sillwright::app::terminal {
namespace {

template <class Wanted>
Wanted read_as(const std::vector<std::string>& words) {
    const auto command = read_arguments(words);
    if (!command) {
        ADD_FAILURE() << command.error().message;
        return {};
    }
    const auto* wanted = std::get_if<Wanted>(&command.value());
    if (wanted == nullptr) {
        ADD_FAILURE() << "another command was read";
        return {};
    }
    return *wanted;
}

TEST(Arguments, NoWordsOpenAnEmptyWindow) {
    const auto window = read_as<OpenWindow>({});
    EXPECT_FALSE(window.job);
    EXPECT_FALSE(window.picture);
}

TEST(Arguments, AJobOpensTheWindow) {
    EXPECT_EQ(read_as<OpenWindow>({"Estate A.sillwright"}).job, "Estate A.sillwright");
    const auto window = read_as<OpenWindow>({"--picture", "w.png", "a.sillwright"});
    EXPECT_EQ(window.job, "a.sillwright");
    EXPECT_EQ(window.picture, "w.png");
    EXPECT_FALSE(window.measures);
    const auto measured = read_as<OpenWindow>({"a.sillwright", "--measure-frames=m.json"});
    EXPECT_EQ(measured.job, "a.sillwright");
    EXPECT_EQ(measured.measures, "m.json");
}

TEST(Arguments, CheckTakesItsOptionAnywhere) {
    EXPECT_FALSE(read_as<Check>({"check", "a.sillwright"}).json);
    for (const std::vector<std::string>& words : {std::vector<std::string>{"check", "a.sillwright", "--json"},
                                                  {"check", "--json", "a.sillwright"},
                                                  {"--json", "check", "a.sillwright"}}) {
        const auto check = read_as<Check>(words);
        EXPECT_EQ(check.job, "a.sillwright");
        EXPECT_TRUE(check.json);
    }
}

TEST(Arguments, HandoverTakesAFolderEitherWay) {
    for (const std::vector<std::string>& words : {std::vector<std::string>{"handover", "a.sillwright", "--to", "out"},
                                                  {"handover", "--to=out", "a.sillwright"}}) {
        const auto hand_over = read_as<HandOver>(words);
        EXPECT_EQ(hand_over.job, "a.sillwright");
        EXPECT_EQ(hand_over.to, "out");
    }
}

TEST(Arguments, AFileMayHaveAnyNameAfterTwoDashes) {
    EXPECT_EQ(read_as<Check>({"check", "--", "--json"}).job, "--json");
    EXPECT_EQ(read_as<OpenWindow>({"--", "--help"}).job, "--help");
    EXPECT_EQ(read_as<OpenWindow>({"./check"}).job, "./check");
    EXPECT_EQ(read_as<Check>({"check", "check"}).job, "check");
    EXPECT_EQ(read_as<OpenWindow>({"--", "check"}).job, "check");
}

TEST(Arguments, HelpAndVersionWin) {
    EXPECT_EQ(read_as<ShowHelp>({"--help"}).topic, Topic::all);
    EXPECT_EQ(read_as<ShowHelp>({"-h"}).topic, Topic::all);
    EXPECT_EQ(read_as<ShowHelp>({"check", "--help"}).topic, Topic::check);
    EXPECT_EQ(read_as<ShowHelp>({"--help", "handover"}).topic, Topic::handover);
    EXPECT_EQ(read_as<ShowHelp>({"handover", "--nonsense", "-h"}).topic, Topic::handover);
    read_as<ShowVersion>({"--version"});
}

struct Refused {
    std::string name;
    std::vector<std::string> words;
    std::string part_of_the_cure;
};

void PrintTo(const Refused& refused, std::ostream* out) {
    *out << refused.name;
}

class RefusedArguments : public testing::TestWithParam<Refused> {};

TEST_P(RefusedArguments, SayWhatWouldBeRight) {
    const auto command = read_arguments(GetParam().words);
    ASSERT_FALSE(command.has_value());
    EXPECT_EQ(command.error().code, geometry::ErrorCode::invalid_argument);
    EXPECT_NE(command.error().message.find(GetParam().part_of_the_cure), std::string::npos) << command.error().message;
}

INSTANTIATE_TEST_SUITE_P(
    All, RefusedArguments,
    testing::Values(Refused{"misspelt_command", {"chek", "a"}, "Did you mean \"check\"?"},
                    Refused{"unknown_command", {"paint", "a"}, "commands are check, handover, survey, other-hand and forming"},
                    Refused{"misspelt_option", {"check", "a", "--jsno"}, "Did you mean --json?"},
                    Refused{"unknown_option", {"check", "a", "--loud"}, "sillwright check JOB [--json]"},
                    Refused{"short_option", {"check", "a", "-j"}, "sillwright check JOB [--json]"},
                    Refused{"option_of_another_command", {"check", "a", "--to", "b"}, "handover JOB --to DIR"},
                    Refused{"no_job", {"check"}, "sillwright check JOB"},
                    Refused{"empty_job", {"check", ""}, "sillwright check JOB"},
                    Refused{"two_jobs", {"check", "a", "b"}, "One job file at a time"},
                    Refused{"no_folder", {"handover", "a"}, "--to DIR"},
                    Refused{"folder_without_name", {"handover", "a", "--to"}, "needs a DIR"},
                    Refused{"folder_with_empty_name", {"handover", "a", "--to="}, "needs a DIR"},
                    Refused{"folder_is_an_option", {"handover", "a", "--to", "--json"}, "needs a DIR"},
                    Refused{"folder_twice", {"handover", "a", "--to", "b", "--to", "c"}, "once is right"},
                    Refused{"value_for_a_switch", {"check", "a", "--json=1"}, "takes no value"},
                    Refused{"picture_without_name", {"a", "--picture"}, "needs a FILE"},
                    Refused{"measures_without_name", {"a", "--measure-frames"}, "needs a FILE"},
                    Refused{"measures_without_job", {"--measure-frames", "m.json"}, "JOB --measure-frames FILE"},
                    Refused{
                        "picture_with_measures", {"a", "--picture", "w.png", "--measure-frames", "m.json"}, "at once"}),
    [](const auto& param) { return param.param.name; });

TEST(Arguments, SurveyTakesItsFilesAndOneChange) {
    const auto plain = read_as<Survey>({"survey", "a.sillwright"});
    EXPECT_FALSE(plain.json || plain.csv || plain.sheet || plain.copy || plain.take);
    const auto files = read_as<Survey>(
        {"survey", "a.sillwright", "--csv", "b.csv", "--sheet=s.pdf", "--copy", "c.pdf", "--take", "n.csv", "--json"});
    EXPECT_TRUE(files.json);
    EXPECT_EQ(files.csv, "b.csv");
    EXPECT_EQ(files.sheet, "s.pdf");
    EXPECT_EQ(files.copy, "c.pdf");
    EXPECT_EQ(files.take, "n.csv");
    const auto drop = read_as<Survey>({"survey", "a.sillwright", "--drop", "r12", "--why", "a twist"});
    EXPECT_EQ(drop.drop, "r12");
    EXPECT_EQ(drop.why, "a twist");
    for (const auto& [words, part] : std::vector<std::pair<std::vector<std::string>, std::string>>{
             {{"survey", "a.sillwright", "--drop", "r12"}, "--why"},
             {{"survey", "a.sillwright", "--why", "a twist"}, "--drop"},
             {{"survey", "a.sillwright", "--take", "n.csv", "--drop", "r1", "--why", "x"}, "One change"},
             {{"survey", "a.sillwright", "--sheet", "s.png"}, ".pdf"},
             {{"survey"}, "job file is missing"}}) {
        const auto refused = read_arguments(words);
        ASSERT_FALSE(refused);
        EXPECT_NE(refused.error().message.find(part), std::string::npos) << refused.error().message;
    }
}

}  // namespace
}  // namespace sillwright::app::terminal

// The guide line against scipy's Akima1DInterpolator (an independent program).
#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <random>

#include "geometry/guide_line.h"

namespace sillwright::geometry {
namespace {

struct Case {
    std::vector<double> at, value, ask;
};

std::vector<Case> random_cases() {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> step(20.0, 400.0);
    std::uniform_real_distribution<double> height(-80.0, 80.0);
    std::vector<Case> cases;
    for (std::size_t n = 3; n <= 14; ++n) {
        Case c;
        double s = -200.0;
        for (std::size_t i = 0; i < n; ++i) {
            c.at.push_back(s);
            c.value.push_back(height(random));
            s += step(random);
        }
        for (int k = 0; k <= 200; ++k) {
            c.ask.push_back(std::lerp(c.at.front(), c.at.back(), k / 200.0));
        }
        cases.push_back(c);
    }
    return cases;
}

nlohmann::json ask_scipy(const std::vector<Case>& cases) {
    const auto folder = std::filesystem::temp_directory_path() / "sillwright_guide_line_reference";
    std::filesystem::create_directories(folder);
    nlohmann::json question;
    for (const Case& c : cases) {
        question["cases"].push_back({{"at", c.at}, {"value", c.value}, {"ask", c.ask}});
    }
    std::ofstream(folder / "question.json") << question;
    const std::string command = "/usr/bin/python3 " SILLWRIGHT_SOURCE_DIR "/tests/reference/guide_line_reference.py " +
                                (folder / "question.json").string() + " " + (folder / "answer.json").string();
    if (std::system(command.c_str()) != 0) {  // NOLINT(cert-env33-c)
        return {};
    }
    std::ifstream in(folder / "answer.json");
    return nlohmann::json::parse(in).at("answers");
}

TEST(GuideLineReference, AgreesWithScipysAkima) {
    const std::vector<Case> cases = random_cases();
    const nlohmann::json answers = ask_scipy(cases);
    ASSERT_EQ(answers.size(), cases.size());
    for (std::size_t i = 0; i < cases.size(); ++i) {
        std::vector<Length> places;
        for (const double s : cases[i].at) {
            places.push_back(millimetres(s));
        }
        const GuideLine line = GuideLine::through(places, cases[i].value).value();
        for (std::size_t k = 0; k < cases[i].ask.size(); ++k) {
            const Length s = millimetres(cases[i].ask[k]);
            EXPECT_NEAR(line.value(s), answers[i]["value"][k].get<double>(), 1e-9);
            EXPECT_NEAR(line.slope(s), answers[i]["slope"][k].get<double>(), 1e-9);
        }
    }
}

}  // namespace
}  // namespace sillwright::geometry

// Fair places against scipy's natural cubic spline (an independent program), one station left out at a time.
#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <random>
#include <string>

#include "core/fairness.h"

namespace sillwright::core {
namespace {

using geometry::millimetres;

struct Case {
    std::vector<double> at, value;
};

std::vector<Case> random_cases() {
    std::mt19937 random(11);
    std::uniform_real_distribution<double> step(20.0, 400.0);
    std::uniform_real_distribution<double> height(-80.0, 80.0);
    std::vector<Case> cases;
    for (std::size_t n = k_fair_stations; n <= 14; ++n) {
        Case c;
        double s = -200.0;
        for (std::size_t i = 0; i < n; ++i) {
            c.at.push_back(s);
            c.value.push_back(height(random));
            s += step(random);
        }
        cases.push_back(c);
    }
    return cases;
}

nlohmann::json ask_scipy(const std::vector<Case>& cases) {
    const auto folder = std::filesystem::temp_directory_path() / "sillwright_fairness_reference";
    std::filesystem::create_directories(folder);
    nlohmann::json question;
    for (const Case& c : cases) {
        question["cases"].push_back({{"at", c.at}, {"value", c.value}});
    }
    std::ofstream(folder / "question.json") << question;
    const std::string command = "/usr/bin/python3 " SILLWRIGHT_SOURCE_DIR
                                "/tests/reference/fairness_against_scipy.py " +
                                (folder / "question.json").string() + " " + (folder / "answer.json").string();
    if (std::system(command.c_str()) != 0) {  // NOLINT(cert-env33-c)
        return {};
    }
    std::ifstream in(folder / "answer.json");
    return nlohmann::json::parse(in).at("answers");
}

/// A line with the values as its outs and, in the other order, as its ups.
Job job_of(const Case& c) {
    Job job;
    for (std::size_t i = 0; i < c.at.size(); ++i) {
        const std::string name = std::to_string(i + 1);
        job.stations.push_back({name, {millimetres(c.at[i]), ""}, {}});
        job.body.sections.push_back(
            {name, {{"n" + name, "edge", {millimetres(c.value[i]), ""}, {millimetres(-c.value[i]), ""}, {}, {}}}, {}});
    }
    return job;
}

TEST(FairnessReference, AgreesWithScipysNaturalSpline) {
    const std::vector<Case> cases = random_cases();
    const nlohmann::json answers = ask_scipy(cases);
    ASSERT_EQ(answers.size(), cases.size());
    for (std::size_t i = 0; i < cases.size(); ++i) {
        const auto lines = fair_lines(job_of(cases[i]), {});
        ASSERT_EQ(lines.size(), 1U);
        ASSERT_EQ(lines[0].bumps.size(), answers[i].size());
        for (std::size_t k = 0; k < answers[i].size(); ++k) {
            EXPECT_NEAR(lines[0].bumps[k].fair_mm.x(), answers[i][k].get<double>(), 1e-9);
            EXPECT_NEAR(lines[0].bumps[k].fair_mm.y(), -answers[i][k].get<double>(), 1e-9);
        }
    }
}

}  // namespace
}  // namespace sillwright::core

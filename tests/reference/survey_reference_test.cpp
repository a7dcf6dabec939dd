// Adjusted networks against scipy.optimize.least_squares (an independent program with its own functional models and
// numerical derivatives).
#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <map>
#include <nlohmann/json.hpp>
#include <numbers>
#include <random>
#include <set>
#include <string>
#include <vector>

#include "core/survey/shown.h"
#include "core/survey/solve.h"

namespace sillwright::core::survey {
namespace {

using Eigen::Vector3d;
using geometry::in_mm;
using geometry::in_rad;
using geometry::millimetres;
using geometry::radians;
using nlohmann::json;

constexpr int k_networks = 100;

/// One random network: the book, where its points truly are, and the same as scipy is asked it.
struct Network {
    Book book;
    std::vector<std::string> names;
    std::vector<Vector3d> at_mm;
    json question;
};

Entry mm(double value) {
    return {millimetres(value), ""};
}

class Maker {
public:
    Maker(unsigned seed, bool flat) : random_{seed}, flat_{flat} {}

    Network make() {
        place();
        made_.book.set_ups.push_back({"wheels", true, {}, {}, {}, {}});
        made_.book.set_ups.push_back({"lift", false, {}, {}, {}, {}});
        const std::size_t n = made_.names.size();
        for (std::size_t a = 0; a < n; ++a) {
            for (std::size_t b = a + 1; b < n; ++b) {
                if (b - a <= 4 || chance(0.3)) {
                    read(ReadingKind::tie, {a, b});
                }
                if (chance(0.15)) {
                    read(chance(0.5) ? ReadingKind::along : ReadingKind::out, {a, b});
                }
                if (!flat_ && (a == 0 || chance(0.2))) {
                    read(ReadingKind::height, {a, b}, 0);
                }
                if (!flat_ && chance(0.3)) {
                    read(chance(0.7) ? ReadingKind::height : ReadingKind::slope, {a, b}, 1);
                }
                if (!flat_ && made_.at_mm[a].x() == made_.at_mm[b].x()) {
                    read(ReadingKind::gauge, {a, b});
                }
            }
        }
        if (!flat_) {  // The lean of the lift is surely found.
            read(ReadingKind::height, {0, n - 1}, 1);
            read(ReadingKind::height, {1, n - 2}, 1);
            read(ReadingKind::height, {0, n - 2}, 1);
        }
        for (int i = 0; i < 4; ++i) {
            const auto p = four();
            read(ReadingKind::angle, {p[0], p[1], p[2]});
            if (const Vector3d run = made_.at_mm[p[1]] - made_.at_mm[p[0]];
                std::abs(run.x()) > 2.0 * std::abs(run.y())) {
                read(ReadingKind::offset, {p[0], p[1], p[2]}, flat_ ? 0 : 1);
            }
            if (!flat_ && has_clear_side(p)) {
                read(ReadingKind::plane, p);
            }
        }
        made_.question["leans"] = flat_ ? json::array({{0.0, 0.0}}) : json::array({{0.0, 0.0}, {0.0, 0.0}});
        made_.question["free_leans"] = flat_ ? json::array({false}) : json::array({false, true});
        made_.question["tilts"] = traces_.size();
        return std::move(made_);
    }

private:
    bool chance(double p) { return std::uniform_real_distribution<double>(0.0, 1.0)(random_) < p; }
    double between(double low, double high) { return std::uniform_real_distribution<double>(low, high)(random_); }
    double noise(double sd) { return std::normal_distribution<double>(0.0, sd)(random_); }

    std::vector<std::size_t> four() {
        std::set<std::size_t> p;
        while (p.size() < 4) {
            p.insert(std::uniform_int_distribution<std::size_t>(0, made_.names.size() - 1)(random_));
        }
        std::vector<std::size_t> shuffled(p.begin(), p.end());
        std::shuffle(shuffled.begin(), shuffled.end(), random_);
        return shuffled;
    }

    /// Whether no small shift turns the plane's outer side into its upper one.
    [[nodiscard]] bool has_clear_side(const std::vector<std::size_t>& p) const {
        const Vector3d& a = made_.at_mm[p[0]];
        const Vector3d n = (made_.at_mm[p[1]] - a).cross(made_.at_mm[p[2]] - a).normalized();
        return std::abs(std::abs(n.y()) - std::abs(n.z())) > 0.2;
    }

    void place() {
        const int n = std::uniform_int_distribution<int>(6, 9)(random_);
        for (int i = 0; i < n; ++i) {
            Vector3d at(between(0, 2500), between(0, 700), flat_ ? 0.0 : between(-400, 400));
            if (!flat_ && i > 3) {
                at.x() = made_.at_mm[static_cast<std::size_t>(i % 3)].x();  // in one section: a gauge is laid on there
            }
            Point point;
            point.name = "P" + std::to_string(i);
            std::array<bool, 3> free{i > 0, i > 1, i > 2 && !flat_};  // 3-2-1
            (free[0] ? point.about_along : point.along) = mm(at.x());
            (free[1] ? point.about_out : point.out) = mm(at.y());
            (free[2] ? point.about_up : point.up) = mm(at.z());
            made_.book.points.push_back(point);
            made_.names.push_back(point.name);
            made_.at_mm.push_back(at);
            const Vector3d rough =
                at + Vector3d(free[0] ? noise(3.0) : 0.0, free[1] ? noise(3.0) : 0.0, free[2] ? noise(3.0) : 0.0);
            made_.question["at"].push_back({rough.x(), rough.y(), rough.z()});
            made_.question["free"].push_back(free);
        }
    }

    int trace_of(const std::string& from) {
        return traces_.try_emplace(from, static_cast<int>(traces_.size())).first->second;
    }

    void read(ReadingKind kind, const std::vector<std::size_t>& of, int set_up = 0) {
        Reading reading;
        reading.id = std::to_string(made_.book.readings.size());
        reading.kind = kind;
        reading.set_up = set_up == 0 ? "wheels" : "lift";
        std::vector<Vector3d> points;
        for (const std::size_t i : of) {
            reading.points.push_back(made_.names[i]);
            points.push_back(made_.at_mm[i]);
        }
        const Eigen::Vector2d lean = set_up == 0 ? Eigen::Vector2d::Zero() : Eigen::Vector2d(0.012, -0.008);
        const bool angular = kind == ReadingKind::angle || kind == ReadingKind::slope;
        const double sd = angular ? between(0.002, 0.01) : between(0.3, 2.0);
        const auto number = [&](int i) { return shown(kind, i, points, lean, 0.0).value + noise(sd); };
        json asked{{"points", of}, {"group", set_up}, {"sd", sd}};
        const auto ask = [&](const char* word, double observed) {
            asked["kind"] = word;
            asked["observed"] = observed;
            made_.question["readings"].push_back(asked);
        };
        if (angular) {
            reading.angle = radians(number(0));
            reading.angle_sd = radians(sd);
            ask(kind == ReadingKind::angle ? "angle" : "slope", in_rad(*reading.angle));
        } else {
            reading.value = mm(number(0));
            reading.sd = mm(sd);
        }
        if (kind == ReadingKind::gauge) {
            reading.up = mm(number(1));
            ask_gauge(reading, asked);
        } else if (!angular) {
            static const std::map<ReadingKind, const char*> words{
                {ReadingKind::tie, "tie"}, {ReadingKind::height, "height"}, {ReadingKind::along, "along"},
                {ReadingKind::out, "out"}, {ReadingKind::offset, "offset"}, {ReadingKind::plane, "plane"}};
            ask(words.at(kind), in_mm(reading.value->value));
        }
        made_.book.readings.push_back(std::move(reading));
    }

    /// Its two numbers, that it stands in the section plane (1 mm), and that it is held level (0.5 degrees).
    void ask_gauge(const Reading& reading, json asked) {
        const bool first = !traces_.contains(reading.points[0]);
        const auto ask = [&](const char* word, double observed, double sd) {
            asked["group"] = trace_of(reading.points[0]);
            asked["kind"] = word;
            asked["observed"] = observed;
            asked["sd"] = sd;
            made_.question["readings"].push_back(asked);
        };
        ask("gauge out", in_mm(reading.value->value), in_mm(reading.sd->value));
        ask("gauge up", in_mm(reading.up->value), in_mm(reading.sd->value));
        ask("along", 0.0, 1.0);
        if (first) {
            ask("tilt", 0.0, 0.5 * std::numbers::pi / 180.0);
        }
    }

    std::mt19937 random_;
    bool flat_;
    Network made_;
    std::map<std::string, int> traces_;
};

json ask_scipy(const std::vector<Network>& networks) {
    const auto folder = std::filesystem::temp_directory_path() / "sillwright_survey_reference";
    std::filesystem::create_directories(folder);
    json question;
    for (const Network& network : networks) {
        question["networks"].push_back(network.question);
    }
    std::ofstream(folder / "question.json") << question;
    const std::string command = "/usr/bin/python3 " SILLWRIGHT_SOURCE_DIR "/tests/reference/survey_against_scipy.py " +
                                (folder / "question.json").string() + " " + (folder / "answer.json").string();
    if (std::system(command.c_str()) != 0) {  // NOLINT(cert-env33-c)
        return {};
    }
    std::ifstream in(folder / "answer.json");
    return json::parse(in).at("answers");
}

// The accuracy that is asked of us: coordinates within 1e-6 mm, standard deviations within 1e-6 of themselves.
TEST(SurveyReference, NetworksAgreeWithScipy) {
    std::vector<Network> networks;
    for (unsigned i = 0; i < k_networks; ++i) {
        networks.push_back(Maker(i + 1, i % 2 == 0).make());
    }
    const json answers = ask_scipy(networks);
    ASSERT_EQ(answers.size(), networks.size());
    double worst_mm = 0.0;
    double worst_sd = 0.0;
    for (std::size_t i = 0; i < networks.size(); ++i) {
        SCOPED_TRACE("network " + std::to_string(i));
        const Solution solution = solve(networks[i].book, false);  // with its own rough places
        ASSERT_TRUE(solution.adjustment) << testing::PrintToString(solution.problems);
        ASSERT_EQ(solution.points.size(), networks[i].names.size());
        EXPECT_NEAR(solution.global.sum, answers[i].at("sum").get<double>(), 1e-6);
        std::size_t x = 0;
        for (const PlacedPoint& point : solution.points) {
            for (Eigen::Index k = 0; k < 3; ++k) {
                if (point.parameters[static_cast<std::size_t>(k)] < 0) {
                    continue;
                }
                const double mm = answers[i].at("x")[x].get<double>();
                const double sd = answers[i].at("sd")[x].get<double>();
                worst_mm = std::max(worst_mm, std::abs(point.at_mm[k] - mm));
                worst_sd = std::max(worst_sd, std::abs(std::sqrt(point.covariance_mm2(k, k)) / sd - 1.0));
                ++x;
            }
        }
    }
    EXPECT_LE(worst_mm, 1e-6);
    EXPECT_LE(worst_sd, 1e-6);
    std::cout << "coordinates within " << worst_mm << " mm, standard deviations within " << worst_sd << "\n";
}

}  // namespace
}  // namespace sillwright::core::survey

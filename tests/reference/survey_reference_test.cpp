// Random measuring books against scipy.optimize.least_squares (an independent program), which is told the readings'
// formulas a second time: survey_against_scipy.py. scipy starts from the true places, we from the readings alone.
#include <gtest/gtest.h>

#include <array>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <random>
#include <set>
#include <string>

#include "core/survey/solve.h"
#include "tests/core/survey/made_book.h"

namespace sillwright::core::survey {
namespace {

using Eigen::Vector3d;
using nlohmann::json;

constexpr int k_networks_each = 50;  ///< In two dimensions, in three.
constexpr double k_agree_mm = 1e-6;
constexpr double k_agree_sd = 1e-6;  ///< Relative.
/// An angle of the same size turns a metre by k_agree_mm.
constexpr double k_agree_rad = 1e-9;
constexpr double k_least_apart_mm = 150.0;
/// As core/survey/reading_sd.h and core/survey/equations.h say.
constexpr double k_gauge_plane_mm = 1.0;
constexpr double k_gauge_level_rad = 0.5 * 3.14159265358979323846 / 180.0;

/// A book, and the same as a list of formulas for scipy.
class Network {
public:
    Network(unsigned seed, bool flat) : flat_{flat} {
        made_.random.seed(seed);
        if (flat) {
            made_.book.set_ups = {{"wheels", true, {}, {}, {}, {}}};
        } else {
            made_.book.set_ups = {{"wheels", true, {}, {}, {}, {}}, {"lift", false, {}, {}, {}, {}}};
            made_.lean_rad["lift"] = {scatter(0.02), scatter(0.02)};
        }
        place_points();
        read_all();
        if (!flat) {
            lay_gauge();
        }
        about_all();
    }

    [[nodiscard]] const Book& book() const { return made_.book; }
    [[nodiscard]] const std::vector<std::string>& names() const { return names_; }

    [[nodiscard]] json as_formulas() const {
        json start = json::array();
        json free = json::array();
        json direct = json::array();
        std::map<std::string, int> index;
        for (const std::string& name : names_) {
            index[name] = static_cast<int>(index.size());
            const Point& point = known(name);
            const std::array coordinates{&point.along, &point.out, &point.up};
            for (Eigen::Index k = 0; k < 3; ++k) {
                const auto& held = *coordinates[static_cast<std::size_t>(k)];
                if (held && point.sd) {
                    direct.push_back(
                        {{"unknown", start.size()}, {"observed", in_mm(held->value)}, {"sd", in_mm(point.sd->value)}});
                }
                if (!held || point.sd) {
                    free.push_back(start.size());
                }
                start.push_back(held ? in_mm(held->value) : made_.truth.at(name)[k]);
            }
        }
        for (int k = 0; k < 2; ++k) {
            if (!flat_) {
                free.push_back(start.size());
            }
            start.push_back(0.0);
        }
        std::map<std::string, int> traces;
        json readings = json::array();
        for (const Reading& reading : made_.book.readings) {
            if (reading.kind == ReadingKind::gauge && traces.try_emplace(reading.trace, std::ssize(traces)).second) {
                direct.push_back({{"unknown", start.size()}, {"observed", 0.0}, {"sd", k_gauge_level_rad}});
                free.push_back(start.size());
                start.push_back(0.0);
            }
            add_formulas(reading, index, traces, readings);
        }
        return {{"start", start},          {"free", free},          {"direct", direct}, {"readings", readings},
                {"points", names_.size()}, {"tilts", traces.size()}};
    }

private:
    double scatter(double most) { return std::uniform_real_distribution<double>(-most, most)(made_.random); }
    bool chance(double of) { return std::uniform_real_distribution<double>(0.0, 1.0)(made_.random) < of; }
    double some_sd_mm() { return std::uniform_real_distribution<double>(0.3, 1.5)(made_.random); }

    const Point& known(const std::string& name) const {
        return *std::find_if(made_.book.points.begin(), made_.book.points.end(),
                             [&](const Point& p) { return p.name == name; });
    }

    void place_points() {
        const int count = std::uniform_int_distribution<int>(5, 10)(made_.random);
        while (std::ssize(names_) < count) {
            const Vector3d at(scatter(1300), scatter(500), flat_ ? 0.0 : scatter(400));
            const bool apart = std::none_of(made_.truth.begin(), made_.truth.end(), [&](const auto& other) {
                return (other.second - at).norm() < k_least_apart_mm;
            });
            if (apart) {
                names_.push_back("P" + std::to_string(names_.size() + 1));
                made_.truth[names_.back()] = at;
            }
        }
        for (const std::string& name : names_) {
            made_.hold(name, flat_ ? "u" : "");
        }
        if (chance(0.5)) {  // 3-2-1
            made_.hold(names_[0], "aou");
            made_.hold(names_[1], "ou");
            made_.hold(names_[2], "u");
        } else {  // held marks; in space all but exactly
            for (std::size_t i = 0; i < 3; ++i) {
                made_.hold(names_[i], "aou");
                if (!flat_) {
                    made_.point(names_[i]).sd = MadeBook::entry(some_sd_mm());
                }
            }
        }
    }

    void about_all() {
        for (const std::string& name : names_) {
            made_.about(name, made_.truth.at(name) + Vector3d(scatter(30), scatter(30), flat_ ? 0.0 : scatter(30)));
        }
    }

    void read(ReadingKind kind, const std::vector<std::string>& points, const std::string& set_up = "") {
        made_.noise_sd_mm = some_sd_mm();
        made_.noise_sd_rad = 0.002 * made_.noise_sd_mm;
        made_.read(kind, points, 0.0, set_up);
    }

    std::string any_but(std::set<std::string>& taken) {
        for (;;) {
            const std::string name =
                names_[std::uniform_int_distribution<std::size_t>(0, names_.size() - 1)(made_.random)];
            if (taken.insert(name).second) {
                return name;
            }
        }
    }

    std::vector<std::string> any(std::size_t count) {
        std::set<std::string> taken;
        std::vector<std::string> names;
        while (names.size() < count) {
            names.push_back(any_but(taken));
        }
        return names;
    }

    void read_all() {
        for (std::size_t a = 0; a < names_.size(); ++a) {
            for (std::size_t b = a + 1; b < names_.size(); ++b) {
                if (chance(0.8)) {
                    read(ReadingKind::tie, {names_[a], names_[b]});
                }
            }
        }
        const auto some = [&](ReadingKind kind, std::size_t points, int count, const std::string& set_up = "") {
            for (int i = 0; i < count; ++i) {
                const auto names = any(points);
                if (is_sound(kind, names)) {
                    read(kind, names, set_up);
                }
            }
        };
        some(ReadingKind::along, 2, 3);
        some(ReadingKind::out, 2, 3);
        some(ReadingKind::offset, 3, 4);
        some(ReadingKind::angle, 3, 4);
        if (!flat_) {
            some(ReadingKind::up, 2, 2);
            some(ReadingKind::height, 2, 4, "wheels");
            some(ReadingKind::height, 2, 8, "lift");
            some(ReadingKind::offset, 3, 3, "lift");
            some(ReadingKind::slope, 2, 2, "lift");
            some(ReadingKind::slope, 2, 2, "wheels");
            some(ReadingKind::plane, 4, 4);
        }
    }

    /// Not where a sign hangs in the balance, nor an angle that is nearly straight.
    bool is_sound(ReadingKind kind, const std::vector<std::string>& names) {
        const auto at = [&](std::size_t i) { return made_.truth.at(names[i]); };
        if (kind == ReadingKind::angle) {
            const double cosine = (at(1) - at(0)).normalized().dot((at(2) - at(0)).normalized());
            return std::abs(cosine) < 0.95;
        }
        if (kind == ReadingKind::offset) {
            return std::abs((at(1) - at(0)).normalized().x()) > 0.2;
        }
        if (kind == ReadingKind::plane) {
            const Vector3d n = (at(1) - at(0)).cross(at(2) - at(0));
            const Vector3d size = n.normalized().cwiseAbs();
            return n.norm() > 1e5 && std::max(size.y(), size.z()) > 0.2 && std::abs(size.y() - size.z()) > 0.1;
        }
        return true;
    }

    void lay_gauge() {
        const std::string from = names_.back();
        const double tilt = scatter(0.01);
        for (int i = 1; i <= 3; ++i) {
            names_.push_back("G" + std::to_string(i));
            made_.truth[names_.back()] =
                made_.truth.at(from) + Vector3d(scatter(0.5), 40.0 * i + scatter(10), -30.0 * i + scatter(10));
            made_.noise_sd_mm = some_sd_mm();
            made_.read(ReadingKind::gauge, {from, names_.back()}, 0.0, "", tilt, "first");
        }
        read(ReadingKind::tie, {names_[0], names_.back()});
    }

    void add_formulas(const Reading& reading, const std::map<std::string, int>& index,
                      const std::map<std::string, int>& traces, json& readings) const {
        static const std::map<ReadingKind, std::string> kinds{
            {ReadingKind::tie, "tie"},        {ReadingKind::height, "height"}, {ReadingKind::offset, "offset"},
            {ReadingKind::plane, "plane"},    {ReadingKind::along, "along"},   {ReadingKind::out, "out"},
            {ReadingKind::up, "up"},          {ReadingKind::angle, "angle"},   {ReadingKind::slope, "slope"},
            {ReadingKind::gauge, "gauge out"}};
        json formula{{"kind", kinds.at(reading.kind)},
                     {"leans", reading.set_up == "lift" ? 1 : 0},
                     {"tilt", reading.trace.empty() ? 0 : traces.at(reading.trace)},
                     {"observed", reading.angle ? in_rad(*reading.angle) : in_mm(reading.value->value)},
                     {"sd", reading.angle ? in_rad(*reading.angle_sd) : in_mm(reading.sd->value)}};
        for (const std::string& name : reading.points) {
            formula["points"].push_back(index.at(name));
        }
        readings.push_back(formula);
        if (reading.kind == ReadingKind::gauge) {
            formula["kind"] = "gauge up";
            formula["observed"] = in_mm(reading.up->value);
            readings.push_back(formula);
            formula["kind"] = "along";
            formula["observed"] = 0.0;
            formula["sd"] = k_gauge_plane_mm;
            readings.push_back(formula);
        }
    }

    bool flat_;
    MadeBook made_;
    std::vector<std::string> names_;
};

json ask_scipy(const std::vector<Network>& networks) {
    const auto folder = std::filesystem::temp_directory_path() / "sillwright_survey_reference";
    std::filesystem::create_directories(folder);
    json question;
    for (const Network& network : networks) {
        question["cases"].push_back(network.as_formulas());
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

void expect_same_sd(double ours, double theirs, const std::string& where) {
    EXPECT_NEAR(ours, theirs, k_agree_sd * theirs) << where;
}

void expect_same(const Network& network, const json& answer, const std::string& which) {
    const Solution s = solve(network.book(), false);
    ASSERT_EQ(s.points.size(), network.names().size()) << which;
    ASSERT_TRUE(s.problems.empty()) << which << ": " << s.problems.front();
    const json formulas = network.as_formulas();
    EXPECT_NEAR(s.global.sum, answer["sum"].get<double>(), 1e-6) << which;
    std::size_t next = 0;
    for (std::size_t p = 0; p < network.names().size(); ++p) {
        const PlacedPoint* point = s.find(network.names()[p]);
        ASSERT_NE(point, nullptr) << which;
        for (Eigen::Index k = 0; k < 3; ++k) {
            if (point->parameters[static_cast<std::size_t>(k)] >= 0) {
                const std::string where = which + ", " + point->name + " coordinate " + std::to_string(k);
                ASSERT_EQ(formulas["free"][next].get<std::size_t>(), 3 * p + static_cast<std::size_t>(k)) << where;
                EXPECT_NEAR(point->at_mm[k], answer["x"][next].get<double>(), k_agree_mm) << where;
                expect_same_sd(std::sqrt(point->covariance_mm2(k, k)), answer["sd"][next].get<double>(), where);
                ++next;
            }
        }
    }
    if (s.set_ups.size() > 1) {
        const PlacedSetUp& lift = s.set_ups[1];
        EXPECT_TRUE(lift.found) << which;
        EXPECT_NEAR(in_rad(lift.roll), answer["x"][next].get<double>(), k_agree_rad) << which;
        EXPECT_NEAR(in_rad(lift.pitch), answer["x"][next + 1].get<double>(), k_agree_rad) << which;
        expect_same_sd(in_rad(lift.roll_sd), answer["sd"][next].get<double>(), which + ", roll");
        expect_same_sd(in_rad(lift.pitch_sd), answer["sd"][next + 1].get<double>(), which + ", pitch");
    }
}

TEST(SurveyReference, AgreesWithScipyOnAHundredRandomNetworks) {
    std::vector<Network> networks;
    for (unsigned i = 0; i < k_networks_each; ++i) {
        networks.emplace_back(1000 + i, true);
        networks.emplace_back(2000 + i, false);
    }
    const json answers = ask_scipy(networks);
    ASSERT_EQ(answers.size(), networks.size());
    for (std::size_t i = 0; i < networks.size(); ++i) {
        expect_same(networks[i], answers[i],
                    (i % 2 == 0 ? "flat network " : "network in space ") + std::to_string(i / 2));
    }
}

}  // namespace
}  // namespace sillwright::core::survey

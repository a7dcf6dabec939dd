// Jobs that no maker would write, but that the file reader takes: an answer in seconds, never a crash, and
// never a number that is none.
#include <gmock/gmock.h>

#include <array>
#include <cmath>
#include <cstdlib>
#include <ctime>
#include <iostream>
#include <nlohmann/json.hpp>
#include <random>

#include "core/evaluate.h"
#include "core/job_file.h"
#include "tests/core/small_job.h"

namespace sillwright::core {
namespace {

using nlohmann::json;

/// Of the processor's time, so that a busy machine does not count; a sample takes some tenths. The sanitizers
/// make all of it several times slower.
#ifdef __SANITIZE_ADDRESS__
constexpr double k_patience_s = 60.0;
#else
constexpr double k_patience_s = 10.0;
#endif

class Damage {
public:
    explicit Damage(unsigned seed) : random_{seed} {}

    /// One to four edits of a job's JSON.
    json of(json job) {
        for (std::size_t edits = 1 + below(4); edits > 0; --edits) {
            edit(job);
        }
        return job;
    }

private:
    std::size_t below(std::size_t n) { return std::uniform_int_distribution<std::size_t>(0, n - 1)(random_); }
    double between(double low, double high) { return std::uniform_real_distribution(low, high)(random_); }

    static void gather(json& value, std::vector<json*>& numbers, std::vector<json*>& objects) {
        if (value.is_object()) {
            objects.push_back(&value);
        }
        if (value.is_number()) {
            numbers.push_back(&value);
        }
        for (json& item : value) {
            if (value.is_structured()) {
                gather(item, numbers, objects);
            }
        }
    }

    void edit(json& job) {
        std::vector<json*> numbers;
        std::vector<json*> objects;
        gather(job, numbers, objects);
        json& number = *numbers[below(numbers.size())];
        const double value = number.get<double>();
        switch (below(8)) {
            case 0:  // a node, a pin or a size moved
                number = value + between(-40.0, 40.0);
                break;
            case 1:
                number = value * std::pow(10.0, between(-3.0, 3.0));
                break;
            case 2: {
                constexpr std::array<double, 8> k_odd{0.0, 1e-12, -1e-12, 1e6, -1e6, 999999.999, 1e-300, 180.0};
                number = k_odd[below(k_odd.size())];
                break;
            }
            case 3:
                number = -value;
                break;
            case 4: {  // a field dropped
                json& object = *objects[1 + below(objects.size() - 1)];
                if (!object.empty()) {
                    object.erase(std::next(object.begin(), static_cast<std::ptrdiff_t>(below(object.size()))));
                }
                break;
            }
            case 5: {  // one number for another: stations and radii swapped
                std::swap(number, *numbers[below(numbers.size())]);
                break;
            }
            case 6:
                scale_radii(job, between(0.0, 6.0));
                break;
            default:
                scale_lengths(job, std::pow(10.0, between(-2.0, 2.0)));
        }
    }

    static void scale_radii(json& value, double by) {
        for (auto& item : value.items()) {
            if (item.key() == "radius" && item.value().is_number()) {
                item.value() = item.value().get<double>() * by;
            } else if (item.value().is_structured()) {
                scale_radii(item.value(), by);
            }
        }
    }

    static void scale_lengths(json& value, double by) {
        for (auto& item : value.items()) {
            const bool is_length = item.key() == "along" || item.key() == "out" || item.key() == "up";
            if (is_length && item.value().is_number()) {
                item.value() = item.value().get<double>() * by;
            } else if (item.value().is_structured()) {
                scale_lengths(item.value(), by);
            }
        }
    }

    std::mt19937 random_;
};

void expect_numbers(const Finding& finding, const std::string& job) {
    std::vector<double> numbers;
    for (const auto& number : {finding.found, finding.required, finding.margin}) {
        numbers.push_back(number.value_or(0.0));
    }
    for (const auto& point : {finding.place.on_part_mm, finding.place.on_other_mm}) {
        numbers.push_back(point.value_or(Eigen::Vector3d::Zero()).sum());
    }
    numbers.push_back(geometry::in_mm(finding.place.along.value_or(geometry::Length{})));
    numbers.push_back(geometry::in_rad(finding.place.door_angle.value_or(geometry::Angle{})));
    for (const AngleRange& range : finding.touching) {
        numbers.push_back(geometry::in_rad(range.from + range.to));
    }
    if (finding.mend) {
        numbers.push_back(finding.mend->proven_margin.value_or(0.0));
        for (const NodeMove& move : finding.mend->moves) {
            numbers.push_back(move.by_mm.sum());
        }
    }
    for (const double number : numbers) {
        EXPECT_TRUE(std::isfinite(number)) << finding.id << " of\n" << job;
    }
    for (const std::string& words : {finding.why, finding.place.words, finding.mend ? finding.mend->words : ""}) {
        for (const char* none : {"nan", "inf ", "not a number"}) {
            EXPECT_EQ(words.find(none), std::string::npos) << words;
        }
    }
}

struct Counted {
    int taken = 0, refused = 0, not_fitting = 0;
};

/// `seed` of a damage that went wrong is in the trace; the job is then damaged in the same way again.
void expect_answer(unsigned seed, const json& job, const std::filesystem::path& folder, Counted& counted) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    const std::string text = Damage(seed).of(job).dump();
    const auto read = parse_job(text, "damaged");
    if (!read) {
        ++counted.refused;
        return;
    }
    const std::clock_t start = std::clock();
    const auto evaluation = evaluate(read.value(), folder);
    EXPECT_LT(static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC, k_patience_s);
    if (!evaluation) {
        ++counted.not_fitting;
        EXPECT_NE(evaluation.error().code, geometry::ErrorCode::stopped);
        EXPECT_FALSE(evaluation.error().message.empty());
        EXPECT_LT(evaluation.error().message.size(), 600U) << evaluation.error().message;
        return;
    }
    ++counted.taken;
    EXPECT_FALSE(evaluation.value()->findings.empty());
    for (const Finding& finding : evaluation.value()->findings) {
        expect_numbers(finding, text.size() < 20'000 ? text : "");
    }
}

/// 60 by default; SILLWRIGHT_HOSTILE_ROUNDS and _SEED for more of them.
unsigned from_environment(const char* name, unsigned otherwise) {
    const char* value = std::getenv(name);
    return value == nullptr ? otherwise : static_cast<unsigned>(std::stoul(value));
}

TEST(EvaluateHostile, EveryJobIsAnswered) {
    const std::filesystem::path samples = SILLWRIGHT_SOURCE_DIR "/samples";
    std::vector<std::pair<json, std::filesystem::path>> jobs{{json::parse(small_job_text()), "."}};
    for (const auto& entry : std::filesystem::directory_iterator(samples)) {
        if (entry.path().extension() == ".sillwright") {
            jobs.emplace_back(json::parse(file_bytes(entry.path())), samples);
        }
    }
    ASSERT_GE(jobs.size(), 2U);
    const unsigned rounds = from_environment("SILLWRIGHT_HOSTILE_ROUNDS", 60);
    const unsigned first = from_environment("SILLWRIGHT_HOSTILE_SEED", 20260314);
    Counted counted;
    for (unsigned round = 0; round < rounds; ++round) {
        const auto& [job, folder] = jobs[(first + round) % jobs.size()];
        expect_answer(first + round, job, folder, counted);
    }
    // A run in which nothing got through, or nothing was found wrong, would have tested little.
    EXPECT_GT(counted.taken, static_cast<int>(rounds / 10));
    EXPECT_GT(counted.refused + counted.not_fitting, 0);
    std::cout << counted.taken << " evaluated, " << counted.refused << " refused by the reader, " << counted.not_fitting
              << " that cannot be built\n";
}

}  // namespace
}  // namespace sillwright::core

#pragma once

#include <string>
#include <vector>

#include "core/job.h"
#include "core/survey/results.h"

namespace sillwright::app {

/// A book and results for it that were put together by hand, invented: three marks, clip holes, a suspect tie, a
/// point that lacks readings, one that may be in two places, a next reading. Nothing here is computed.
struct HandMadeNetwork {
    core::Job job;
    core::survey::Results results;
};

inline core::survey::Reading tie(std::string id, std::string from, std::string to, double mm) {
    core::survey::Reading reading;
    reading.id = std::move(id);
    reading.points = {std::move(from), std::move(to)};
    reading.value = core::Entry{geometry::millimetres(mm), ""};
    return reading;
}

inline HandMadeNetwork hand_made_network(int holes = 6) {
    using namespace core::survey;
    HandMadeNetwork made;
    Solution& solution = made.results.solution;
    const auto place = [&](const std::string& name, PointKind kind, Eigen::Vector3d at_mm, Eigen::Vector3d sd_mm,
                           double together = 0.0) {
        PlacedPoint point;
        point.name = name;
        point.kind = kind;
        point.at_mm = at_mm;
        point.covariance_mm2 = sd_mm.cwiseProduct(sd_mm).asDiagonal();
        point.covariance_mm2(0, 1) = point.covariance_mm2(1, 0) = together;
        solution.points.push_back(point);
    };
    const auto read = [&](Reading reading, ReadingUse use, double redundancy, std::optional<double> w) {
        AdjustedNumber number;
        number.observed = reading.value ? geometry::in_mm(reading.value->value) : 0.0;
        number.residual = w ? *w * 0.8 : 0.0;
        number.adjusted = number.observed + number.residual;
        number.sd = 0.8;
        number.redundancy = redundancy;
        number.w = w;
        solution.readings.push_back({use, use == ReadingUse::waiting ? "H9 is not placed yet." : "",
                                     use == ReadingUse::used ? std::vector{number} : std::vector<AdjustedNumber>{}});
        made.job.book.readings.push_back(std::move(reading));
    };
    place("A", PointKind::mark, {0, 0, 0}, {0, 0, 0});
    place("B", PointKind::mark, {1900, 0, 0}, {0.6, 0, 0});
    place("C", PointKind::mark, {950, 420, 10}, {0.7, 0.5, 0.4});
    int number = 0;
    const auto id = [&number] { return "r" + std::to_string(++number); };
    read(tie(id(), "A", "B", 1900.4), ReadingUse::used, 0.4, 0.7);
    read(tie(id(), "A", "C", 1039.0), ReadingUse::used, 0.1, 1.1);
    read(tie(id(), "B", "C", 1038.6), ReadingUse::used, 0.0, std::nullopt);
    for (int i = 0; i < holes; ++i) {
        const std::string name = "H" + std::to_string(i + 1);
        const double along = 120.0 + 1660.0 * i / std::max(1, holes - 1);
        const double out = 180.0 + 35.0 * (i % 3);
        const double up = -110.0 - 12.0 * (i % 2);
        place(name, PointKind::mount, {along, out, up}, {0.5 + 0.1 * i, 0.9, 1.4}, 0.2 * (i % 2 == 0 ? 1 : -1));
        read(tie(id(), "A", name, Eigen::Vector3d(along, out, up).norm()), ReadingUse::used, 0.5, 0.4 + 0.2 * i);
        read(tie(id(), "B", name, Eigen::Vector3d(along - 1900.0, out, up).norm()), ReadingUse::used, 0.6, 0.3);
    }
    made.job.book.readings[4].dropped = "misread";
    solution.readings[4].use = ReadingUse::dropped;
    read(tie(id(), "A", "H9", 731.0), ReadingUse::waiting, 0.0, std::nullopt);
    solution.lacking = {{"H9", "H9 has one tie only: measure two more, or a height and one more."},
                        {"J1", "J1 has no reading that says how high it is: measure a height."}};
    solution.suspect = Suspect{3, 0, 9.3, true, {}, 268.4};
    solution.readings[3].numbers[0].w = 9.3;
    solution.mirrored = {{{"H2"},
                          {solution.points[4].at_mm},
                          {solution.points[4].at_mm + Eigen::Vector3d(0, 0, 230)},
                          "H2: 122 mm below the mark A or 108 mm above it?"}};
    NextReading next;
    next.points = {"C", "H" + std::to_string(holes)};
    next.for_point = next.points[1];
    next.words = "Tape from C to " + next.points[1] + ": known to 0.9 mm instead of 2.1.";
    solution.next = next;
    solution.global = {61.3, 14, 5.6, 26.1, false};
    PlacedSetUp wheels;
    wheels.name = "wheels";
    wheels.found = true;
    wheels.roll = geometry::degrees(0.31);
    wheels.pitch = geometry::degrees(-0.1);
    wheels.roll_sd = wheels.pitch_sd = geometry::degrees(0.02);
    solution.set_ups = {wheels};
    core::Mount mount;
    mount.name = "H1";
    made.job.mounts = {mount};
    return made;
}

}  // namespace sillwright::app

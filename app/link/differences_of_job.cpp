#include "app/link/differences_of_job.h"

#include "app/link/book_words.h"

namespace sillwright::app {

using core::survey::Comparison;
using core::survey::Verdict;

namespace {

/// A verdict's words, over all and at one point.
struct Words {
    const char* same;
    const char* different;
    const char* measure_better;

    [[nodiscard]] const char* of(Verdict verdict) const {
        return verdict == Verdict::same ? same : verdict == Verdict::different ? different : measure_better;
    }
};

constexpr Words k_point{"within", "surely over", "not sure"};

DifferencesPicture picture_of(const std::optional<Comparison>& comparison, const Words& words, std::string heading,
                              const std::string& none) {
    DifferencesPicture picture;
    picture.heading = std::move(heading);
    if (!comparison) {
        picture.verdict = "not compared yet";
        picture.words = none;
        return picture;
    }
    picture.limit_mm = comparison->limit_mm;
    for (const core::survey::PointDifference& point : comparison->points) {
        picture.rows.push_back({point.name, point.difference_mm, point.distance_mm, point.bound_mm,
                                state_of(point.verdict), k_point.of(point.verdict)});
    }
    if (comparison->verdict) {
        picture.state = state_of(*comparison->verdict);
        picture.verdict = words.of(*comparison->verdict);
        picture.words = comparison->words;
    } else {
        picture.verdict = "cannot be compared yet";
        picture.words = comparison->lacks;
    }
    return picture;
}

}  // namespace

DifferencesPicture side_differences(const core::survey::Results& results) {
    return picture_of(results.other_hand, {"mirror the part", "do not mirror the part", "measure better"},
                      "Left against right, the other side moved onto this one",
                      results.other_hand_lacks.empty()
                          ? "Measure the other side into a job of its own, with marks of the same names, and name that "
                            "job below."
                          : results.other_hand_lacks);
}

DifferencesPicture set_up_differences(const core::survey::Results& results) {
    return picture_of(
        results.set_ups, {"the body keeps its shape", "the body changes its shape on the lift", "measure better"},
        "On wheels against on the lift",
        "All readings are of one set-up. Write readings of the second set-up over three of the same marks "
        "or more.");
}

}  // namespace sillwright::app

#include "core/survey/checked.h"

namespace sillwright::core::survey {

Checked how_checked(const ReadingResult& reading) {
    Checked least = Checked::by_others;
    for (const AdjustedNumber& number : reading.numbers) {
        if (!number.w) {
            return Checked::not_at_all;
        }
        if (number.redundancy < k_hardly_checked) {
            least = Checked::hardly;
        }
    }
    return least;
}

bool wants_check(const Reading& reading) {
    return reading.kind != ReadingKind::gauge && reading.points.size() > 1;
}

std::size_t count_unchecked(const Book& book, const Solution& solution) {
    std::size_t count = 0;
    for (std::size_t i = 0; i < solution.readings.size(); ++i) {
        const ReadingResult& result = solution.readings[i];
        const bool unchecked = result.use == ReadingUse::used && how_checked(result) == Checked::not_at_all;
        count += unchecked && wants_check(book.readings[i]) ? 1 : 0;
    }
    return count;
}

}  // namespace sillwright::core::survey

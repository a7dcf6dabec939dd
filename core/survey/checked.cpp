#include "core/survey/checked.h"

#include <algorithm>

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

std::size_t count_unchecked(const Solution& solution) {
    return static_cast<std::size_t>(
        std::count_if(solution.readings.begin(), solution.readings.end(), [](const ReadingResult& reading) {
            return reading.use == ReadingUse::used && how_checked(reading) == Checked::not_at_all;
        }));
}

}  // namespace sillwright::core::survey

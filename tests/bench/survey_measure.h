#pragma once

namespace sillwright::bench {

/// The measuring book: processor time in one thread, milliseconds.
struct SurveyTimes {
    double large_ms = 0.0;       ///< 500 points, 3 000 readings: rough places and adjustment.
    double large_next_ms = 0.0;  ///< The same with the next reading.
    double shop_ms = 0.0;        ///< 30 points, 120 readings, with the next reading.
    double start_ms = 0.0;       ///< Of large_ms, the rough places.
    bool failed = false;         ///< A point was not placed.
};
SurveyTimes measure_survey();

}  // namespace sillwright::bench

#pragma once

namespace sillwright::bench {

/// What a hand waits for on the sample Estate A: processor time in one thread, milliseconds.
struct JobTimes {
    /// One move of a drag, of the shelf edge half-way along: 200 moves round a circle of 3 mm.
    double drag_begin_ms = 0.0, drag_median_ms = 0.0, drag_most_ms = 0.0;  ///< `most`: of 95 in 100.
    double node_update_ms = 0.0;                                           ///< After a node moved, mends left.
    double mount_update_ms = 0.0;                                          ///< After a mount moved, likewise.
    double forming_ms =
        0.0;  ///< The whole stage Forming, the slower of Estate A and its sister with flutes; mends left.
    double limits_ms = 0.0;  ///< The door limit lines at one place, the slowest of all stations.
    double curve_ms = 0.0;   ///< The clearance of one door at every half degree.
    bool failed = false;     ///< The sample could not be read or computed.
};
JobTimes measure_job();

}  // namespace sillwright::bench

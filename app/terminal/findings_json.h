#pragma once

#include <string>

#include "app/checked_job.h"

namespace sillwright::app::terminal {

/// The findings of a job for programs: one JSON object (RFC 8259), UTF-8,
/// indented, a line end last.
///
/// Numbers: read back they are bit for bit what was computed. The unit is the
///   end of the key: _mm, _deg, _n; none for a plain number. A number that there is
///   none of, being not measured, is null; never zero.
/// Order: findings as core gave them; a finding's "id" is stable.
///
/// {
///   "format": 1,                       rises when a key changes its meaning
///   "program": "sillwright", "version": "0.1.0",
///   "job": {
///     "file": "Estate A.sillwright",   as it was named to the program
///     "sha256": "…",                   of that file
///     "vehicle", "revision", "date": text,
///     "side": "left" | "right"
///   },
///   "counts": {"falls_short", "close", "holds", "not_measured": whole numbers},
///   "findings": [{
///     "id": "swing/front door/moving", "title": text,
///     "stage": "measure" | "sections" | "mounts" | "swing" | "forming" | "buck" | "handover",
///     "state": "falls_short" | "close" | "holds" | "not_measured",
///     "limit": "at_least" | "at_most", "unit": "mm" | "deg" | "n" | "none",
///     "found_mm", "required_mm", "margin_mm": number | null,
///                                      by unit: found_deg …, or found …
///     "place": {
///       "words": text, "along_mm", "door_angle_deg": number | null,
///       "on_part_along_mm", "on_part_out_mm", "on_part_up_mm": number | null,
///       "on_other_along_mm", "on_other_out_mm", "on_other_up_mm": number | null
///     },
///     "why", "formula", "source": text,
///     "unsure_by": [{"name": text, "sd": number}],   in the finding's unit; largest first: what to measure better
///     first "inputs": [{"name": text, "value": text with its unit}], "missing": [text],               what to measure
///     "touching": [{"from_door_angle_deg": number, "to_door_angle_deg": number}],
///                                      angles at which it touches or may touch
///     "mend": null | {
///       "words": text,
///       "moves": [{"node": id, "by_out_mm": number, "by_up_mm": number}],
///       "changes": [{"pointer": JSON pointer into the job file, "value": what is written there}],
///       "proven_margin_mm": number | null   unit as above
///     }
///   }],
///   "swing_distances": [{              every pair of bodies that was measured
///     "door", "moving", "fixed": text,
///     "case": "shut_on_striker" | "shut_off_striker" | "moving" | "past_shut",
///     "touches": true | false,
///     "least_mm": number | null,       attained; null if it touches, as are the next two
///     "proven_for_meshes_mm": number | null,   no angle has less
///     "proven_mm": number | null,      less both meshes' deviation: what findings use
///     "door_angle_deg": number,        of the least, or the first that touches
///     "on_fixed_along_mm", "on_fixed_out_mm", "on_fixed_up_mm": number,
///     "on_moving_along_mm", "on_moving_out_mm", "on_moving_up_mm": number,
///     "depth_at_least_mm", "depth_door_angle_deg": number | null,
///     "depth_along_mm", "depth_out_mm", "depth_up_mm": number | null,
///     "angles": [{
///       "from_door_angle_deg": number, "to_door_angle_deg": number,
///       "state": "free" | "touching" | "within_tolerance"
///     }]
///   }],
///   "clearance_curves": [{             a point every half degree or less
///     "id", "door", "moving", "fixed": text,
///     "points": [{"door_angle_deg": number, "clearance_mm": number | null}]
///                                      null where the bodies touch
///   }],
///   "door_limits": [{
///     "door", "station": text, "along_mm": number,
///     "chains": [[{"out_mm": number, "up_mm": number}]]
///   }]
/// }
/// Errors: those of the curves and limits.
geometry::Result<std::string> findings_json(const CheckedJob& checked);

/// The value of its key "findings" alone.
std::string findings_array(const std::vector<core::Finding>& findings);

}  // namespace sillwright::app::terminal

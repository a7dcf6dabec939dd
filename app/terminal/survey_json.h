#pragma once

#include <string>

#include "app/surveyed_job.h"
#include "geometry/result.h"

namespace sillwright::app::terminal {

/// What the measuring book says, for programs: one JSON object (RFC 8259), UTF-8, indented, a line end last.
///
/// Numbers: read back they are bit for bit what was computed; mm and degrees by the end of the key. What is not known
///   is null, never zero.
///
/// {
///   "format": 1, "program": "sillwright", "version": text,
///   "job": {"file", "vehicle", "revision", "date": text, "side": "left" | "right"},
///   "book": {"who", "date": text, "temperature_c": number | null},
///   "points": [{
///     "name": text, "kind": "mark" | "mount" | "door target" | "profile" | "other",
///     "along_mm", "out_mm", "up_mm": number,
///     "half_95_along_mm", "half_95_out_mm", "half_95_up_mm": number,   0 where it is held
///     "covariance_mm2": [[number x 3] x 3]
///   }],
///   "lacking": [{"name", "lacks": text}],
///   "problems": [text],
///   "mirrored": [{"points": [text], "question": text,
///                 "here": [{"along_mm", "out_mm", "up_mm"}], "there": as here}],
///   "readings": [{                     in the order of the book
///     "id", "line": text,              as it was written
///     "kind": text, "points": [text], "set_up": text,
///     "use": "used" | "dropped" | "waiting" | "not_usable",
///     "why": text,                     of those that are not used
///     "numbers": [{
///       "what": text,                  "" | "out" | "up" | "along"
///       "observed_mm", "adjusted_mm", "residual_mm", "sd_mm": number,    _deg for angle and slope
///       "redundancy": number, "w": number | null, "least_blunder_mm": number | null
///     }]
///   }],
///   "set_ups": [{"name": text, "found": true | false, "roll_deg", "pitch_deg", "roll_sd_deg", "pitch_sd_deg":
///   number}], "global_test": {"sum": number, "degrees_of_freedom": number, "lower", "upper": number, "holds": true |
///   false}, "suspect": null | {"reading": id, "what": text, "w": number, "expected_mm": number (_deg), "told_apart":
///   bool,
///                      "others": [id], "words": text},
///   "next_reading": null | {"kind": text, "points": [text], "set_up", "for_point": text, "before_mm", "after_mm":
///   number,
///                           "words": text},
///   "hinges": [{"door": text, "lacks": text, "axis": null | {
///     "lower": {"along_mm", "out_mm", "up_mm"}, "upper": as lower, "from_pins": bool,
///     "openings": [{"opening_deg", "sd_deg": number}],
///     "covariance_mm2": [[number x 6] x 6],    of lower, then upper
///     "misses": [{"target": text, "opening": number, "w": number}], "suspect": number | null,
///     "weaknesses": [text],
///     "corner_sd_mm", "corner_at_deg": number | null
///   }}],
///   "set_ups_compared", "other_hand": null | {
///     "verdict": null | "same" | "different" | "measure_better", "words", "lacks": text, "limit_mm", "rms_mm": number,
///     "points": [{"name": text, "along_mm", "out_mm", "up_mm", "distance_mm", "sd_mm", "bound_mm", "w": number,
///                 "verdict": as above}]
///   },
///   "other_hand_lacks": text,
///   "findings": as of `check --json`
/// }
std::string survey_json(const SurveyedJob& surveyed);

}  // namespace sillwright::app::terminal

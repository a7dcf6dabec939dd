#pragma once

#include <string>

#include "core/job.h"
#include "geometry/loft.h"
#include "geometry/result.h"

namespace sillwright::core {

/// The loft through the sections of something drawn; `what` names it in messages
/// ("skirt piece \"skirt\"").
///
/// Units and frame: along, out, up in millimetres.
/// Errors: as geometry::Loft::make; does_not_fit where the line crosses itself at one
///   quarter, half or three quarters of the way between two stations or run-outs.
///   Each is led by `what`.
geometry::Result<geometry::Loft> loft_of(const Job& job, const Drawn& drawn, bool closed, const std::string& what);

/// A loft of which a stretch has changed, looked at there as loft_of does. Errors: does_not_fit, led by `what`.
geometry::Status check_stretch(const geometry::Loft& loft, geometry::AlongRange stretch, const std::string& what);

/// A place along the car as the maker reads it, and the length from the job's origin:
/// "3.9 · 700 mm", the number of the station and the part of the way to the next, where
/// the stations are named 1, 2, ... in order; else "at A · 700 mm" or "between A and B ·
/// 700 mm". "ahead of A" and "behind B" beyond the first and the last. With fewer than
/// two stations the length alone.
std::string place_words(const Job& job, geometry::Length along);

/// The same for the middle of a sentence: "at 3.9 · 700 mm", "between A and B · 700 mm".
std::string at_place_words(const Job& job, geometry::Length along);

/// "station 3" or "stations 3 to 5": from the nearest station at or before `from` to
/// the nearest at or behind `to`, or the end station where there is none. Nothing
/// without stations.
std::string station_words(const Job& job, geometry::Length from, geometry::Length to);

/// The station of a name. Precondition: the job was checked; it is there.
const Station& station_of(const Job& job, const std::string& name);

}  // namespace sillwright::core

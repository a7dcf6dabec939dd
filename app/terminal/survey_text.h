#pragma once

#include <string>

#include "app/surveyed_job.h"
#include "app/terminal/findings_text.h"
#include "core/survey/book_csv.h"

namespace sillwright::app::terminal {

/// What the measuring book says, for a person to read: what to read again, questions and what is lacking first; points
/// with ± 95 %; readings, the most doubtful first, with the id that --drop takes; set-ups, hinge axes, the other side;
/// the next reading; a summary. Numbers in the job's unit. No line is longer than the look's width.
std::string survey_text(const SurveyedJob& surveyed, const TextLook& look);

/// What became of a CSV file: how many rows were taken, remarks, and every refused row with row, column, reason, and
/// the rows themselves under their header.
std::string taken_text(const core::survey::CsvBook& csv, const TextLook& look);

}  // namespace sillwright::app::terminal

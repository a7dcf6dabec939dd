#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/edit/edit.h"
#include "core/survey/book.h"
#include "core/survey/book_csv.h"
#include "core/survey/solution.h"

/// Changes of the measuring book. What was read is never altered and never leaves the book. After each of them the
/// mounts and hinges that are kept from the book stand where the book has them now (core/survey/results.h, settled).
///
/// Errors of all: as checked_edit, and invalid_argument where a name or an id is not in the book.
namespace sillwright::core {

/// A line as in core/survey/reading_line.h, at the end of the book. `set_up`: if the line names none.
geometry::Result<Edit> add_reading(const Job& job, const std::string& line, const std::string& set_up = {});
/// Readings that came otherwise (CSV), in this order; their ids are made new.
geometry::Result<Edit> add_readings(const Job& job, std::vector<survey::Reading> readings);

/// What a CSV file gave, with its new set-ups (the first of a book that had none stands level) and instruments (tapes).
geometry::Result<Edit> add_from_csv(const Job& job, const survey::CsvBook& csv);

/// Left out of the computation; it stays in the book with the reason. Errors: also for no reason, and if it is dropped.
geometry::Result<Edit> drop_reading(const Job& job, const std::string& id, const std::string& reason);
/// A dropped reading counts again.
geometry::Result<Edit> take_back_reading(const Job& job, const std::string& id);
/// What was written wrong: the old reading stays, dropped with "written as E H1 1484.0, corrected", and the new one
/// stands behind it.
geometry::Result<Edit> correct_reading(const Job& job, const std::string& id, const std::string& line);

/// What is known of a point beside its readings: the whole entry, new or in the place of the one of that name.
geometry::Result<Edit> set_point(const Job& job, const survey::Point& point);
/// The entry goes; readings of the point stay.
geometry::Result<Edit> delete_point(const Job& job, const std::string& name);
/// Everywhere: readings, points, targets of hinge sets (with their openings, "T1/2"), mounts, photos, scans.
/// Errors: also if the new name is taken, unless `join` says that both are one point (the entry of the new name stays).
geometry::Result<Edit> rename_point(const Job& job, const std::string& from, const std::string& to, bool join = false);

/// A set-up new (`old_name` empty) or in the place of another; readings follow its new name.
geometry::Result<Edit> set_set_up(const Job& job, const std::string& old_name, const survey::SetUp& set_up);
/// Errors: also if readings were made in it.
geometry::Result<Edit> delete_set_up(const Job& job, const std::string& name);
/// As set-ups.
geometry::Result<Edit> set_instrument(const Job& job, const std::string& old_name,
                                      const survey::Instrument& instrument);
geometry::Result<Edit> delete_instrument(const Job& job, const std::string& name);

/// Who measured, when (ISO 8601), how warm it was (degrees Celsius).
geometry::Result<Edit> set_book_head(const Job& job, const std::string& who, const std::string& date,
                                     std::optional<double> temperature);

/// The frame by three marks, 3-2-1. Empty numbers are zero.
struct FrameMarks {
    std::string origin;                ///< Its along, out and up are held.
    std::string behind;                ///< Its out and up: the line from the origin to it runs along the car.
    std::string beside;                ///< Its up: the three lie in one plane.
    std::optional<Entry> along;        ///< Of the origin.
    std::optional<Entry> out, up;      ///< Of the origin.
    std::optional<Entry> out_2, up_2;  ///< Of `behind`.
    std::optional<Entry> up_3;         ///< Of `beside`.
};
/// `behind` is noted to be roughly so far to the rear as it was taped, so that nobody asks which way along is. Exact
/// coordinates held at other points are let go, and no set-up is level any more by itself: its lean is found from
/// the readings (unless it was measured), as the marks say what is up now.
geometry::Result<Edit> frame_by_marks(const Job& job, const FrameMarks& marks);

/// A hinge set new or in the place of that of the same door; and away.
geometry::Result<Edit> set_hinge_set(const Job& job, const survey::HingeSet& set);
geometry::Result<Edit> delete_hinge_set(const Job& job, const std::string& door);

/// Whether a mount or a door's hinge is kept as the book has it.
/// Errors: also if the book cannot place it yet, in words that say what is lacking.
geometry::Result<Edit> keep_mount_from_book(const Job& job, const std::string& mount, bool keep);
geometry::Result<Edit> keep_hinge_from_book(const Job& job, const std::string& door, bool keep);
/// Mounts at points of the book that are placed and have none, kept from the book; all points of kind mount if
/// `points` is empty. Each is like the mount that is nearest along the car.
geometry::Result<Edit> add_mounts_from_book(const Job& job, const std::vector<std::string>& points = {});

/// Which of two mirrored places is right: the one coordinate that is asked about is noted as the point's rough place,
/// to the millimetre.
geometry::Result<Edit> answer_mirrored(const Job& job, const survey::Mirrored& question, bool here);

/// The job file of the car's other side, relative to this one's folder; empty for none.
geometry::Result<Edit> set_other_hand(const Job& job, const std::string& path);

}  // namespace sillwright::core

#include "core/survey/measuring_sheet.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "core/number_text.h"
#include "core/survey/reading_line.h"
#include "core/survey/survey_number.h"
#include "core/typed.h"

namespace sillwright::core::survey {

namespace {

/// Common practice, no source, all of them: marks for a side, ties for a hole, targets and openings for a hinge, points
/// of a section.
constexpr std::size_t k_usual_marks = 5;
constexpr std::size_t k_usual_holes = 8;
constexpr std::size_t k_usual_stations = 7;
constexpr std::size_t k_ties_of_hole = 3;
constexpr std::size_t k_second_string = 3;  ///< The mark at which a second string begins.
constexpr std::size_t k_targets_of_door = 3;
constexpr std::size_t k_openings = 5;
constexpr std::size_t k_points_of_section = 6;

using Names = std::vector<std::string>;

std::string letter(std::size_t i) {
    return {static_cast<char>('A' + i)};
}

Names numbered(const std::string& stem, std::size_t count) {
    Names names;
    for (std::size_t i = 1; i <= count; ++i) {
        names.push_back(stem + std::to_string(i));
    }
    return names;
}

SheetLine line(const std::string& kind, Names points) {
    SheetLine one;
    one.kind = kind;
    one.points = std::move(points);
    return one;
}

/// What the sheet is made from.
class BlankSheet {
public:
    explicit BlankSheet(const Job& job) : job_{job}, marks_{mark_names()}, holes_{hole_names()} {}

    std::vector<SheetPart> parts() const {
        std::vector<SheetPart> parts{marks_on_wheels(), gaps()};
        const std::size_t doors = door_names().size();
        for (std::size_t i = 0; i < doors; ++i) {
            parts.push_back(targets(i));
        }
        parts.push_back(marks_on_lift());
        parts.push_back(holes());
        parts.push_back(stations());
        return parts;
    }

private:
    Names mark_names() const {
        Names names;
        for (const Point& point : job_.book.points) {
            if (point.kind == PointKind::mark) {
                names.push_back(point.name);
            }
        }
        for (std::size_t i = 0; names.size() < k_ties_of_hole || (job_.book.points.empty() && i < k_usual_marks); ++i) {
            if (std::find(names.begin(), names.end(), letter(i)) == names.end()) {
                names.push_back(letter(i));
            }
        }
        return names;
    }

    /// From front to rear.
    Names hole_names() const {
        std::vector<const Mount*> mounts;
        for (const Mount& mount : job_.mounts) {
            mounts.push_back(&mount);
        }
        std::stable_sort(mounts.begin(), mounts.end(),
                         [](const Mount* a, const Mount* b) { return a->at.along.value < b->at.along.value; });
        Names names;
        for (const Mount* mount : mounts) {
            names.push_back(mount->name);
        }
        for (const Point& point : job_.book.points) {
            if (point.kind == PointKind::mount && std::find(names.begin(), names.end(), point.name) == names.end()) {
                names.push_back(point.name);
            }
        }
        return names.empty() ? numbered("H", k_usual_holes) : names;
    }

    Names door_names() const {
        Names names;
        for (const Door& door : job_.doors) {
            names.push_back(door.name);
        }
        return names.empty() ? Names{"front door", "rear door"} : names;
    }

    Names station_names() const {
        Names names;
        for (const Station& station : job_.stations) {
            names.push_back(station.name);
        }
        return names.empty() ? numbered("", k_usual_stations) : names;
    }

    /// Each pair taped, and each mark's height above the first.
    std::vector<SheetLine> between_marks() const {
        std::vector<SheetLine> lines;
        for (std::size_t i = 0; i < marks_.size(); ++i) {
            for (std::size_t k = i + 1; k < marks_.size(); ++k) {
                lines.push_back(line("", {marks_[i], marks_[k]}));
            }
        }
        for (std::size_t k = 1; k < marks_.size(); ++k) {
            lines.push_back(line("height", {marks_[0], marks_[k]}));
        }
        return lines;
    }

    SheetPart marks_on_wheels() const {
        return {"ON WHEELS · marks",
                "Tape from mark to mark straight, not level. Heights by bob or level; lower than the first is minus.",
                between_marks()};
    }

    SheetPart gaps() const {
        SheetPart part{"ON WHEELS · door gaps", "Doors shut on their strikers.", {}};
        for (const std::string& door : door_names()) {
            for (const char* where : {"front", "middle", "rear"}) {
                part.lines.push_back(line("gap", {door + " gap " + where}));
            }
        }
        return part;
    }

    Names targets_of(std::size_t door) const {
        const std::string name = door_names()[door];
        for (const HingeSet& set : job_.book.hinges) {
            if (set.door == name && !set.targets.empty()) {
                return set.targets;
            }
        }
        Names names;
        for (std::size_t i = 1; i <= k_targets_of_door; ++i) {
            names.push_back("T" + std::to_string(door * k_targets_of_door + i));
        }
        return names;
    }

    SheetPart targets(std::size_t door) const {
        SheetPart part{"ON WHEELS · " + door_names()[door] + ", hinge targets",
                       "Stick the targets far apart: rear low, middle, rear high. Shut first (/1), then open in steps "
                       "over 50 degrees or more; the angles need not be known.",
                       {}};
        for (std::size_t opening = 1; opening <= k_openings; ++opening) {
            for (const std::string& target : targets_of(door)) {
                for (std::size_t i = 0; i < k_ties_of_hole; ++i) {
                    part.lines.push_back(line("", {marks_[i], target + "/" + std::to_string(opening)}));
                }
                part.lines.push_back(line("height", {marks_[0], target + "/" + std::to_string(opening)}));
            }
        }
        return part;
    }

    SheetPart marks_on_lift() const {
        return {"ON THE LIFT · marks again", "On rated stands or a lift. The same marks tie both set-ups together.",
                between_marks()};
    }

    /// The marks nearest to a hole, as far as the book knows where they are; else the first.
    Names marks_for(const std::string& hole) const {
        const auto mount =
            std::find_if(job_.mounts.begin(), job_.mounts.end(), [&](const Mount& one) { return one.name == hole; });
        Names names = marks_;
        if (mount != job_.mounts.end()) {
            const double along = geometry::in_mm(mount->at.along.value);
            std::stable_sort(names.begin(), names.end(), [&](const std::string& a, const std::string& b) {
                return std::abs(mark_along(a) - along) < std::abs(mark_along(b) - along);
            });
        }
        names.resize(std::min(names.size(), k_ties_of_hole));
        std::sort(names.begin(), names.end());
        return names;
    }

    double mark_along(const std::string& name) const {
        for (const Point& point : job_.book.points) {
            if (point.name == name && (point.along || point.about_along)) {
                return geometry::in_mm((point.along ? point.along : point.about_along)->value);
            }
        }
        return 0.0;
    }

    SheetPart holes() const {
        SheetPart part{"ON THE LIFT · holes, front to rear",
                       "Tape to the centre of the hole, on the face that the part will lie on. Offset: level from a "
                       "string between "
                       "two marks, outward plus.",
                       {}};
        for (std::size_t i = 0; i < holes_.size(); ++i) {
            const Names marks = marks_for(holes_[i]);
            for (const std::string& mark : marks) {
                part.lines.push_back(line("", {mark, holes_[i]}));
            }
            for (const std::size_t k : {std::size_t{0}, std::size_t{1}}) {
                part.lines.push_back(line("height", {marks_[k], holes_[i]}));
            }
            part.lines.push_back(line("offset", {marks_[0], marks_[1], holes_[i]}));
            if (marks_.size() > k_second_string + 1) {
                part.lines.push_back(line("offset", {marks_[k_second_string], marks_[k_second_string + 1], holes_[i]}));
            }
            for (const std::size_t next : {i + 1, i + 2}) {
                if (next < holes_.size()) {
                    part.lines.push_back(line("", {holes_[i], holes_[next]}));
                }
            }
        }
        return part;
    }

    SheetPart stations() const {
        SheetPart part{"ON THE LIFT · stations",
                       "Gauge square to the sill; write how far out and how far up each point is from the first.",
                       {}};
        for (const std::string& station : station_names()) {
            const std::string first = "S" + station;
            part.lines.push_back(line("along", {marks_[0], first}));
            part.lines.push_back(line("height", {marks_[0], first}));
            for (std::size_t i = 1; i <= k_points_of_section; ++i) {
                part.lines.push_back(line("gauge", {first, first + "." + std::to_string(i)}));
            }
        }
        return part;
    }

    const Job& job_;
    Names marks_, holes_;
};

MeasuringSheet head_of(const Job& job) {
    MeasuringSheet sheet;
    sheet.vehicle = job.vehicle;
    sheet.revision = job.revision;
    sheet.side = job.side;
    sheet.unit = job.unit == BareUnit::in ? "inches" : job.unit == BareUnit::cm ? "cm" : "mm";
    return sheet;
}

void add_part(std::string& text, const std::string& more) {
    text += (text.empty() ? "" : " · ") + more;
}

SheetLine filled_line(const Reading& reading, const ReadingResult& result, BareUnit unit) {
    SheetLine filled = line(reading.kind == ReadingKind::tie ? "" : kind_word(reading.kind), reading.points);
    if (reading.value) {
        filled.reading = entry_text(*reading.value, unit);
    } else if (reading.angle) {
        filled.reading = degree_text(*reading.angle);
    }
    if (reading.up) {
        add_part(filled.reading, entry_text(*reading.up, unit));
    }
    for (const AdjustedNumber& one : result.numbers) {
        add_part(filled.adjusted, survey_number(one.adjusted, reading.kind, unit));
        add_part(filled.sd, survey_number(one.sd, reading.kind, unit));
        add_part(filled.w, one.w ? fixed_text(*one.w, 1) : "unchecked");
    }
    filled.dropped = !reading.dropped.empty();
    filled.note = filled.dropped                         ? "dropped: " + reading.dropped
                  : result.use == ReadingUse::used       ? reading.note
                  : result.use == ReadingUse::not_usable ? "not usable: " + result.why
                                                         : "waits: " + result.why;
    return filled;
}

SheetPart points_part(const Solution& solution, BareUnit unit) {
    SheetPart part{"POINTS · along, out, up, each ± 95 %", "", {}};
    for (const PlacedPoint& point : solution.points) {
        SheetLine one = line("", {point.name});
        for (int i = 0; i < 3; ++i) {
            add_part(one.reading, survey_number(point.at_mm[i], ReadingKind::tie, unit));
            add_part(one.sd,
                     survey_number(factor_95(1) * std::sqrt(point.covariance_mm2(i, i)), ReadingKind::tie, unit));
        }
        part.lines.push_back(std::move(one));
    }
    for (const LackingPoint& point : solution.lacking) {
        SheetLine one = line("", {point.name});
        one.note = point.lacks;
        part.lines.push_back(std::move(one));
    }
    return part;
}

}  // namespace

MeasuringSheet blank_sheet(const Job& job) {
    MeasuringSheet sheet = head_of(job);
    sheet.parts = BlankSheet(job).parts();
    return sheet;
}

MeasuringSheet filled_sheet(const Job& job, const Solution& solution) {
    MeasuringSheet sheet = head_of(job);
    sheet.filled = true;
    sheet.who = job.book.who;
    sheet.date = job.book.date;
    sheet.temperature = job.book.temperature ? number_text(*job.book.temperature) + " °C" : "";
    Names set_ups;
    for (const SetUp& set_up : job.book.set_ups) {
        set_ups.push_back(set_up.name);
    }
    if (set_ups.empty()) {
        set_ups.emplace_back();
    }
    for (std::size_t k = 0; k < set_ups.size(); ++k) {
        SheetPart part{set_ups[k].empty() ? "READINGS" : "READINGS · set-up " + set_ups[k], "", {}};
        for (std::size_t i = 0; i < job.book.readings.size(); ++i) {
            const Reading& reading = job.book.readings[i];
            const bool here = reading.set_up == set_ups[k] || (k == 0 && reading.set_up.empty());
            if (here) {
                const ReadingResult result = i < solution.readings.size() ? solution.readings[i] : ReadingResult{};
                part.lines.push_back(filled_line(reading, result, job.unit));
            }
        }
        sheet.parts.push_back(std::move(part));
    }
    sheet.parts.push_back(points_part(solution, job.unit));
    return sheet;
}

}  // namespace sillwright::core::survey

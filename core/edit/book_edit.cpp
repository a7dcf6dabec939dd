#include "core/edit/book_edit.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <string_view>
#include <utility>

#include "core/edit/cell.h"
#include "core/edit/mount_edit.h"
#include "core/edit/new_names.h"
#include "core/survey/reading_line.h"
#include "core/survey/results.h"
#include "core/typed.h"

namespace sillwright::core {

using geometry::Error;
using geometry::ErrorCode;
using geometry::millimetres;
using geometry::Result;
using survey::Book;
using survey::Point;
using survey::Reading;

namespace {

Error bad(std::string message) {
    return {ErrorCode::invalid_argument, std::move(message)};
}

std::string quote(const std::string& text) {
    return "\"" + text + "\"";
}

std::string joined_names(const std::vector<std::string>& names) {
    std::string words;
    for (std::size_t i = 0; i < names.size(); ++i) {
        words += (i == 0 ? "" : i + 1 == names.size() ? " and " : ", ") + names[i];
    }
    return words;
}

template <class Thing, class Key>
typename std::vector<Thing>::iterator find_by(std::vector<Thing>& things, Key Thing::*key, const Key& wanted) {
    return std::find_if(things.begin(), things.end(), [&](const Thing& one) { return one.*key == wanted; });
}
template <class Thing, class Key>
typename std::vector<Thing>::const_iterator find_by(const std::vector<Thing>& things, Key Thing::*key,
                                                    const Key& wanted) {
    return std::find_if(things.begin(), things.end(), [&](const Thing& one) { return one.*key == wanted; });
}

/// Whether anything in the job follows the book.
bool follows_book(const Job& job) {
    return std::any_of(job.mounts.begin(), job.mounts.end(), [](const Mount& mount) { return mount.from_book; }) ||
           std::any_of(job.doors.begin(), job.doors.end(),
                       [](const Door& door) { return door.hinge && door.hinge->from_book; });
}

/// Of the job's own book: the other side's job has no say in it.
survey::Results results_of_book(Job job) {
    job.other_hand.clear();
    return survey::survey_results(job, {}, false);
}

Result<Edit> settled_edit(Job job, std::string words) {
    if (follows_book(job)) {
        const survey::Results results = results_of_book(job);
        job = survey::settled(std::move(job), results);
    }
    return checked_edit(std::move(job), std::move(words));
}

Error no_reading(const std::string& id) {
    return bad("There is no reading " + quote(id) + " in the book.");
}

/// "reading 12, E H1 1473.5"
std::string reading_words(const Job& job, const Reading& reading) {
    return "reading " + survey::line_of_reading(reading, job.unit);
}

template <class Named>
Result<Edit> put_named(const Job& job, std::vector<Named> Book::*list, const std::string& old_name, const Named& value,
                       std::string Reading::*use, const std::string& what) {
    if (trimmed(value.name).empty()) {
        return bad("The " + what + " has no name. Write one.");
    }
    Job changed = job;
    auto& all = changed.book.*list;
    if (old_name.empty()) {
        all.push_back(value);
        return settled_edit(std::move(changed), "add " + what + " " + value.name);
    }
    const auto found = find_by(all, &Named::name, old_name);
    if (found == all.end()) {
        return bad("There is no " + what + " " + quote(old_name) + " in the book.");
    }
    const Unknown unknown = found->unknown;
    *found = value;
    found->unknown = unknown;
    for (Reading& reading : changed.book.readings) {
        if (reading.*use == old_name) {
            reading.*use = value.name;
        }
    }
    return settled_edit(std::move(changed), old_name == value.name
                                                ? "change " + what + " " + value.name
                                                : "rename " + what + " " + old_name + " to " + value.name);
}

template <class Named>
Result<Edit> delete_named(const Job& job, std::vector<Named> Book::*list, const std::string& name,
                          std::string Reading::*use, const std::string& what) {
    Job changed = job;
    auto& all = changed.book.*list;
    const auto found = find_by(all, &Named::name, name);
    if (found == all.end()) {
        return bad("There is no " + what + " " + quote(name) + " in the book.");
    }
    const auto count = std::count_if(changed.book.readings.begin(), changed.book.readings.end(),
                                     [&](const Reading& reading) { return reading.*use == name; });
    if (count > 0) {
        return bad(std::to_string(count) + (count == 1 ? " reading was" : " readings were") + " made with the " + what +
                   " " + quote(name) + ", and readings never leave the book. Rename it instead.");
    }
    all.erase(found);
    return settled_edit(std::move(changed), "delete " + what + " " + name);
}

/// The point's entry in the book, made if there is none.
Point& entry_of(Book& book, const std::string& name) {
    const auto found = find_by(book.points, &Point::name, name);
    if (found != book.points.end()) {
        return *found;
    }
    Point point;
    point.name = name;
    book.points.push_back(point);
    return book.points.back();
}

std::set<std::string> all_names(const Book& book) {
    std::set<std::string> names;
    for (const Point& point : book.points) {
        names.insert(point.name);
    }
    for (const Reading& reading : book.readings) {
        names.insert(reading.points.begin(), reading.points.end());
    }
    return names;
}

/// Old names with new ones in every place of a job.
class Renaming {
public:
    Renaming(Job& job, std::string from, std::string to) : job_{job}, from_{std::move(from)}, to_{std::move(to)} {}

    /// The point itself, and if it is a hinge set's target its places at each opening.
    void run() {
        for (Reading& reading : job_.book.readings) {
            for (std::string& name : reading.points) {
                rename(name);
            }
        }
        points();
        for (survey::HingeSet& set : job_.book.hinges) {
            for (std::string& target : set.targets) {
                rename(target);
            }
        }
        for (Mount& mount : job_.mounts) {
            rename(mount.name);
        }
        for (survey::Photo& photo : job_.photos) {
            for (survey::PhotoPoint& point : photo.points) {
                rename(point.point);
            }
        }
        for (survey::Scan& scan : job_.scans) {
            for (survey::ScanMark& mark : scan.marks) {
                rename(mark.point);
            }
        }
    }

    /// The name that `name` gets, itself if it has nothing to do with it.
    [[nodiscard]] std::string renamed(const std::string& name) const {
        return name == from_ ? to_ : name.starts_with(from_ + "/") ? to_ + name.substr(from_.size()) : name;
    }

private:
    void rename(std::string& name) const { name = renamed(name); }

    /// Of two entries that come to one name the one that had it stays.
    void points() {
        std::vector<Point>& points = job_.book.points;
        std::set<std::string> taken;
        for (const Point& point : points) {
            if (renamed(point.name) == point.name) {
                taken.insert(point.name);
            }
        }
        std::erase_if(points, [&](const Point& point) {
            return renamed(point.name) != point.name && taken.contains(renamed(point.name));
        });
        for (Point& point : points) {
            rename(point.name);
        }
    }

    Job& job_;
    std::string from_, to_;
};

/// Sentence for a join that cannot be; empty if it can.
std::string twice_in_reading(const Job& job) {
    for (const Reading& reading : job.book.readings) {
        const std::set<std::string> different(reading.points.begin(), reading.points.end());
        if (different.size() != reading.points.size()) {
            return "The reading " + quote(survey::line_of_reading(reading, job.unit)) +
                   " would name one point twice, so they are two points.";
        }
    }
    return {};
}

void let_go(Point& point) {
    point.along.reset();
    point.out.reset();
    point.up.reset();
}

/// How far apart two points were taped; a metre if they were not.
double roughly_apart_mm(const Book& book, const std::string& a, const std::string& b) {
    constexpr double k_a_metre_mm = 1000.0;
    const auto found = std::find_if(book.readings.begin(), book.readings.end(), [&](const Reading& reading) {
        return reading.kind == survey::ReadingKind::tie && reading.dropped.empty() && reading.value &&
               (reading.points == std::vector<std::string>{a, b} || reading.points == std::vector<std::string>{b, a});
    });
    return found == book.readings.end() ? k_a_metre_mm : geometry::in_mm(found->value->value);
}

Entry or_zero(const std::optional<Entry>& value) {
    return value.value_or(entry(millimetres(0.0)));
}

/// Why the book does not place a point; empty if it does.
std::string lacks(const survey::Solution& solution, const std::string& name) {
    if (solution.find(name) != nullptr) {
        return {};
    }
    const auto found = std::find_if(solution.lacking.begin(), solution.lacking.end(),
                                    [&](const survey::LackingPoint& one) { return one.name == name; });
    if (found != solution.lacking.end()) {
        return found->lacks;
    }
    return "The book has no reading of " + name + ".";
}

const survey::HingeOutcome* hinge_of(const survey::Results& results, const std::string& door) {
    const auto found = std::find_if(results.hinges.begin(), results.hinges.end(),
                                    [&](const survey::HingeOutcome& one) { return one.door == door && one.axis; });
    return found == results.hinges.end() ? nullptr : &*found;
}

/// To the millimetre: it is no reading, and shall not look like one.
Entry rough(double mm) {
    return entry(millimetres(std::round(mm)));
}

std::optional<std::size_t> reading_index(const Job& job, const std::string& id) {
    const auto found = find_by(job.book.readings, &Reading::id, id);
    return found == job.book.readings.end()
               ? std::nullopt
               : std::optional(static_cast<std::size_t>(found - job.book.readings.begin()));
}

}  // namespace

Result<Edit> add_reading(const Job& job, const std::string& line, const std::string& set_up) {
    return survey::reading_of_line(line, job.book, job.unit, set_up).and_then([&](const Reading& reading) {
        Job changed = job;
        changed.book.readings.push_back(reading);
        return settled_edit(std::move(changed), "write " + reading_words(job, reading));
    });
}

Result<Edit> add_readings(const Job& job, std::vector<Reading> readings) {
    if (readings.empty()) {
        return bad("There is no reading to add.");
    }
    std::set<std::string> ids;
    for (const Reading& reading : job.book.readings) {
        ids.insert(reading.id);
    }
    Job changed = job;
    const std::size_t count = readings.size();
    for (Reading& reading : readings) {
        if (const auto good = survey::reading_fault(reading, job.book, job.unit); !good) {
            return bad(survey::line_of_reading(reading, job.unit) + ": " + good.error().message);
        }
        reading.id = next_name(ids, "r");
        ids.insert(reading.id);
        changed.book.readings.push_back(std::move(reading));
    }
    return settled_edit(std::move(changed), "take " + std::to_string(count) + (count == 1 ? " reading" : " readings"));
}

Result<Edit> add_from_csv(const Job& job, const survey::CsvBook& csv) {
    Job with = job;
    for (const std::string& name : csv.new_set_ups) {
        survey::SetUp set_up;
        set_up.name = name;
        set_up.level = with.book.set_ups.empty();
        with.book.set_ups.push_back(set_up);
    }
    for (const std::string& name : csv.new_instruments) {
        survey::Instrument instrument;
        instrument.name = name;
        with.book.instruments.push_back(instrument);
    }
    return add_readings(with, csv.readings);
}

Result<Edit> drop_reading(const Job& job, const std::string& id, const std::string& reason) {
    const auto index = reading_index(job, id);
    if (!index) {
        return no_reading(id);
    }
    const Reading& reading = job.book.readings[*index];
    if (trimmed(reason).empty()) {
        return bad("A reading is dropped with a reason, which stays in the book. Write why.");
    }
    if (!reading.dropped.empty()) {
        return bad("This reading is dropped already: " + reading.dropped + ".");
    }
    Job changed = job;
    changed.book.readings[*index].dropped = trimmed(reason);
    return settled_edit(std::move(changed), "drop " + reading_words(job, reading));
}

Result<Edit> take_back_reading(const Job& job, const std::string& id) {
    const auto index = reading_index(job, id);
    if (!index) {
        return no_reading(id);
    }
    const Reading& reading = job.book.readings[*index];
    if (reading.dropped.empty()) {
        return bad("This reading counts already.");
    }
    Job changed = job;
    changed.book.readings[*index].dropped.clear();
    return settled_edit(std::move(changed), "take back " + reading_words(job, reading));
}

Result<Edit> correct_reading(const Job& job, const std::string& id, const std::string& line) {
    const auto index = reading_index(job, id);
    if (!index) {
        return no_reading(id);
    }
    const Reading& old = job.book.readings[*index];
    const std::string written = survey::line_of_reading(old, job.unit);
    return survey::reading_of_line(line, job.book, job.unit, old.set_up)
        .and_then([&](const Reading& reading) -> Result<Edit> {
            if (survey::line_of_reading(reading, job.unit) == written) {
                return bad("This says the same as before. Write what was read.");
            }
            Job changed = job;
            auto& readings = changed.book.readings;
            Reading& kept = readings[*index];
            if (kept.dropped.empty()) {
                kept.dropped = "written as " + written + ", corrected";
            }
            readings.insert(readings.begin() + static_cast<std::ptrdiff_t>(*index) + 1, reading);
            return settled_edit(std::move(changed), "correct " + reading_words(job, old) + " to " +
                                                        survey::line_of_reading(reading, job.unit));
        });
}

Result<Edit> set_point(const Job& job, const Point& point) {
    if (trimmed(point.name).empty()) {
        return bad("The point has no name. Write one.");
    }
    Job changed = job;
    Point& entry = entry_of(changed.book, point.name);
    const Unknown unknown = entry.unknown;
    entry = point;
    entry.unknown = unknown;
    return settled_edit(std::move(changed), "describe point " + point.name);
}

Result<Edit> delete_point(const Job& job, const std::string& name) {
    Job changed = job;
    auto& points = changed.book.points;
    const auto found = find_by(points, &Point::name, name);
    if (found == points.end()) {
        return bad("Nothing is written of a point " + quote(name) + " but its readings.");
    }
    points.erase(found);
    return settled_edit(std::move(changed), "delete what is written of point " + name);
}

Result<Edit> rename_point(const Job& job, const std::string& from, const std::string& to, bool join) {
    const std::string name = trimmed(to);
    if (name.empty()) {
        return bad("The new name is empty. Write one.");
    }
    Job changed = job;
    Renaming renaming(changed, from, name);
    const std::set<std::string> names = all_names(job.book);
    const bool there =
        std::any_of(names.begin(), names.end(), [&](const std::string& one) { return renaming.renamed(one) != one; });
    if (from == name || !there) {
        return bad(from == name ? "The point is called so already." : "There is no point " + quote(from) + ".");
    }
    if (!join) {
        for (const std::string& one : names) {
            if (renaming.renamed(one) != one && names.contains(renaming.renamed(one))) {
                return bad("There is a point " + quote(renaming.renamed(one)) +
                           " already. Write another name, or say that both are one point.");
            }
        }
    }
    renaming.run();
    if (const std::string twice = twice_in_reading(changed); !twice.empty()) {
        return bad(twice);
    }
    return settled_edit(std::move(changed),
                        (join ? "join point " + from + " with " : "rename point " + from + " to ") + name);
}

Result<Edit> set_set_up(const Job& job, const std::string& old_name, const survey::SetUp& set_up) {
    return put_named(job, &Book::set_ups, old_name, set_up, &Reading::set_up, "set-up");
}

Result<Edit> delete_set_up(const Job& job, const std::string& name) {
    const Book& book = job.book;
    const bool first = !book.set_ups.empty() && book.set_ups.front().name == name;
    if (first && std::any_of(book.readings.begin(), book.readings.end(),
                             [](const Reading& reading) { return reading.set_up.empty(); })) {
        return bad("Readings without a set-up were made in the first, " + quote(name) +
                   ", and readings never leave the book. Rename it instead.");
    }
    return delete_named(job, &Book::set_ups, name, &Reading::set_up, "set-up");
}

Result<Edit> set_instrument(const Job& job, const std::string& old_name, const survey::Instrument& instrument) {
    return put_named(job, &Book::instruments, old_name, instrument, &Reading::instrument, "instrument");
}

Result<Edit> delete_instrument(const Job& job, const std::string& name) {
    return delete_named(job, &Book::instruments, name, &Reading::instrument, "instrument");
}

Result<Edit> set_book_head(const Job& job, const std::string& who, const std::string& date,
                           std::optional<double> temperature) {
    Job changed = job;
    changed.book.who = trimmed(who);
    changed.book.date = trimmed(date);
    changed.book.temperature = temperature;
    return settled_edit(std::move(changed), "write the head of the book");
}

Result<Edit> frame_by_marks(const Job& job, const FrameMarks& marks) {
    const std::vector<std::string> names{marks.origin, marks.behind, marks.beside};
    const std::set<std::string> known = all_names(job.book);
    for (const std::string& name : names) {
        if (!known.contains(name)) {
            return bad("There is no point " + quote(name) + " in the book. Name three marks that were measured.");
        }
    }
    if (std::set<std::string>(names.begin(), names.end()).size() != names.size()) {
        return bad("The frame needs three different marks. Name three that do not lie on one line.");
    }
    Job changed = job;
    for (Point& point : changed.book.points) {
        if (!point.sd) {
            let_go(point);
        }
    }
    for (survey::SetUp& set_up : changed.book.set_ups) {
        set_up.level = false;
    }
    if (changed.book.set_ups.empty()) {
        survey::SetUp first;
        first.name = "wheels";
        changed.book.set_ups.push_back(first);
    }
    for (const std::string& name : names) {
        Point& point = entry_of(changed.book, name);
        let_go(point);
        point.sd.reset();
    }
    Point& origin = entry_of(changed.book, marks.origin);
    origin.along = or_zero(marks.along);
    origin.out = or_zero(marks.out);
    origin.up = or_zero(marks.up);
    Point& behind = entry_of(changed.book, marks.behind);
    behind.out = or_zero(marks.out_2);
    behind.up = or_zero(marks.up_2);
    const double apart_mm = roughly_apart_mm(job.book, marks.origin, marks.behind);
    behind.about_along = rough(geometry::in_mm(or_zero(marks.along).value) + apart_mm);
    entry_of(changed.book, marks.beside).up = or_zero(marks.up_3);
    return settled_edit(std::move(changed), "set the frame by " + joined_names(names));
}

Result<Edit> set_hinge_set(const Job& job, const survey::HingeSet& set) {
    Job changed = job;
    auto& sets = changed.book.hinges;
    const auto found = find_by(sets, &survey::HingeSet::door, set.door);
    if (found == sets.end()) {
        sets.push_back(set);
    } else {
        const Unknown unknown = found->unknown;
        *found = set;
        found->unknown = unknown;
    }
    return settled_edit(std::move(changed), "take the targets of " + set.door + ": " + joined_names(set.targets));
}

Result<Edit> delete_hinge_set(const Job& job, const std::string& door) {
    Job changed = job;
    auto& sets = changed.book.hinges;
    const auto found = find_by(sets, &survey::HingeSet::door, door);
    if (found == sets.end()) {
        return bad("The book has no targets of a door " + quote(door) + ".");
    }
    sets.erase(found);
    return settled_edit(std::move(changed), "delete the targets of " + door);
}

Result<Edit> keep_mount_from_book(const Job& job, const std::string& mount, bool keep) {
    Job changed = job;
    const auto found = find_by(changed.mounts, &Mount::name, mount);
    if (found == changed.mounts.end()) {
        return bad("There is no mount " + quote(mount) + " in this job.");
    }
    if (keep) {
        if (const std::string why = lacks(results_of_book(job).solution, mount); !why.empty()) {
            return bad("The book does not place mount " + mount + " yet. " + why);
        }
    }
    found->from_book = keep;
    return settled_edit(std::move(changed), keep ? "take mount " + mount + " from the book"
                                                 : "keep mount " + mount + " apart from the book");
}

Result<Edit> keep_hinge_from_book(const Job& job, const std::string& door, bool keep) {
    Job changed = job;
    const auto found = find_by(changed.doors, &Door::name, door);
    if (found == changed.doors.end()) {
        return bad("There is no door " + quote(door) + " in this job.");
    }
    if (keep) {
        const survey::Results results = results_of_book(job);
        if (hinge_of(results, door) == nullptr) {
            const auto outcome = find_by(results.hinges, &survey::HingeOutcome::door, door);
            return bad("The book does not give the hinge axis of " + door + " yet. " +
                       (outcome != results.hinges.end() ? outcome->lacks
                                                        : "Measure targets on the door at several openings."));
        }
    }
    if (!found->hinge) {
        if (!keep) {
            return bad(door + " has no hinge.");
        }
        found->hinge.emplace();
    }
    found->hinge->from_book = keep;
    return settled_edit(std::move(changed), keep ? "take the hinge of " + door + " from the book"
                                                 : "keep the hinge of " + door + " apart from the book");
}

Result<Edit> add_mounts_from_book(const Job& job, const std::vector<std::string>& points) {
    const survey::Solution solution = results_of_book(job).solution;
    std::vector<std::string> names = points;
    if (names.empty()) {
        for (const survey::PlacedPoint& point : solution.points) {
            const auto mount = find_by(job.mounts, &Mount::name, point.name);
            if (point.kind == survey::PointKind::mount && mount == job.mounts.end()) {
                names.push_back(point.name);
            }
        }
    }
    if (names.empty()) {
        return bad("The book places no mount that the job has not. Say of points of the book that they are mounts.");
    }
    Job changed = job;
    for (const std::string& name : names) {
        if (find_by(job.mounts, &Mount::name, name) != job.mounts.end()) {
            return bad("There is a mount " + quote(name) + " already. Take it from the book instead.");
        }
        if (const std::string why = lacks(solution, name); !why.empty()) {
            return bad("The book does not place " + name + " yet. " + why);
        }
        auto placed = place_mount(changed, solution.find(name)->at_mm, -Direction::UnitZ());
        if (!placed) {
            return placed;
        }
        changed = std::move(placed).value().job;
        changed.mounts.back().name = name;
        changed.mounts.back().from_book = true;
    }
    return settled_edit(std::move(changed),
                        (names.size() == 1 ? "add mount " : "add mounts ") + joined_names(names) + " from the book");
}

Result<Edit> answer_mirrored(const Job& job, const survey::Mirrored& question, bool here) {
    const auto& places = here ? question.here_mm : question.there_mm;
    if (question.asked >= places.size() || places.size() != question.points.size()) {
        return bad("There is nothing to be answered.");
    }
    Job changed = job;
    const std::string& name = question.points[question.asked];
    Point& point = entry_of(changed.book, name);
    std::optional<Entry>& about =
        question.coordinate == 0 ? point.about_along : (question.coordinate == 1 ? point.about_out : point.about_up);
    about = rough(places[question.asked][question.coordinate]);
    return settled_edit(std::move(changed), "say where " + name + " is");
}

Result<Edit> set_other_hand(const Job& job, const std::string& path) {
    Job changed = job;
    changed.other_hand = trimmed(path);
    return settled_edit(std::move(changed),
                        path.empty() ? "compare with no other side" : "compare with the other side");
}

}  // namespace sillwright::core

#include "core/edit/book_lists.h"

#include <algorithm>
#include <array>
#include <functional>
#include <utility>

#include "core/edit/book_edit.h"
#include "core/edit/cell.h"
#include "core/job_file/words.h"

namespace sillwright::core {

using geometry::Result;
using geometry::Status;
using survey::Book;
using survey::Instrument;
using survey::Point;
using survey::SetUp;

namespace {

constexpr std::array<std::pair<std::string_view, bool>, 2> k_yes_words{{{"yes", true}, {"no", false}}};
/// In small letters, as they are compared; shown in capitals.
constexpr std::array<std::pair<std::string_view, survey::TapeClass>, 3> k_class_words{
    {{"i", survey::TapeClass::i}, {"ii", survey::TapeClass::ii}, {"iii", survey::TapeClass::iii}}};

/// One column of a list of things: how it is shown, how a text changes a thing.
template <class Thing>
struct Cell {
    BookColumn column;
    std::function<std::string(const Thing&, BareUnit)> text;
    std::function<Status(const std::string&, BareUnit, Thing&)> write;
};

template <class Thing>
Cell<Thing> length(std::string name, std::string help, std::optional<Entry> Thing::*member) {
    return {{std::move(name), std::move(help)},
            [member](const Thing& thing, BareUnit unit) { return length_cell(thing.*member, unit); },
            [member](const std::string& text, BareUnit unit, Thing& thing) {
                return write_cell_text(text, unit, thing.*member);
            }};
}

template <class Thing>
Cell<Thing> angle(std::string name, std::string help, std::optional<geometry::Angle> Thing::*member) {
    return {{std::move(name), std::move(help)},
            [member](const Thing& thing, BareUnit) { return angle_cell(thing.*member); },
            [member](const std::string& text, BareUnit, Thing& thing) { return write_cell_text(text, thing.*member); }};
}

template <class Thing>
Cell<Thing> yes(std::string name, std::string help, bool Thing::*member) {
    return {{std::move(name), std::move(help)},
            [member](const Thing& thing, BareUnit) { return word_cell(k_yes_words, thing.*member); },
            [member](const std::string& text, BareUnit, Thing& thing) {
                return write_cell_word(text, k_yes_words, thing.*member);
            }};
}

template <class Thing>
Cell<Thing> named(std::string help) {
    return {{"name", std::move(help)},
            [](const Thing& thing, BareUnit) { return thing.name; },
            [](const std::string& text, BareUnit, Thing& thing) { return write_cell_name(text, thing.name); }};
}

const std::vector<Cell<Point>>& point_cells() {
    static const std::vector<Cell<Point>> all{
        named<Point>("As readings name it; another name is written in all readings."),
        {{"kind", "mark, mount, door target, profile, other"},
         [](const Point& point, BareUnit) { return word_cell(job_file::k_point_words, point.kind); },
         [](const std::string& text, BareUnit, Point& point) {
             return write_cell_word(text, job_file::k_point_words, point.kind);
         }},
        length<Point>("along", "Held there. Empty: found from the readings.", &Point::along),
        length<Point>("out", "Held there. Empty: found from the readings.", &Point::out),
        length<Point>("up", "Held there. Empty: found from the readings.", &Point::up),
        length<Point>("sd", "Of what is held. Empty: held exactly.", &Point::sd),
        length<Point>("about along", "Roughly where it is: tells one of two mirrored places from the other.",
                      &Point::about_along),
        length<Point>("about out", "Roughly where it is.", &Point::about_out),
        length<Point>("about up", "Roughly where it is.", &Point::about_up)};
    return all;
}

const std::vector<Cell<SetUp>>& set_up_cells() {
    static const std::vector<Cell<SetUp>> all{
        named<SetUp>("How the car stands: wheels, lift."),
        yes<SetUp>("level", "yes: its plumb line is the job's up.", &SetUp::level),
        angle<SetUp>("leans outward", "Degrees. Empty: found from the readings.", &SetUp::roll),
        angle<SetUp>("leans rearward", "Degrees. Empty: found from the readings.", &SetUp::pitch),
        angle<SetUp>("sd of the lean", "Degrees. Empty: the lean is held exactly.", &SetUp::lean_sd)};
    return all;
}

const std::vector<Cell<Instrument>>& instrument_cells() {
    static const std::vector<Cell<Instrument>> all{
        named<Instrument>("As readings name it."),
        {{"kind", "tape, rule, calliper, level, plumb, gauge, gap gauge, protractor"},
         [](const Instrument& one, BareUnit) { return word_cell(job_file::k_instrument_words, one.kind); },
         [](const std::string& text, BareUnit, Instrument& one) {
             return write_cell_word(text, job_file::k_instrument_words, one.kind);
         }},
        {{"class", "Accuracy class on the tape: I, II, III. Empty: not a tape, or none on it."},
         [](const Instrument& one, BareUnit) {
             std::string text = one.tape_class ? word_cell(k_class_words, *one.tape_class) : std::string();
             std::replace(text.begin(), text.end(), 'i', 'I');
             return text;
         },
         [](const std::string& text, BareUnit, Instrument& one) -> Status {
             if (trimmed(text).empty()) {
                 one.tape_class.reset();
                 return std::monostate{};
             }
             survey::TapeClass read{};
             const Status written = write_cell_word(text, k_class_words, read);
             if (written) {
                 one.tape_class = read;
             }
             return written;
         }},
        yes<Instrument>("hook", "yes: read from its hook, or with one end on a surface.", &Instrument::hook),
        length<Instrument>("reader's sd", "Of holding and reading it.", &Instrument::reader_sd),
        length<Instrument>("sd", "Instead of class, hook and reader.", &Instrument::sd),
        angle<Instrument>("sd, degrees", "Of an instrument that reads angles.", &Instrument::angle_sd)};
    return all;
}

template <class Thing>
std::vector<BookColumn> columns_of(const std::vector<Cell<Thing>>& cells) {
    std::vector<BookColumn> columns;
    for (const Cell<Thing>& cell : cells) {
        columns.push_back(cell.column);
    }
    return columns;
}

/// The thing with a text written into it.
template <class Thing>
Result<Thing> written(const std::vector<Cell<Thing>>& cells, std::size_t column, const std::string& text, BareUnit unit,
                      Thing thing) {
    if (const Status status = cells.at(column).write(text, unit, thing); !status) {
        return status.error();
    }
    return thing;
}

template <class Thing>
std::string free_name(const std::vector<Thing>& things, const std::string& stem) {
    const auto taken = [&](const std::string& name) {
        return std::any_of(things.begin(), things.end(), [&](const Thing& one) { return one.name == name; });
    };
    std::string name = stem;
    for (int number = 2; taken(name); ++number) {
        name = stem + " " + std::to_string(number);
    }
    return name;
}

}  // namespace

const std::vector<BookColumn>& book_columns(BookList list) {
    static const std::vector<BookColumn> points = columns_of(point_cells());
    static const std::vector<BookColumn> set_ups = columns_of(set_up_cells());
    static const std::vector<BookColumn> instruments = columns_of(instrument_cells());
    return list == BookList::points ? points : list == BookList::set_ups ? set_ups : instruments;
}

std::size_t book_rows(const Job& job, BookList list) {
    switch (list) {
        case BookList::points:
            return job.book.points.size();
        case BookList::set_ups:
            return job.book.set_ups.size();
        case BookList::instruments:
            break;
    }
    return job.book.instruments.size();
}

std::string book_cell(const Job& job, BookList list, std::size_t row, std::size_t column) {
    switch (list) {
        case BookList::points:
            return point_cells().at(column).text(job.book.points.at(row), job.unit);
        case BookList::set_ups:
            return set_up_cells().at(column).text(job.book.set_ups.at(row), job.unit);
        case BookList::instruments:
            break;
    }
    return instrument_cells().at(column).text(job.book.instruments.at(row), job.unit);
}

Result<Edit> write_book_cell(const Job& job, BookList list, std::size_t row, std::size_t column,
                             const std::string& text) {
    switch (list) {
        case BookList::points: {
            const Point& old = job.book.points.at(row);
            return written(point_cells(), column, text, job.unit, old).and_then([&](const Point& point) {
                return point.name == old.name ? set_point(job, point) : rename_point(job, old.name, point.name);
            });
        }
        case BookList::set_ups: {
            const SetUp& old = job.book.set_ups.at(row);
            return written(set_up_cells(), column, text, job.unit, old).and_then([&](const SetUp& set_up) {
                return set_set_up(job, old.name, set_up);
            });
        }
        case BookList::instruments:
            break;
    }
    const Instrument& old = job.book.instruments.at(row);
    return written(instrument_cells(), column, text, job.unit, old).and_then([&](const Instrument& instrument) {
        return set_instrument(job, old.name, instrument);
    });
}

Result<Edit> add_book_row(const Job& job, BookList list) {
    switch (list) {
        case BookList::points: {
            Point point;
            point.name = free_name(job.book.points, "new mark");
            for (const std::string& name : names_in_book(job.book)) {
                const bool listed = std::any_of(job.book.points.begin(), job.book.points.end(),
                                                [&](const Point& one) { return one.name == name; });
                if (!listed) {
                    point.name = name;
                    break;
                }
            }
            return set_point(job, point);
        }
        case BookList::set_ups: {
            SetUp set_up;
            set_up.name = free_name(job.book.set_ups, job.book.set_ups.empty() ? "wheels" : "lift");
            return set_set_up(job, {}, set_up);
        }
        case BookList::instruments:
            break;
    }
    Instrument instrument;
    instrument.name = free_name(job.book.instruments, "tape");
    return set_instrument(job, {}, instrument);
}

Result<Edit> delete_book_row(const Job& job, BookList list, std::size_t row) {
    switch (list) {
        case BookList::points:
            return delete_point(job, job.book.points.at(row).name);
        case BookList::set_ups:
            return delete_set_up(job, job.book.set_ups.at(row).name);
        case BookList::instruments:
            break;
    }
    return delete_instrument(job, job.book.instruments.at(row).name);
}

std::vector<std::string> names_in_book(const Book& book) {
    std::vector<std::string> names;
    const auto add = [&names](const std::string& name) {
        if (std::find(names.begin(), names.end(), name) == names.end()) {
            names.push_back(name);
        }
    };
    for (const Point& point : book.points) {
        add(point.name);
    }
    for (const survey::Reading& reading : book.readings) {
        std::for_each(reading.points.begin(), reading.points.end(), add);
    }
    return names;
}

}  // namespace sillwright::core

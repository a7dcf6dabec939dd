#include "core/survey/book_csv.h"

#include <algorithm>
#include <array>
#include <map>
#include <optional>
#include <set>
#include <utility>

#include "core/edit/cell.h"
#include "core/job_file/words.h"
#include "core/survey/csv_text.h"
#include "core/survey/reading_line.h"
#include "core/typed.h"

namespace sillwright::core::survey {

using geometry::Error;
using geometry::ErrorCode;
using geometry::Result;

namespace {

constexpr std::array<char, 4> k_separators{';', '\t', '|', ','};

/// What a column holds. Points are the first four.
enum class Field {
    from,
    to,
    third,
    fourth,
    value,
    up,
    kind,
    trace,
    set_up,
    instrument,
    sd,
    note,
    dropped,
    unit,
};

struct Name {
    std::string_view word;
    Field field;
};
constexpr std::array k_names{
    Name{"from", Field::from},      Name{"point 1", Field::from},
    Name{"point1", Field::from},    Name{"to", Field::to},
    Name{"point 2", Field::to},     Name{"point2", Field::to},
    Name{"third", Field::third},    Name{"point 3", Field::third},
    Name{"point3", Field::third},   Name{"fourth", Field::fourth},
    Name{"point 4", Field::fourth}, Name{"point4", Field::fourth},
    Name{"value", Field::value},    Name{"reading", Field::value},
    Name{"length", Field::value},   Name{"distance", Field::value},
    Name{"out", Field::value},      Name{"up", Field::up},
    Name{"kind", Field::kind},      Name{"type", Field::kind},
    Name{"trace", Field::trace},    Name{"set-up", Field::set_up},
    Name{"set up", Field::set_up},  Name{"setup", Field::set_up},
    Name{"set_up", Field::set_up},  Name{"instrument", Field::instrument},
    Name{"by", Field::instrument},  Name{"sd", Field::sd},
    Name{"note", Field::note},      Name{"notes", Field::note},
    Name{"remark", Field::note},    Name{"dropped", Field::dropped},
    Name{"unit", Field::unit},
};

/// Words for units in cells and headers; what is written behind a bare number.
const std::map<std::string, std::string>& unit_words() {
    static const std::map<std::string, std::string> words{
        {"mm", "mm"},     {"cm", "cm"}, {"m", "m"},   {"in", "in"},   {"inch", "in"},
        {"inches", "in"}, {"\"", "in"}, {"ft", "ft"}, {"feet", "ft"}, {"'", "ft"},
    };
    return words;
}

std::string in_words(const std::string& unit) {
    return unit == "in" ? "inches" : unit == "ft" ? "feet" : unit;
}

std::string unit_word(BareUnit unit) {
    return word_cell(job_file::k_unit_words, unit);
}

/// A header's words without the unit in brackets, and that unit.
struct HeaderCell {
    std::string words;
    std::string unit;  ///< Empty if none, or if it is no unit.
};

HeaderCell header_cell(const std::string& text) {
    HeaderCell cell{in_small_letters(trimmed(text)), ""};
    const std::size_t open = cell.words.find_first_of("([");
    if (open != std::string::npos && (cell.words.ends_with(')') || cell.words.ends_with(']'))) {
        const std::string inside = trimmed(cell.words.substr(open + 1, cell.words.size() - open - 2));
        cell.words = trimmed(cell.words.substr(0, open));
        const auto unit = unit_words().find(inside);
        cell.unit = unit == unit_words().end() ? "" : unit->second;
    }
    return cell;
}

std::optional<Field> field_named(const std::string& words) {
    const auto* const found =
        std::find_if(k_names.begin(), k_names.end(), [&](const Name& one) { return one.word == words; });
    return found == k_names.end() ? std::nullopt : std::optional(found->field);
}

std::size_t known_columns(const CsvRecord& header) {
    return static_cast<std::size_t>(std::count_if(header.cells.begin(), header.cells.end(), [](const auto& cell) {
        return field_named(header_cell(cell).words).has_value();
    }));
}

Error refused_file(std::size_t row, std::size_t column, const std::string& sentence) {
    return {ErrorCode::unreadable_file,
            "Row " + std::to_string(row) + ", column " + std::to_string(column) + ": " + sentence};
}

constexpr bool digit(char c) {
    return c >= '0' && c <= '9';
}

/// The unit that is written in a length; empty for a bare number.
std::string unit_in(const std::string& text) {
    if (text.find("''") != std::string::npos || text.find('"') != std::string::npos) {
        return text.find('\'') != std::string::npos && text.find("''") == std::string::npos ? "ft" : "in";
    }
    if (text.find('\'') != std::string::npos) {
        return "ft";
    }
    std::string word;
    for (const char c : in_small_letters(text)) {
        if (c >= 'a' && c <= 'z') {
            word += c;
        } else if (!word.empty()) {
            break;
        }
    }
    const auto unit = unit_words().find(word);
    return unit == unit_words().end() ? "" : unit->second;
}

/// A bare number, or each of a sum, with a unit behind it.
std::string with_unit(const std::string& text, const std::string& unit) {
    std::string written;
    for (const char c : text) {
        written += c == '+' && !written.empty() ? unit + c : std::string(1, c);
    }
    return written + unit;
}

enum class DecimalSign { none, point, comma, unsure };

/// Three digits behind a comma may be thousands; any other number of digits is decimals.
DecimalSign decimal_sign(const std::string& text) {
    if (text.find('.') != std::string::npos) {
        return DecimalSign::point;
    }
    const std::size_t comma = text.find(',');
    if (comma == std::string::npos) {
        return DecimalSign::none;
    }
    std::size_t end = comma + 1;
    while (end < text.size() && digit(text[end])) {
        ++end;
    }
    return end - comma - 1 == 3 ? DecimalSign::unsure : DecimalSign::comma;
}

class CsvReader {
public:
    CsvReader(const Book& book, BareUnit unit) : unit_{unit}, remarks_{book, unit} {
        known_.set_ups = book.set_ups;
        known_.instruments = book.instruments;
    }

    Result<CsvBook> read(const std::string& text) {
        std::vector<CsvRecord> records = told_apart(text);
        if (records.empty()) {
            return refused_file(1, 1, "the file has no row. The first names the columns: " + usual_header() + ".");
        }
        if (const auto header = take_header(records.front()); !header) {
            return header.error();
        }
        records.erase(records.begin());
        if (records.empty()) {
            return refused_file(header_row_ + 1, 1, "no reading stands below the header. Write one in each row.");
        }
        find_decimal_sign(records);
        for (const CsvRecord& record : records) {
            take_row(record);
        }
        return std::move(csv_);
    }

private:
    static std::string usual_header() { return "from,to,value"; }

    /// Cut by the separator that gives the most columns that are known, else the most columns.
    std::vector<CsvRecord> told_apart(const std::string& text) {
        std::vector<CsvRecord> best;
        std::pair<std::size_t, std::size_t> most{0, 0};
        for (const char separator : k_separators) {
            std::vector<CsvRecord> records = csv_records(text, separator);
            drop_separator_line(records);
            if (records.empty()) {
                continue;
            }
            const std::pair count{known_columns(records.front()), records.front().cells.size()};
            if (best.empty() || count > most) {
                most = count;
                best = std::move(records);
                csv_.separator = separator;
            }
        }
        return best;
    }

    /// Spreadsheets may write "sep=;" before all.
    static void drop_separator_line(std::vector<CsvRecord>& records) {
        if (!records.empty() && in_small_letters(trimmed(records.front().text)).starts_with("sep=")) {
            records.erase(records.begin());
        }
    }

    geometry::Status take_header(const CsvRecord& header) {
        csv_.header = header.text;
        header_row_ = header.row;
        for (std::size_t i = 0; i < header.cells.size(); ++i) {
            const HeaderCell cell = header_cell(header.cells[i]);
            names_.push_back(trimmed(header.cells[i]));
            const auto field = field_named(cell.words);
            if (!field) {
                continue;
            }
            if (columns_.contains(*field)) {
                return refused_file(header.row, i + 1,
                                    "the column \"" + names_.back() +
                                        "\" is there twice. Leave one of them out, or name it "
                                        "otherwise.");
            }
            columns_[*field] = i;
            header_units_[*field] = cell.unit;
        }
        return check_header(header);
    }

    geometry::Status check_header(const CsvRecord& header) {
        for (const auto& [field, word] : {std::pair{Field::from, "from"}, {Field::value, "value"}}) {
            if (!columns_.contains(field)) {
                return refused_file(header.row, 1,
                                    "no column is called \"" + std::string(word) +
                                        "\". The first row names the columns, as in " + usual_header() +
                                        "; here it is: " + header.text + ".");
            }
        }
        for (std::size_t i = 0; i < names_.size(); ++i) {
            if (!names_[i].empty() && !field_named(header_cell(names_[i]).words)) {
                csv_.remarks.push_back({header.row, i + 1, names_[i], "no such column is known, so it is left out."});
            }
        }
        return std::monostate{};
    }

    void find_decimal_sign(const std::vector<CsvRecord>& records) {
        bool comma = false;
        bool point = false;
        for (const CsvRecord& record : records) {
            for (const Field field : {Field::value, Field::up, Field::sd}) {
                const DecimalSign sign = decimal_sign(cell(record, field));
                comma = comma || sign == DecimalSign::comma;
                point = point || sign == DecimalSign::point;
            }
        }
        csv_.decimal_comma = comma && !point;
    }

    [[nodiscard]] std::string cell(const CsvRecord& record, Field field) const {
        const auto column = columns_.find(field);
        return column == columns_.end() || column->second >= record.cells.size()
                   ? ""
                   : trimmed(record.cells[column->second]);
    }

    /// Takes a row, or says why not. What is thought of it on the way is forgotten with it.
    void take_row(const CsvRecord& record) {
        row_ = &record;
        pending_.clear();
        Reading reading;
        if (const auto refusal = read_row(reading)) {
            csv_.refused.push_back(*refusal);
            return;
        }
        for (const std::string& words : remarks_.on(reading)) {
            remark(Field::from, words);
        }
        remarks_.add(reading, "row " + std::to_string(record.row));
        note_new(reading.set_up, known_.set_ups, csv_.new_set_ups, Field::set_up, "set-up");
        note_new(reading.instrument, known_.instruments, csv_.new_instruments, Field::instrument, "instrument");
        csv_.remarks.insert(csv_.remarks.end(), pending_.begin(), pending_.end());
        csv_.readings.push_back(std::move(reading));
        csv_.rows.push_back(record.row);
    }

    [[nodiscard]] std::size_t column(Field field) const {
        const auto found = columns_.find(field);
        return found == columns_.end() ? 1 : found->second + 1;
    }

    [[nodiscard]] std::string name_of(std::size_t column) const {
        return column <= names_.size() ? names_[column - 1] : "";
    }

    [[nodiscard]] CsvRefusal refuse(std::size_t column, const std::string& why) const {
        return {row_->row, column, name_of(column), why, row_->text};
    }
    [[nodiscard]] CsvRefusal refuse(Field field, const std::string& why) const { return refuse(column(field), why); }

    void remark(Field field, const std::string& words) {
        pending_.push_back({row_->row, column(field), name_of(column(field)), words});
    }

    std::optional<CsvRefusal> read_row(Reading& reading) {
        if (row_->open) {
            return refuse(1,
                          "a cell in quotation marks does not end in this row; end it, or write the inch mark as in.");
        }
        for (std::size_t i = names_.size(); i < row_->cells.size(); ++i) {
            if (!trimmed(row_->cells[i]).empty()) {
                return refuse(i + 1, std::to_string(row_->cells.size()) +
                                         " cells stand in this row, and the header has " +
                                         std::to_string(names_.size()) +
                                         ". If a decimal comma parts a number, put the number in quotation marks, or "
                                         "part the columns by semicolons.");
            }
        }
        for (const auto read : {&CsvReader::read_points, &CsvReader::read_values, &CsvReader::read_words}) {
            if (const auto refusal = (this->*read)(reading)) {
                return refusal;
            }
        }
        Reading apart = reading;  // New set-ups and instruments come with their rows.
        apart.set_up.clear();
        apart.instrument.clear();
        if (const auto good = reading_fault(apart, {}, unit_); !good) {
            return refuse(Field::value, good.error().message);
        }
        return std::nullopt;
    }

    std::optional<CsvRefusal> read_points(Reading& reading) {
        const std::string kind = cell(*row_, Field::kind);
        if (kind.empty()) {
            reading.kind = cell(*row_, Field::up).empty() ? ReadingKind::tie : ReadingKind::gauge;
        } else if (const auto word =
                       write_cell_word(kind == "tape" ? "tie" : kind, job_file::k_reading_words, reading.kind);
                   !word) {
            return refuse(Field::kind, word.error().message);
        }
        for (const Field field : {Field::from, Field::to, Field::third, Field::fourth}) {
            if (const std::string name = cell(*row_, field); !name.empty()) {
                if (std::find(reading.points.begin(), reading.points.end(), name) != reading.points.end()) {
                    return refuse(field, name + " stands twice in this row; name different points.");
                }
                reading.points.push_back(name);
            }
        }
        const PointCount count = points_in_line(reading.kind);
        if (reading.points.size() < count.least || reading.points.size() > count.most) {
            const std::size_t wanted = std::min<std::size_t>(reading.points.size(), 3);
            const auto field = static_cast<Field>(reading.points.size() > count.most ? count.most : wanted);
            return refuse(field,
                          "a reading of kind " + kind_word(reading.kind) + " names " + std::to_string(count.least) +
                              (count.most > count.least ? " or " + std::to_string(count.most) : "") +
                              (count.most == 1 ? " point" : " points") + ", and here " +
                              (reading.points.size() == 1 ? "is " : "are ") + std::to_string(reading.points.size()) +
                              ", as in " + example_line(reading.kind) + ".");
        }
        return std::nullopt;
    }

    std::optional<CsvRefusal> read_values(Reading& reading) {
        if (cell(*row_, Field::value).empty()) {
            return refuse(Field::value, "the reading is missing; write what was read, or take the row out.");
        }
        const bool by_angle = reading.kind == ReadingKind::angle || reading.kind == ReadingKind::slope;
        if (by_angle) {
            for (const auto& [field, angle] :
                 {std::pair{Field::value, &reading.angle}, {Field::sd, &reading.angle_sd}}) {
                if (const auto written = write_cell_text(cell(*row_, field), *angle); !written) {
                    return refuse(field, written.error().message);
                }
            }
            return std::nullopt;
        }
        for (const auto& [field, value] :
             {std::pair{Field::value, &reading.value}, {Field::up, &reading.up}, {Field::sd, &reading.sd}}) {
            if (field == Field::up && reading.kind != ReadingKind::gauge) {
                if (!cell(*row_, field).empty()) {
                    return refuse(field,
                                  "only a gauge reading has a second length; leave it empty, or write gauge as "
                                  "its kind.");
                }
                continue;
            }
            if (const auto refusal = read_length(field, *value)) {
                return refusal;
            }
        }
        return std::nullopt;
    }

    /// A bare number gets the unit of its row or its column behind it, unless it is the job's own.
    std::optional<CsvRefusal> read_length(Field field, std::optional<Entry>& value) {
        std::string text = cell(*row_, field);
        if (text.empty()) {
            return std::nullopt;
        }
        if (csv_.decimal_comma && decimal_sign(text) == DecimalSign::unsure) {
            text[text.find(',')] = '.';
            remark(field, cell(*row_, field) + " is read as " + text + ", as this file has decimal commas.");
        }
        std::string bare = header_units_[field];
        if (const std::string named = in_small_letters(cell(*row_, Field::unit)); !named.empty()) {
            const auto unit = unit_words().find(named);
            if (unit == unit_words().end()) {
                return refuse(Field::unit,
                              "\"" + cell(*row_, Field::unit) + "\" is not a unit; write mm, cm, m, in or ft.");
            }
            bare = unit->second;
        }
        const std::string own = unit_in(text).empty() ? bare : unit_in(text);
        if (unit_in(text).empty() && !bare.empty() && bare != unit_word(unit_)) {
            text = with_unit(text, " " + bare);
        }
        const auto read = typed_entry(text, unit_);
        if (!read) {
            return refuse(field, "\"" + cell(*row_, field) + "\" is not a length. " + read.error().message);
        }
        value = read.value();
        remark_unit(field, own);
        return std::nullopt;
    }

    /// Rows in another unit than the file's usual one are looked at twice.
    void remark_unit(Field field, const std::string& own) {
        const std::string header = header_units_[field];
        const std::string usual = header.empty() ? unit_word(unit_) : header;
        if (field != Field::sd && !own.empty() && own != usual) {
            remark(field, cell(*row_, field) + " is in " + in_words(own) + ", and bare numbers here are in " +
                              in_words(usual) + "; it is taken as it is written.");
        }
    }

    std::optional<CsvRefusal> read_words(Reading& reading) {
        reading.trace = cell(*row_, Field::trace);
        reading.set_up = cell(*row_, Field::set_up);
        reading.instrument = cell(*row_, Field::instrument);
        reading.note = cell(*row_, Field::note);
        reading.dropped = cell(*row_, Field::dropped);
        if (!reading.trace.empty() && reading.kind != ReadingKind::gauge) {
            return refuse(Field::trace, "only a gauge reading belongs to a trace; leave it empty.");
        }
        if (const auto refusal = check_name(reading.set_up, known_.set_ups, Field::set_up, "set-up")) {
            return refusal;
        }
        return check_name(reading.instrument, known_.instruments, Field::instrument, "instrument");
    }

    /// A new name is taken, but not one that is an old one in other letters.
    template <class Named>
    std::optional<CsvRefusal> check_name(const std::string& name, std::vector<Named>& known, Field field,
                                         const std::string& what) {
        for (const Named& one : known) {
            if (one.name != name && in_small_letters(one.name) == in_small_letters(name)) {
                return refuse(field, "there is a " + what + " \"" + one.name + "\", and \"" + name +
                                         "\" would be another; write " + one.name + ".");
            }
        }
        return std::nullopt;
    }

    template <class Named>
    void note_new(const std::string& name, std::vector<Named>& known, std::vector<std::string>& fresh, Field field,
                  const std::string& what) {
        const auto is = [&](const Named& one) { return one.name == name; };
        if (name.empty() || std::any_of(known.begin(), known.end(), is)) {
            return;
        }
        Named one;
        one.name = name;
        known.push_back(one);
        fresh.push_back(name);
        remark(field, "the " + what + " \"" + name + "\" is new in this book.");
    }

    BareUnit unit_;
    ReadingRemarks remarks_;
    Book known_;  ///< Set-ups and instruments alone: of the book, and that came with rows.
    CsvBook csv_;
    std::size_t header_row_ = 1;
    std::vector<std::string> names_;
    std::map<Field, std::size_t> columns_;
    std::map<Field, std::string> header_units_;
    const CsvRecord* row_ = nullptr;
    std::vector<CsvRemark> pending_;
};

std::string place(std::size_t row, std::size_t column, const std::string& name) {
    return "Row " + std::to_string(row) + ", column " + std::to_string(column) +
           (name.empty() ? "" : " (" + name + ")") + ": ";
}

}  // namespace

Result<CsvBook> book_of_csv(std::string_view bytes, const Book& book, BareUnit unit) {
    return csv_characters(bytes).and_then([&](const std::string& text) { return CsvReader(book, unit).read(text); });
}

std::string words_of(const CsvRefusal& refusal) {
    return place(refusal.row, refusal.column, refusal.column_name) + refusal.why;
}

std::string words_of(const CsvRemark& remark) {
    return place(remark.row, remark.column, remark.column_name) + remark.words;
}

std::string refused_csv(const CsvBook& csv) {
    if (csv.refused.empty()) {
        return {};
    }
    std::string text = csv.header + "\n";
    for (const CsvRefusal& refusal : csv.refused) {
        text += refusal.text + "\n";
    }
    return text;
}

std::string csv_of_book(const Book& book, BareUnit unit) {
    constexpr char separator = ',';
    std::string text = "kind,from,to,third,fourth,value (" + unit_word(unit) + "),up (" + unit_word(unit) +
                       "),trace,set-up,instrument,sd (" + unit_word(unit) + "),dropped,note\n";
    for (const Reading& reading : book.readings) {
        const auto point = [&](std::size_t i) { return i < reading.points.size() ? reading.points[i] : std::string(); };
        const bool by_angle = reading.kind == ReadingKind::angle || reading.kind == ReadingKind::slope;
        const std::array cells{kind_word(reading.kind),
                               point(0),
                               point(1),
                               point(2),
                               point(3),
                               by_angle ? angle_cell(reading.angle) : length_cell(reading.value, unit),
                               length_cell(reading.up, unit),
                               reading.trace,
                               reading.set_up,
                               reading.instrument,
                               by_angle ? angle_cell(reading.angle_sd) : length_cell(reading.sd, unit),
                               reading.dropped,
                               reading.note};
        for (std::size_t i = 0; i < cells.size(); ++i) {
            text += (i == 0 ? "" : std::string(1, separator)) + csv_cell(cells[i], separator);
        }
        text += "\n";
    }
    return text;
}

}  // namespace sillwright::core::survey

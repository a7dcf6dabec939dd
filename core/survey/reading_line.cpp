#include "core/survey/reading_line.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <optional>
#include <set>
#include <string_view>
#include <utility>

#include "core/edit/cell.h"
#include "core/edit/new_names.h"
#include "core/job_file/words.h"
#include "core/plain_text.h"
#include "core/typed.h"

namespace sillwright::core::survey {

using geometry::Error;
using geometry::ErrorCode;
using geometry::Result;
using geometry::Status;

namespace {

constexpr geometry::Angle k_most_angle = geometry::degrees(180.0);
constexpr geometry::Angle k_most_slope = geometry::degrees(90.0);
constexpr std::array<std::string_view, 3> k_tail_words{"by", "sd", "trace"};

/// All about a kind of reading that its line needs.
struct Kind {
    ReadingKind kind;
    PointCount points;
    std::string_view what;  ///< "a tie is between two points"
    std::string_view example;
};
constexpr std::array<Kind, 12> k_kinds{{
    {ReadingKind::tie, {2, 2}, "a tie names two points", "E H1 1473.5"},
    {ReadingKind::height, {2, 2}, "a height names two points", "height A H1 -212"},
    {ReadingKind::offset, {3, 3}, "an offset names the string's two ends and the point", "offset S1 S2 P3 12"},
    {ReadingKind::plane, {4, 4}, "a plane reading names three points of the plane and the point", "plane A B C H1 41"},
    {ReadingKind::along, {2, 2}, "a reading along names two points", "along A H1 350"},
    {ReadingKind::out, {2, 2}, "a reading out names two points", "out A H1 -64"},
    {ReadingKind::up, {2, 2}, "a reading up names two points", "up A H1 3 1/2\""},
    {ReadingKind::gauge, {2, 2}, "a gauge reading names two points", "gauge A P1 412 188"},
    {ReadingKind::gap, {1, 2}, "a gap names one point or two", "gap D1 5.2"},
    {ReadingKind::depth, {1, 2}, "a depth names one point or two", "depth D1 4"},
    {ReadingKind::angle,
     {3, 3},
     "an angle names where it is, then the two points that it is between",
     "angle A B C 62.5"},
    {ReadingKind::slope, {2, 2}, "a slope names two points", "slope A B 1.5"},
}};

const Kind& about(ReadingKind kind) {
    return *std::find_if(k_kinds.begin(), k_kinds.end(), [&](const Kind& one) { return one.kind == kind; });
}

std::string quote(std::string_view text) {
    return "\"" + std::string(text) + "\"";
}

std::optional<ReadingKind> kind_named(const std::string& word) {
    const std::string small = in_small_letters(word);
    if (small == "tape") {
        return ReadingKind::tie;
    }
    for (const auto& [name, kind] : job_file::k_reading_words) {
        if (small == name) {
            return kind;
        }
    }
    return std::nullopt;
}

bool tail_word(const std::string& word) {
    return std::find(k_tail_words.begin(), k_tail_words.end(), in_small_letters(word)) != k_tail_words.end();
}

Error bad(std::string message) {
    return {ErrorCode::invalid_argument, std::move(message)};
}

/// A word of the line.
struct Word {
    std::string text;  ///< Without its quotation marks, or the @ before it.
    std::size_t begin = 0, end = 0;
    bool quoted = false;
    bool at = false;  ///< Had an @ before it.
};

constexpr bool blank(char c) {
    return c == ' ' || c == '\t' || c == '\r' || c == '\n';
}

/// Cuts a line into its words; what stands behind # is the note.
class Words {
public:
    explicit Words(const std::string& line) : line_{line} {
        for (std::size_t i = 0; i < line_.size();) {
            if (blank(line_[i])) {
                ++i;
            } else if (line_[i] == '#') {
                note_place_ = i;
                note_ = trimmed(line_.substr(i + 1));
                break;
            } else {
                i = take(i);
            }
        }
    }

    [[nodiscard]] const std::vector<Word>& all() const { return words_; }
    [[nodiscard]] const std::optional<std::string>& note() const { return note_; }
    /// Column in characters, from 1, of a byte of the line.
    [[nodiscard]] std::size_t column(std::size_t byte) const {
        return columns(std::string_view(line_).substr(0, byte)) + 1;
    }
    /// Where what counts of the line ends.
    [[nodiscard]] std::size_t end() const { return words_.empty() ? 0 : words_.back().end; }
    /// Of the line, from one word to before another.
    [[nodiscard]] std::string text(std::size_t first, std::size_t last) const {
        return first < last ? line_.substr(words_[first].begin, words_[last - 1].end - words_[first].begin) : "";
    }

private:
    std::size_t take(std::size_t begin) {
        Word word;
        word.begin = begin;
        std::size_t i = begin;
        if (line_[i] == '@') {
            word.at = true;
            ++i;
        }
        if (i < line_.size() && line_[i] == '"') {
            if (const auto end = quoted_end(i, word.text)) {
                word.quoted = true;
                word.end = *end;
                words_.push_back(std::move(word));
                return *end;
            }
        }
        const std::size_t first = i;
        while (i < line_.size() && !blank(line_[i])) {
            ++i;
        }
        word.text = line_.substr(first, i - first);
        word.end = i;
        words_.push_back(std::move(word));
        return i;
    }

    /// The end of the quoted name that begins at `i`; none if it does not end before a space.
    std::optional<std::size_t> quoted_end(std::size_t i, std::string& text) const {
        for (++i; i < line_.size(); ++i) {
            if (line_[i] != '"') {
                text += line_[i];
            } else if (i + 1 < line_.size() && line_[i + 1] == '"') {
                text += line_[++i];
            } else if (i + 1 == line_.size() || blank(line_[i + 1])) {
                return i + 1;
            } else {
                break;
            }
        }
        text.clear();
        return std::nullopt;
    }

    const std::string& line_;
    std::vector<Word> words_;
    std::optional<std::string> note_;
    std::size_t note_place_ = 0;
};

bool length_begins(const std::string& word) {
    if (word.empty()) {
        return false;
    }
    const char c = word.front();
    return (c >= '0' && c <= '9') || c == '-' || c == '+' || c == '.' || c == ',' ||
           static_cast<unsigned char>(c) > 127;
}

class Line {
public:
    Line(const std::string& line, const Book& book, BareUnit unit) : words_{line}, book_{book}, unit_{unit} {}

    Result<Reading> read(const std::string& set_up) {
        reading_.id = next_reading_id(book_);
        reading_.set_up = set_up;
        reading_.note = words_.note().value_or("");
        take_kind();
        for (const auto step : {&Line::take_tail, &Line::take_names, &Line::take_value, &Line::check}) {
            if (const Status done = (this->*step)(); !done) {
                return done.error();
            }
        }
        return reading_;
    }

private:
    [[nodiscard]] const std::vector<Word>& all() const { return words_.all(); }

    [[nodiscard]] Error refuse(std::size_t byte, const std::string& sentence) const {
        return bad("Column " + std::to_string(words_.column(byte)) + ": " + sentence);
    }

    [[nodiscard]] std::string as_in() const { return "as in " + std::string(about(reading_.kind).example); }

    void take_kind() {
        if (!all().empty() && !all().front().quoted && !all().front().at) {
            if (const auto kind = kind_named(all().front().text)) {
                reading_.kind = *kind;
                first_ = 1;
            }
        }
    }

    /// From the first word of the tail on; `last_` is where it begins.
    Status take_tail() {
        last_ = first_;
        while (last_ < all().size() && !begins_tail(all()[last_])) {
            ++last_;
        }
        std::set<std::string> taken;
        for (std::size_t i = last_; i < all().size();) {
            const Word& word = all()[i];
            const std::string what = word.at ? "@" : in_small_letters(word.text);
            if (!taken.insert(what).second) {
                return refuse(word.begin, what + " stands there twice; once is right.");
            }
            std::size_t end = i + 1;
            while (end < all().size() && !begins_tail(all()[end])) {
                ++end;
            }
            if (const Status done = word.at ? take_set_up(i, end) : take_tail_part(what, i, end); !done) {
                return done;
            }
            i = end;
        }
        return std::monostate{};
    }

    static bool begins_tail(const Word& word) { return word.at || (!word.quoted && tail_word(word.text)); }

    Status take_set_up(std::size_t i, std::size_t end) {
        std::string name = all()[i].text;
        if (end > i + 1) {
            name += (name.empty() ? "" : " ") + words_.text(i + 1, end);
        }
        if (find_named(book_.set_ups, name)) {
            reading_.set_up = name;
            return std::monostate{};
        }
        return refuse(all()[i].begin, "there is no set-up " + quote(name) + " in this book; " +
                                          known(book_.set_ups, "@", "leave it out, or add the set-up first."));
    }

    Status take_tail_part(const std::string& what, std::size_t i, std::size_t end) {
        if (end == i + 1) {
            return refuse(all()[i].begin, what == "by"   ? "the instrument's name is missing after by, as in by tape."
                                          : what == "sd" ? "the number is missing after sd, as in sd 0.8."
                                                         : "the name is missing after trace, as in trace 2.");
        }
        const std::string text = end == i + 2 ? all()[i + 1].text : words_.text(i + 1, end);
        if (what == "by") {
            if (!find_named(book_.instruments, text)) {
                return refuse(all()[i + 1].begin,
                              "there is no instrument " + quote(text) + " in this book; " +
                                  known(book_.instruments, "by ", "leave it out, or add the instrument first."));
            }
            reading_.instrument = text;
        } else if (what == "trace") {
            if (reading_.kind != ReadingKind::gauge) {
                return refuse(all()[i].begin, "only a gauge reading belongs to a trace; leave it out.");
            }
            reading_.trace = text;
        } else if (reading_.kind == ReadingKind::angle || reading_.kind == ReadingKind::slope) {
            return take_angle(all()[i + 1].begin, words_.text(i + 1, end), reading_.angle_sd);
        } else {
            return take_length(all()[i + 1].begin, words_.text(i + 1, end), reading_.sd);
        }
        return std::monostate{};
    }

    template <class Named>
    static bool find_named(const std::vector<Named>& list, const std::string& name) {
        return std::any_of(list.begin(), list.end(), [&](const Named& one) { return one.name == name; });
    }

    /// "write @wheels or @lift, or " and what else can be done.
    template <class Named>
    static std::string known(const std::vector<Named>& list, const std::string& lead, const std::string& else_do) {
        std::string names;
        for (const Named& one : list) {
            names += (names.empty() ? "write " : " or ") + lead + one.name;
        }
        return names.empty() ? else_do : names + ", or " + else_do;
    }

    Status take_names() {
        const PointCount count = points_in_line(reading_.kind);
        std::size_t names = std::min(count.most, last_ - std::min(first_, last_));
        if (count.least < count.most && value_behind(count.least)) {
            names = count.least;
        }
        if (names < count.least) {
            return too_few();
        }
        for (std::size_t i = first_; i < first_ + names; ++i) {
            if (const Status good = take_name(all()[i]); !good) {
                return good;
            }
        }
        first_ += names;
        return std::monostate{};
    }

    /// Whether a length, and nothing else, stands behind so many names.
    [[nodiscard]] bool value_behind(std::size_t names) const {
        const std::size_t from = first_ + names;
        return from < last_ && !all()[from].quoted && typed_entry(words_.text(from, last_), unit_).has_value();
    }

    Status take_name(const Word& word) {
        if (!word.quoted && word.text.find_first_of(",;") != std::string::npos) {
            return refuse(word.begin, "points are parted by spaces, not by commas, " + as_in() + ".");
        }
        if (!word.quoted && word.text.front() == '"') {
            return refuse(word.begin, "the name in quotation marks does not end; write " + word.text + "\".");
        }
        if (word.text.empty()) {
            return refuse(word.begin, "a point's name is empty; write its name.");
        }
        if (std::find(reading_.points.begin(), reading_.points.end(), word.text) != reading_.points.end()) {
            return refuse(word.begin, word.text + " stands twice in this reading; name " +
                                          (points_in_line(reading_.kind).most == 2 ? "two" : "only") +
                                          " different points, " + as_in() + ".");
        }
        reading_.points.push_back(word.text);
        return std::monostate{};
    }

    [[nodiscard]] Error too_few() const {
        const Word* front = all().empty() ? nullptr : &all().front();
        const bool kind_said = first_ == 1;
        const std::string sentence =
            all().empty()
                ? "the line is empty; write two points and what was read between them, " + as_in() + "."
                : "names are missing: " + std::string(about(reading_.kind).what) + ", " + as_in() + "." +
                      (kind_said ? " A point that is called " + quote(front->text) + " is written in quotation marks."
                                 : "");
        return refuse(words_.end(), sentence);
    }

    Status take_value() {
        if (first_ >= last_) {
            return refuse(words_.end(), "the reading is missing: " + std::string(about(reading_.kind).what) +
                                            ", then what was read, " + as_in() + ".");
        }
        const Word& word = all()[first_];
        if (word.quoted || (first_ + 1 < last_ && !length_begins(word.text))) {
            return refuse(word.begin, quote(word.text) + " is one name too many: " +
                                          std::string(about(reading_.kind).what) + ", " + as_in() + ".");
        }
        const std::string text = words_.text(first_, last_);
        switch (reading_.kind) {
            case ReadingKind::angle:
            case ReadingKind::slope:
                return take_angle(word.begin, text, reading_.angle);
            case ReadingKind::gauge:
                return take_two(word.begin, text);
            default:
                return take_length(word.begin, text, reading_.value);
        }
    }

    /// Columns of the length's own errors are those of the line.
    Status take_length(std::size_t byte, const std::string& text, std::optional<Entry>& value) const {
        const auto read = typed_entry(std::string(words_.column(byte) - 1, ' ') + text, unit_);
        if (!read) {
            return read.error();
        }
        value = Entry{read.value().value, text};
        return std::monostate{};
    }

    Status take_angle(std::size_t byte, const std::string& text, std::optional<geometry::Angle>& value) const {
        const Status written = write_cell_text(text, value);
        return written ? written : refuse(byte, written.error().message);
    }

    /// Out and up of a gauge: parted by a semicolon, or in the one way that gives two lengths.
    Status take_two(std::size_t byte, const std::string& text) {
        std::vector<std::pair<std::string, std::string>> ways;
        if (const std::size_t semicolon = text.find(';'); semicolon != std::string::npos) {
            ways.emplace_back(trimmed(text.substr(0, semicolon)), trimmed(text.substr(semicolon + 1)));
        } else {
            for (std::size_t i = first_ + 1; i < last_; ++i) {
                ways.emplace_back(words_.text(first_, i), words_.text(i, last_));
            }
        }
        std::erase_if(
            ways, [&](const auto& way) { return !typed_entry(way.first, unit_) || !typed_entry(way.second, unit_); });
        if (ways.empty()) {
            return refuse(byte, quote(text) +
                                    " is not two lengths; a gauge reading has two, how far out and how far up, " +
                                    as_in() + ".");
        }
        if (ways.size() > 1) {
            return refuse(byte, quote(text) +
                                    " can be parted in two ways; write a semicolon between out and up, as in " +
                                    ways.front().first + "; " + ways.front().second + ".");
        }
        reading_.value = typed_entry(ways.front().first, unit_).value();
        reading_.up = typed_entry(ways.front().second, unit_).value();
        return std::monostate{};
    }

    Status check() {
        const Status good = reading_fault(reading_, book_, unit_);
        return good ? good : refuse(all()[first_].begin, good.error().message);
    }

    Words words_;
    const Book& book_;
    BareUnit unit_;
    Reading reading_;
    std::size_t first_ = 0;  ///< The next word that is not taken yet.
    std::size_t last_ = 0;   ///< The first word of the tail.
};

bool never_negative(ReadingKind kind) {
    return kind == ReadingKind::tie || kind == ReadingKind::gap || kind == ReadingKind::depth;
}

bool by_angle(ReadingKind kind) {
    return kind == ReadingKind::angle || kind == ReadingKind::slope;
}

std::string lower_instead(const Reading& reading, BareUnit unit) {
    return reading.kind == ReadingKind::tie
               ? " If " + reading.points.back() + " is lower, write height " + reading.points.front() + " " +
                     reading.points.back() + " " + entry_text(*reading.value, unit) + "."
               : "";
}

Status value_fault(const Reading& reading, BareUnit unit) {
    if (by_angle(reading.kind)) {
        if (!reading.angle) {
            return bad("the angle is missing; write it in degrees.");
        }
        const bool angle = reading.kind == ReadingKind::angle;
        const bool good = angle ? *reading.angle > geometry::Angle{} && *reading.angle < k_most_angle
                                : *reading.angle > -k_most_slope && *reading.angle < k_most_slope;
        return good ? Status(std::monostate{})
                    : bad(angle ? "an angle between two lines is above 0 and below 180 degrees; write it so."
                                : "a slope is above -90 and below 90 degrees; write it so.");
    }
    if (!reading.value) {
        return bad("the length that was read is missing; write it.");
    }
    if (reading.kind == ReadingKind::gauge && !reading.up) {
        return bad("a gauge reading has two lengths, out and up; write both.");
    }
    if (never_negative(reading.kind) && reading.value->value < geometry::Length{}) {
        return bad(entry_text(*reading.value, unit) + " is below zero, and a " + kind_word(reading.kind) +
                   " cannot be. Write it without the minus." + lower_instead(reading, unit));
    }
    if (reading.kind == ReadingKind::tie && reading.value->value == geometry::Length{}) {
        return bad("a tie of zero joins no two points; write what the tape showed.");
    }
    return std::monostate{};
}

template <class Named>
bool known_name(const std::vector<Named>& list, const std::string& name) {
    return name.empty() || std::any_of(list.begin(), list.end(), [&](const Named& one) { return one.name == name; });
}

/// Letters alone, small: what is left of a name where two are easily mixed up.
std::string bare_name(const std::string& name) {
    std::string bare;
    for (const char c : in_small_letters(name)) {
        if (!blank(c) && c != '-' && c != '_' && c != '.') {
            bare += c;
        }
    }
    return bare;
}

/// The same for readings of the same, whatever their note, sureness and id.
std::string what_was_read(const Reading& reading) {
    Reading bare;
    bare.kind = reading.kind;
    bare.points = reading.points;
    bare.value = reading.value ? std::optional(entry(reading.value->value)) : std::nullopt;
    bare.up = reading.up ? std::optional(entry(reading.up->value)) : std::nullopt;
    bare.angle = reading.angle;
    bare.set_up = reading.set_up;
    return line_of_reading(bare, BareUnit::mm);
}

/// A name as it must be written in a line. `value_follows`: it could be taken for the value.
std::string written_name(const std::string& name, bool first, bool could_be_value) {
    const bool needs = name.empty() || name.find_first_of(" \t\r\n\",;") != std::string::npos || name.front() == '@' ||
                       name.front() == '#' || tail_word(name) || (first && kind_named(name)) ||
                       (could_be_value && length_begins(name));
    if (!needs) {
        return name;
    }
    std::string quoted = "\"";
    for (const char c : name) {
        quoted += c == '"' ? "\"\"" : std::string(1, c);
    }
    return quoted + "\"";
}

std::string value_text(const Reading& reading, BareUnit unit) {
    if (by_angle(reading.kind)) {
        return angle_cell(reading.angle);
    }
    std::string text = length_cell(reading.value, unit);
    if (reading.kind == ReadingKind::gauge) {
        text += "; " + length_cell(reading.up, unit);
    }
    return text;
}

}  // namespace

PointCount points_in_line(ReadingKind kind) {
    return about(kind).points;
}

std::string kind_word(ReadingKind kind) {
    return word_cell(job_file::k_reading_words, kind);
}

std::string example_line(ReadingKind kind) {
    return std::string(about(kind).example);
}

Result<Reading> reading_of_line(const std::string& line, const Book& book, BareUnit unit, const std::string& set_up) {
    return Line(line, book, unit).read(set_up);
}

Status reading_fault(const Reading& reading, const Book& book, BareUnit unit) {
    const PointCount count = points_in_line(reading.kind);
    if (reading.points.size() < count.least || reading.points.size() > count.most) {
        return bad(std::string(about(reading.kind).what) + ", and here are " + std::to_string(reading.points.size()) +
                   "; write it " + "as in " + example_line(reading.kind) + ".");
    }
    for (std::size_t i = 0; i < reading.points.size(); ++i) {
        if (reading.points[i].empty()) {
            return bad("a point has no name; write one.");
        }
        if (std::find(reading.points.begin(), reading.points.begin() + static_cast<std::ptrdiff_t>(i),
                      reading.points[i]) != reading.points.begin() + static_cast<std::ptrdiff_t>(i)) {
            return bad(reading.points[i] + " stands twice in this reading; name different points.");
        }
    }
    if (const Status value = value_fault(reading, unit); !value) {
        return value;
    }
    if (reading.sd && !(reading.sd->value > geometry::Length{})) {
        return bad("the sd " + entry_text(*reading.sd, unit) + " is not above zero; write how sure the reading is.");
    }
    if (reading.angle_sd && !(*reading.angle_sd > geometry::Angle{})) {
        return bad("the sd is not above zero; write how sure the reading is, in degrees.");
    }
    if (!known_name(book.set_ups, reading.set_up)) {
        return bad("there is no set-up " + quote(reading.set_up) + " in this book; add it first, or leave it out.");
    }
    if (!known_name(book.instruments, reading.instrument)) {
        return bad("there is no instrument " + quote(reading.instrument) +
                   " in this book; add it first, or leave it out.");
    }
    return std::monostate{};
}

std::string line_of_reading(const Reading& reading, BareUnit unit) {
    std::string line = reading.kind == ReadingKind::tie ? "" : kind_word(reading.kind);
    const auto add = [&](const std::string& more) { line += (line.empty() ? "" : " ") + more; };
    const PointCount count = points_in_line(reading.kind);
    for (std::size_t i = 0; i < reading.points.size(); ++i) {
        add(written_name(reading.points[i], line.empty(), i >= count.least));
    }
    if (const std::string value = value_text(reading, unit); !value.empty()) {
        add(value);
    }
    if (!reading.set_up.empty()) {
        add("@" + written_name(reading.set_up, false, false));
    }
    if (!reading.instrument.empty()) {
        add("by " + written_name(reading.instrument, false, false));
    }
    if (reading.sd || reading.angle_sd) {
        add("sd " + (by_angle(reading.kind) ? angle_cell(reading.angle_sd) : length_cell(reading.sd, unit)));
    }
    if (!reading.trace.empty()) {
        add("trace " + written_name(reading.trace, false, false));
    }
    if (!reading.note.empty()) {
        add("# " + reading.note);
    }
    return line;
}

ReadingRemarks::ReadingRemarks(const Book& book, BareUnit unit) : unit_{unit} {
    for (const Point& point : book.points) {
        names_[bare_name(point.name)].insert(point.name);
    }
    for (std::size_t i = 0; i < book.readings.size(); ++i) {
        add(book.readings[i], "reading " + std::to_string(i + 1));
    }
}

std::vector<std::string> ReadingRemarks::on(const Reading& reading) const {
    std::vector<std::string> remarks;
    for (const std::string& name : reading.points) {
        const auto like = names_.find(bare_name(name));
        if (like == names_.end() || like->second.contains(name)) {
            continue;
        }
        const std::string& other = *like->second.begin();
        remarks.push_back(name + " is new, and the book has " + other + ": are they one point? Then write " + other +
                          ".");
    }
    if (const auto there = places_.find(what_was_read(reading)); there != places_.end()) {
        remarks.push_back("The same stands there already, as " + there->second + ": " +
                          line_of_reading(reading, unit_) +
                          ". Measured twice it counts twice; copied twice, drop one.");
    }
    return remarks;
}

void ReadingRemarks::add(const Reading& reading, const std::string& place) {
    for (const std::string& name : reading.points) {
        names_[bare_name(name)].insert(name);
    }
    places_.emplace(what_was_read(reading), place);
}

std::vector<std::string> remarks_on(const Reading& reading, const Book& book, BareUnit unit) {
    return ReadingRemarks(book, unit).on(reading);
}

std::string next_reading_id(const Book& book) {
    std::set<std::string> taken;
    for (const Reading& reading : book.readings) {
        taken.insert(reading.id);
    }
    return next_name(taken, "r");
}

}  // namespace sillwright::core::survey

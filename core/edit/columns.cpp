#include "core/edit/columns.h"

#include <utility>

#include "core/edit/cell.h"
#include "core/job_file/words.h"
#include "core/number_text.h"

namespace sillwright::core {

using geometry::Status;

namespace {

constexpr job_file::Words<bool, 2> k_yes_no{{{"yes", true}, {"no", false}}};

const std::string k_length_help = "A length, such as 38, 38.5 mm or 1 1/2\"";

std::string or_empty(const std::string& what) {
    return what + "; empty if it is not measured.";
}

/// The list of a job whose items are the rows of a table.
template <class Row>
struct RowsOf;

template <>
struct RowsOf<Mount> {
    static constexpr auto list = &Job::mounts;
};
template <>
struct RowsOf<Station> {
    static constexpr auto list = &Job::stations;
};
template <>
struct RowsOf<Door> {
    static constexpr auto list = &Job::doors;
};
template <>
struct RowsOf<KeepOut> {
    static constexpr auto list = &Job::keep_outs;
};

template <class Row>
const Row& row_of(const Job& job, std::size_t row) {
    return (job.*RowsOf<Row>::list).at(row);
}

template <class Row>
Row& row_of(Job& job, std::size_t row) {
    return (job.*RowsOf<Row>::list).at(row);
}

/// A length that must be there, or may be not measured. `get`: Row& to Entry& or optional<Entry>&.
template <class Row, class Get>
Column length(const std::string& name, const std::string& pointer, const std::string& help, Get get) {
    return {{name, help},
            pointer,
            [get](const Job& job, std::size_t row) {
                Row copy = row_of<Row>(job, row);
                return length_cell(get(copy), job.unit);
            },
            [get](Job& job, std::size_t row, const std::string& text) {
                return write_cell_text(text, job.unit, get(row_of<Row>(job, row)));
            }};
}

template <class Row, class Get, class List>
Column word(const std::string& name, const std::string& pointer, const List& words, Get get) {
    std::string all;
    for (const auto& [text, choice] : words) {
        all += (all.empty() ? "" : ", ") + std::string(text);
    }
    return {{name, "One of: " + all + "."},
            pointer,
            [get, words](const Job& job, std::size_t row) {
                Row copy = row_of<Row>(job, row);
                return word_cell(words, get(copy));
            },
            [get, words](Job& job, std::size_t row, const std::string& text) {
                return write_cell_word(text, words, get(row_of<Row>(job, row)));
            }};
}

template <class Row>
Column name(const std::string& help) {
    return {{"name", help},
            "/name",
            [](const Job& job, std::size_t row) { return row_of<Row>(job, row).name; },
            [](Job& job, std::size_t row, const std::string& text) {
                return write_cell_name(text, row_of<Row>(job, row).name);
            }};
}

/// A length in a part of a door that is there only if something of it is measured.
template <class Part, class Get>
Column door_length(const std::string& name, const std::string& pointer, const std::string& help,
                   std::optional<Part> Door::*part, Get get) {
    return {{name, or_empty(help)},
            pointer,
            [part, get](const Job& job, std::size_t row) {
                Part copy = (row_of<Door>(job, row).*part).value_or(Part{});
                return length_cell(get(copy), job.unit);
            },
            [part, get](Job& job, std::size_t row, const std::string& text) -> Status {
                std::optional<Part>& there = row_of<Door>(job, row).*part;
                Part changed = there.value_or(Part{});
                auto status = write_cell_text(text, job.unit, get(changed));
                if (status) {
                    there = changed == Part{} ? std::nullopt : std::optional(std::move(changed));
                }
                return status;
            }};
}

std::vector<Column> mount_columns() {
    const std::string length_or_empty = or_empty(k_length_help);
    std::vector<Column> all;
    all.push_back(name<Mount>("What the mount is called, such as H9; each its own."));
    all.push_back(word<Mount>("kind", "/kind", job_file::k_mount_words, [](Mount& m) -> MountKind& { return m.kind; }));
    all.push_back(
        word<Mount>("shape", "/shape", job_file::k_shape_words, [](Mount& m) -> HoleShape& { return m.shape; }));
    all.push_back(word<Mount>("use", "/use", job_file::k_use_words, [](Mount& m) -> MountUse& { return m.use; }));
    const auto place = [&](const std::string& axis, Entry Position::*number) {
        all.push_back(length<Mount>(axis, "/at/" + axis, k_length_help + ": where its centre is on the seat.",
                                    [number](Mount& m) -> Entry& { return m.at.*number; }));
    };
    place("along", &Position::along);
    place("out", &Position::out);
    place("up", &Position::up);
    all.push_back({{"axis", "Three numbers for along, out and up, away from the body, such as 0 0 -1 for down."},
                   "/axis",
                   [](const Job& job, std::size_t row) { return direction_cell(row_of<Mount>(job, row).axis); },
                   [](Job& job, std::size_t row, const std::string& text) {
                       return write_cell_direction(text, row_of<Mount>(job, row).axis);
                   }});
    const auto size = [&](const std::string& title, const std::string& pointer, std::optional<Entry> Mount::*number) {
        all.push_back(length<Mount>(title, pointer, length_or_empty,
                                    [number](Mount& m) -> std::optional<Entry>& { return m.*number; }));
    };
    size("size", "/size", &Mount::size);
    size("slot length", "/slot_length", &Mount::slot_length);
    size("panel thickness", "/panel_thickness", &Mount::panel_thickness);
    size("free depth", "/free_depth", &Mount::free_depth);
    const auto deviation = [&](const std::string& axis, std::size_t k) {
        all.push_back(length<Mount>("sd " + axis, "/sd/" + std::to_string(k),
                                    or_empty("How far a reading of " + axis + " strays: its standard deviation"),
                                    [k](Mount& m) -> std::optional<Entry>& { return m.sd.at(k); }));
    };
    deviation("along", 0);
    deviation("out", 1);
    deviation("up", 2);
    size("hole in the part", "/part_hole", &Mount::part_hole);
    size("slot in the part", "/part_slot", &Mount::part_slot);
    all.push_back({{"fastener", "What the fastener is called; empty if it is not known."},
                   "/fastener/name",
                   [](const Job& job, std::size_t row) { return row_of<Mount>(job, row).fastener.name; },
                   [](Job& job, std::size_t row, const std::string& text) -> Status {
                       row_of<Mount>(job, row).fastener.name = trimmed(text);
                       return std::monostate{};
                   }});
    const auto fastener = [&](const std::string& title, const std::string& pointer,
                              std::optional<Entry> Fastener::*number) {
        all.push_back(length<Mount>(title, "/fastener" + pointer, length_or_empty,
                                    [number](Mount& m) -> std::optional<Entry>& { return m.fastener.*number; }));
    };
    fastener("diameter", "/diameter", &Fastener::diameter);
    fastener("head", "/head_diameter", &Fastener::head_diameter);
    fastener("grip, least", "/grip_least", &Fastener::grip_least);
    fastener("grip, most", "/grip_most", &Fastener::grip_most);
    fastener("spacer", "/spacer", &Fastener::spacer);
    size("shift in the part", "/part_shift", &Mount::part_shift);
    all.push_back(word<Mount>("fastener's kind", "/fastener/kind", job_file::k_fastener_words,
                              [](Mount& m) -> FastenerKind& { return m.fastener.kind; }));
    fastener("fits holes, least", "/hole_least", &Fastener::hole_least);
    fastener("fits holes, most", "/hole_most", &Fastener::hole_most);
    fastener("tail behind the panel", "/tail", &Fastener::tail);
    all.push_back({{"holds", "Newtons along its axis, such as 120; empty if it is not known."},
                   "/fastener/holds_n",
                   [](const Job& job, std::size_t row) {
                       const auto& holds = row_of<Mount>(job, row).fastener.holds;
                       return holds ? number_text(geometry::in_newtons(*holds)) : std::string();
                   },
                   [](Job& job, std::size_t row, const std::string& text) -> Status {
                       std::optional<geometry::Force>& holds = row_of<Mount>(job, row).fastener.holds;
                       if (trimmed(text).empty()) {
                           holds.reset();
                           return std::monostate{};
                       }
                       double number = 0.0;
                       auto status = write_cell_number(text, 0.0, number);
                       if (status) {
                           holds = geometry::newtons(number);
                       }
                       return status;
                   }});
    all.push_back({{"flange slides", "yes if a shoulder or a washer lets the flange slide below its head, or no."},
                   "/fastener/slides",
                   [](const Job& job, std::size_t row) {
                       return std::string(row_of<Mount>(job, row).fastener.slides ? "yes" : "no");
                   },
                   [](Job& job, std::size_t row, const std::string& text) {
                       return write_cell_word(text, k_yes_no, row_of<Mount>(job, row).fastener.slides);
                   }});
    return all;
}

std::vector<Column> station_columns() {
    return {name<Station>("What the station is called, such as 4; each its own."),
            length<Station>("along", "/along", k_length_help + ": each further along than the one before.",
                            [](Station& s) -> Entry& { return s.along; })};
}

std::vector<Column> door_columns() {
    std::vector<Column> all;
    all.push_back(name<Door>("What the door is called, such as front door; each its own."));
    all.push_back({{"opening", or_empty("Degrees from shut to the stop, such as 68")},
                   "/opening_deg",
                   [](const Job& job, std::size_t row) { return angle_cell(row_of<Door>(job, row).opening); },
                   [](Job& job, std::size_t row, const std::string& text) {
                       return write_cell_text(text, row_of<Door>(job, row).opening);
                   }});
    const auto pin = [&](const std::string& which, PartPosition Hinge::*position) {
        const auto number = [&](const std::string& axis, std::optional<Entry> PartPosition::*value) {
            all.push_back(door_length(
                which + " pin " + axis, "/hinge/" + which + "/" + axis, "Where the " + which + " hinge pin is: " + axis,
                &Door::hinge, [position, value](Hinge& h) -> std::optional<Entry>& { return h.*position.*value; }));
        };
        number("along", &PartPosition::along);
        number("out", &PartPosition::out);
        number("up", &PartPosition::up);
    };
    pin("lower", &Hinge::lower);
    pin("upper", &Hinge::upper);
    all.push_back(door_length("sag drop", "/sag/drop", "How far the rear edge drops off the striker", &Door::sag,
                              [](Sag& s) -> std::optional<Entry>& { return s.drop; }));
    all.push_back(door_length("sag distance", "/sag/distance", "From the hinge to where the drop was read", &Door::sag,
                              [](Sag& s) -> std::optional<Entry>& { return s.distance; }));
    all.push_back({{"sag share at once", "The part of the drop that comes as the striker lets go, 0 to 1; empty is 1."},
                   "/sag/share_at_once",
                   [](const Job& job, std::size_t row) {
                       const auto& sag = row_of<Door>(job, row).sag;
                       return sag ? number_text(sag->share_at_once) : std::string();
                   },
                   [](Job& job, std::size_t row, const std::string& text) -> Status {
                       std::optional<Sag>& sag = row_of<Door>(job, row).sag;
                       Sag changed = sag.value_or(Sag{});
                       auto status = write_cell_number(text, Sag{}.share_at_once, changed.share_at_once);
                       if (status) {
                           sag = changed == Sag{} ? std::nullopt : std::optional(std::move(changed));
                       }
                       return status;
                   }});
    all.push_back(door_length("sag sd", "/sag/sd", "How far a reading of the drop strays: its standard deviation",
                              &Door::sag, [](Sag& s) -> std::optional<Entry>& { return s.sd; }));
    all.push_back(door_length("over-slam travel", "/over_slam/travel", "How far it goes inboard past shut when slammed",
                              &Door::over_slam, [](OverSlam& o) -> std::optional<Entry>& { return o.travel; }));
    all.push_back(door_length("over-slam distance", "/over_slam/distance", "From the hinge to where that was read",
                              &Door::over_slam, [](OverSlam& o) -> std::optional<Entry>& { return o.distance; }));
    return all;
}

std::vector<Column> keep_out_columns() {
    std::vector<Column> all;
    all.push_back(name<KeepOut>("What must stay free, such as front jacking pad; each its own."));
    all.push_back(
        word<KeepOut>("kind", "/kind", job_file::k_keep_out_words, [](KeepOut& k) -> KeepOutKind& { return k.kind; }));
    const auto corner = [&](const std::string& which, Position KeepOut::*position, const std::string& help) {
        const auto number = [&](const std::string& axis, Entry Position::*value) {
            all.push_back(length<KeepOut>(which + " " + axis, "/" + which + "/" + axis,
                                          k_length_help + ": the " + help + " " + axis + " of its box.",
                                          [position, value](KeepOut& k) -> Entry& { return k.*position.*value; }));
        };
        number("along", &Position::along);
        number("out", &Position::out);
        number("up", &Position::up);
    };
    corner("from", &KeepOut::from, "least");
    corner("to", &KeepOut::to, "greatest");
    all.push_back(word<KeepOut>("shape", "/shape", job_file::k_keep_out_shape_words,
                                [](KeepOut& k) -> KeepOutShape& { return k.shape; }));
    all.push_back(length<KeepOut>("radius", "/radius", k_length_help + " of a strip or a wheel; empty for a box.",
                                  [](KeepOut& k) -> std::optional<Entry>& { return k.radius; }));
    all.push_back(length<KeepOut>("clearance", "/clearance", or_empty(k_length_help),
                                  [](KeepOut& k) -> std::optional<Entry>& { return k.clearance; }));
    return all;
}

}  // namespace

const std::vector<Column>& columns_of(Table table) {
    static const std::vector<Column> mounts = mount_columns();
    static const std::vector<Column> stations = station_columns();
    static const std::vector<Column> doors = door_columns();
    static const std::vector<Column> keep_outs = keep_out_columns();
    switch (table) {
        case Table::mounts:
            return mounts;
        case Table::stations:
            return stations;
        case Table::doors:
            return doors;
        case Table::keep_outs:
            break;
    }
    return keep_outs;
}

std::string list_pointer(Table table) {
    switch (table) {
        case Table::mounts:
            return "/mounts";
        case Table::stations:
            return "/stations";
        case Table::doors:
            return "/doors";
        case Table::keep_outs:
            break;
    }
    return "/keep_outs";
}

}  // namespace sillwright::core

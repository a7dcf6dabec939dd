#include "core/edit/columns.h"

#include <map>
#include <optional>
#include <utility>

#include "core/edit/cell.h"
#include "core/edit/row_owner.h"
#include "core/edit/table_rows.h"
#include "core/job_file/words.h"
#include "core/typed.h"

namespace sillwright::core {

using geometry::Status;

namespace {

constexpr job_file::Words<bool, 2> k_yes_no{{{"yes", true}, {"no", false}}};
constexpr job_file::Words<bool, 2> k_directions{{{"along", false}, {"across", true}}};

const std::string k_length_help = "A length, such as 38, 38.5 mm or 1 1/2\"";

std::string or_empty(const std::string& what) {
    return what + "; empty if it is not measured.";
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

/// A number that may be missing, in the unit that the help says. `get`: Row& to optional<Value>&.
template <class Row, class Get, class ToNumber, class FromNumber>
Column quantity(const std::string& name, const std::string& pointer, const std::string& help, Get get,
                ToNumber to_number, FromNumber from_number) {
    return {{name, help},
            pointer,
            [get, to_number, from_number](const Job& job, std::size_t row) {
                Row copy = row_of<Row>(job, row);
                const auto& value = get(copy);
                if (!value) {
                    return std::string();
                }
                return number_cell(
                    shortest_number(to_number(*value), [&](double number) { return from_number(number) == *value; }));
            },
            [get, from_number](Job& job, std::size_t row, const std::string& text) -> Status {
                auto& value = get(row_of<Row>(job, row));
                if (trimmed(text).empty()) {
                    value.reset();
                    return std::monostate{};
                }
                double number = 0.0;
                auto status = write_cell_number(text, 0.0, number);
                if (status) {
                    value = from_number(number);
                }
                return status;
            }};
}

template <class Row>
Column number(const std::string& name, const std::string& pointer, const std::string& help,
              std::optional<double> Row::*value) {
    const auto same = [](double number) { return number; };
    return quantity<Row>(
        name, pointer, help, [value](Row& row) -> std::optional<double>& { return row.*value; }, same, same);
}

template <class Row>
Column percent(const std::string& name, const std::string& pointer, const std::string& help,
               std::optional<double> Row::*value) {
    return {{name, help},
            pointer,
            [value](const Job& job, std::size_t row) { return percent_cell(row_of<Row>(job, row).*value); },
            [value](Job& job, std::size_t row, const std::string& text) {
                return write_cell_percent(text, row_of<Row>(job, row).*value);
            }};
}

/// Words of the maker's own, or none.
template <class Row>
Column free_text(const std::string& name, const std::string& pointer, const std::string& help,
                 std::string Row::*value) {
    return {{name, help},
            pointer,
            [value](const Job& job, std::size_t row) { return row_of<Row>(job, row).*value; },
            [value](Job& job, std::size_t row, const std::string& text) -> Status {
                row_of<Row>(job, row).*value = trimmed(text);
                return std::monostate{};
            }};
}

/// To which piece, generation, station or board a row belongs.
Column owner(Table table, const std::string& name, const std::string& help) {
    return {{name, help}, "", [table](const Job& job, std::size_t row) { return owner_of(job, table, row); }, {}};
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
    all.push_back(quantity<Mount>(
        "holds", "/fastener/holds_n", "Newtons along its axis, such as 120; empty if it is not known.",
        [](Mount& m) -> std::optional<geometry::Force>& { return m.fastener.holds; }, geometry::in_newtons,
        geometry::newtons));
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
                       return sag ? number_cell(sag->share_at_once) : std::string();
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

const std::string k_piece_help = "The name of the piece that it is in; another name moves it there.";

std::vector<Column> drain_columns() {
    return {length<DrainHole>("along", "/along", k_length_help + ": where its middle is along the car.",
                              [](DrainHole& d) -> Entry& { return d.along; }),
            length<DrainHole>("size", "/size", k_length_help + ": its diameter; 6 mm is common practice.",
                              [](DrainHole& d) -> Entry& { return d.size; }),
            owner(Table::drains, "piece", k_piece_help)};
}

std::vector<Column> flute_columns() {
    std::vector<Column> all;
    all.push_back(name<Flute>("What the flute is called, such as flute 1; each its own in a piece."));
    const auto number = [&](const std::string& title, const std::string& pointer, const std::string& help,
                            Entry Flute::*value) {
        all.push_back(length<Flute>(title, pointer, k_length_help + ": " + help,
                                    [value](Flute& f) -> Entry& { return f.*value; }));
    };
    number("offset", "/offset", "its middle from the shelf edge, inward along the shelf.", &Flute::offset);
    number("width", "/width", "across its mouth.", &Flute::width);
    number("depth", "/depth", "square to the shelf.", &Flute::depth);
    number("bottom radius", "/bottom_radius", "of the two corners at its bottom; 0 if they are sharp.",
           &Flute::bottom_radius);
    const auto end = [&](const std::string& title, std::optional<Entry> Flute::*value) {
        all.push_back(length<Flute>(title, "/" + title,
                                    k_length_help + ": along the car, where it runs out; empty: it goes through.",
                                    [value](Flute& f) -> std::optional<Entry>& { return f.*value; }));
    };
    end("front", &Flute::front);
    end("rear", &Flute::rear);
    all.push_back(free_text<Flute>("bit", "/bit", "The name of the router bit that cuts it; empty: the proposed one.",
                                   &Flute::bit));
    all.push_back(owner(Table::flutes, "piece", k_piece_help));
    return all;
}

std::vector<Column> recess_columns() {
    std::vector<Column> all;
    all.push_back(name<Recess>("What the recess is called, such as badge; each its own in a piece."));
    all.push_back(word<Recess>("on", "/on", job_file::k_recess_words, [](Recess& r) -> RecessFace& { return r.on; }));
    const auto number = [&](const std::string& title, const std::string& pointer, const std::string& help,
                            Entry Recess::*value) {
        all.push_back(length<Recess>(title, pointer, k_length_help + ": " + help,
                                     [value](Recess& r) -> Entry& { return r.*value; }));
    };
    number("along", "/along", "its middle along the car.", &Recess::along);
    number("offset", "/offset",
           "its middle from the shelf edge inward along the shelf, or from the bead down the face.", &Recess::offset);
    number("length", "/length", "along the car, at its mouth.", &Recess::length);
    number("width", "/width", "across, at its mouth.", &Recess::width);
    number("depth", "/depth", "square to the surface.", &Recess::depth);
    number("corner radius", "/corner_radius", "of its outline; 0 if the corners are sharp.", &Recess::corner_radius);
    all.push_back(free_text<Recess>("bit", "/bit", "The name of the router bit that cuts it; empty: the proposed one.",
                                    &Recess::bit));
    all.push_back(owner(Table::recesses, "piece", k_piece_help));
    return all;
}

std::vector<Column> generation_columns() {
    std::vector<Column> all;
    all.push_back(name<Generation>("What this step of the mould chain is called, such as male mould; each its own."));
    all.push_back(word<Generation>("kind", "/kind", job_file::k_generation_words,
                                   [](Generation& g) -> GenerationKind& { return g.kind; }));
    const std::string percent_help =
        "Per cent, such as 0.6 % (a bare 0.6 is per cent too), from the cold generation before to this one, cold";
    all.push_back(percent<Generation>("shrinkage along", "/shrink_along",
                                      percent_help + ", along the part; empty if it is not known.",
                                      &Generation::shrink_along));
    all.push_back(percent<Generation>("shrinkage across", "/shrink_across",
                                      percent_help + ", across the part; empty if it is not known.",
                                      &Generation::shrink_across));
    all.push_back(percent<Generation>("shrinkage sd", "/shrink_sd",
                                      "Per cent, such as 0.1 % (a bare 0.1 is per cent too): standard deviation of an "
                                      "assumed shrinkage; empty if it is not known.",
                                      &Generation::shrink_sd));
    all.push_back(
        word<Generation>("quoted hot", "/from_hot", k_yes_no, [](Generation& g) -> bool& { return g.from_hot; }));
    all.back().about.help = "yes if the shrinkages are quoted from the hot mould before it, or no: from the cold one.";
    all.push_back(quantity<Generation>(
        "mould hot", "/hot_c",
        "Degrees Celsius at which the mould before it runs, such as 60; empty if it is not known.",
        [](Generation& g) -> std::optional<geometry::Temperature>& { return g.hot; }, geometry::in_celsius,
        geometry::celsius));
    all.push_back(number<Generation>("mould's expansion", "/expansion_per_k",
                                     "Per kelvin, of the mould before it, such as 0.000025; empty if it is not known.",
                                     &Generation::expansion_per_k));
    return all;
}

std::vector<Column> tick_columns() {
    std::vector<Column> all;
    all.push_back(name<Tick>("What the distance between two ticks is called, such as A to B; each its own."));
    all.push_back(word<Tick>("direction", "/across", k_directions, [](Tick& t) -> bool& { return t.across; }));
    const auto measured = [&](const std::string& title, const std::string& help, std::optional<Entry> Tick::*value) {
        all.push_back(length<Tick>(title, "/" + title, or_empty(k_length_help + ": " + help),
                                   [value](Tick& t) -> std::optional<Entry>& { return t.*value; }));
    };
    measured("before", "as measured on the generation before, cold", &Tick::before);
    measured("now", "as measured on this generation, cold", &Tick::now);
    measured("sd", "standard deviation of each of the two", &Tick::sd);
    all.push_back(owner(Table::ticks, "generation",
                        "The name of the generation on which it was measured now; another name moves it there."));
    return all;
}

std::vector<Column> machine_columns() {
    std::vector<Column> all;
    all.push_back(name<Machine>("What the machine is called; each its own."));
    const auto number = [&](const std::string& title, const std::string& pointer, const std::string& help,
                            std::optional<Entry> Machine::*value) {
        all.push_back(length<Machine>(title, pointer, or_empty(k_length_help + ": " + help),
                                      [value](Machine& m) -> std::optional<Entry>& { return m.*value; }));
    };
    number("length", "/length", "opening of its clamp frame, along the platen", &Machine::length);
    number("width", "/width", "opening of its clamp frame, across the platen", &Machine::width);
    number("clamp margin", "/clamp_margin", "what the clamps take of that at each side, 20 to 30 mm in common practice",
           &Machine::clamp_margin);
    number("draw depth", "/draw_depth", "the tallest mould that it takes", &Machine::draw_depth);
    number("sheet, most", "/sheet_most", "the thickest sheet that its oven heats", &Machine::sheet_most);
    number("oven length", "/oven_length", "heated evenly, along the platen", &Machine::oven_length);
    number("oven width", "/oven_width", "heated evenly, across the platen", &Machine::oven_width);
    return all;
}

std::vector<Column> stock_columns() {
    return {name<StockSheet>("What the size is called, such as full sheet; each its own."),
            length<StockSheet>("length", "/length", or_empty(k_length_help),
                               [](StockSheet& s) -> std::optional<Entry>& { return s.length; }),
            length<StockSheet>("width", "/width", or_empty(k_length_help),
                               [](StockSheet& s) -> std::optional<Entry>& { return s.width; }),
            number<StockSheet>("price", "/price", "Of one sheet, in the shop's own money; empty if it is not known.",
                               &StockSheet::price)};
}

std::vector<Column> bit_columns() {
    std::vector<Column> all;
    all.push_back(name<Bit>("What the bit is called, such as round nose 12; each its own."));
    all.push_back(word<Bit>("form", "/form", job_file::k_bit_words, [](Bit& b) -> BitForm& { return b.form; }));
    const auto size = [&](const std::string& title, const std::string& pointer, const std::string& help,
                          std::optional<Entry> Bit::*value) {
        all.push_back(length<Bit>(title, pointer, k_length_help + ": " + help,
                                  [value](Bit& b) -> std::optional<Entry>& { return b.*value; }));
    };
    size("diameter", "/diameter", "over its cutting edges; empty if it is not measured.", &Bit::diameter);
    all.push_back({{"angle", "Degrees between the flanks of a vee, such as 90; empty for others."},
                   "/angle_deg",
                   [](const Job& job, std::size_t row) { return angle_cell(row_of<Bit>(job, row).angle); },
                   [](Job& job, std::size_t row, const std::string& text) {
                       return write_cell_text(text, row_of<Bit>(job, row).angle);
                   }});
    size("corner radius", "/corner_radius", "of a flat bit's corners or a vee's point; empty: sharp.",
         &Bit::corner_radius);
    size("reach", "/reach", "the deepest cut that it can make; empty if it is not measured.", &Bit::reach);
    return all;
}

std::vector<Column> gauge_point_columns() {
    return {owner(Table::gauge_points, "station",
                  "The name of the station at which it was read; points go from the flange's end round to the top."),
            length<GaugePoint>("out", "/out", k_length_help + ": away from the car.",
                               [](GaugePoint& p) -> Entry& { return p.out; }),
            length<GaugePoint>("up", "/up", k_length_help + ": upward.", [](GaugePoint& p) -> Entry& { return p.up; })};
}

std::vector<Column> board_columns() {
    std::vector<Column> all;
    all.push_back(name<Board>("What the board is called, such as mdf 12; each its own."));
    const auto size = [&](const std::string& title, const std::string& pointer, const std::string& help,
                          std::optional<Entry> Board::*value) {
        all.push_back(length<Board>(title, pointer, or_empty(k_length_help + ": " + help),
                                    [value](Board& b) -> std::optional<Entry>& { return b.*value; }));
    };
    size("length", "/length", "its longer side", &Board::length);
    size("width", "/width", "its shorter side", &Board::width);
    size("thickness 1", "/thickness_1", "measured by calliper; slots are cut to the mean of what is measured",
         &Board::thickness_1);
    size("thickness 2", "/thickness_2", "measured at a second place", &Board::thickness_2);
    size("thickness 3", "/thickness_3", "measured at a third place", &Board::thickness_3);
    all.push_back(number<Board>(
        "count", "/count", "How many there are, such as 1 for an off-cut; empty: as many as needed.", &Board::count));
    all.push_back(word<Board>("grain", "/grain", k_yes_no, [](Board& b) -> bool& { return b.grain; }));
    all.back().about.help = "yes if grain runs along its length, and parts must keep to it, or no.";
    all.push_back(number<Board>("price", "/price", "Of one board, in the shop's own money; empty if it is not known.",
                                &Board::price));
    return all;
}

std::vector<Column> defect_columns() {
    std::vector<Column> all;
    all.push_back(name<BoardDefect>("What the defect is called, such as knot; each its own on a board."));
    const auto size = [&](const std::string& title, const std::string& help, std::optional<Entry> BoardDefect::*value) {
        all.push_back(length<BoardDefect>(title, "/" + title, or_empty(k_length_help + ": " + help),
                                          [value](BoardDefect& d) -> std::optional<Entry>& { return d.*value; }));
    };
    size("along", "along the board's length, from its corner to the defect", &BoardDefect::along);
    size("across", "across the board, from the same corner to the defect", &BoardDefect::across);
    size("length", "of the defect, along the board", &BoardDefect::length);
    size("width", "of the defect, across the board", &BoardDefect::width);
    all.push_back(owner(Table::defects, "board", "The name of the board that it is in; another name moves it there."));
    return all;
}

std::vector<Column> made(Table table) {
    switch (table) {
        case Table::mounts:
            return mount_columns();
        case Table::stations:
            return station_columns();
        case Table::doors:
            return door_columns();
        case Table::keep_outs:
            return keep_out_columns();
        case Table::drains:
            return drain_columns();
        case Table::flutes:
            return flute_columns();
        case Table::recesses:
            return recess_columns();
        case Table::generations:
            return generation_columns();
        case Table::ticks:
            return tick_columns();
        case Table::machines:
            return machine_columns();
        case Table::stock:
            return stock_columns();
        case Table::bits:
            return bit_columns();
        case Table::gauge_points:
            return gauge_point_columns();
        case Table::boards:
            return board_columns();
        case Table::defects:
            break;
    }
    return defect_columns();
}

}  // namespace

const std::vector<Column>& columns_of(Table table) {
    static const std::map<Table, std::vector<Column>> all = [] {
        std::map<Table, std::vector<Column>> columns;
        for (const Table one : k_tables) {
            columns.emplace(one, made(one));
        }
        return columns;
    }();
    return all.at(table);
}

std::string row_pointer(const Job& job, Table table, std::size_t row) {
    return with_rows(table, [&]<class Row>(std::type_identity<Row>) {
        const RowPlace place = place_of_row<Row>(job, row);
        return RowsOf<Row>::pointer(place.list) + "/" + std::to_string(place.number);
    });
}

}  // namespace sillwright::core

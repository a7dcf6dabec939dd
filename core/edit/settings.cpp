#include "core/edit/settings.h"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <utility>

#include "core/edit/cell.h"
#include "core/edit/field_change.h"
#include "core/forming/bit_table.h"
#include "core/forming/machine_table.h"
#include "core/job_file.h"
#include "core/job_file/words.h"
#include "core/material.h"
#include "core/number_text.h"
#include "core/typed.h"

namespace sillwright::core {

using geometry::Error;
using geometry::ErrorCode;
using nlohmann::ordered_json;

namespace {

constexpr const char* k_yes = "yes";
constexpr const char* k_no = "no";

/// Puts settings of one group and below one object of the file together.
class Group {
public:
    Group(std::vector<Setting>& all, SettingGroup group, std::string below)
        : all_{all}, group_{group}, below_{std::move(below)} {}

    void length(const std::string& name, const std::string& key, const std::string& help) {
        all_.push_back({group_, SettingKind::length, name, "", help, below_ + "/" + key, {}});
    }
    void number(const std::string& name, const std::string& key, const std::string& unit, const std::string& help) {
        all_.push_back({group_, SettingKind::number, name, unit, help, below_ + "/" + key, {}});
    }
    void choice(const std::string& name, const std::string& key, const std::string& help,
                std::vector<std::string> words) {
        words.insert(words.begin(), std::string());
        all_.push_back({group_, SettingKind::words, name, "", help, below_ + "/" + key, std::move(words)});
    }
    /// One of the words of a choice in the job file.
    template <class List>
    void choice_of(const std::string& name, const std::string& key, const std::string& help, const List& list) {
        std::vector<std::string> words;
        for (const auto& one : list) {
            words.emplace_back(one.first);
        }
        choice(name, key, help, std::move(words));
    }
    void text(const std::string& name, const std::string& key, const std::string& help) {
        all_.push_back({group_, SettingKind::text, name, "", help, below_ + "/" + key, {}});
    }
    void flag(const std::string& name, const std::string& key, const std::string& help) {
        all_.push_back({group_, SettingKind::flag, name, "", help, below_ + "/" + key, {k_no, k_yes}});
    }

private:
    std::vector<Setting>& all_;
    SettingGroup group_;
    std::string below_;
};

std::vector<std::string> flange_mounts(const Job& job) {
    std::vector<std::string> names;
    for (const Mount& mount : job.mounts) {
        if (mount.use == MountUse::flange) {
            names.push_back(mount.name);
        }
    }
    return names;
}

std::vector<std::string> materials(bool for_body) {
    std::vector<std::string> names;
    for (const MaterialNumbers& material : material_table()) {
        if (material.for_body == for_body) {
            names.push_back(material.name);
        }
    }
    return names;
}

void add_fitting(const Job& job, std::vector<Setting>& all) {
    Group fitting(all, SettingGroup::fitting, "/fitting");
    fitting.choice("locator", "locator",
                   "The mount whose round hole gives the part its place; empty: the proposed one.", flange_mounts(job));
    fitting.choice("guide", "guide", "The mount whose slot keeps the part from turning; empty: the proposed one.",
                   flange_mounts(job));
    const std::string degrees = "°C";
    const auto warmth = [&](const std::string& name, const std::string& key, const std::string& when) {
        fitting.number(name + ", part", key + "/part_c", degrees, "How warm the part is " + when + ".");
        fitting.number(name + ", body", key + "/body_c", degrees, "How warm the body behind it is " + when + ".");
    };
    warmth("hot", "hot", "on the hottest day, in the sun: dark parts reach 80 °C and more");
    warmth("cold", "cold", "on the coldest day");
    warmth("as fitted", "fitted", "when the screws are tightened");
    fitting.number("as drawn", "drawn_c", degrees, "At which all lengths are as drawn and measured; empty: 20 °C.");
    fitting.choice("body's material", "body_material", "What the sill is made of.", materials(true));
    fitting.length("drilling, ±", "part_half", "How far a drilled hole of the part may be from its place.");
    fitting.flag("fits other cars", "fits_other_cars", "Whether the part must fit more cars than the one measured.");
    fitting.length("car to car, ±", "car_to_car",
                   "How far a factory hole is from its place on another car; empty: 1.5 mm.");
    fitting.length("cutter's step", "cutter_step", "Holes are cut in whole steps of it; empty: 0.5 mm.");
    fitting.length("front end gap", "front_gap", "Between the part's front end and what is beside it, as drawn.");
    fitting.length("rear end gap", "rear_gap", "Between the part's rear end and what is beside it, as drawn.");
}

void add_part(const Job& job, std::vector<Setting>& all) {
    Group material(all, SettingGroup::part, "/skirt/material");
    material.choice("material", "name", "Of the sheet, from the program's table.", materials(false));
    const std::string own = "; empty: as the table has it.";
    material.number("expansion", "expansion_per_k", "1/K", "Linear expansion, such as 0.00009" + own);
    material.number("density", "density_kg_per_m3", "kg/m³", "Of the sheet" + own);
    material.number("stiffness, 23 °C", "modulus_mpa", "N/mm²", "Modulus at 23 °C" + own);
    material.number("stiffness, hot", "hot_modulus_mpa", "N/mm²", "Modulus when hot" + own);
    material.number("stiffness, lasting", "creep_modulus_mpa", "N/mm²", "Creep modulus after 1 000 h" + own);
    material.number("strain, most", "strain_most", "", "That the sheet is asked to bear, such as 0.01" + own);
    for (std::size_t i = 0; i < job.skirt.pieces.size(); ++i) {
        const Piece& piece = job.skirt.pieces[i];
        if (piece.drawn.empty()) {
            continue;
        }
        Group drawn(all, SettingGroup::part, "/skirt/pieces/" + std::to_string(i));
        drawn.length(piece.name + ", sheet", "sheet", "Thickness of the sheet before it is formed.");
        drawn.length(piece.name + ", flange", "flange/thickness",
                     "Thickness of the formed flange, measured on a part; empty: that of the sheet.");
        drawn.length(piece.name + ", flange sd", "flange/thickness_sd", "Standard deviation of that thickness.");
    }
}

void add_loads(std::vector<Setting>& all) {
    Group loads(all, SettingGroup::loads, "/loads");
    loads.choice("stepping", "stepping", "Whether people may step on the part; if not, it needs a label.",
                 {"stood on", "refused"});
    loads.number("foot", "foot_n", "N", "Force of a foot on the step; empty: 1000.");
    loads.number("heel", "heel_n", "N", "Force of a heel against the outer face; empty: 250.");
    loads.number("speed", "air_speed_kmh", "km/h", "At which air loads the part; empty: 130.");
    loads.number("air coefficient", "air_coefficient", "", "Pressure on the part, of that of the wind; empty: 1.");
    loads.number("shaking", "shaking_g", "g", "Weight times this, either way; empty: 5.");
    loads.length("deflection, most", "deflection_most", "Under any load; empty: 8 mm.");
    loads.number("share of a fastener", "clip_share", "",
                 "Of what a fastener holds, that may be asked of it; empty: 0.5.");
}

void add_road(std::vector<Setting>& all) {
    Group road(all, SettingGroup::road, "/road");
    road.length("ground", "ground", "Up of the ground in the job's frame, the car at kerb weight on its wheels.");
    road.length("front wheel", "front_wheel", "Along, of the front wheel's centre.");
    road.length("rear wheel", "rear_wheel", "Along, of the rear wheel's centre.");
    road.length("tyre radius", "tyre_radius", "From the wheel's centre to the ground, standing.");
    road.length("laden drop", "laden_drop", "By which the sill comes down when the car is laden.");
    road.length("bump", "bump", "Further travel of the springs to their stops.");
    road.length("clearance, least", "clearance_least", "Laden, standing; empty: 110 mm.");
    road.length("at bump, least", "bump_clearance_least", "With the springs at their stops; empty: 30 mm.");
    road.number("breakover, least", "breakover_least_deg", "°", "Ramp breakover angle; empty: 10.");
    road.number("shelf's fall, least", "shelf_fall_least_deg", "°", "Outward, so that water runs off; empty: 1.5.");
    road.length("drain, least", "drain_least", "Diameter of a hole that lets water out; empty: 6 mm.");
    road.length("end gap, least", "end_gap_least", "Hot; empty: 2 mm.");
    road.length("end gap, most", "end_gap_most", "Cold; empty: 10 mm.");
}

/// The job's own machines, those of the table, and the one that it names.
std::vector<std::string> machines(const Forming& forming) {
    std::vector<std::string> names;
    const auto add = [&](const std::string& name) {
        if (!name.empty() && std::find(names.begin(), names.end(), name) == names.end()) {
            names.push_back(name);
        }
    };
    for (const std::vector<Machine>* list : {&forming.machines, &machine_table()}) {
        for (const Machine& machine : *list) {
            add(machine.name);
        }
    }
    add(forming.machine);
    return names;
}

void add_forming(const Job& job, std::vector<Setting>& all) {
    Group forming(all, SettingGroup::forming, "/forming");
    forming.choice("mould", "mould",
                   "The sheet is drawn over a male mould, its inside lies on it; into a female one, its outside does.",
                   {"male", "female"});
    forming.length("texture", "texture", "Depth of the mould's texture; empty: smooth.");
    const std::string degrees = "°";
    forming.number("draft, least", "draft_least_deg", degrees,
                   "Between a wall and the draw direction; empty: 2 in a female mould, 3 on a male one "
                   "(thermopro.com), more with texture.");
    forming.number("tilt, from", "tilt_from_deg", degrees,
                   "Least tilt of the draw direction that can be set up, up is positive; empty: -20, common practice.");
    forming.number("tilt, to", "tilt_to_deg", degrees, "Greatest such tilt; empty: 20, common practice.");
    forming.number("tilt", "tilt_deg", degrees, "Of the draw direction, straight outward is 0; empty: the best one.");
    forming.length("undercut, most", "undercut_most", "That the part can be sprung over; empty: none.");
    forming.length("trim allowance", "trim_allowance",
                   "By which mould and sheet go on beyond the trim line; empty: 20 mm, common practice 15 to 25.");
    forming.length("clamp distance", "clamp_distance",
                   "From the mould's foot to the clamp line; common practice is 40 to 75 mm, or half the depth.");
    forming.length("flange, least", "flange_least", "Formed thickness of the flange; empty: 2 mm, common practice.");
    forming.length("shelf, least", "shelf_least",
                   "Formed thickness of the shelf and its flutes; empty: 2.2 mm, common practice.");
    forming.length("elsewhere, least", "rest_least", "Formed thickness anywhere else; empty: 1.5 mm, common practice.");
    forming.number("draw ratio, most", "draw_ratio_most", "",
                   "Area formed by area clamped; empty: 3, common practice for plain vacuum forming.");
    forming.choice("machine", "machine",
                   "On which the part is formed: one of the job's own, or of the program's table.",
                   machines(job.forming));
    forming.length("plug's skin", "skin", "Of the plug, over the buck's ribs.");
    std::vector<std::string> scans;
    for (const survey::Scan& scan : job.scans) {
        scans.push_back(scan.name);
    }
    forming.choice("prototype's scan", "sculpted/scan", "Of the prototype as sculpted, instead of gauge points.",
                   std::move(scans));
    forming.length("prototype, sd", "sculpted/sd",
                   "Standard deviation of a gauge point; of a scan its own goes before it.");
    forming.flag("prototype checked", "sculpted/replaces",
                 "Whether all checks are run on the prototype instead of on the drawn skirt.");
}

void add_router(std::vector<Setting>& all) {
    Group router(all, SettingGroup::router, "/forming/router");
    router.length("base plate", "base_radius", "Its radius, from the bit's axis.");
    router.length("base plate's room", "base_room",
                  "Between base plate and upstand, at least; empty: 2 mm, common practice.");
    router.number("bearing, least", "bearing_least", "",
                  "Part of the base plate that must lie on the shelf, from 0 to 1; empty: 0.5, common practice.");
    router.length("plug's board", "board", "Its thickness below the shelf, before flutes are cut.");
    router.length("board left, least", "board_left", "Below a flute; empty: 3 mm, common practice.");
    router.number("pass", "pass_share", "", "Depth of one pass, in radii of the bit; empty: 0.5, common practice.");
    router.length("land, least", "land_least", "Between neighbouring flutes; empty: 6 mm, common practice.");
    router.length("run-out room", "run_out_room",
                  "From a flute's round end to the shelf's end, at least; empty: 20 mm, common practice.");
}

/// The job's own or the table's bits that cut a square edge, and the one that it names.
std::vector<std::string> cutting_bits(const Job& job) {
    std::vector<std::string> names;
    for (const Bit& bit : bits_of(job.forming.router)) {
        if (bit.form == BitForm::flat && !bit.corner_radius) {
            names.push_back(bit.name);
        }
    }
    if (!job.buck.bit.empty() && std::find(names.begin(), names.end(), job.buck.bit) == names.end()) {
        names.push_back(job.buck.bit);
    }
    return names;
}

void add_buck(const Job& job, std::vector<Setting>& all) {
    Group buck(all, SettingGroup::buck, "/buck");
    std::vector<std::string> boards;
    for (const Board& board : job.buck.boards) {
        boards.push_back(board.name);
    }
    buck.choice("ribs' board", "rib_board", "That ribs are cut from; empty: the first one of the list.", boards);
    buck.choice("spines' board", "spine_board", "That spines are cut from; empty: the first one of the list.", boards);
    buck.choice("base's board", "base_board", "That the base is cut from; empty: the buck has no base board.", boards);
    buck.choice("bit that cuts out", "bit", "A flat bit of the job's own or of the program's table.",
                cutting_bits(job));
    buck.length("chord error, most", "chord_most",
                "By which the skin may miss the shape between two ribs: they stand as near as that asks for; "
                "empty: at the stations.");
    buck.choice_of("rib's face", "face",
                   "That lies on its place: the larger one, so that its edge is bevelled, the smaller one, so that "
                   "the skin bridges, or always the same; empty: larger.",
                   job_file::k_rib_face_words);
    buck.choice_of("spines", "spines", "How many run along the buck; empty: two.", job_file::k_spine_words);
    buck.length("spine's height", "spine_height", "Of the first spine; empty: as there is room.");
    buck.length("slot's fit", "fit",
                "Of a slot beyond the sheet in it, both sides together; empty: 0.15 mm, common practice.");
    buck.length("slot's depth, more", "slot_extra",
                "By which each slot is deeper than it must be; empty: 0.5 mm, common practice.");
    buck.length("half-laps' step", "key_step",
                "By which the depths of neighbouring half-laps differ, so that no rib goes into another's place; "
                "empty: 4 mm, common practice.");
    buck.length("room to the base", "base_room",
                "From the trim allowance's edge to the base; empty: 20 mm, common practice.");
    buck.length("datum rods", "pin", "Their diameter, through all ribs; empty: 6 mm, common practice.");
    buck.choice_of("line in the file", "line",
                   "The finished edge, or the way of the bit's middle; empty: finished edge.",
                   job_file::k_cut_line_words);
    buck.choice_of("relief of corners", "relief",
                   "Where the bit goes on into an inside corner: half-way between its edges, or along the longer one; "
                   "empty: diagonal.",
                   job_file::k_relief_words);
    buck.length("tab's width", "tab_width", "That is left to hold a part; empty: 6 mm, common practice.");
    buck.length("tab's height", "tab_height", "From the board's lower face; empty: 2 mm, common practice.");
    buck.length("tab's pitch, most", "tab_pitch", "Round an outline; empty: 250 mm, common practice.");
    buck.length("letters", "letters", "Height of engraved words; empty: 8 mm, common practice.");
    buck.length("board's margin", "margin", "Along its edges, that is not used; empty: 10 mm, common practice.");
    buck.length("gap of parts", "gap", "Between neighbouring parts; empty: the bit and 2 mm.");
    buck.choice_of("unit in the file", "unit", "Of the router's files; empty: mm.", job_file::k_drawing_unit_words);
    buck.choice_of("DXF release", "release", "That the router's program reads; empty: 2000.",
                   job_file::k_release_words);
}

void add_papers(std::vector<Setting>& all) {
    Group papers(all, SettingGroup::papers, "/papers");
    papers.choice_of("templates on", "templates", "Paper that 1:1 templates are tiled on; empty: A4.",
                     job_file::k_paper_words);
    papers.choice(
        "pages on", "pages", "Paper of all other pages; empty: A4.",
        {word_cell(job_file::k_paper_words, PaperSize::a4), word_cell(job_file::k_paper_words, PaperSize::letter)});
    papers.text("installer calls", "call", "Whom, and how, when something does not fit; a name and a number.");
    papers.length("foam", "foam", "Round the part in its box; empty: 40 mm, common practice.");
    papers.length("box's wall", "carton", "Its thickness; empty: 7 mm, common practice.");
    papers.length("box, longest", "longest", "That the carrier takes.");
    papers.length("length and girth, most", "girth_most",
                  "Of the box, together, that the carrier takes: girth is all the way round it.");
}

/// The field as the file has it; null if it is left out.
ordered_json found_in(const ordered_json& file, const Setting& setting) {
    const ordered_json::json_pointer pointer(setting.pointer);
    return file.contains(pointer) ? file.at(pointer) : ordered_json();
}

std::string text_of(const ordered_json& value, const Setting& setting, BareUnit unit) {
    if (setting.kind == SettingKind::flag) {
        return value.is_boolean() && value.get<bool>() ? k_yes : k_no;
    }
    if (value.is_string()) {
        return value.get<std::string>();
    }
    if (!value.is_number()) {
        return {};
    }
    const double number = value.get<double>();
    return setting.kind == SettingKind::length ? length_cell(typed_entry(number_text(number), unit).value(), unit)
                                               : number_cell(number);
}

/// What is to be written for a text; null for an empty one.
geometry::Result<std::string> json_of(const Setting& setting, const std::string& text, BareUnit unit) {
    const std::string given = trimmed(text);
    if (setting.kind == SettingKind::flag) {
        return std::string(given == k_yes ? "true" : "false");
    }
    if (given.empty()) {
        return std::string("null");
    }
    switch (setting.kind) {
        case SettingKind::length: {
            std::optional<Entry> entry;
            if (const auto status = write_cell_text(given, unit, entry); !status) {
                return status.error();
            }
            return ordered_json(given).dump();
        }
        case SettingKind::number: {
            double number = 0.0;
            if (const auto status = write_cell_number(given, 0.0, number); !status) {
                return status.error();
            }
            return ordered_json(number).dump();
        }
        case SettingKind::words:
        case SettingKind::flag:
        case SettingKind::text:
            break;
    }
    return ordered_json(given).dump();
}

}  // namespace

std::vector<Setting> settings_of(const Job& job) {
    std::vector<Setting> all;
    add_fitting(job, all);
    add_part(job, all);
    add_loads(all);
    add_road(all);
    add_forming(job, all);
    add_router(all);
    add_buck(job, all);
    add_papers(all);
    return all;
}

std::vector<std::string> setting_texts(const Job& job, const std::vector<Setting>& settings) {
    const ordered_json file = ordered_json::parse(job_text(job));
    std::vector<std::string> texts;
    for (const Setting& setting : settings) {
        texts.push_back(text_of(found_in(file, setting), setting, job.unit));
    }
    return texts;
}

geometry::Result<Edit> write_setting(const Job& job, const Setting& setting, const std::string& text) {
    const auto json = json_of(setting, text, job.unit);
    if (!json) {
        return Error{json.error().code, setting.name + ": " + json.error().message};
    }
    auto written = with_changes(job, {{setting.pointer, json.value()}});
    if (!written) {
        return Error{written.error().code, setting.name + ": " + written.error().message};
    }
    return checked_edit(std::move(written).value(), "set " + setting.name);
}

}  // namespace sillwright::core

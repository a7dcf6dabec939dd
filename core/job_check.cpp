#include "core/job_check.h"

#include <algorithm>
#include <filesystem>
#include <map>
#include <set>

#include "core/fault_place.h"
#include "core/number_text.h"
#include "core/section_check.h"
#include "core/sill_frame.h"
#include "core/survey/reading_line.h"
#include "core/typed.h"

namespace sillwright::core {

namespace {

/// Pins nearer together than this give no sure axis. Common practice, no source.
constexpr double k_least_pin_distance_mm = 10.0;
constexpr geometry::Angle k_most_opening = geometry::degrees(180.0);
/// A steeper line has no slope; a car that leans more falls.
constexpr geometry::Angle k_most_slope = geometry::degrees(90.0);
constexpr geometry::Angle k_most_lean = geometry::degrees(45.0);
/// Beyond these a number is no temperature of a workshop, but one in other degrees or a slip.
constexpr double k_coldest_c = -50.0;
constexpr double k_hottest_c = 70.0;
/// Beyond these a number is a slip of the unit or of the keyboard. Common practice, no source.
constexpr double k_hottest_part_c = 150.0;
constexpr double k_most_force_n = 1e5;
constexpr double k_most_speed_kmh = 500.0;
constexpr double k_most_factor = 100.0;
constexpr double k_most_expansion_per_k = 1e-3;
constexpr double k_most_density_kg_per_m3 = 2.5e4;
constexpr double k_most_modulus_mpa = 1e6;
constexpr double k_steepest_tilt_deg = 85.0;
constexpr double k_most_draft_deg = 45.0;
constexpr double k_hottest_mould_c = 250.0;
constexpr double k_most_shrinkage = 0.1;
constexpr double k_most_draw_ratio = 10.0;

using MaybeEntry = std::optional<Entry>;

std::string quote(const std::string& text) {
    return "\"" + text + "\"";
}

std::string item(const std::string& list, std::size_t index) {
    return list + "/" + std::to_string(index);
}

double mm(const Entry& entry) {
    return geometry::in_mm(entry.value);
}

/// Goes through a job in the order of its file and keeps the first fault.
class JobCheck {
public:
    explicit JobCheck(const Job& job) : job_{job} {}

    std::optional<JobFault> run() {
        head();
        book();
        other_files();
        stations();
        sections("/body", job_.body);
        mounts();
        keep_outs();
        doors();
        skirt();
        fitting();
        loads();
        road();
        forming();
        buck();
        papers();
        limits();
        if (fault_) {
            const std::string place = fault_place(job_, fault_->pointer);
            fault_->by_hand = (place.empty() ? "" : place + ": ") + fault_->by_hand;
        }
        return fault_;
    }

private:
    void refuse(const std::string& pointer, const std::string& message) { refuse(pointer, message, message); }

    void refuse(const std::string& pointer, const std::string& message, const std::string& by_hand) {
        if (!fault_) {
            fault_ = JobFault{pointer, message, by_hand};
        }
    }

    void not_negative(const std::string& pointer, const MaybeEntry& value) {
        if (value && mm(*value) < 0.0) {
            refuse(pointer, entry_text(*value, job_.unit) + " is below zero. Write a length of zero or more.");
        }
    }

    void positive(const std::string& pointer, const MaybeEntry& value) {
        if (value && !(mm(*value) > 0.0)) {
            const std::string wrong =
                entry_text(*value, job_.unit) + " is not above zero. Write the measured length, or ";
            refuse(pointer, wrong + "leave the field out if it is not measured.",
                   wrong + "leave it empty if it is not measured.");
        }
    }

    void count(const std::string& pointer, std::size_t found, std::size_t most) {
        if (found > most) {
            refuse(pointer, "the list has " + std::to_string(found) + " entries. Keep it to " + std::to_string(most) +
                                " at most.");
        }
    }

    void unique(std::set<std::string>& taken, const std::string& name, const std::string& pointer,
                const std::string& what) {
        if (!taken.insert(name).second) {
            refuse(pointer, "the " + what + " " + quote(name) + " stands twice. Give each its own.");
        }
    }

    void head() {
        not_negative("/zero_to_midplane", job_.zero_to_midplane);
        not_negative("/survey_sd", job_.survey_sd);
        date("/date", job_.date);
    }

    void date(const std::string& pointer, const std::string& text) {
        constexpr std::string_view pattern = "dddd-dd-dd";
        const bool date = text.size() == pattern.size() &&
                          std::equal(pattern.begin(), pattern.end(), text.begin(), [](char want, char is) {
                              return want == 'd' ? is >= '0' && is <= '9' : is == want;
                          });
        if (!text.empty() && !date) {
            refuse(pointer, quote(text) + " is not a date. Write it as year-month-day, such as \"2026-03-14\".");
        }
    }

    void book() {
        const survey::Book& book = job_.book;
        date("/book/date", book.date);
        if (book.temperature && !(*book.temperature > k_coldest_c && *book.temperature < k_hottest_c)) {
            refuse("/book/temperature_c", "nobody measures at this temperature. Write degrees Celsius, such as 20.");
        }
        set_ups("/book/set_ups", book.set_ups);
        instruments("/book/instruments", book.instruments);
        points("/book/points", book.points);
        readings("/book/readings", book);
        hinge_sets("/book/hinges", book.hinges);
    }

    void set_ups(const std::string& list, const std::vector<survey::SetUp>& set_ups) {
        count(list, set_ups.size(), k_most_things);
        std::set<std::string> taken;
        for (std::size_t i = 0; i < set_ups.size(); ++i) {
            const survey::SetUp& set_up = set_ups[i];
            const std::string here = item(list, i);
            unique(taken, set_up.name, here + "/name", "set-up");
            lean(here + "/roll_deg", set_up.roll);
            lean(here + "/pitch_deg", set_up.pitch);
            positive(here + "/lean_sd_deg", set_up.lean_sd);
        }
    }

    void lean(const std::string& pointer, const std::optional<geometry::Angle>& angle) {
        if (angle && !(*angle > -k_most_lean && *angle < k_most_lean)) {
            refuse(pointer, "no car leans by this angle while it is measured. Write degrees between -45 and 45.");
        }
    }

    void positive(const std::string& pointer, const std::optional<geometry::Angle>& angle) {
        if (angle && !(*angle > geometry::Angle{})) {
            refuse(pointer, "this angle is not above zero. Write how sure it is in degrees, or leave it out.",
                   "this angle is not above zero. Write how sure it is in degrees, or leave it empty.");
        }
    }

    void instruments(const std::string& list, const std::vector<survey::Instrument>& instruments) {
        count(list, instruments.size(), k_most_things);
        std::set<std::string> taken;
        for (std::size_t i = 0; i < instruments.size(); ++i) {
            const survey::Instrument& instrument = instruments[i];
            const std::string here = item(list, i);
            unique(taken, instrument.name, here + "/name", "instrument");
            not_negative(here + "/reader_sd", instrument.reader_sd);
            positive(here + "/sd", instrument.sd);
            positive(here + "/angle_sd_deg", instrument.angle_sd);
        }
    }

    void points(const std::string& list, const std::vector<survey::Point>& points) {
        count(list, points.size(), k_most_points);
        std::set<std::string> taken;
        for (std::size_t i = 0; i < points.size(); ++i) {
            unique(taken, points[i].name, item(list, i) + "/name", "point");
            positive(item(list, i) + "/sd", points[i].sd);
        }
    }

    /// A reading without its value is no fault: it waits. Nor is one that names a point twice: the survey says so.
    void readings(const std::string& list, const survey::Book& book) {
        count(list, book.readings.size(), k_most_readings);
        std::set<std::string> ids;
        std::set<std::string> set_ups;
        std::set<std::string> instruments;
        for (const survey::SetUp& set_up : book.set_ups) {
            set_ups.insert(set_up.name);
        }
        for (const survey::Instrument& instrument : book.instruments) {
            instruments.insert(instrument.name);
        }
        for (std::size_t i = 0; i < book.readings.size() && !fault_; ++i) {
            const survey::Reading& reading = book.readings[i];
            const std::string here = item(list, i);
            unique(ids, reading.id, here + "/id", "reading's id");
            reading_points(here + "/points", reading);
            reading_values(here, reading);
            if (!reading.set_up.empty() && !set_ups.contains(reading.set_up)) {
                refuse(here + "/set_up",
                       "there is no set-up " + quote(reading.set_up) +
                           ". Write the name of one from \"set_ups\", or add it there.",
                       "there is no set-up " + quote(reading.set_up) + " in the book. Add it first.");
            }
            if (!reading.instrument.empty() && !instruments.contains(reading.instrument)) {
                refuse(here + "/instrument",
                       "there is no instrument " + quote(reading.instrument) +
                           ". Write the name of one from \"instruments\", or add it there.",
                       "there is no instrument " + quote(reading.instrument) + " in the book. Add it first.");
            }
        }
    }

    void reading_points(const std::string& pointer, const survey::Reading& reading) {
        const survey::PointCount count = survey::points_in_line(reading.kind);
        const std::size_t named = reading.points.size();
        if (named < count.least || named > count.most) {
            refuse(pointer, "a reading of kind " + quote(survey::kind_word(reading.kind)) + " cannot have " +
                                std::to_string(named) + (named == 1 ? " point" : " points") +
                                ". Name its points as in " + survey::example_line(reading.kind) + ".");
        }
    }

    void reading_values(const std::string& here, const survey::Reading& reading) {
        using Kind = survey::ReadingKind;
        if (reading.kind == Kind::tie || reading.kind == Kind::gap || reading.kind == Kind::depth) {
            not_negative(here + "/value", reading.value);
        }
        positive(here + "/sd", reading.sd);
        positive(here + "/angle_sd_deg", reading.angle_sd);
        if (reading.kind == Kind::angle && reading.angle &&
            !(*reading.angle > geometry::Angle{} && *reading.angle < k_most_opening)) {
            refuse(here + "/angle_deg", "an angle between two lines is above 0 and below 180 degrees. Write it so.");
        }
        if (reading.kind == Kind::slope && reading.angle &&
            !(*reading.angle > -k_most_slope && *reading.angle < k_most_slope)) {
            refuse(here + "/angle_deg", "a slope is above -90 and below 90 degrees. Write it so.");
        }
    }

    /// Its door need not be in the job yet.
    void hinge_sets(const std::string& list, const std::vector<survey::HingeSet>& sets) {
        count(list, sets.size(), k_most_things);
        std::set<std::string> doors;
        for (std::size_t i = 0; i < sets.size(); ++i) {
            unique(doors, sets[i].door, item(list, i) + "/door", "hinge set of door");
            std::set<std::string> targets;
            for (std::size_t k = 0; k < sets[i].targets.size(); ++k) {
                unique(targets, sets[i].targets[k], item(item(list, i) + "/targets", k), "target");
            }
        }
    }

    void other_files() {
        if (!job_.other_hand.empty()) {
            path("/other_hand", job_.other_hand);
        }
        count("/photos", job_.photos.size(), k_most_things);
        std::set<std::string> photos;
        for (std::size_t i = 0; i < job_.photos.size(); ++i) {
            unique(photos, job_.photos[i].name, item("/photos", i) + "/name", "photo");
            path(item("/photos", i) + "/path", job_.photos[i].path);
        }
        count("/scans", job_.scans.size(), k_most_things);
        std::set<std::string> scans;
        for (std::size_t i = 0; i < job_.scans.size(); ++i) {
            const survey::Scan& scan = job_.scans[i];
            const std::string here = item("/scans", i);
            unique(scans, scan.name, here + "/name", "scan");
            path(here + "/path", scan.path);
            positive(here + "/deviation", scan.deviation);
            std::set<std::string> marks;
            for (std::size_t k = 0; k < scan.marks.size(); ++k) {
                unique(marks, scan.marks[k].point, item(here + "/marks", k) + "/point", "mark");
            }
        }
    }

    void stations() {
        count("/stations", job_.stations.size(), k_most_stations);
        std::set<std::string> taken;
        for (std::size_t i = 0; i < job_.stations.size(); ++i) {
            const Station& station = job_.stations[i];
            const std::string here = item("/stations", i);
            unique(taken, station.name, here + "/name", "station");
            if (i > 0 && !(station.along.value > job_.stations[i - 1].along.value)) {
                const std::string at = entry_text(station.along, job_.unit);
                const std::string before = entry_text(job_.stations[i - 1].along, job_.unit);
                refuse(here + "/along",
                       "station " + quote(station.name) + " stands at " + at + ", not behind station " +
                           quote(job_.stations[i - 1].name) + " at " + before +
                           ". List the stations from front to rear, each further along.",
                       at + " is not behind station " + job_.stations[i - 1].name + " at " + before +
                           ". Each station stands further along than the one before.");
            }
            station_index_.emplace(station.name, i);
        }
    }

    void sections(const std::string& here, const Drawn& drawn) {
        if (fault_) {
            return;
        }
        count(here + "/sections", drawn.sections.size(), k_most_stations);
        for (std::size_t i = 0; i < drawn.sections.size(); ++i) {
            section(item(here + "/sections", i), drawn, i);
        }
        if (!fault_) {
            if (const auto wrong = first_out_of_order(drawn)) {
                refuse(item(item(here + "/sections", wrong->section) + "/nodes", wrong->node) + "/name",
                       "the node " + quote(wrong->name) + " stands in another order here than at another station. " +
                           "List the nodes of every section in the same order.",
                       "it would stand in another order here than at another station. Keep one order of names in "
                       "every section.");
            }
        }
        run_outs(here, drawn);
    }

    void section(const std::string& here, const Drawn& drawn, std::size_t index) {
        const Section& section = drawn.sections[index];
        const auto found = station_index_.find(section.station);
        if (found == station_index_.end()) {
            refuse(here + "/station", "there is no station " + quote(section.station) +
                                          ". Write the name of one from \"stations\", or add it there.");
            return;
        }
        if (index > 0 && station_index_[drawn.sections[index - 1].station] >= found->second) {
            refuse(here + "/station", "the section at station " + quote(section.station) +
                                          " comes after one that is not in front of it. List the sections from front "
                                          "to rear, one at a station.");
        }
        nodes(here + "/nodes", section);
    }

    void nodes(const std::string& here, const Section& section) {
        count(here, section.nodes.size(), k_most_nodes);
        std::set<std::string> names;
        for (std::size_t i = 0; i < section.nodes.size() && !fault_; ++i) {
            const Node& node = section.nodes[i];
            const std::string at = item(here, i);
            unique(ids_, node.id, at + "/id", "node id");
            unique(names, node.name, at + "/name", "node name");
            not_negative(at + "/radius", node.radius);
        }
        if (fault_) {
            return;
        }
        // The straight that closes an outline is not looked at: it may still cross while the outline is drawn.
        if (const auto cross = first_crossing(section, false)) {
            const std::string& name = section.nodes[cross->second].name;
            const std::string& other = section.nodes[cross->first].name;
            refuse(item(here, cross->second),
                   "the section line crosses itself: the straight after node " + quote(name) +
                       " meets the one after node " + quote(other) + " at station " + quote(section.station) +
                       ". Check out and up of both nodes, and their order.",
                   "the line from there to " + section.nodes[cross->second + 1].name + " would cross the one from " +
                       other + " to " + section.nodes[cross->first + 1].name +
                       ". Put these nodes where the line does not cross itself.");
        }
    }

    void run_outs(const std::string& here, const Drawn& drawn) {
        std::set<std::string> names;
        for (const Section& section : drawn.sections) {
            for (const Node& node : section.nodes) {
                names.insert(node.name);
            }
        }
        count(here + "/run_outs", drawn.run_outs.size(), k_most_things);
        for (std::size_t i = 0; i < drawn.run_outs.size(); ++i) {
            if (!names.contains(drawn.run_outs[i].name)) {
                refuse(item(here + "/run_outs", i) + "/name", "no section has a node " + quote(drawn.run_outs[i].name) +
                                                                  ". Write the name of a node that runs out.");
            }
        }
    }

    void mounts() {
        count("/mounts", job_.mounts.size(), k_most_things);
        std::set<std::string> taken;
        for (std::size_t i = 0; i < job_.mounts.size(); ++i) {
            const Mount& mount = job_.mounts[i];
            const std::string here = item("/mounts", i);
            unique(taken, mount.name, here + "/name", "mount");
            positive(here + "/size", mount.size);
            positive(here + "/slot_length", mount.slot_length);
            positive(here + "/panel_thickness", mount.panel_thickness);
            not_negative(here + "/free_depth", mount.free_depth);
            for (std::size_t k = 0; k < mount.sd.size(); ++k) {
                not_negative(item(here + "/sd", k), mount.sd[k]);
            }
            positive(here + "/part_hole", mount.part_hole);
            positive(here + "/part_slot", mount.part_slot);
            not_shorter(here + "/slot_length", mount.slot_length, mount.size, "the hole is wide");
            not_shorter(here + "/part_slot", mount.part_slot, mount.part_hole, "it is wide");
            fastener(here + "/fastener", mount.fastener);
        }
    }

    void not_shorter(const std::string& pointer, const MaybeEntry& longer, const MaybeEntry& shorter,
                     const std::string& what) {
        if (longer && shorter && longer->value < shorter->value) {
            refuse(pointer, entry_text(*longer, job_.unit) + " is less than " + what + ", " +
                                entry_text(*shorter, job_.unit) + ". Write the length over all.");
        }
    }

    void fastener(const std::string& here, const Fastener& fastener) {
        positive(here + "/diameter", fastener.diameter);
        positive(here + "/head_diameter", fastener.head_diameter);
        not_negative(here + "/grip_least", fastener.grip_least);
        not_negative(here + "/grip_most", fastener.grip_most);
        not_negative(here + "/spacer", fastener.spacer);
        positive(here + "/hole_least", fastener.hole_least);
        positive(here + "/hole_most", fastener.hole_most);
        not_negative(here + "/tail", fastener.tail);
        if (fastener.holds) {
            in_range(here + "/holds_n", geometry::in_newtons(*fastener.holds), 0.0, k_most_force_n, "newtons");
        }
        not_shorter(here + "/hole_most", fastener.hole_most, fastener.hole_least, "the least hole that it fits");
        if (fastener.grip_least && fastener.grip_most && fastener.grip_most->value < fastener.grip_least->value) {
            refuse(here + "/grip_most",
                   "the greatest grip is less than the least. Write the thinnest stack as "
                   "\"grip_least\", the thickest as \"grip_most\".",
                   "it is less than the least grip. Write the thinnest stack as the least, the thickest as the most.");
        }
    }

    void keep_outs() {
        count("/keep_outs", job_.keep_outs.size(), k_most_things);
        std::set<std::string> taken;
        for (std::size_t i = 0; i < job_.keep_outs.size(); ++i) {
            const KeepOut& keep_out = job_.keep_outs[i];
            const std::string here = item("/keep_outs", i);
            unique(taken, keep_out.name, here + "/name", "keep-out");
            keep_out_shape(here, keep_out);
            not_negative(here + "/clearance", keep_out.clearance);
        }
    }

    void keep_out_shape(const std::string& here, const KeepOut& keep_out) {
        positive(here + "/radius", keep_out.radius);
        if (keep_out.shape == KeepOutShape::box) {
            behind(here + "/to/along", keep_out.from.along, keep_out.to.along, "along");
            behind(here + "/to/out", keep_out.from.out, keep_out.to.out, "out");
            behind(here + "/to/up", keep_out.from.up, keep_out.to.up, "up");
            return;
        }
        if (!keep_out.radius) {
            refuse(here + "/radius",
                   "a strip or a wheel needs its radius. Write half its thickness, or half the wheel's diameter.");
        }
        if (keep_out.shape == KeepOutShape::wheel) {
            behind(here + "/to/out", keep_out.from.out, keep_out.to.out, "out");
        }
        std::vector<Position> line{keep_out.from};
        line.insert(line.end(), keep_out.via.begin(), keep_out.via.end());
        line.push_back(keep_out.to);
        count(here + "/via", keep_out.via.size(), k_most_things);
        for (std::size_t i = 1; i < line.size(); ++i) {
            if (line[i].along.value == line[i - 1].along.value && line[i].out.value == line[i - 1].out.value &&
                line[i].up.value == line[i - 1].up.value) {
                refuse(here + (i + 1 == line.size() ? "/to" : "/via/" + std::to_string(i - 1)),
                       "it is the same place as the one before. Leave one of them out, or move it.");
            }
        }
    }

    void fitting() {
        const Fitting& fitting = job_.fitting;
        mount_named("/fitting/locator", fitting.locator);
        mount_named("/fitting/guide", fitting.guide);
        if (!fitting.guide.empty() && fitting.guide == fitting.locator) {
            refuse("/fitting/guide", "it is the locator too. Write another mount, or leave it out.");
        }
        const auto warmth = [&](const std::string& here, const std::optional<Warmth>& at) {
            if (at && at->part) {
                temperature(here + "/part_c", *at->part);
            }
            if (at && at->body) {
                temperature(here + "/body_c", *at->body);
            }
        };
        warmth("/fitting/hot", fitting.hot);
        warmth("/fitting/cold", fitting.cold);
        warmth("/fitting/fitted", fitting.fitted);
        temperature("/fitting/drawn_c", fitting.drawn);
        not_negative("/fitting/part_half", fitting.part_half);
        not_negative("/fitting/car_to_car", fitting.car_to_car);
        not_negative("/fitting/cutter_step", fitting.cutter_step);
        not_negative("/fitting/front_gap", fitting.front_gap);
        not_negative("/fitting/rear_gap", fitting.rear_gap);
    }

    void mount_named(const std::string& pointer, const std::string& name) {
        const bool there = name.empty() || std::any_of(job_.mounts.begin(), job_.mounts.end(), [&](const Mount& mount) {
                               return mount.name == name && mount.use == MountUse::flange;
                           });
        if (!there) {
            refuse(pointer, "no mount that is used for the flange is called \"" + name +
                                "\". Write the name of one, or leave it out.");
        }
    }

    void temperature(const std::string& pointer, geometry::Temperature value) {
        in_range(pointer, geometry::in_celsius(value), k_coldest_c, k_hottest_part_c, "degrees Celsius");
    }

    /// A plain number within the limits beyond which it is a slip of the unit or of the keyboard.
    void in_range(const std::string& pointer, double value, double least, double most, const std::string& unit) {
        if (!(value >= least && value <= most)) {
            refuse(pointer, "it is " + number_text(value) + ". Write a number from " + number_text(least) + " to " +
                                number_text(most) + (unit.empty() ? "" : " " + unit) + ".");
        }
    }

    void loads() {
        const Loads& loads = job_.loads;
        in_range("/loads/air_speed_kmh", loads.air_speed_kmh, 0.0, k_most_speed_kmh, "km/h");
        in_range("/loads/air_coefficient", loads.air_coefficient, 0.0, k_most_factor, "");
        in_range("/loads/shaking_g", loads.shaking_g, 0.0, k_most_factor, "times the weight");
        in_range("/loads/foot_n", geometry::in_newtons(loads.foot), 0.0, k_most_force_n, "newtons");
        in_range("/loads/heel_n", geometry::in_newtons(loads.heel), 0.0, k_most_force_n, "newtons");
        in_range("/loads/clip_share", loads.clip_share, 0.0, 1.0, "");
        positive("/loads/deflection_most", loads.deflection_most);
    }

    void road() {
        const Road& road = job_.road;
        positive("/road/tyre_radius", road.tyre_radius);
        not_negative("/road/laden_drop", road.laden_drop);
        not_negative("/road/bump", road.bump);
        not_negative("/road/clearance_least", road.clearance_least);
        not_negative("/road/bump_clearance_least", road.bump_clearance_least);
        not_negative("/road/drain_least", road.drain_least);
        not_negative("/road/end_gap_least", road.end_gap_least);
        not_negative("/road/end_gap_most", road.end_gap_most);
        in_range("/road/breakover_least_deg", geometry::in_deg(road.breakover_least), 0.0, 90.0, "degrees");
        in_range("/road/shelf_fall_least_deg", geometry::in_deg(road.shelf_fall_least), 0.0, 45.0, "degrees");
        if (road.front_wheel && road.rear_wheel && !(road.rear_wheel->value > road.front_wheel->value)) {
            refuse("/road/rear_wheel",
                   "it is not behind the front wheel. Along runs rearward: write the place of each "
                   "wheel's centre along the car.");
        }
    }

    void material() {
        const Material& material = job_.skirt.material;
        const std::string here = "/skirt/material";
        const auto given = [&](const char* key, const std::optional<double>& value, double most, const char* unit) {
            if (value) {
                in_range(here + key, *value, 0.0, most, unit);
            }
        };
        given("/expansion_per_k", material.expansion_per_k, k_most_expansion_per_k, "per kelvin, such as 0.00009");
        given("/density_kg_per_m3", material.density_kg_per_m3, k_most_density_kg_per_m3, "kg per cubic metre");
        given("/strain_most", material.strain_most, 1.0, "");
        const auto modulus = [&](const char* key, const std::optional<geometry::Stress>& value) {
            if (value) {
                in_range(here + key, geometry::in_mpa(*value), 1.0, k_most_modulus_mpa, "megapascals");
            }
        };
        modulus("/modulus_mpa", material.modulus);
        modulus("/hot_modulus_mpa", material.hot_modulus);
        modulus("/creep_modulus_mpa", material.creep_modulus);
    }

    void flutes(const std::string& here, const Piece& piece) {
        count(here + "/flutes", piece.flutes.size(), k_most_things);
        std::set<std::string> taken;
        for (std::size_t i = 0; i < piece.flutes.size(); ++i) {
            const Flute& flute = piece.flutes[i];
            const std::string one = item(here + "/flutes", i);
            unique(taken, flute.name, one + "/name", "flute");
            positive(one + "/width", flute.width);
            positive(one + "/depth", flute.depth);
            not_negative(one + "/offset", flute.offset);
            not_negative(one + "/bottom_radius", flute.bottom_radius);
        }
        count(here + "/drains", piece.drains.size(), k_most_things);
        for (std::size_t i = 0; i < piece.drains.size(); ++i) {
            positive(item(here + "/drains", i) + "/size", piece.drains[i].size);
        }
    }

    void recesses(const std::string& here, const Piece& piece) {
        count(here + "/recesses", piece.recesses.size(), k_most_things);
        std::set<std::string> taken;
        for (std::size_t i = 0; i < piece.recesses.size(); ++i) {
            const Recess& recess = piece.recesses[i];
            const std::string one = item(here + "/recesses", i);
            unique(taken, recess.name, one + "/name", "recess");
            not_negative(one + "/offset", recess.offset);
            positive(one + "/length", recess.length);
            positive(one + "/width", recess.width);
            positive(one + "/depth", recess.depth);
            not_negative(one + "/corner_radius", recess.corner_radius);
        }
    }

    void forming() {
        const Forming& forming = job_.forming;
        const std::string here = "/forming";
        const auto tilt = [&](const char* key, geometry::Angle angle) {
            in_range(here + key, geometry::in_deg(angle), -k_steepest_tilt_deg, k_steepest_tilt_deg, "degrees");
        };
        not_negative(here + "/texture", forming.texture);
        if (forming.draft_least) {
            in_range(here + "/draft_least_deg", geometry::in_deg(*forming.draft_least), 0.0, k_most_draft_deg,
                     "degrees");
        }
        tilt("/tilt_from_deg", forming.tilt_from);
        tilt("/tilt_to_deg", forming.tilt_to);
        if (forming.tilt_to < forming.tilt_from) {
            refuse(here + "/tilt_to_deg", "it is below the least tilt. Write the least in \"tilt_from_deg\".",
                   "it is below the least tilt. Change the two about.");
        }
        if (forming.tilt) {
            tilt("/tilt_deg", *forming.tilt);
        }
        not_negative(here + "/undercut_most", forming.undercut_most);
        not_negative(here + "/trim_allowance", forming.trim_allowance);
        positive(here + "/clamp_distance", forming.clamp_distance);
        not_negative(here + "/flange_least", forming.flange_least);
        not_negative(here + "/shelf_least", forming.shelf_least);
        not_negative(here + "/rest_least", forming.rest_least);
        in_range(here + "/draw_ratio_most", forming.draw_ratio_most, 1.0, k_most_draw_ratio, "");
        not_negative(here + "/skin", forming.skin);
        machines(here + "/machines", forming.machines);
        router(here + "/router", forming.router);
        generations(here + "/generations", forming.generations);
        sculpted(here + "/sculpted", forming.sculpted);
    }

    void machines(const std::string& list, const std::vector<Machine>& machines) {
        count(list, machines.size(), k_most_things);
        std::set<std::string> taken;
        for (std::size_t i = 0; i < machines.size(); ++i) {
            const Machine& machine = machines[i];
            const std::string one = item(list, i);
            unique(taken, machine.name, one + "/name", "machine");
            positive(one + "/length", machine.length);
            positive(one + "/width", machine.width);
            not_negative(one + "/clamp_margin", machine.clamp_margin);
            positive(one + "/draw_depth", machine.draw_depth);
            positive(one + "/sheet_most", machine.sheet_most);
            positive(one + "/oven_length", machine.oven_length);
            positive(one + "/oven_width", machine.oven_width);
        }
        const std::vector<StockSheet>& stock = job_.forming.stock;
        count("/forming/stock", stock.size(), k_most_things);
        std::set<std::string> sizes;
        for (std::size_t i = 0; i < stock.size(); ++i) {
            const std::string one = item("/forming/stock", i);
            unique(sizes, stock[i].name, one + "/name", "stock size");
            positive(one + "/length", stock[i].length);
            positive(one + "/width", stock[i].width);
        }
    }

    void router(const std::string& here, const Router& router) {
        positive(here + "/base_radius", router.base_radius);
        not_negative(here + "/base_room", router.base_room);
        in_range(here + "/bearing_least", router.bearing_least, 0.0, 1.0, "");
        positive(here + "/board", router.board);
        not_negative(here + "/board_left", router.board_left);
        in_range(here + "/pass_share", router.pass_share, 0.05, 4.0, "of the bit's radius");
        not_negative(here + "/land_least", router.land_least);
        not_negative(here + "/run_out_room", router.run_out_room);
        count(here + "/bits", router.bits.size(), k_most_things);
        std::set<std::string> taken;
        for (std::size_t i = 0; i < router.bits.size(); ++i) {
            const Bit& bit = router.bits[i];
            const std::string one = item(here + "/bits", i);
            unique(taken, bit.name, one + "/name", "bit");
            positive(one + "/diameter", bit.diameter);
            not_negative(one + "/corner_radius", bit.corner_radius);
            positive(one + "/reach", bit.reach);
            if (bit.angle) {
                in_range(one + "/angle_deg", geometry::in_deg(*bit.angle), 1.0, 179.0, "degrees");
            }
        }
    }

    void generations(const std::string& list, const std::vector<Generation>& generations) {
        count(list, generations.size(), k_most_things);
        std::set<std::string> taken;
        for (std::size_t i = 0; i < generations.size(); ++i) {
            const Generation& generation = generations[i];
            const std::string one = item(list, i);
            unique(taken, generation.name, one + "/name", "generation");
            const auto share = [&](const char* key, const std::optional<double>& value, double least) {
                if (value) {
                    in_range(one + key, *value, least, k_most_shrinkage, "(0.006 is 0.6 %)");
                }
            };
            share("/shrink_along", generation.shrink_along, -k_most_shrinkage);
            share("/shrink_across", generation.shrink_across, -k_most_shrinkage);
            share("/shrink_sd", generation.shrink_sd, 0.0);
            if (generation.hot) {
                in_range(one + "/hot_c", geometry::in_celsius(*generation.hot), k_coldest_c, k_hottest_mould_c,
                         "degrees Celsius");
            }
            if (generation.expansion_per_k) {
                in_range(one + "/expansion_per_k", *generation.expansion_per_k, 0.0, k_most_expansion_per_k,
                         "per kelvin, such as 0.000025");
            }
            count(one + "/ticks", generation.ticks.size(), k_most_things);
            std::set<std::string> ticks;
            for (std::size_t k = 0; k < generation.ticks.size(); ++k) {
                const Tick& tick = generation.ticks[k];
                const std::string at = item(one + "/ticks", k);
                unique(ticks, tick.name, at + "/name", "distance between ticks");
                positive(at + "/before", tick.before);
                positive(at + "/now", tick.now);
                positive(at + "/sd", tick.sd);
            }
        }
    }

    void sculpted(const std::string& here, const Sculpted& sculpted) {
        count(here + "/lines", sculpted.lines.size(), k_most_stations);
        std::set<std::string> taken;
        for (std::size_t i = 0; i < sculpted.lines.size(); ++i) {
            const GaugeLine& line = sculpted.lines[i];
            const std::string one = item(here + "/lines", i);
            unique(taken, line.station, one + "/station", "gauge line of station");
            if (!station_index_.contains(line.station)) {
                refuse(one + "/station", "there is no station " + quote(line.station) + ". Write the name of one.");
            }
            count(one + "/points", line.points.size(), k_most_points);
        }
        const bool known =
            sculpted.scan.empty() || std::any_of(job_.scans.begin(), job_.scans.end(),
                                                 [&](const survey::Scan& scan) { return scan.name == sculpted.scan; });
        if (!known) {
            refuse(here + "/scan",
                   "there is no scan " + quote(sculpted.scan) + ". Write the name of one of the job's.");
        }
        positive(here + "/sd", sculpted.sd);
    }

    void buck() {
        const Buck& buck = job_.buck;
        const std::string here = "/buck";
        positive(here + "/chord_most", buck.chord_most);
        positive(here + "/spine_height", buck.spine_height);
        not_negative(here + "/fit", buck.fit);
        not_negative(here + "/slot_extra", buck.slot_extra);
        not_negative(here + "/key_step", buck.key_step);
        not_negative(here + "/base_room", buck.base_room);
        positive(here + "/pin", buck.pin);
        not_negative(here + "/tab_width", buck.tab_width);
        not_negative(here + "/tab_height", buck.tab_height);
        positive(here + "/tab_pitch", buck.tab_pitch);
        positive(here + "/letters", buck.letters);
        not_negative(here + "/margin", buck.margin);
        not_negative(here + "/gap", buck.gap);
        count(here + "/boards", buck.boards.size(), k_most_things);
        std::set<std::string> taken;
        for (std::size_t i = 0; i < buck.boards.size(); ++i) {
            board(item(here + "/boards", i), buck.boards[i], taken);
        }
        const auto known = [&](const char* key, const std::string& name) {
            if (!name.empty() && !taken.contains(name)) {
                refuse(here + key, "there is no board " + quote(name) + ". Write the name of one of the job's.");
            }
        };
        known("/rib_board", buck.rib_board);
        known("/spine_board", buck.spine_board);
        known("/base_board", buck.base_board);
    }

    void board(const std::string& one, const Board& board, std::set<std::string>& taken) {
        unique(taken, board.name, one + "/name", "board");
        positive(one + "/length", board.length);
        positive(one + "/width", board.width);
        positive(one + "/thickness_1", board.thickness_1);
        positive(one + "/thickness_2", board.thickness_2);
        positive(one + "/thickness_3", board.thickness_3);
        if (board.count) {
            in_range(one + "/count", *board.count, 0.0, k_most_things, "boards");
        }
        count(one + "/defects", board.defects.size(), k_most_things);
        std::set<std::string> names;
        for (std::size_t k = 0; k < board.defects.size(); ++k) {
            const BoardDefect& defect = board.defects[k];
            const std::string at = item(one + "/defects", k);
            unique(names, defect.name, at + "/name", "defect");
            not_negative(at + "/along", defect.along);
            not_negative(at + "/across", defect.across);
            positive(at + "/length", defect.length);
            positive(at + "/width", defect.width);
        }
    }

    void papers() {
        const Papers& papers = job_.papers;
        if (papers.pages == PaperSize::a3) {
            refuse("/papers/pages", "pages are on A4 or Letter. Write one of these.");
        }
        not_negative("/papers/foam", papers.foam);
        not_negative("/papers/carton", papers.carton);
        positive("/papers/longest", papers.longest);
        positive("/papers/girth_most", papers.girth_most);
    }

    void behind(const std::string& pointer, const Entry& from, const Entry& to, const std::string& axis) {
        if (!(to.value > from.value)) {
            const std::string wrong = "the box ends at " + entry_text(to, job_.unit) + " " + axis +
                                      ", not beyond its beginning " + entry_text(from, job_.unit) + ". ";
            refuse(pointer, wrong + "Write the smaller value in \"from\", the larger in \"to\".",
                   wrong + "Write the smaller value in from " + axis + ", the larger in to " + axis + ".");
        }
    }

    void doors() {
        count("/doors", job_.doors.size(), k_most_things);
        for (std::size_t i = 0; i < job_.doors.size(); ++i) {
            const Door& door = job_.doors[i];
            const std::string here = item("/doors", i);
            unique(doors_, door.name, here + "/name", "door");
            if (door.name == "body") {
                refuse(here + "/name", "a door cannot be called \"body\". Give it another name.");
            }
            if (door.hinge) {
                hinge(here + "/hinge", *door.hinge);
            }
            motion(here, door);
            if (door.outline.size() == 1 || door.outline.size() == 2) {
                refuse(here + "/outline", "the outline has fewer than three corners. Give all, or leave it out.");
            }
            count(here + "/outline", door.outline.size(), k_most_nodes);
            bodies(here + "/bodies", door);
        }
    }

    void hinge(const std::string& here, const Hinge& hinge) {
        const auto lower = in_mm(hinge.lower);
        const auto upper = in_mm(hinge.upper);
        if (lower && upper && (*upper - *lower).norm() < k_least_pin_distance_mm) {
            refuse(here,
                   "the two hinge pins stand at one place, so they give no axis. Write the places of the lower "
                   "and the upper pin.");
        } else if (hinge.lower.up && hinge.upper.up && hinge.upper.up->value <= hinge.lower.up->value) {
            refuse(here + "/upper/up", "the upper pin is not above the lower one. Change the two about.");
        }
    }

    void motion(const std::string& here, const Door& door) {
        if (door.opening && (!(*door.opening > geometry::Angle{}) || *door.opening > k_most_opening)) {
            refuse(here + "/opening_deg",
                   "the door cannot open by this angle. Write the degrees from shut to the "
                   "stop, above 0 up to 180.");
        }
        if (door.sag) {
            positive(here + "/sag/distance", door.sag->distance);
            not_negative(here + "/sag/sd", door.sag->sd);
            fraction(here + "/sag/share_at_once", door.sag->share_at_once);
        }
        if (door.over_slam) {
            not_negative(here + "/over_slam/travel", door.over_slam->travel);
            positive(here + "/over_slam/distance", door.over_slam->distance);
        }
    }

    void fraction(const std::string& pointer, double value) {
        if (!(value >= 0.0) || value > 1.0) {
            refuse(pointer, "this is a share. Write a number from 0 to 1.");
        }
    }

    void bodies(const std::string& here, const Door& door) {
        count(here, door.bodies.size(), k_most_things);
        std::set<std::string> taken;
        for (std::size_t k = 0; k < door.bodies.size(); ++k) {
            const DoorBody& body = door.bodies[k];
            const std::string at = item(here, k);
            unique(taken, body.name, at + "/name", "body");
            one_source(at, body.drawn, body.file);
            positive(at + "/sheet", body.sheet);
            sections(at, body.drawn);
        }
    }

    void one_source(const std::string& here, const Drawn& drawn, const std::optional<ShapeFile>& file) {
        if (file && !drawn.empty()) {
            refuse(here, "there are both sections and a file. Keep one of the two.",
                   "its shape comes from a file already. Take the file away before sections are drawn.");
        }
        if (file) {
            path(here + "/file/path", file->path);
        }
    }

    void path(const std::string& pointer, const std::string& text) {
        const std::filesystem::path path(text);
        const bool up = std::find(path.begin(), path.end(), "..") != path.end();
        const bool drive = text.find_first_of(":\\") != std::string::npos;
        const bool control = std::any_of(text.begin(), text.end(), [](char c) { return c >= '\0' && c < ' '; });
        if (path.is_absolute() || up || drive || control) {
            refuse(pointer,
                   "the path leads out of the job's folder. Copy the file beside the job, and write its path "
                   "from there, with / between folders and without \"..\".");
        }
    }

    void skirt() {
        not_negative("/skirt/paint", job_.skirt.paint);
        not_negative("/skirt/forming_sd", job_.skirt.forming_sd);
        material();
        count("/skirt/pieces", job_.skirt.pieces.size(), k_most_things);
        std::set<std::string> taken;
        for (std::size_t i = 0; i < job_.skirt.pieces.size(); ++i) {
            const Piece& piece = job_.skirt.pieces[i];
            const std::string here = item("/skirt/pieces", i);
            unique(taken, piece.name, here + "/name", "piece");
            if (piece.carried_by != "body" && !doors_.contains(piece.carried_by)) {
                refuse(here + "/carried_by",
                       "there is no door " + quote(piece.carried_by) +
                           ". Write \"body\", or the name of a door of this job.",
                       "it swings with " + quote(piece.carried_by) +
                           ", which would not be there. Let the body or another door carry it first.");
            }
            one_source(here, piece.drawn, piece.file);
            positive(here + "/sheet", piece.sheet);
            flange(here + "/flange", piece.flange);
            flutes(here, piece);
            recesses(here, piece);
            sections(here, piece.drawn);
        }
    }

    void flange(const std::string& here, const Flange& flange) {
        not_negative(here + "/inner_radius", flange.inner_radius);
        positive(here + "/thickness", flange.thickness);
        not_negative(here + "/thickness_sd", flange.thickness_sd);
        if (flange.neutral_fraction) {
            fraction(here + "/neutral_fraction", *flange.neutral_fraction);
        }
    }

    void limits() {
        const Limits& limits = job_.limits;
        not_negative("/limits/gap_shut", limits.gap_shut);
        not_negative("/limits/gap_moving_edge", limits.gap_moving_edge);
        not_negative("/limits/gap_moving_cladding", limits.gap_moving_cladding);
        not_negative("/limits/bend_room", limits.bend_room);
        not_negative("/limits/seat_gap", limits.seat_gap);
        not_negative("/limits/close_band", limits.close_band);
        positive("/limits/pitch_most", limits.pitch_most);
        positive("/limits/overhang_most", limits.overhang_most);
        not_negative("/limits/tail_room", limits.tail_room);
        in_range("/limits/hole_pitch_diameters", limits.hole_pitch_diameters, 0.0, k_most_factor, "diameters");
        in_range("/limits/line_up_least", limits.line_up_least, 0.0, 1.0, "");
        if (!(limits.edge_distance_diameters >= 0.0)) {
            refuse("/limits/edge_distance_diameters", "this is below zero. Write how many fastener diameters.");
        }
        if (!(limits.seat_angle >= geometry::Angle{})) {
            refuse("/limits/seat_angle_deg", "this is below zero. Write the largest angle in degrees.");
        }
    }

    const Job& job_;
    std::optional<JobFault> fault_;
    std::map<std::string, std::size_t> station_index_;
    std::set<std::string> ids_, doors_;
};

}  // namespace

std::optional<JobFault> first_fault(const Job& job) {
    return JobCheck(job).run();
}

}  // namespace sillwright::core

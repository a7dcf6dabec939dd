#pragma once

#include "core/job.h"
#include "core/job_file/words.h"

/// The fields of the job file, each named once: `describe(form, value)` runs the
/// same for reading and for writing, so the two cannot part. A form is JobReader
/// or JobWriter; the order here is the order in the file.
///
/// form.text       words; empty if absent
/// form.name       words that must be there
/// form.length     a length; must be there, or may be absent, by the type
/// form.length_or  a length with a usual value, written only if it is another
/// form.setting    a length with a usual value, always written
/// form.quantity   a number of a unit; may be absent; form.quantity_setting: with a usual value, always written
/// form.word       one of a list of words; form.needed_word: one that must be there; form.word_or: one with a usual
///                 value, written only if it is another
/// form.part       an object; form.part_if_set: one that may be absent
/// form.settings   an object of settings, always written
/// form.list       a list of objects
/// form.names      a list of words
/// form.rest       the fields that we do not know; ends each object
namespace sillwright::core::job_file {

template <class Form>
void describe(Form& form, Position& at) {
    form.length("along", at.along);
    form.length("out", at.out);
    form.length("up", at.up);
    form.rest(at.unknown);
}

template <class Form>
void describe(Form& form, PartPosition& at) {
    form.length("along", at.along);
    form.length("out", at.out);
    form.length("up", at.up);
    form.rest(at.unknown);
}

template <class Form>
void describe(Form& form, Station& station) {
    form.name("name", station.name);
    form.length("along", station.along);
    form.rest(station.unknown);
}

template <class Form>
void describe(Form& form, Node& node) {
    form.name("id", node.id);
    form.name("name", node.name);
    form.length("out", node.out);
    form.length("up", node.up);
    form.length_or("radius", node.radius, Entry{});
    form.rest(node.unknown);
}

template <class Form>
void describe(Form& form, Section& section) {
    form.name("station", section.station);
    form.list("nodes", section.nodes);
    form.rest(section.unknown);
}

template <class Form>
void describe(Form& form, RunOut& run_out) {
    form.name("name", run_out.name);
    form.length("along", run_out.along);
    form.rest(run_out.unknown);
}

template <class Form>
void describe_sections(Form& form, Drawn& drawn) {
    form.list("sections", drawn.sections);
    form.list("run_outs", drawn.run_outs);
}

template <class Form>
void describe(Form& form, Drawn& drawn) {
    describe_sections(form, drawn);
    form.rest(drawn.unknown);
}

template <class Form>
void describe(Form& form, ShapeFile& file) {
    form.name("path", file.path);
    form.text("checksum", file.checksum);
    form.word("unit", file.unit, k_unit_words);
    form.rest(file.unknown);
}

template <class Form>
void describe(Form& form, Fastener& fastener) {
    form.text("name", fastener.name);
    form.word_or("kind", fastener.kind, k_fastener_words, FastenerKind::clip);
    form.length("diameter", fastener.diameter);
    form.length("head_diameter", fastener.head_diameter);
    form.length("grip_least", fastener.grip_least);
    form.length("grip_most", fastener.grip_most);
    form.length("spacer", fastener.spacer);
    form.length("hole_least", fastener.hole_least);
    form.length("hole_most", fastener.hole_most);
    form.length("tail", fastener.tail);
    form.quantity("holds_n", fastener.holds, geometry::newtons, geometry::in_newtons);
    form.flag("slides", fastener.slides, false);
    form.rest(fastener.unknown);
}

template <class Form>
void describe(Form& form, Mount& mount) {
    form.name("name", mount.name);
    form.word("kind", mount.kind, k_mount_words);
    form.word("shape", mount.shape, k_shape_words);
    form.word("use", mount.use, k_use_words);
    form.part("at", mount.at);
    form.direction("axis", mount.axis);
    form.length("size", mount.size);
    form.length("slot_length", mount.slot_length);
    form.length("panel_thickness", mount.panel_thickness);
    form.length("free_depth", mount.free_depth);
    form.three_lengths("sd", mount.sd);
    form.length("part_hole", mount.part_hole);
    form.length("part_slot", mount.part_slot);
    form.length("part_shift", mount.part_shift);
    form.flag("from_book", mount.from_book, false);
    form.part_if_set("fastener", mount.fastener);
    form.rest(mount.unknown);
}

template <class Form>
void describe(Form& form, KeepOut& keep_out) {
    form.name("name", keep_out.name);
    form.word("kind", keep_out.kind, k_keep_out_words);
    form.word_or("shape", keep_out.shape, k_keep_out_shape_words, KeepOutShape::box);
    form.part("from", keep_out.from);
    form.list("via", keep_out.via);
    form.part("to", keep_out.to);
    form.length("radius", keep_out.radius);
    form.length("clearance", keep_out.clearance);
    form.rest(keep_out.unknown);
}

template <class Form>
void describe(Form& form, DoorBody& body) {
    form.name("name", body.name);
    form.word("kind", body.kind, k_door_body_words);
    form.flag("closed", body.closed, true);
    form.length("sheet", body.sheet);
    describe_sections(form, body.drawn);
    form.part("file", body.file);
    form.rest(body.unknown);
}

template <class Form>
void describe(Form& form, Hinge& hinge) {
    form.part_if_set("lower", hinge.lower);
    form.part_if_set("upper", hinge.upper);
    form.part("sag_about", hinge.sag_about);
    form.flag("from_book", hinge.from_book, false);
    form.rest(hinge.unknown);
}

template <class Form>
void describe(Form& form, Sag& sag) {
    form.length("drop", sag.drop);
    form.length("distance", sag.distance);
    form.number_or("share_at_once", sag.share_at_once, 1.0);
    form.length("sd", sag.sd);
    form.rest(sag.unknown);
}

template <class Form>
void describe(Form& form, OverSlam& over_slam) {
    form.length("travel", over_slam.travel);
    form.length("distance", over_slam.distance);
    form.rest(over_slam.unknown);
}

template <class Form>
void describe(Form& form, OutlinePoint& point) {
    form.length("along", point.along);
    form.length("up", point.up);
    form.rest(point.unknown);
}

template <class Form>
void describe(Form& form, Door& door) {
    form.name("name", door.name);
    form.part("hinge", door.hinge);
    form.angle("opening_deg", door.opening);
    form.part("sag", door.sag);
    form.part("over_slam", door.over_slam);
    form.flag("painted_after", door.painted_after, false);
    form.list("outline", door.outline);
    form.list("bodies", door.bodies);
    form.rest(door.unknown);
}

template <class Form>
void describe(Form& form, Flange& flange) {
    form.word("making", flange.making, k_making_words);
    form.length("inner_radius", flange.inner_radius);
    form.number("neutral_fraction", flange.neutral_fraction);
    form.angle("springback_deg", flange.springback);
    form.length("thickness", flange.thickness);
    form.length("thickness_sd", flange.thickness_sd);
    form.rest(flange.unknown);
}

template <class Form>
void describe(Form& form, Flute& flute) {
    form.name("name", flute.name);
    form.length("offset", flute.offset);
    form.length("width", flute.width);
    form.length("depth", flute.depth);
    form.length_or("bottom_radius", flute.bottom_radius, Entry{});
    form.length("front", flute.front);
    form.length("rear", flute.rear);
    form.text("bit", flute.bit);
    form.rest(flute.unknown);
}

template <class Form>
void describe(Form& form, Recess& recess) {
    form.name("name", recess.name);
    form.word("on", recess.on, k_recess_words);
    form.length("along", recess.along);
    form.length("offset", recess.offset);
    form.length("length", recess.length);
    form.length("width", recess.width);
    form.length("depth", recess.depth);
    form.length_or("corner_radius", recess.corner_radius, Entry{});
    form.text("bit", recess.bit);
    form.rest(recess.unknown);
}

template <class Form>
void describe(Form& form, DrainHole& drain) {
    form.length("along", drain.along);
    form.length("size", drain.size);
    form.rest(drain.unknown);
}

template <class Form>
void describe(Form& form, Piece& piece) {
    form.name("name", piece.name);
    form.name("carried_by", piece.carried_by);
    form.word("drawn_face", piece.drawn_face, k_face_words);
    form.length("sheet", piece.sheet);
    form.flag("front_closed", piece.front_closed, false);
    form.flag("rear_closed", piece.rear_closed, false);
    form.part_if_set("flange", piece.flange);
    form.word("top_edge", piece.top_edge, k_top_edge_words);
    form.list("flutes", piece.flutes);
    form.list("drains", piece.drains);
    form.list("recesses", piece.recesses);
    describe_sections(form, piece.drawn);
    form.part("file", piece.file);
    form.rest(piece.unknown);
}

template <class Form>
void describe(Form& form, Material& material) {
    form.text("name", material.name);
    form.number("expansion_per_k", material.expansion_per_k);
    form.number("density_kg_per_m3", material.density_kg_per_m3);
    form.quantity("modulus_mpa", material.modulus, geometry::megapascals, geometry::in_mpa);
    form.quantity("hot_modulus_mpa", material.hot_modulus, geometry::megapascals, geometry::in_mpa);
    form.quantity("creep_modulus_mpa", material.creep_modulus, geometry::megapascals, geometry::in_mpa);
    form.number("strain_most", material.strain_most);
    form.rest(material.unknown);
}

template <class Form>
void describe(Form& form, Skirt& skirt) {
    form.part_if_set("material", skirt.material);
    form.length("paint", skirt.paint);
    form.length("forming_sd", skirt.forming_sd);
    form.list("pieces", skirt.pieces);
    form.rest(skirt.unknown);
}

template <class Form>
void describe(Form& form, Limits& limits) {
    const Limits usual;
    form.setting("gap_shut", limits.gap_shut, usual.gap_shut);
    form.setting("gap_moving_edge", limits.gap_moving_edge, usual.gap_moving_edge);
    form.setting("gap_moving_cladding", limits.gap_moving_cladding, usual.gap_moving_cladding);
    form.number_setting("edge_distance_diameters", limits.edge_distance_diameters, usual.edge_distance_diameters);
    form.setting("bend_room", limits.bend_room, usual.bend_room);
    form.setting("seat_gap", limits.seat_gap, usual.seat_gap);
    form.angle_setting("seat_angle_deg", limits.seat_angle, usual.seat_angle);
    form.setting("close_band", limits.close_band, usual.close_band);
    form.length_or("pitch_most", limits.pitch_most, usual.pitch_most);
    form.length_or("overhang_most", limits.overhang_most, usual.overhang_most);
    form.number_or("hole_pitch_diameters", limits.hole_pitch_diameters, usual.hole_pitch_diameters);
    form.length_or("tail_room", limits.tail_room, usual.tail_room);
    form.number_or("line_up_least", limits.line_up_least, usual.line_up_least);
    form.rest(limits.unknown);
}

template <class Form>
void describe(Form& form, Warmth& warmth) {
    form.quantity("part_c", warmth.part, geometry::celsius, geometry::in_celsius);
    form.quantity("body_c", warmth.body, geometry::celsius, geometry::in_celsius);
    form.rest(warmth.unknown);
}

template <class Form>
void describe(Form& form, Fitting& fitting) {
    const Fitting usual;
    form.text("locator", fitting.locator);
    form.text("guide", fitting.guide);
    form.part("hot", fitting.hot);
    form.part("cold", fitting.cold);
    form.part("fitted", fitting.fitted);
    form.quantity_setting("drawn_c", fitting.drawn, usual.drawn, geometry::celsius, geometry::in_celsius);
    form.text("body_material", fitting.body_material);
    form.length("part_half", fitting.part_half);
    form.flag("fits_other_cars", fitting.fits_other_cars, false);
    form.setting("car_to_car", fitting.car_to_car, usual.car_to_car);
    form.setting("cutter_step", fitting.cutter_step, usual.cutter_step);
    form.length("front_gap", fitting.front_gap);
    form.length("rear_gap", fitting.rear_gap);
    form.rest(fitting.unknown);
}

template <class Form>
void describe(Form& form, Loads& loads) {
    const Loads usual;
    form.number_setting("air_speed_kmh", loads.air_speed_kmh, usual.air_speed_kmh);
    form.number_setting("air_coefficient", loads.air_coefficient, usual.air_coefficient);
    form.number_setting("shaking_g", loads.shaking_g, usual.shaking_g);
    form.word("stepping", loads.stepping, k_stepping_words);
    form.quantity_setting("foot_n", loads.foot, usual.foot, geometry::newtons, geometry::in_newtons);
    form.quantity_setting("heel_n", loads.heel, usual.heel, geometry::newtons, geometry::in_newtons);
    form.setting("deflection_most", loads.deflection_most, usual.deflection_most);
    form.number_setting("clip_share", loads.clip_share, usual.clip_share);
    form.rest(loads.unknown);
}

template <class Form>
void describe(Form& form, Road& road) {
    const Road usual;
    form.length("ground", road.ground);
    form.length("front_wheel", road.front_wheel);
    form.length("rear_wheel", road.rear_wheel);
    form.length("tyre_radius", road.tyre_radius);
    form.length("laden_drop", road.laden_drop);
    form.length("bump", road.bump);
    form.setting("clearance_least", road.clearance_least, usual.clearance_least);
    form.setting("bump_clearance_least", road.bump_clearance_least, usual.bump_clearance_least);
    form.angle_setting("breakover_least_deg", road.breakover_least, usual.breakover_least);
    form.angle_setting("shelf_fall_least_deg", road.shelf_fall_least, usual.shelf_fall_least);
    form.setting("drain_least", road.drain_least, usual.drain_least);
    form.setting("end_gap_least", road.end_gap_least, usual.end_gap_least);
    form.setting("end_gap_most", road.end_gap_most, usual.end_gap_most);
    form.rest(road.unknown);
}

template <class Form>
void describe(Form& form, Machine& machine) {
    form.name("name", machine.name);
    form.length("length", machine.length);
    form.length("width", machine.width);
    form.length("clamp_margin", machine.clamp_margin);
    form.length("draw_depth", machine.draw_depth);
    form.length("sheet_most", machine.sheet_most);
    form.length("oven_length", machine.oven_length);
    form.length("oven_width", machine.oven_width);
    form.rest(machine.unknown);
}

template <class Form>
void describe(Form& form, StockSheet& stock) {
    form.name("name", stock.name);
    form.length("length", stock.length);
    form.length("width", stock.width);
    form.number("price", stock.price);
    form.rest(stock.unknown);
}

template <class Form>
void describe(Form& form, Bit& bit) {
    form.name("name", bit.name);
    form.word("form", bit.form, k_bit_words);
    form.length("diameter", bit.diameter);
    form.angle("angle_deg", bit.angle);
    form.length("corner_radius", bit.corner_radius);
    form.length("reach", bit.reach);
    form.rest(bit.unknown);
}

template <class Form>
void describe(Form& form, Router& router) {
    const Router usual;
    form.length("base_radius", router.base_radius);
    form.setting("base_room", router.base_room, usual.base_room);
    form.number_setting("bearing_least", router.bearing_least, usual.bearing_least);
    form.length("board", router.board);
    form.setting("board_left", router.board_left, usual.board_left);
    form.number_setting("pass_share", router.pass_share, usual.pass_share);
    form.setting("land_least", router.land_least, usual.land_least);
    form.setting("run_out_room", router.run_out_room, usual.run_out_room);
    form.list("bits", router.bits);
    form.rest(router.unknown);
}

template <class Form>
void describe(Form& form, Tick& tick) {
    form.name("name", tick.name);
    form.flag("across", tick.across, false);
    form.length("before", tick.before);
    form.length("now", tick.now);
    form.length("sd", tick.sd);
    form.rest(tick.unknown);
}

template <class Form>
void describe(Form& form, Generation& generation) {
    form.name("name", generation.name);
    form.needed_word("kind", generation.kind, k_generation_words);
    form.number("shrink_along", generation.shrink_along);
    form.number("shrink_across", generation.shrink_across);
    form.number("shrink_sd", generation.shrink_sd);
    form.flag("from_hot", generation.from_hot, false);
    form.quantity("hot_c", generation.hot, geometry::celsius, geometry::in_celsius);
    form.number("expansion_per_k", generation.expansion_per_k);
    form.list("ticks", generation.ticks);
    form.rest(generation.unknown);
}

template <class Form>
void describe(Form& form, GaugePoint& point) {
    form.length("out", point.out);
    form.length("up", point.up);
    form.rest(point.unknown);
}

template <class Form>
void describe(Form& form, GaugeLine& line) {
    form.name("station", line.station);
    form.list("points", line.points);
    form.rest(line.unknown);
}

template <class Form>
void describe(Form& form, Sculpted& sculpted) {
    form.list("lines", sculpted.lines);
    form.text("scan", sculpted.scan);
    form.length("sd", sculpted.sd);
    form.flag("replaces", sculpted.replaces, false);
    form.rest(sculpted.unknown);
}

template <class Form>
void describe(Form& form, Forming& forming) {
    const Forming usual;
    form.word("mould", forming.mould, k_mould_words);
    form.length_or("texture", forming.texture, usual.texture);
    form.angle("draft_least_deg", forming.draft_least);
    form.angle_setting("tilt_from_deg", forming.tilt_from, usual.tilt_from);
    form.angle_setting("tilt_to_deg", forming.tilt_to, usual.tilt_to);
    form.angle("tilt_deg", forming.tilt);
    form.length_or("undercut_most", forming.undercut_most, usual.undercut_most);
    form.setting("trim_allowance", forming.trim_allowance, usual.trim_allowance);
    form.length("clamp_distance", forming.clamp_distance);
    form.setting("flange_least", forming.flange_least, usual.flange_least);
    form.setting("shelf_least", forming.shelf_least, usual.shelf_least);
    form.setting("rest_least", forming.rest_least, usual.rest_least);
    form.number_setting("draw_ratio_most", forming.draw_ratio_most, usual.draw_ratio_most);
    form.text("machine", forming.machine);
    form.list("machines", forming.machines);
    form.list("stock", forming.stock);
    form.part_if_set("router", forming.router);
    form.list("generations", forming.generations);
    form.length("skin", forming.skin);
    form.part_if_set("sculpted", forming.sculpted);
    form.rest(forming.unknown);
}

template <class Form>
void describe(Form& form, survey::SetUp& set_up) {
    form.name("name", set_up.name);
    form.flag("level", set_up.level, false);
    form.angle("roll_deg", set_up.roll);
    form.angle("pitch_deg", set_up.pitch);
    form.angle("lean_sd_deg", set_up.lean_sd);
    form.rest(set_up.unknown);
}

template <class Form>
void describe(Form& form, survey::Instrument& instrument) {
    form.name("name", instrument.name);
    form.word("kind", instrument.kind, k_instrument_words);
    form.word("tape_class", instrument.tape_class, k_tape_words);
    form.flag("hook", instrument.hook, false);
    form.length("reader_sd", instrument.reader_sd);
    form.length("sd", instrument.sd);
    form.angle("angle_sd_deg", instrument.angle_sd);
    form.rest(instrument.unknown);
}

template <class Form>
void describe(Form& form, survey::Point& point) {
    form.name("name", point.name);
    form.word("kind", point.kind, k_point_words);
    form.length("along", point.along);
    form.length("out", point.out);
    form.length("up", point.up);
    form.length("sd", point.sd);
    form.length("about_along", point.about_along);
    form.length("about_out", point.about_out);
    form.length("about_up", point.about_up);
    form.text("note", point.note);
    form.rest(point.unknown);
}

template <class Form>
void describe(Form& form, survey::Reading& reading) {
    form.name("id", reading.id);
    form.needed_word("kind", reading.kind, k_reading_words);
    form.names("points", reading.points);
    form.length("value", reading.value);
    form.length("up", reading.up);
    form.angle("angle_deg", reading.angle);
    form.text("trace", reading.trace);
    form.text("set_up", reading.set_up);
    form.text("instrument", reading.instrument);
    form.length("sd", reading.sd);
    form.angle("angle_sd_deg", reading.angle_sd);
    form.text("dropped", reading.dropped);
    form.text("note", reading.note);
    form.rest(reading.unknown);
}

template <class Form>
void describe(Form& form, survey::HingeSet& hinge) {
    form.name("door", hinge.door);
    form.names("targets", hinge.targets);
    form.rest(hinge.unknown);
}

template <class Form>
void describe(Form& form, survey::Book& book) {
    form.text("who", book.who);
    form.text("date", book.date);
    form.number("temperature_c", book.temperature);
    form.list("set_ups", book.set_ups);
    form.list("instruments", book.instruments);
    form.list("points", book.points);
    form.list("readings", book.readings);
    form.list("hinges", book.hinges);
    form.rest(book.unknown);
}

template <class Form>
void describe(Form& form, survey::PhotoPoint& point) {
    form.number_or("right_px", point.right_px, 0.0);
    form.number_or("down_px", point.down_px, 0.0);
    form.text("point", point.point);
    form.length("across", point.across);
    form.length("up", point.up);
    form.rest(point.unknown);
}

template <class Form>
void describe(Form& form, survey::Photo& photo) {
    form.name("name", photo.name);
    form.name("path", photo.path);
    form.text("checksum", photo.checksum);
    form.word("plane", photo.plane, k_photo_plane_words);
    form.text("station", photo.station);
    form.list("points", photo.points);
    form.rest(photo.unknown);
}

template <class Form>
void describe(Form& form, survey::ScanMark& mark) {
    form.name("point", mark.point);
    form.number_or("x", mark.x, 0.0);
    form.number_or("y", mark.y, 0.0);
    form.number_or("z", mark.z, 0.0);
    form.rest(mark.unknown);
}

template <class Form>
void describe(Form& form, survey::Scan& scan) {
    form.name("name", scan.name);
    form.name("path", scan.path);
    form.text("checksum", scan.checksum);
    form.word("unit", scan.unit, k_unit_words);
    form.list("marks", scan.marks);
    form.flag("fitted", scan.fitted, false);
    form.length("deviation", scan.deviation);
    form.rest(scan.unknown);
}

template <class Form>
void describe(Form& form, BoardDefect& defect) {
    form.name("name", defect.name);
    form.length("along", defect.along);
    form.length("across", defect.across);
    form.length("length", defect.length);
    form.length("width", defect.width);
    form.rest(defect.unknown);
}

template <class Form>
void describe(Form& form, Board& board) {
    form.name("name", board.name);
    form.length("length", board.length);
    form.length("width", board.width);
    form.length("thickness_1", board.thickness_1);
    form.length("thickness_2", board.thickness_2);
    form.length("thickness_3", board.thickness_3);
    form.number("count", board.count);
    form.flag("grain", board.grain, false);
    form.number("price", board.price);
    form.list("defects", board.defects);
    form.rest(board.unknown);
}

template <class Form>
void describe(Form& form, Buck& buck) {
    const Buck usual;
    form.length("chord_most", buck.chord_most);
    form.word_or("face", buck.face, k_rib_face_words, usual.face);
    form.word_or("spines", buck.spines, k_spine_words, usual.spines);
    form.length("spine_height", buck.spine_height);
    form.text("rib_board", buck.rib_board);
    form.text("spine_board", buck.spine_board);
    form.text("base_board", buck.base_board);
    form.setting("fit", buck.fit, usual.fit);
    form.setting("slot_extra", buck.slot_extra, usual.slot_extra);
    form.setting("key_step", buck.key_step, usual.key_step);
    form.setting("base_room", buck.base_room, usual.base_room);
    form.setting("pin", buck.pin, usual.pin);
    form.text("bit", buck.bit);
    form.word_or("line", buck.line, k_cut_line_words, usual.line);
    form.word_or("relief", buck.relief, k_relief_words, usual.relief);
    form.setting("tab_width", buck.tab_width, usual.tab_width);
    form.setting("tab_height", buck.tab_height, usual.tab_height);
    form.setting("tab_pitch", buck.tab_pitch, usual.tab_pitch);
    form.setting("letters", buck.letters, usual.letters);
    form.setting("margin", buck.margin, usual.margin);
    form.length("gap", buck.gap);
    form.word_or("unit", buck.unit, k_drawing_unit_words, usual.unit);
    form.word_or("release", buck.release, k_release_words, usual.release);
    form.list("boards", buck.boards);
    form.rest(buck.unknown);
}

template <class Form>
void describe(Form& form, Papers& papers) {
    const Papers usual;
    form.word_or("templates", papers.templates, k_paper_words, usual.templates);
    form.word_or("pages", papers.pages, k_paper_words, usual.pages);
    form.text("call", papers.call);
    form.setting("foam", papers.foam, usual.foam);
    form.setting("carton", papers.carton, usual.carton);
    form.length("longest", papers.longest);
    form.length("girth_most", papers.girth_most);
    form.rest(papers.unknown);
}

template <class Form>
void describe(Form& form, Job& job) {
    form.version("version");
    form.text("vehicle", job.vehicle);
    form.text("revision", job.revision);
    form.text("date", job.date);
    form.needed_word("side", job.side, k_side_words);
    form.bare_unit("unit", job.unit);
    form.length("zero_to_midplane", job.zero_to_midplane);
    form.length("survey_sd", job.survey_sd);
    form.part_if_set("book", job.book);
    form.text("other_hand", job.other_hand);
    form.list("photos", job.photos);
    form.list("scans", job.scans);
    form.list("stations", job.stations);
    form.part_if_set("body", job.body);
    form.list("mounts", job.mounts);
    form.list("keep_outs", job.keep_outs);
    form.list("doors", job.doors);
    form.part_if_set("skirt", job.skirt);
    form.part_if_set("fitting", job.fitting);
    form.part_if_set("loads", job.loads);
    form.part_if_set("road", job.road);
    form.part_if_set("forming", job.forming);
    form.part_if_set("buck", job.buck);
    form.part_if_set("papers", job.papers);
    form.settings("limits", job.limits);
    form.rest(job.unknown);
}

}  // namespace sillwright::core::job_file

// The schema against an independent validator (Debian's python3-jsonschema), and
// against every key that job_text writes.
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <set>

#include "core/job_file.h"
#include "core/typed.h"

namespace sillwright::core {

namespace {

using nlohmann::json;

const std::filesystem::path k_root{SILLWRIGHT_SOURCE_DIR};

Entry mm(double value) {
    return entry(geometry::millimetres(value));
}

Drawn two_sections(const std::string& id) {
    Drawn drawn;
    for (const char* station : {"1", "2"}) {
        Section section;
        section.station = station;
        for (int i = 0; i < 3; ++i) {
            section.nodes.push_back({.id = id + station + std::to_string(i),
                                     .name = "n" + std::to_string(i),
                                     .out = mm(i * 10.0),
                                     .up = mm(i * i * 5.0),
                                     .radius = mm(1.0),
                                     .unknown = {}});
        }
        drawn.sections.push_back(section);
    }
    drawn.run_outs.push_back({.name = "n1", .along = mm(50.0)});
    return drawn;
}

Mount full_mount() {
    Mount mount;
    mount.name = "H1";
    mount.size = mount.slot_length = mount.panel_thickness = mount.free_depth = mm(9.0);
    mount.sd = {mm(0.5), mm(0.5), std::nullopt};
    mount.part_hole = mount.part_slot = mount.part_shift = mm(6.0);
    mount.from_book = true;
    mount.fastener = {.name = "clip",
                      .kind = FastenerKind::fixed_screw,
                      .diameter = mm(6.0),
                      .head_diameter = mm(16.0),
                      .grip_least = mm(3.0),
                      .grip_most = mm(4.5),
                      .spacer = mm(1.0),
                      .hole_least = mm(8.0),
                      .hole_most = mm(9.0),
                      .tail = mm(12.0),
                      .holds = geometry::newtons(120.0),
                      .slides = true,
                      .unknown = {}};
    return mount;
}

Door full_door() {
    Door door;
    door.name = "front door";
    const PartPosition lower{mm(0.0), mm(90.0), mm(350.0)};
    const PartPosition upper{mm(0.0), mm(80.0), mm(750.0)};
    door.hinge = Hinge{lower, upper, Position{mm(0.0), mm(90.0), mm(350.0)}, true};
    door.opening = geometry::degrees(68.0);
    door.sag = Sag{.drop = mm(1.5), .distance = mm(1000.0), .share_at_once = 0.5, .sd = mm(0.5)};
    door.over_slam = OverSlam{mm(2.0), mm(900.0)};
    door.painted_after = true;
    door.outline = {{mm(0.0), mm(120.0)}, {mm(900.0), mm(120.0)}, {mm(900.0), mm(400.0)}};
    DoorBody drawn;
    drawn.name = "edge";
    drawn.closed = false;
    drawn.sheet = mm(1.0);
    drawn.drawn = two_sections("d");
    DoorBody scanned;
    scanned.name = "cladding";
    scanned.kind = DoorBodyKind::cladding;
    scanned.file = ShapeFile{.path = "cladding.stl", .checksum = std::string(64, 'a'), .unit = BareUnit::in};
    door.bodies = {drawn, scanned};
    return door;
}

survey::Book full_book() {
    const geometry::Angle lean = geometry::degrees(0.3);
    survey::Book book;
    book.who = "one who measures";
    book.date = "2026-03-14";
    book.temperature = 18.5;
    book.set_ups = {{.name = "wheels", .level = true, .roll = {}, .pitch = {}, .lean_sd = {}},
                    {.name = "lift", .roll = lean, .pitch = lean, .lean_sd = lean}};
    book.instruments = {{.name = "tape",
                         .kind = survey::InstrumentKind::rule,
                         .tape_class = survey::TapeClass::ii,
                         .hook = true,
                         .reader_sd = mm(0.5),
                         .sd = mm(0.8),
                         .angle_sd = lean}};
    survey::Point point;
    point.name = "A";
    point.kind = survey::PointKind::mount;
    point.note = "on the sill";
    point.along = point.out = point.up = point.sd = mm(1.0);
    point.about_along = point.about_out = point.about_up = mm(2.0);
    book.points = {point};
    book.readings = {{.id = "r1",
                      .kind = survey::ReadingKind::gauge,
                      .points = {"A", "P1"},
                      .value = mm(41.0),
                      .up = mm(18.0),
                      .angle = lean,
                      .trace = "first",
                      .set_up = "lift",
                      .instrument = "tape",
                      .sd = mm(0.5),
                      .angle_sd = lean,
                      .dropped = "slipped",
                      .note = "in the rain"}};
    book.hinges = {{.door = "front door", .targets = {"T1", "T2"}}};
    return book;
}

/// A job in which no field is left at what makes it go unwritten.
/// Every field that there is, none as usual.
Forming full_forming() {
    Forming forming;
    forming.mould = MouldKind::female;
    forming.texture = mm(0.05);
    forming.draft_least = geometry::degrees(4.0);
    forming.tilt = geometry::degrees(-2.0);
    forming.undercut_most = mm(1.0);
    forming.clamp_distance = mm(150.0);
    forming.machine = "own";
    Machine machine;
    machine.name = "own";
    machine.length = machine.width = mm(2000.0);
    machine.clamp_margin = mm(20.0);
    machine.draw_depth = mm(300.0);
    machine.sheet_most = mm(6.0);
    machine.oven_length = machine.oven_width = mm(1900.0);
    forming.machines = {machine};
    StockSheet stock;
    stock.name = "large";
    stock.length = stock.width = mm(2000.0);
    stock.price = 55.5;
    forming.stock = {stock};
    forming.router.base_radius = mm(75.0);
    forming.router.board = mm(18.0);
    Bit bit;
    bit.name = "ball";
    bit.form = BitForm::vee;
    bit.diameter = mm(12.0);
    bit.angle = geometry::degrees(90.0);
    bit.corner_radius = mm(0.5);
    bit.reach = mm(20.0);
    forming.router.bits = {bit};
    Tick tick;
    tick.name = "500 along";
    tick.across = true;
    tick.before = mm(500.0);
    tick.now = mm(499.0);
    tick.sd = mm(0.2);
    Generation plug;
    plug.name = "plug";
    Generation sheet;
    sheet.name = "sheet";
    sheet.kind = GenerationKind::sheet;
    sheet.shrink_along = sheet.shrink_across = 0.006;
    sheet.shrink_sd = 0.001;
    sheet.from_hot = true;
    sheet.hot = geometry::celsius(65.0);
    sheet.expansion_per_k = 2.5e-5;
    sheet.ticks = {tick};
    forming.generations = {plug, sheet};
    forming.skin = mm(3.0);
    GaugePoint point;
    point.out = mm(100.0);
    point.up = mm(50.0);
    GaugeLine line;
    line.station = "1";
    line.points = {point};
    forming.sculpted.lines = {line};
    forming.sculpted.sd = mm(0.4);
    forming.sculpted.scan = "sill";
    forming.sculpted.replaces = true;
    return forming;
}

Buck full_buck() {
    Buck buck;
    buck.chord_most = buck.spine_height = buck.gap = mm(8.0);
    buck.face = RibFace::smaller;
    buck.spines = SpineCount::one;
    buck.rib_board = buck.spine_board = buck.base_board = "mdf 12";
    buck.fit = mm(0.2);
    buck.slot_extra = mm(0.6);
    buck.key_step = mm(5.0);
    buck.base_room = mm(25.0);
    buck.pin = mm(8.0);
    buck.bit = "flat 6";
    buck.line = CutLine::tool_path;
    buck.relief = CornerRelief::along_edge;
    buck.tab_width = mm(7.0);
    buck.tab_height = mm(3.0);
    buck.tab_pitch = mm(200.0);
    buck.letters = mm(9.0);
    buck.margin = mm(11.0);
    buck.unit = DrawingUnit::inches;
    buck.release = DxfRelease::older;
    Board board;
    board.name = "mdf 12";
    board.length = mm(2440.0);
    board.width = mm(1220.0);
    board.thickness_1 = board.thickness_2 = board.thickness_3 = mm(11.9);
    board.count = 3.0;
    board.grain = true;
    board.price = 31.5;
    board.defects = {{.name = "knot", .along = mm(100.0), .across = mm(200.0), .length = mm(30.0), .width = mm(20.0)}};
    buck.boards = {board};
    return buck;
}

Papers full_papers() {
    Papers papers;
    papers.templates = PaperSize::a3;
    papers.pages = PaperSize::letter;
    papers.call = "the shop";
    papers.foam = mm(50.0);
    papers.carton = mm(6.0);
    papers.longest = mm(2400.0);
    papers.girth_most = mm(3000.0);
    return papers;
}

Job full_job() {
    Job job;
    job.vehicle = "Estate A";
    job.revision = "C";
    job.date = "2026-03-14";
    job.zero_to_midplane = mm(740.0);
    job.survey_sd = mm(0.5);
    job.book = full_book();
    job.other_hand = "left.sillwright";
    job.photos = {{.name = "station 1",
                   .path = "one.jpg",
                   .checksum = std::string(64, 'c'),
                   .plane = survey::PhotoPlane::elevation,
                   .station = "1",
                   .points = {{.right_px = 10.5, .down_px = 20.0, .point = "A", .across = mm(1.0), .up = mm(2.0)}}}};
    job.scans = {{.name = "sill",
                  .path = "sill.ply",
                  .checksum = std::string(64, 'd'),
                  .unit = BareUnit::in,
                  .marks = {{.point = "A", .x = 1.0, .y = 2.0, .z = 3.0}},
                  .fitted = true,
                  .deviation = mm(0.3)}};
    job.stations = {{"1", mm(0.0), {}}, {"2", typed_entry("4 in", BareUnit::mm).value(), {}}};
    job.body = two_sections("b");
    job.mounts = {full_mount(), full_mount()};
    job.mounts.back().name = "H2";
    job.keep_outs = {{.name = "pad",
                      .kind = KeepOutKind::jacking,
                      .shape = KeepOutShape::strip,
                      .from = {mm(0.0), mm(0.0), mm(0.0)},
                      .to = {mm(9.0), mm(9.0), mm(9.0)},
                      .via = {{mm(5.0), mm(5.0), mm(6.0)}},
                      .radius = mm(4.0),
                      .clearance = mm(20.0),
                      .unknown = {}}};
    job.doors = {full_door()};
    Piece piece;
    piece.name = "skirt";
    piece.carried_by = "body";
    piece.sheet = mm(3.0);
    piece.front_closed = piece.rear_closed = true;
    piece.flange = {.making = FlangeMaking::bent_after,
                    .inner_radius = mm(3.0),
                    .neutral_fraction = 0.42,
                    .springback = geometry::degrees(2.5),
                    .thickness = mm(2.6),
                    .thickness_sd = mm(0.1),
                    .unknown = {}};
    piece.top_edge = TopEdgeFixing::tape;
    piece.flutes = {{.name = "outer",
                     .offset = mm(15.0),
                     .width = mm(12.0),
                     .depth = mm(5.0),
                     .bottom_radius = mm(3.0),
                     .front = mm(10.0),
                     .rear = mm(90.0),
                     .bit = "ball"}};
    piece.recesses = {{.name = "badge",
                       .on = RecessFace::shelf,
                       .along = mm(50.0),
                       .offset = mm(40.0),
                       .length = mm(30.0),
                       .width = mm(15.0),
                       .depth = mm(2.0),
                       .corner_radius = mm(4.0),
                       .bit = "ball"}};
    piece.drains = {{.along = mm(40.0), .size = mm(8.0)}};
    piece.drawn = two_sections("s");
    Piece scanned;
    scanned.name = "end";
    scanned.carried_by = "front door";
    scanned.file = ShapeFile{.path = "end.step", .checksum = std::string(64, 'b'), .unit = BareUnit::mm};
    job.skirt.pieces = {piece, scanned};
    job.skirt.paint = mm(0.12);
    job.skirt.forming_sd = mm(0.6);
    const geometry::Stress modulus = geometry::megapascals(2200.0);
    job.skirt.material = {.name = "ABS",
                          .expansion_per_k = 9e-5,
                          .density_kg_per_m3 = 1050.0,
                          .modulus = modulus,
                          .hot_modulus = modulus,
                          .creep_modulus = modulus,
                          .strain_most = 0.01};
    const Warmth warmth{geometry::celsius(80.0), geometry::celsius(40.0)};
    job.fitting.locator = "H1";
    job.fitting.guide = "H2";
    job.fitting.hot = job.fitting.cold = job.fitting.fitted = warmth;
    job.fitting.body_material = "steel";
    job.fitting.part_half = job.fitting.front_gap = job.fitting.rear_gap = mm(0.5);
    job.fitting.fits_other_cars = true;
    job.loads.stepping = Stepping::refused;
    job.limits.pitch_most = job.limits.overhang_most = job.limits.tail_room = mm(77.0);
    job.limits.hole_pitch_diameters = 4.0;
    job.limits.line_up_least = 0.9;
    job.road.ground = mm(-180.0);
    job.road.front_wheel = mm(-300.0);
    job.road.rear_wheel = mm(2300.0);
    job.road.tyre_radius = mm(300.0);
    job.road.laden_drop = job.road.bump = mm(40.0);
    job.forming = full_forming();
    job.buck = full_buck();
    job.papers = full_papers();
    return job;
}

json read_schema() {
    std::ifstream in(k_root / "resources/job.schema.json");
    return json::parse(in);
}

/// Follows a reference, and the first choice of two.
const json& resolved(const json& schema, const json& root) {
    if (schema.contains("$ref")) {
        return root.at(json::json_pointer(schema["$ref"].get<std::string>().substr(1)));
    }
    return schema.contains("anyOf") ? resolved(schema["anyOf"][0], root) : schema;
}

/// Adds the keys of `value` that the schema does not name, by their place.
void keys_without_schema(const json& value, const json& schema, const json& root, const std::string& place,
                         std::set<std::string>& missing, std::set<std::string>& seen) {
    const json& here = resolved(schema, root);
    if (value.is_array()) {
        for (const json& item : value) {
            if (item.is_structured()) {
                keys_without_schema(item, here.at("items"), root, place + "[]", missing, seen);
            }
        }
        return;
    }
    for (const auto& item : value.items()) {
        const std::string key = place + "/" + item.key();
        seen.insert(key);
        if (!here.contains("properties") || !here["properties"].contains(item.key())) {
            missing.insert(key);
        } else if (item.value().is_structured()) {
            keys_without_schema(item.value(), here["properties"][item.key()], root, key, missing, seen);
        }
    }
}

void keys_of_schema(const json& schema, const json& root, const std::string& place, std::set<std::string>& keys) {
    const json& here = resolved(schema, root);
    if (here.contains("items")) {
        keys_of_schema(here["items"], root, place + "[]", keys);
    }
    if (here.contains("properties")) {
        for (const auto& item : here["properties"].items()) {
            keys.insert(place + "/" + item.key());
            keys_of_schema(item.value(), root, place + "/" + item.key(), keys);
        }
    }
}

TEST(JobSchema, NamesEveryKeyThatIsWrittenAndNoOther) {
    const std::string text = job_text(full_job());
    ASSERT_TRUE(parse_job(text, "full")) << parse_job(text, "full").error().message;
    const json schema = read_schema();
    std::set<std::string> missing, written, named;
    keys_without_schema(json::parse(text), schema, schema, "", missing, written);
    EXPECT_EQ(missing, std::set<std::string>{});
    keys_of_schema(schema, schema, "", named);
    std::set<std::string> unwritten;
    std::set_difference(named.begin(), named.end(), written.begin(), written.end(),
                        std::inserter(unwritten, unwritten.end()));
    EXPECT_EQ(unwritten, std::set<std::string>{})
        << "the schema names a key that full_job does not have, or none writes";
}

void expect_described(const json& schema, const std::string& place) {
    if (schema.contains("properties")) {
        for (const auto& item : schema["properties"].items()) {
            EXPECT_TRUE(item.value().contains("description")) << place << "/" << item.key();
        }
    }
}

TEST(JobSchema, AFullJobComesBackAsItWasWritten) {
    const Job job = full_job();
    const auto again = parse_job(job_text(job), "full");
    ASSERT_TRUE(again) << again.error().message;
    EXPECT_EQ(again.value().buck, job.buck);
    EXPECT_EQ(again.value().papers, job.papers);
    EXPECT_EQ(again.value(), job);
    EXPECT_EQ(job_text(again.value()), job_text(job));
}

TEST(JobSchema, EveryFieldHasADescription) {
    const json schema = read_schema();
    expect_described(schema, "");
    for (const auto& item : schema["$defs"].items()) {
        expect_described(item.value(), item.key());
    }
}

int validator(const std::string& arguments) {
    const std::string command = "/usr/bin/python3 '" + (k_root / "tests/reference/job_schema_test.py").string() +
                                "' '" + (k_root / "resources/job.schema.json").string() + "' " + arguments;
    return std::system(command.c_str());
}

TEST(JobSchema, ShippedJobsAndSamplesAreValid) {
    std::string files;
    int count = 0;
    for (const char* folder : {"tests/data/jobs", "samples"}) {
        for (const auto& file : std::filesystem::directory_iterator(k_root / folder)) {
            if (file.path().extension() == ".sillwright") {
                files += " '" + file.path().string() + "'";
                ++count;
                const auto job = read_job(file.path());
                EXPECT_TRUE(job) << (job ? "" : job.error().message);
            }
        }
    }
    EXPECT_GE(count, 2) << "wrong SILLWRIGHT_SOURCE_DIR? nothing was checked";
    EXPECT_EQ(validator(files), 0);
}

TEST(JobSchema, AFullJobIsValidAndABrokenOneIsNot) {
    std::string folder = (std::filesystem::temp_directory_path() / "sillwright-XXXXXX").string();
    ASSERT_NE(mkdtemp(folder.data()), nullptr);
    const std::string path = folder + "/full.sillwright";
    std::ofstream(path) << job_text(full_job());
    EXPECT_EQ(validator("'" + path + "'"), 0);
    json broken = json::parse(job_text(full_job()));
    broken["mounts"][0]["kind"] = "rivet";
    std::ofstream(path) << broken.dump();
    EXPECT_NE(validator("'" + path + "'"), 0);
    std::filesystem::remove_all(folder);
}

}  // namespace

}  // namespace sillwright::core

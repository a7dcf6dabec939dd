#pragma once

#include <gtest/gtest.h>

#include <filesystem>
#include <string>
#include <vector>

#include "core/edit/drawn_id.h"
#include "core/edit/edit.h"
#include "core/job.h"
#include "core/job_file.h"
#include "core/typed.h"

/// Jobs to try edits on.
namespace sillwright::core::bench {

inline const DrawnId k_body{DrawnId::Kind::body, 0, 0};
inline const DrawnId k_piece{DrawnId::Kind::piece, 0, 0};
inline const DrawnId k_door_body{DrawnId::Kind::door_body, 0, 0};
inline const std::filesystem::path k_samples = std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples";

inline Entry mm(double value) {
    return entry(geometry::millimetres(value));
}

inline Job estate() {
    auto job = read_job(k_samples / "estate_a.sillwright");
    EXPECT_TRUE(job) << (job ? "" : job.error().message);
    return job ? std::move(job).value() : Job{};
}

/// A skirt piece at stations 1, 2, 3 (0, 100, 300 mm), at each a channel 100 mm wide and high that opens
/// inwards, its two outer corners rounded by 5 mm. Ids are "1a" to "3d".
inline Job channel() {
    Job job;
    job.stations = {{"1", mm(0), {}}, {"2", mm(100), {}}, {"3", mm(300), {}}};
    Piece piece;
    piece.name = "skirt";
    piece.carried_by = "body";
    piece.sheet = mm(3);
    for (const std::string station : {"1", "2", "3"}) {
        piece.drawn.sections.push_back({station,
                                        {{station + "a", "top return end", mm(0), mm(100), mm(0), {}},
                                         {station + "b", "shelf edge", mm(100), mm(100), mm(5), {}},
                                         {station + "c", "lower edge", mm(100), mm(0), mm(5), {}},
                                         {station + "d", "flange end", mm(0), mm(0), mm(0), {}}},
                                        {}});
    }
    job.skirt.pieces.push_back(piece);
    return job;
}

inline Flute flute(const std::string& name, double offset, double width) {
    Flute made;
    made.name = name;
    made.offset = mm(offset);
    made.width = mm(width);
    made.depth = mm(3);
    return made;
}

inline Tick tick(const std::string& name, double before, double now) {
    Tick made;
    made.name = name;
    made.before = mm(before);
    made.now = mm(now);
    return made;
}

/// The channel and an end piece, both with flutes, recesses and drains; moulds, machines and bits; ticks on two
/// generations; gauge points at stations 1 and 3; two boards with defects, of which the second is for ribs.
inline Job formed() {
    Job job = channel();
    Piece end = job.skirt.pieces[0];
    end.name = "end piece";
    for (Section& section : end.drawn.sections) {
        for (Node& node : section.nodes) {
            node.id += "e";
        }
    }
    job.skirt.pieces.push_back(end);
    Piece& skirt = job.skirt.pieces[0];
    skirt.flutes = {flute("flute 1", 10, 8), flute("flute 2", 25, 6)};
    skirt.flutes[0].front = mm(20);
    skirt.flutes[0].bit = "nose";
    job.skirt.pieces[1].flutes = {flute("flute 3", 12, 5)};
    Recess badge{"badge", RecessFace::face, mm(150), mm(40), mm(90), mm(30), mm(2), mm(6), "nose", {}};
    job.skirt.pieces[1].recesses = {badge};
    skirt.drains = {{mm(50), mm(6), {}}, {mm(250), mm(8), {}}};
    Forming& forming = job.forming;
    forming.mould = MouldKind::male;
    forming.machine = "frame";
    Machine frame;
    frame.name = "frame";
    frame.length = mm(2200);
    frame.clamp_margin = mm(25);
    forming.machines = {frame};
    StockSheet sheet;
    sheet.name = "full";
    sheet.length = mm(2440);
    sheet.price = 61.5;
    forming.stock = {sheet};
    Bit nose;
    nose.name = "nose";
    nose.diameter = mm(12);
    Bit vee;
    vee.name = "vee";
    vee.form = BitForm::vee;
    vee.angle = geometry::degrees(90);
    forming.router.bits = {nose, vee};
    forming.router.base_radius = mm(75);
    const auto generation = [](const std::string& name, GenerationKind kind, std::optional<double> shrink) {
        Generation made;
        made.name = name;
        made.kind = kind;
        made.shrink_along = shrink;
        return made;
    };
    forming.generations = {
        generation("plug", GenerationKind::plug, std::nullopt), generation("female", GenerationKind::female, 0.002),
        generation("male", GenerationKind::male, 0.0015), generation("sheet", GenerationKind::sheet, 0.006)};
    forming.generations[1].ticks = {tick("A to B", 1000, 998)};
    forming.generations[2].ticks = {tick("A to B", 998, 997), tick("C to D", 120, 119.8)};
    forming.generations[2].ticks[1].across = true;
    forming.generations[3].hot = geometry::celsius(60);
    forming.generations[3].expansion_per_k = 0.000025;
    forming.sculpted.lines = {{"1", {{mm(0), mm(0), {}}, {mm(100), mm(1), {}}}, {}}, {"3", {{mm(2), mm(3), {}}}, {}}};
    Board board;
    board.name = "mdf 12";
    board.length = mm(2440);
    board.thickness_1 = mm(11.9);
    board.defects = {{"knot", mm(100), mm(50), mm(30), mm(20), {}}};
    Board off_cut;
    off_cut.name = "ply 9";
    off_cut.count = 1;
    off_cut.grain = true;
    off_cut.price = 12.5;
    off_cut.defects = {{"corner", mm(0), mm(0), mm(60), mm(60), {}}, {"stain", mm(400), std::nullopt, {}, {}, {}}};
    job.buck.boards = {board, off_cut};
    job.buck.rib_board = "ply 9";
    job.buck.bit = "nose";
    return job;
}

inline const Node& node(const Job& job, const std::string& id) {
    const auto place = find_node(job, id);
    EXPECT_TRUE(place) << id;
    return drawn(job, place->drawn).sections[place->section].nodes[place->node];
}

/// The job of an edit that must be taken; the job as it was if it is not.
inline Job after(const geometry::Result<Edit>& edit, const Job& before) {
    EXPECT_TRUE(edit) << (edit ? "" : edit.error().message);
    return edit ? edit.value().job : before;
}

inline std::string words(const geometry::Result<Edit>& edit) {
    return edit ? edit.value().words : "refused: " + edit.error().message;
}

inline std::string refusal(const geometry::Result<Edit>& edit) {
    return edit ? "taken" : edit.error().message;
}

/// The job read again from its own text.
inline void expect_kept(const Job& job) {
    const auto again = parse_job(job_text(job), "again");
    ASSERT_TRUE(again) << again.error().message;
    EXPECT_EQ(again.value(), job);
}

}  // namespace sillwright::core::bench

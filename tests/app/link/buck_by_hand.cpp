#include "tests/app/link/buck_by_hand.h"

#include "tests/app/link/formed_by_hand.h"
#include "core/buck/buck_work.h"

namespace sillwright::app {

using geometry::degrees;
using geometry::millimetres;

namespace {

geometry::Profile box(double width, double height, double inset) {
    return geometry::make_profile({{{inset, 0.0}, {}},
                                   {{width - inset, 0.0}, {}},
                                   {{width - inset, height - inset}, {}},
                                   {{inset, height - inset}, {}}},
                                  true)
        .value();
}

core::Rib rib(int number) {
    core::Rib made;
    made.label = "R" + std::to_string(number + 1);
    made.station = number == 0 ? "1" : "";
    made.along = millimetres(100.0 + 300.0 * number);
    made.x_mm = 302.0 * number;
    made.place_is_front = number < 2;
    made.thickness_mm = 12.0;
    made.outline = box(100.0, 140.0, 0.0);
    made.far_outline = box(100.0, 140.0, 1.0);
    made.bevels = {{"shelf inner to shelf edge", degrees(4.2), degrees(4.2), millimetres(0.9)},
                   {"shelf edge to lower edge", degrees(3.0), degrees(5.5), millimetres(1.1)},
                   {"lower edge to flange root", degrees(-2.0), degrees(-2.0), millimetres(-0.8)},
                   {"flange root to flange end", degrees(0.01), degrees(0.0), millimetres(0.0)}};
    made.laps = {{30.0, 12.15, 48.0 + 4.0 * number}, {70.0, 12.15, 60.0}};
    made.pins_mm = {{50.0, 100.0}, {50.0, 120.0}};
    made.level_mm = 40.0;
    return made;
}

core::BuckPlan plan() {
    core::PieceBuck buck;
    buck.tilt = degrees(0.0);
    buck.base_mm = 10.0;
    buck.along_size = 1.0062;
    buck.across_size = 0.9975;
    buck.front = millimetres(100.0);
    for (int i = 0; i < 4; ++i) {
        buck.ribs.push_back(rib(i));
    }
    core::Spine spine;
    spine.label = "S1";
    spine.side_mm = 30.0;
    spine.thickness_mm = 12.0;
    spine.front_mm = -10.0;
    spine.rear_mm = 930.0;
    spine.height_mm = 60.0;
    core::Spine other = spine;
    other.label = "S2";
    other.side_mm = 70.0;
    buck.spines = {spine, other};
    buck.base = core::BaseBoard{"B", -20.0, 940.0, -20.0, 120.0, 12.0};
    buck.checks = {{"R1, rod hole 1, face on its place", "R4, rod hole 2, face on its place", millimetres(912.3)},
                   {"S1, front end, middle, on the base", "S2, rear end, middle, on the base", millimetres(940.9)},
                   {"R1, foot at the high side, face on its place", "R4, foot at the low side, face on its place",
                    millimetres(911.5)}};
    buck.worst_swap = core::WrongPlace{"R1", "R2", false, 4.0};
    core::BuckPlan made;
    made.pieces = {buck};
    return made;
}

std::unique_ptr<core::Evaluation> with(core::BuckPlan plan) {
    auto made = formed_by_hand();
    core::Board board;
    board.name = "mdf 12";
    board.length = core::Entry{millimetres(2440.0), ""};
    board.width = core::Entry{millimetres(1220.0), ""};
    board.thickness_1 = core::Entry{millimetres(12.0), ""};
    core::BoardDefect defect;
    defect.name = "corner";
    defect.along = defect.across = core::Entry{millimetres(0.0), ""};
    defect.length = core::Entry{millimetres(80.0), ""};
    defect.width = core::Entry{millimetres(60.0), ""};
    core::BoardDefect not_measured;
    not_measured.name = "stain";
    board.defects = {defect, not_measured};
    made->job.buck.boards = {board};
    made->buck = std::make_shared<const core::BuckPlan>(std::move(plan));
    core::Finding swap;
    swap.id = "buck/skirt/one way";
    swap.stage = core::Stage::buck;
    swap.state = core::State::close;
    made->findings.push_back(swap);
    return made;
}

}  // namespace

std::unique_ptr<core::Evaluation> bucked_by_hand() {
    return with(plan());
}

std::unique_ptr<core::Evaluation> lacking_by_hand() {
    core::BuckPlan lacking;
    lacking.pieces.resize(1);
    lacking.pieces[0].missing = {"the plug's skin"};
    return with(std::move(lacking));
}

std::unique_ptr<core::Evaluation> twice_by_hand() {
    core::BuckPlan twice = plan();
    twice.pieces.push_back(twice.pieces[0]);
    twice.pieces[1].piece = 1;
    twice.pieces[1].ribs.resize(2);
    auto made = with(std::move(twice));
    core::Piece piece;
    piece.name = "end piece";
    made->job.skirt.pieces.push_back(piece);
    core::PieceModel model;
    model.name = piece.name;
    made->car.pieces.push_back(std::move(model));
    return made;
}

SharedWork work_by_hand(std::size_t sheets) {
    core::BuckWork work;
    for (std::size_t i = 0; i < 4; ++i) {
        core::CutPart part;
        part.label = "R" + std::to_string(i + 1);
        part.board = "mdf 12";
        part.outline = part.finished = box(100.0, 140.0, 0.0);
        if (i == 0) {
            part.inside = {
                geometry::make_profile({{{40.0, 40.0}, {}}, {{60.0, 40.0}, {}}, {{60.0, 60.0}, {}}}, true).value()};
        }
        work.parts.push_back(part);
    }
    work.nesting.gap_mm = 8.0;
    work.nesting.tries = 3;
    work.nesting.least_sheets = 1;
    for (std::size_t i = 0; i < 4; ++i) {
        if (i >= 2 * sheets) {
            work.nesting.left_out.push_back(i);
            continue;
        }
        if (i % 2 == 0) {
            core::NestedSheet sheet;
            sheet.board = "mdf 12";
            sheet.number = work.nesting.sheets.size() + 1;
            work.nesting.sheets.push_back(sheet);
        }
        core::NestedSheet& sheet = work.nesting.sheets.back();
        core::PlacedPart placed;
        placed.part = i;
        placed.turned = degrees(i % 2 == 0 ? 0.0 : 90.0);
        placed.moved_mm = {i % 2 == 0 ? 100.0 : 400.0, 100.0};
        sheet.parts.push_back(placed);
        sheet.parts_area_mm2 += 100.0 * 140.0;
        sheet.used_mm = {400.0, 240.0};
        sheet.left_mm = {2022.0, 1200.0};
    }
    return std::make_shared<const core::BuckWork>(std::move(work));
}

}  // namespace sillwright::app

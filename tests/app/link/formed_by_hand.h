#pragma once

#include <memory>

#include "core/evaluate.h"
#include "core/forming/forming_plan.h"

/// A computed job whose forming was made by hand: one piece of 1000 mm between stations 1 and 2.
namespace sillwright::app {

inline geometry::LoftSection hand_section(double along_mm) {
    const auto node = [](const char* name, double out, double up) {
        return geometry::LoftNode{name, {out, up}, geometry::Length{}};
    };
    // Corner to corner: shelf 60, face 80, underside 70, flange 40.
    return {geometry::millimetres(along_mm),
            {node("shelf inner", 90.0, 120.0), node("shelf edge", 150.0, 120.0), node("lower edge", 150.0, 40.0),
             node("flange root", 80.0, 40.0), node("flange end", 40.0, 40.0)}};
}

inline core::FormingPlan hand_plan() {
    using geometry::degrees;
    using geometry::millimetres;
    core::PieceForming forming;

    core::Platen& platen = forming.platen;
    platen.machine = "small";
    platen.window_mm = {1000.0, 500.0};
    platen.free_mm = {950.0, 450.0};
    platen.tilt = degrees(-4.0);
    platen.part_mm = {{-500.0, -40.0}, {500.0, -40.0}, {500.0, 40.0}, {-500.0, 40.0}};
    platen.mould_mm = {{-520.0, -60.0}, {520.0, -60.0}, {520.0, 60.0}, {-520.0, 60.0}};
    platen.need_mm = platen.mould_mm;
    platen.excess = millimetres(90.0);
    platen.height = millimetres(112.0);
    platen.set_back = core::SetBack{millimetres(45.0), millimetres(45.0), {}, {}, {}};
    platen.split_stations = {millimetres(600.0)};

    core::Thinning& thinning = forming.thinning;
    thinning.draw_ratio = 1.8;
    thinning.places = {{"flange",
                        millimetres(1.8),
                        millimetres(0.09),
                        millimetres(2.0),
                        millimetres(100.0),
                        {60.0, 40.0},
                        0.45,
                        millimetres(4.5)},
                       {"shelf",
                        millimetres(3.2),
                        millimetres(0.1),
                        millimetres(2.2),
                        millimetres(500.0),
                        {120.0, 120.0},
                        0.8,
                        millimetres(2.8)}};

    core::FluteLane lane;
    lane.name = "flute 1";
    lane.bit = "round-nose 24";
    lane.mould_width = millimetres(20.8);
    lane.part_width = millimetres(17.7);
    lane.depth = millimetres(6.0);
    lane.wood_left = millimetres(3.0);
    lane.passes = 2;
    lane.front = millimetres(130.0);
    lane.rear = millimetres(1070.0);
    for (int i = 0; i <= 10; ++i) {
        core::LaneRow row;
        row.along = millimetres(130.0 + 94.0 * i);
        row.middle_mm = {120.0, 120.0};
        row.edge_offset = millimetres(20.0);
        row.fence = millimetres(55.0 + (i == 10 ? 2.0 : 0.0));
        row.room = millimetres(90.0 - 2.0 * i);
        row.room_is_inner = true;
        lane.rows.push_back(row);
    }
    forming.lanes = {lane};

    core::LadderOf ladder;
    ladder.dimension.name = "length over all";
    ladder.rungs = {{"painted part", millimetres(1000.24), millimetres(0.8), {}},
                    {"part", millimetres(1000.0), millimetres(0.8), {}},
                    {"mould face", millimetres(993.6), millimetres(0.8), {}},
                    {"female mould", millimetres(999.6), millimetres(0.3), millimetres(999.1)},
                    {"plug", millimetres(1001.6), millimetres(0.2), {}},
                    {"buck", millimetres(995.6), millimetres(0.2), {}}};
    forming.ladders = {ladder};

    forming.draw.needed = degrees(3.0);
    forming.draw.strips = {{"shelf inner", "shelf edge", degrees(4.0), millimetres(500.0), {120.0, 120.0}},
                           {"shelf edge", "shelf edge", degrees(10.0), millimetres(500.0), {150.0, 120.0}},
                           {"lower edge", "flange root", degrees(-1.5), millimetres(500.0), {115.0, 40.0}}};

    core::FormingPlan plan;
    plan.pieces = {forming};
    core::ChainStep plug;
    plug.name = "plug";
    core::ChainStep female;
    female.name = "female mould";
    female.kind = core::GenerationKind::female;
    female.along = 0.998;
    female.measured_along = true;
    core::ChainStep sheet;
    sheet.name = "sheet";
    sheet.kind = core::GenerationKind::sheet;
    sheet.along = 0.994;
    plan.chain = {plug, female, sheet};
    return plan;
}

inline std::unique_ptr<core::Evaluation> formed_by_hand(core::FormingPlan plan = hand_plan()) {
    using geometry::millimetres;
    auto made = std::make_unique<core::Evaluation>();
    core::Station first;
    first.name = "1";
    first.along = {millimetres(100.0), ""};
    core::Station last;
    last.name = "2";
    last.along = {millimetres(1100.0), ""};
    made->job.stations = {first, last};
    core::Piece piece;
    piece.name = "skirt";
    made->job.skirt.pieces = {piece};
    made->job.forming.router.base_radius = core::Entry{millimetres(75.0), ""};

    core::PieceModel model;
    model.name = "skirt";
    model.line = geometry::Loft::make({hand_section(100.0), hand_section(1100.0)}, {}, false).value();
    core::FormedSheet formed;
    formed.sheet = millimetres(4.0);
    formed.rows = {millimetres(100.0), millimetres(1100.0)};
    formed.marks = {0.0, 1.0, 2.0, 3.0, 4.0};
    formed.shares = {{0.8, 0.9, 0.7, 0.6, 0.45}, {0.8, 0.9, 0.7, 0.6, 0.55}};
    model.formed = std::make_shared<const core::FormedSheet>(formed);
    made->car.pieces.push_back(std::move(model));
    made->forming = std::make_shared<const core::FormingPlan>(std::move(plan));

    core::Finding window;
    window.id = "forming/skirt/window";
    window.stage = core::Stage::forming;
    window.state = core::State::falls_short;
    core::Finding plate;
    plate.id = "forming/skirt/flute/flute 1/base plate";
    plate.stage = core::Stage::forming;
    plate.state = core::State::falls_short;
    core::Finding wood = plate;
    wood.id = "forming/skirt/flute/flute 1/wood";
    wood.state = core::State::close;
    core::Finding flange;
    flange.id = "forming/skirt/thickness/flange";
    flange.stage = core::Stage::forming;
    flange.state = core::State::falls_short;
    flange.inputs = {{"limits of the model", "friction is not in it"}};
    made->findings = {window, plate, wood, flange};
    return made;
}

}  // namespace sillwright::app

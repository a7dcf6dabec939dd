#include "core/forming/blank.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>

#include "tests/core/forming/platen_world.h"

namespace sillwright::core {
namespace {

using geometry::degrees;
using geometry::in_mm;
using geometry::millimetres;
using namespace platen_world;
using testing::HasSubstr;

Job in_long_machine() {
    Job job = job_of();
    job.forming.machine = "window 2500 × 800";
    return job;
}

Blank blank_of(const Job& job) {
    return blank(job, piece_of(job), platen_of(job));
}

// Reference: 2000 x 600 x 4 mm of ABS at 1050 kg/m3 is 5.040 kg.
TEST(Blank, MassOfAKnownSheet) {
    Job job = in_long_machine();
    job.skirt.pieces.front().sheet = mm(4);
    Platen platen = platen_of(job);
    platen.size_mm = {2000 - 2 * 30, 600 - 2 * 30};  // The clamps take 30.
    const Blank there = blank(job, piece_of(job), platen);
    EXPECT_EQ(in_mm(there.length), 2000);
    EXPECT_EQ(in_mm(there.width), 600);
    EXPECT_NEAR(*there.mass_kg, 5.040, 1e-12);
}

// By hand: 2040 + 60 = 2100 and 246 + 60 = 306, up to 310. A sheet 2500 x 1250 gives 4 beside one another:
// 4 x 651 000 of 3 125 000. The others: none, 3 of 2 976 800, 6 of 6 191 500.
TEST(Blank, OfThePlainPartByHand) {
    const Blank there = blank_of(in_long_machine());
    EXPECT_TRUE(there.missing.empty());
    EXPECT_EQ(in_mm(there.length), 2100);
    EXPECT_EQ(in_mm(there.width), 310);
    EXPECT_EQ(in_mm(there.thickness), k_sheet_mm);
    EXPECT_NEAR(*there.mass_kg, 2.1 * 0.31 * 0.003 * 1050, 1e-12);
    EXPECT_EQ(there.stock, "2500 × 1250");
    EXPECT_EQ(there.parts_per_sheet, 4);
    EXPECT_FALSE(there.turned);
    EXPECT_NEAR(*there.yield, 4 * 651000.0 / 3125000.0, 1e-12);
    EXPECT_FALSE(there.price_per_part);
}

// In the machine that is too short the part lies straight for this: 2040 + 50 and 246 + 50.
TEST(Blank, OfAPartThatDoesNotGoInIsThatOfItLyingStraight) {
    const Job job = job_of();
    ASSERT_NE(platen_of(job).yaw, geometry::Angle{});
    const Blank there = blank_of(job);
    EXPECT_EQ(in_mm(there.length), 2090);
    EXPECT_EQ(in_mm(there.width), 300);
}

struct YieldCase {
    const char* name;
    double length, width, stock_length, stock_width;
    int parts;
    bool turned;
};

void PrintTo(const YieldCase& one, std::ostream* out) {
    *out << one.name;
}

class StockYieldCase : public testing::TestWithParam<YieldCase> {};

// Hand counts.
TEST_P(StockYieldCase, IsCounted) {
    const YieldCase& one = GetParam();
    const StockYield there = stock_yield(millimetres(one.length), millimetres(one.width), millimetres(one.stock_length),
                                         millimetres(one.stock_width));
    EXPECT_EQ(there.parts, one.parts);
    EXPECT_EQ(there.turned, one.turned);
    EXPECT_NEAR(there.yield, one.parts * one.length * one.width / (one.stock_length * one.stock_width), 1e-12);
}

INSTANTIATE_TEST_SUITE_P(Table, StockYieldCase,
                         testing::Values(YieldCase{"exactly twice", 1000, 1000, 2000, 1000, 2, false},
                                         YieldCase{"a hair too long", 1000.01, 900, 2000, 1000, 1, false},
                                         YieldCase{"better across", 900, 600, 2000, 1000, 3, true},
                                         YieldCase{"only across", 700, 1500, 2000, 1000, 1, true},
                                         YieldCase{"neither way", 2100, 1100, 2000, 1000, 0, false},
                                         YieldCase{"twelve", 500, 320, 2000, 1000, 12, false}));

TEST(Blank, PriceAndOwnStock) {
    Job job = in_long_machine();
    StockSheet small;
    small.name = "small";
    small.length = mm(2200);
    small.width = mm(700);
    small.price = 60.0;
    StockSheet unknown;
    unknown.name = "unknown";
    job.forming.stock = {unknown, small};
    const Blank there = blank_of(job);
    EXPECT_EQ(there.stock, "small");
    EXPECT_EQ(there.parts_per_sheet, 2);
    EXPECT_NEAR(*there.price_per_part, 30.0, 1e-12);
    const Finding finding = blank_findings(job, piece_of(job), there).front();
    EXPECT_EQ(finding.state, State::holds);
    EXPECT_EQ(*finding.found, 2.0);
    EXPECT_EQ(finding.inputs.back().value, "30.00");
    EXPECT_EQ(finding.inputs[2].value, "its size is not known");
}

TEST(Blank, FallsShortWhereNoSheetIsLargeEnough) {
    Job job = in_long_machine();
    StockSheet small;
    small.name = "small";
    small.length = mm(1000);
    small.width = mm(700);
    job.forming.stock = {small};
    const Blank there = blank_of(job);
    EXPECT_TRUE(there.stock.empty());
    EXPECT_FALSE(there.yield);
    const auto findings = blank_findings(job, piece_of(job), there);
    ASSERT_EQ(findings.size(), 1U);
    EXPECT_EQ(findings.front().id, "forming/skirt/blank");
    EXPECT_EQ(findings.front().state, State::falls_short);
    EXPECT_EQ(*findings.front().margin, -1.0);
    EXPECT_THAT(findings.front().mend->words, HasSubstr("2100 × 310 mm"));
    EXPECT_FALSE(findings.front().mend->can_be_taken());
}

TEST(Blank, NotMeasuredListsWhatLacks) {
    Job job = in_long_machine();
    job.skirt.pieces.front().sheet.reset();
    job.forming.clamp_distance.reset();
    const Blank there = blank_of(job);
    EXPECT_EQ(there.missing.size(), 2U);
    EXPECT_FALSE(there.mass_kg);
    EXPECT_EQ(in_mm(there.length), 0.0);
    const Finding finding = blank_findings(job, piece_of(job), there).front();
    EXPECT_EQ(finding.state, State::not_measured);
    EXPECT_FALSE(finding.found);
    EXPECT_EQ(finding.missing, there.missing);
    EXPECT_FALSE(finding.formula.empty());
    EXPECT_FALSE(finding.source.empty());
}

TEST(Blank, OfAMaterialWithoutADensityHasNoMass) {
    Job job = in_long_machine();
    job.skirt.material.name = "house blend";
    const Blank there = blank_of(job);
    EXPECT_TRUE(there.missing.empty());
    EXPECT_FALSE(there.mass_kg);
    EXPECT_EQ(blank_findings(job, piece_of(job), there).front().state, State::holds);
}

std::string line_named(const std::vector<Input>& lines, const std::string& name) {
    for (const Input& one : lines) {
        if (one.name == name) {
            return one.value;
        }
    }
    ADD_FAILURE() << "no line " << name;
    return {};
}

TEST(MouldersSheet, SaysAllThatAMoulderAsks) {
    Job job = in_long_machine();
    Generation sheet;
    sheet.name = "part";
    sheet.kind = GenerationKind::sheet;
    sheet.hot = geometry::celsius(70);
    job.forming.generations = {sheet};
    DrawPlan plan = plan_of(job);
    plan.needed = degrees(3);
    plan.strips = {{"a", "b", degrees(4.5), {}, {}}, {"b", "c", degrees(3.5), {}, {}}};
    const Platen platen = platen_of(job);
    const auto lines = moulder_lines(job, piece_of(job), plan, platen, blank_of(job));
    EXPECT_EQ(line_named(lines, "sheet, cut to"), "2100 × 310 mm");
    EXPECT_EQ(line_named(lines, "sheet thickness"), "3.00 mm");
    EXPECT_EQ(line_named(lines, "material"), "ABS");
    EXPECT_EQ(line_named(lines, "machine"), "window 2500 × 800");
    EXPECT_EQ(line_named(lines, "opening of the clamp frame"), "2500 × 800 mm");
    EXPECT_EQ(line_named(lines, "turn on the platen"), "none");
    EXPECT_EQ(line_named(lines, "clamp line from the mould's foot"), "50.00 mm");
    EXPECT_EQ(line_named(lines, "sheet and mould beyond the trim line"), "20.00 mm");
    EXPECT_EQ(line_named(lines, "set back"), "none");
    EXPECT_EQ(line_named(lines, "draft needed"), "3.00°");
    EXPECT_EQ(line_named(lines, "draft, the least of a strip"), "3.50°");
    EXPECT_EQ(line_named(lines, "mould temperature"), "70 °C");
    EXPECT_EQ(line_named(lines, "height of the mould"), "133.00 mm");
}

// Seen from above a male mould shows the part's outside: on the left of the car as it is drawn, on the right mirrored.
TEST(MouldersSheet, TheTurnIsAsSeenFromAbove) {
    Job job = job_of();
    const auto turn = [&](Side side, MouldKind mould) {
        job.side = side;
        job.forming.mould = mould;
        return line_named(moulder_lines(job, piece_of(job), plan_of(job), platen_of(job), blank_of(job)),
                          "turn on the platen");
    };
    const bool drawn_anticlockwise = platen_of(job).yaw > geometry::Angle{};
    const char* const as_drawn = drawn_anticlockwise ? "° anticlockwise" : "° clockwise";
    const char* const mirrored = drawn_anticlockwise ? "° clockwise" : "° anticlockwise";
    EXPECT_THAT(turn(Side::left, MouldKind::male), HasSubstr(as_drawn));
    EXPECT_THAT(turn(Side::right, MouldKind::male), HasSubstr(mirrored));
    EXPECT_THAT(turn(Side::right, MouldKind::female), HasSubstr(as_drawn));
    EXPECT_THAT(turn(Side::left, MouldKind::female), HasSubstr(mirrored));
}

TEST(MouldersSheet, SaysWhatIsNotDecided) {
    const Job bare = [] {
        Job job = job_of();
        job.forming = Forming{};
        job.skirt.material = Material{};
        job.skirt.pieces.front().sheet.reset();
        return job;
    }();
    const auto lines = moulder_lines(bare, piece_of(bare), plan_of(bare), platen_of(bare), blank_of(bare));
    for (const char* const name :
         {"material", "machine", "mould", "clamp line from the mould's foot", "draft needed"}) {
        EXPECT_EQ(line_named(lines, name), "not decided") << name;
    }
    for (const char* const name : {"sheet, cut to", "sheet thickness", "mass of the blank", "stock sheet", "set back",
                                   "opening of the clamp frame", "turn on the platen", "mould temperature"}) {
        EXPECT_EQ(line_named(lines, name), "not known") << name;
    }
}

}  // namespace
}  // namespace sillwright::core

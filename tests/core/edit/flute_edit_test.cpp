#include "core/edit/flute_edit.h"

#include <gmock/gmock.h>

#include <cmath>

#include "bench_job.h"

namespace sillwright::core {
namespace {

using bench::after;
using bench::words;
using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;
using testing::HasSubstr;

/// Of a sheet of 3 mm, into which narrow flutes go.
Job estate() {
    Job job = bench::estate();
    job.skirt.pieces[0].sheet = Entry{millimetres(3), ""};
    return job;
}

FluteRow row(const std::vector<double>& widths) {
    FluteRow made;
    for (const double width : widths) {
        made.widths.push_back(millimetres(width));
    }
    made.depth = millimetres(4);
    made.land = millimetres(6);
    made.first_offset = millimetres(10);
    return made;
}

TEST(FluteEdit, LaysAGraduatedRowFromTheEdgeInward) {
    const Job job = estate();
    FluteRow wanted = row({14, 12, 10});
    wanted.front = millimetres(60);
    wanted.rear = millimetres(1840);
    const auto edit = lay_flutes(job, 0, wanted);
    EXPECT_EQ(words(edit), "lay 3 flutes on the shelf");
    const Job laid = after(edit, job);
    bench::expect_kept(laid);
    const auto& flutes = laid.skirt.pieces[0].flutes;
    ASSERT_EQ(flutes.size(), 3U);
    // 10; half of 14 and of 12 and a land further; half of 12 and of 10 and a land further.
    EXPECT_NEAR(in_mm(flutes[0].offset.value), 10, 1e-9);
    EXPECT_NEAR(in_mm(flutes[1].offset.value), 29, 1e-9);
    EXPECT_NEAR(in_mm(flutes[2].offset.value), 46, 1e-9);
    EXPECT_EQ(flutes[2].name, "flute 3");
    EXPECT_EQ(in_mm(flutes[1].front->value), 60);
    // One rounding: (w²/4 + d²) / (2 d): (49 + 16) / 8.
    EXPECT_NEAR(in_mm(flutes[0].bottom_radius.value), 8.125, 1e-9);
}

TEST(FluteEdit, PutsFurtherOnesBesideThoseThatAreThere) {
    const Job job = after(lay_flutes(estate(), 0, row({14})), estate());
    FluteRow second = row({8});
    second.first_offset = millimetres(40);
    second.bottom_radius = millimetres(2);
    const auto edit = lay_flutes(job, 0, second);
    EXPECT_EQ(words(edit), "lay flute 2 on the shelf");
    EXPECT_EQ(in_mm(after(edit, job).skirt.pieces[0].flutes[1].bottom_radius.value), 2);
}

TEST(FluteEdit, ADeepOneIsAHalfRoundWithWalls) {
    FluteRow deep = row({8});
    deep.depth = millimetres(6);
    EXPECT_EQ(in_mm(after(lay_flutes(estate(), 0, deep), {}).skirt.pieces[0].flutes[0].bottom_radius.value), 4);
}

TEST(FluteEdit, SaysWhatDoesNotFit) {
    const Job job = estate();
    EXPECT_THAT(bench::refusal(lay_flutes(job, 0, row({24, 21, 18}))), HasSubstr("inner rounding"));
    EXPECT_THAT(bench::refusal(lay_flutes(job, 0, row({}))), HasSubstr("width"));
    EXPECT_THAT(bench::refusal(lay_flutes(job, 0, row({-3}))), HasSubstr("greater than zero"));
    EXPECT_THAT(bench::refusal(lay_flutes(job, 7, row({10}))), HasSubstr("no such piece"));
    FluteRow crossed = row({10});
    crossed.first_offset = millimetres(-3);
    EXPECT_NE(bench::refusal(lay_flutes(job, 0, crossed)), "taken");
}

TEST(FluteEdit, APieceThatIsNotDrawnYetTakesThem) {
    Job job = estate();
    job.skirt.pieces[0].drawn.sections.clear();
    EXPECT_EQ(words(lay_flutes(job, 0, row({24, 21, 18}))), "lay 3 flutes on the shelf");
}

}  // namespace
}  // namespace sillwright::core

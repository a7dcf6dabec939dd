#include "core/fault_place.h"

#include <filesystem>

#include "edit/bench_job.h"
#include "small_job.h"

namespace sillwright::core {
namespace {

struct Told {
    const char* pointer;
    const char* words;
};

// Names as they stand in tests/data/jobs/v1_small.sillwright.
TEST(FaultPlace, SaysWhatAPlaceInTheFileIs) {
    const Job job = parse_job(small_job_text(), "x").value();
    for (const Told& told : {Told{"/stations/1/along", "Station 2, along"},
                             {"/body/sections/1/nodes/0/radius", "Body at station 3, sill outer, radius"},
                             {"/body/sections", "Body"},
                             {"/mounts/0/at/up", "Mount H1, up"},
                             {"/mounts/0/sd/1", "Mount H1, standard deviation of out"},
                             {"/mounts/0/fastener/grip_most", "Mount H1, fastener grip most"},
                             {"/mounts/0/panel_thickness", "Mount H1, panel thickness"},
                             {"/keep_outs/0/to/along", "Front jacking pad, to along"},
                             {"/doors/0/hinge/upper/up", "Door, hinge upper up"},
                             {"/doors/0/opening_deg", "Door, opening"},
                             {"/doors/0/bodies/0/sections/0/nodes/1", "Door, lower edge at station 1, skin"},
                             {"/skirt/pieces/0/run_outs/0/name", "Skirt, run-out of bead, name"},
                             {"/skirt/pieces/0/sheet", "Skirt, sheet"},
                             {"/skirt/paint", "Paint"},
                             {"/limits/gap_shut", "Limits gap shut"},
                             {"/date", "Date"},
                             {"", ""}}) {
        EXPECT_EQ(fault_place(job, told.pointer), told.words) << told.pointer;
    }
}

TEST(FaultPlace, NamesTheReadingAsItWasWritten) {
    Job job;
    survey::Reading tie;
    tie.points = {"A", "H1"};
    tie.value = Entry{geometry::inches(16.25), "16 1/4\""};
    job.book.readings = {tie};
    job.book.points.emplace_back().name = "A";
    EXPECT_EQ(fault_place(job, "/book/readings/0/value"), "Reading A H1 16 1/4\", value");
    EXPECT_EQ(fault_place(job, "/book/points/0/along"), "Point A, along");
    EXPECT_EQ(fault_place(job, "/book/date"), "Book, date");
}

TEST(FaultPlace, NamesWhatIsFormed) {
    const Job job = bench::formed();
    for (const Told& told :
         {Told{"/skirt/pieces/1/flutes/0/width", "End piece, flute 3, width"},
          {"/skirt/pieces/1/recesses/0/corner_radius", "End piece, badge, corner radius"},
          {"/skirt/pieces/0/drains/1/size", "Skirt, drain at 250, size"},
          {"/skirt/pieces/0/flutes", "Skirt, flutes"},
          {"/forming/generations/2/ticks/1/now", "Generation male, C to D, now"},
          {"/forming/generations/2/shrink_along", "Generation male, shrink along"},
          {"/forming/sculpted/lines/1/points/0/out", "Prototype as sculpted at station 3, points 0 out"},
          {"/forming/sculpted/scan", "Prototype as sculpted, scan"},
          {"/forming/router/bits/1/angle_deg", "Bit vee, angle"},
          {"/buck/boards/0/thickness_2", "Board mdf 12, thickness 2"},
          {"/buck/boards/1/defects/0/width", "Board ply 9, corner, width"},
          {"/buck/rib_board", "Buck, rib board"},
          {"/papers/girth_most", "Papers, girth most"}}) {
        EXPECT_EQ(fault_place(job, told.pointer), told.words) << told.pointer;
    }
}

TEST(FaultPlace, AnswersForAnyPointer) {
    const Job job = parse_job(small_job_text(), "x").value();
    for (const char* pointer :
         {"/mounts/99/size", "/mounts/x", "/mounts", "/stations/-1", "/doors/0/bodies/7", "/body/sections/0/nodes/99",
          "/skirt/pieces/18446744073709551616", "/", "//", "mounts"}) {
        EXPECT_NO_FATAL_FAILURE(fault_place(job, pointer)) << pointer;
    }
    EXPECT_EQ(fault_place(job, "/mounts/99/size"), "Mounts, 99 size");
}

}  // namespace
}  // namespace sillwright::core

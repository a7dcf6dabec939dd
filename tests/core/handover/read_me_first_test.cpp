#include "core/handover/read_me_first.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "core/buck/rib_sheet.h"

namespace sillwright::core {
namespace {

using testing::HasSubstr;
using testing::Not;

const char* const k_warning = "\nPART SIZE - NO SHRINKAGE, NO SKIN - DO NOT CUT A BUCK FROM THIS\n";

TEST(ReadMeFirst, SaysSideRevisionWarningAndWhatFallsShort) {
    Job job;
    job.vehicle = "Estate A";
    job.revision = "C";
    job.date = "2026-03-14";
    job.side = Side::left;
    Finding low;
    low.title = "Front door moving";
    low.state = State::falls_short;
    low.margin = -2.1;
    low.place.words = "at 3.9";
    Finding unknown;
    unknown.title = "Rear door";
    unknown.missing = {"the sag"};
    Finding good;
    good.title = "Mount H1";
    good.state = State::holds;
    const HandoverContents contents{{{"part.stl", ""}, {"fitting.txt", ""}},
                                    {k_part_size_warning, "Mark the rib by hand."}};
    const std::string text = read_me_first(job, {good, unknown, low}, contents, {"a.sillwright", "00ff"});
    EXPECT_THAT(text, HasSubstr("Estate A · revision C · 2026-03-14 · LEFT SIDE"));
    EXPECT_THAT(text, HasSubstr("    L E F T   S I D E\n"));
    EXPECT_THAT(text, HasSubstr(k_warning));
    EXPECT_THAT(text, HasSubstr("Falls short\n-----------\n  - Front door moving, margin −2.10 mm, at 3.9\n"));
    EXPECT_THAT(text, HasSubstr("Not measured\n------------\n  - Rear door; measure the sag\n"));
    EXPECT_THAT(text, Not(HasSubstr("Mount H1")));
    EXPECT_THAT(text, HasSubstr("Notes\n-----\n  - Mark the rib by hand.\n"));
    EXPECT_THAT(text, HasSubstr("  - part.stl: the part as a closed mesh"));
    EXPECT_THAT(text, HasSubstr("  - fitting.txt\n"));
    EXPECT_THAT(text, HasSubstr("From job file a.sillwright, SHA-256 00ff."));
    EXPECT_THAT(text, HasSubstr("mid-plane is NOT MEASURED"));
    EXPECT_THAT(text, HasSubstr("How well the car was measured is not stated."));
}

TEST(ReadMeFirst, AssumesOfAFlangeBentAfterFormingThatTheMouldCarriesItFlat) {
    Job job;
    job.skirt.pieces.resize(1);
    job.skirt.pieces[0].name = "skirt";
    EXPECT_THAT(read_me_first(job, {}, {}, {"a.sillwright", "00ff"}), Not(HasSubstr("after forming")));
    job.skirt.pieces[0].flange.making = FlangeMaking::bent_after;
    EXPECT_THAT(read_me_first(job, {}, {}, {"a.sillwright", "00ff"}),
                HasSubstr("  - Piece skirt: the flange is drawn as bent after forming; the mould carries it flat.\n"));
}

}  // namespace
}  // namespace sillwright::core

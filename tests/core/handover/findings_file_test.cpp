#include "core/handover/findings_file.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <sstream>

#include "core/plain_text.h"

namespace sillwright::core {
namespace {

using testing::HasSubstr;

TEST(FindingsFile, HoldsEveryFindingWorstFirst) {
    Job job;
    job.vehicle = "Estate A";
    job.revision = "C";
    job.side = Side::left;
    Finding low;
    low.title = "Front door moving";
    low.state = State::falls_short;
    low.found = 1.9;
    low.required = 4.0;
    low.margin = -2.1;
    low.place.words = "at 3.9";
    low.why = std::string(300, 'w');
    low.formula = "least distance";
    low.source = "common practice, no source";
    low.inputs = {{"sheet", "3 mm"}, {"paint", "0.12 mm"}};
    low.mend = Mend{"Lower the shelf.", {}, 0.0};
    Finding unknown;
    unknown.title = "Rear door";
    unknown.missing = {"the sag", "the hinge"};
    const std::string text = findings_file(job, {unknown, low});
    EXPECT_THAT(text, HasSubstr("Estate A · revision C · LEFT SIDE\n"));
    EXPECT_THAT(text, HasSubstr("2 findings: 1 falls short, 1 not measured.\n"));
    EXPECT_THAT(text, HasSubstr("◆ falls short: Front door moving\n"
                                "  found 1.90 mm · needs at least 4.00 mm · margin −2.10 mm\n"
                                "  place    at 3.9\n"));
    EXPECT_THAT(text, HasSubstr("  with     sheet 3 mm, paint 0.12 mm\n"
                                "  mend     Lower the shelf. (computed again so: margin +0.00 mm)\n"
                                "  formula  least distance\n"
                                "  source   common practice, no source\n"));
    EXPECT_THAT(text, HasSubstr("□ not measured: Rear door\n  measure  the sag; the hinge\n"));
    EXPECT_LT(text.find("Front door"), text.find("Rear door"));
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
        EXPECT_LE(columns(line), 100U) << line;
    }
}

}  // namespace
}  // namespace sillwright::core

#include "core/standing_findings.h"

#include <gtest/gtest.h>

#include <set>

#include "core/evaluate.h"
#include "core/job_file.h"

namespace sillwright::core {
namespace {

TEST(StandingFindings, AreAmongThoseOfTheJobOnceEach) {
    const std::string file = SILLWRIGHT_SOURCE_DIR "/samples/estate_a.sillwright";
    const auto evaluation = evaluate(read_job(file).value(), SILLWRIGHT_SOURCE_DIR "/samples");
    ASSERT_TRUE(evaluation) << evaluation.error().message;
    std::multiset<std::string> all;
    for (const Finding& finding : evaluation.value()->findings) {
        all.insert(finding.id);
    }
    for (const Finding& finding : evaluation.value()->standing) {
        EXPECT_EQ(all.count(finding.id), 1U) << finding.id;
    }
    // One of each subject, so that none is left out of the whole.
    for (const char* id : {"mounts/line-up", "mounts/skirt/deflection", "mounts/keep-out/front jacking pad"}) {
        EXPECT_EQ(all.count(id), 1U) << id;
    }
}

}  // namespace
}  // namespace sillwright::core

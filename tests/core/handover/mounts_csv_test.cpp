#include "core/handover/mounts_csv.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <sstream>

#include "core/typed.h"

namespace sillwright::core {
namespace {

using geometry::millimetres;
using testing::HasSubstr;
using testing::StartsWith;

Job one_mount(const std::string& name) {
    Job job;
    Mount mount;
    mount.name = name;
    mount.at = {entry(millimetres(69.3)), entry(millimetres(51.6)), entry(millimetres(15.5))};
    mount.sd[0] = entry(millimetres(0.5));
    mount.fastener.name = "clip, \"push\"\n6 mm";
    job.mounts.push_back(mount);
    return job;
}

std::string row(const std::string& table) {
    return table.substr(table.find("\r\n") + 2);
}

TEST(MountsCsv, LeavesWhatIsNotMeasuredEmpty) {
    const std::string table = mounts_csv(one_mount("H1"), {});
    EXPECT_THAT(table, StartsWith("name,kind,shape,use,along_mm,out_mm,up_mm,x_mm,y_mm,z_mm,sd_along_mm"));
    // No distance to the mid-plane: no y. Quotation marks doubled, RFC 4180 rule 7.
    EXPECT_EQ(row(table),
              "H1,hole,round,flange,69.3,51.6,15.5,69.3,,15.5,0.5,,,0,0,-1,,,,,,,"
              "\"clip, \"\"push\"\"\n6 mm\",,,,,,,\r\n");
}

TEST(MountsCsv, MirrorsYOnTheLeft) {
    Job job = one_mount("H1");
    job.side = Side::left;
    job.zero_to_midplane = entry(millimetres(700.0));
    EXPECT_THAT(row(mounts_csv(job, {})), HasSubstr("69.3,51.6,15.5,69.3,-751.6,15.5,"));
}

TEST(MountsCsv, GivesTheWorstStateOfItsOwnFindings) {
    const auto finding = [](const std::string& id, State state) {
        Finding made;
        made.id = id;
        made.title = id;
        made.state = state;
        return made;
    };
    const std::vector<Finding> findings{finding("mounts/H1/reach", State::holds),
                                        finding("mounts/H1/edge", State::close),
                                        finding("mounts/H11/edge", State::falls_short)};
    EXPECT_THAT(mounts_csv(one_mount("H1"), findings),
                HasSubstr(",close,mounts/H1/reach: holds; mounts/H1/edge: close\r\n"));
    EXPECT_THAT(mounts_csv(one_mount("H11"), findings), HasSubstr(",falls short,mounts/H11/edge: falls short\r\n"));
}

}  // namespace
}  // namespace sillwright::core

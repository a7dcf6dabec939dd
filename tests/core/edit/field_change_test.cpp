#include "core/edit/field_change.h"

#include <gmock/gmock.h>

#include "../small_job.h"
#include "core/job_file.h"

namespace sillwright::core {
namespace {

using geometry::millimetres;
using testing::HasSubstr;

Job small_job() {
    return parse_job(small_job_text(), "small").value();
}

TEST(FieldChange, WritesOneFieldAndLeavesAllOthersBitForBit) {
    const Job before = small_job();
    const auto after = with_changes(before, {length_change(before, "/mounts/0/part_slot", millimetres(14.5))});
    ASSERT_TRUE(after) << after.error().message;
    Job expected = before;
    expected.mounts[0].part_slot = Entry{millimetres(14.5), after.value().mounts[0].part_slot->typed};
    EXPECT_EQ(job_text(after.value()), job_text(expected));
}

TEST(FieldChange, LengthsInAJobOfInchesCarryTheirUnit) {
    Job inches = small_job();
    inches.unit = BareUnit::in;
    const FieldChange change = length_change(inches, "/fitting/part_half", millimetres(0.5));
    EXPECT_EQ(change.json, "\"0.5 mm\"");
    const auto after = with_changes(inches, {change});
    ASSERT_TRUE(after) << after.error().message;
    EXPECT_EQ(after.value().fitting.part_half->value, millimetres(0.5));
}

TEST(FieldChange, MakesObjectsThatTheFileLeavesOutAndAddsToLists) {
    const auto after = with_changes(
        small_job(), {{"/road/ground", "-180"}, {"/skirt/pieces/0/drains/-", R"({"along": 40, "size": 8})"}});
    ASSERT_TRUE(after) << after.error().message;
    EXPECT_EQ(after.value().road.ground->value, millimetres(-180.0));
    ASSERT_EQ(after.value().skirt.pieces[0].drains.size(), 1U);
    EXPECT_EQ(after.value().skirt.pieces[0].drains[0].size.value, millimetres(8.0));
}

TEST(FieldChange, RefusesWhatCannotBeMeant) {
    const auto refused = [](const FieldChange& change) {
        const auto after = with_changes(small_job(), {change});
        return after ? std::string{} : after.error().message;
    };
    EXPECT_THAT(refused(word_change("/mounts/0/part_slot", "long")), HasSubstr("long"));
    EXPECT_THAT(refused(number_change("/vehicle/below", 1.0)), HasSubstr("/vehicle/below"));
    EXPECT_THAT(refused(word_change("/fitting/locator", "H99")), HasSubstr("H99"));
}

}  // namespace
}  // namespace sillwright::core

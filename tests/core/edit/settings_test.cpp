#include "core/edit/settings.h"

#include <gmock/gmock.h>

#include <algorithm>

#include "../small_job.h"
#include "core/forming/machine_table.h"
#include "core/job_file.h"
#include "core/number_text.h"
#include "core/typed.h"

namespace sillwright::core {
namespace {

using testing::HasSubstr;

Job small_job() {
    return parse_job(small_job_text(), "small").value();
}

Setting setting(const Job& job, const std::string& pointer) {
    const auto all = settings_of(job);
    const auto found = std::find_if(all.begin(), all.end(), [&](const Setting& one) { return one.pointer == pointer; });
    EXPECT_NE(found, all.end()) << pointer;
    return found == all.end() ? Setting{} : *found;
}

std::string text(const Job& job, const std::string& pointer) {
    return setting_texts(job, {setting(job, pointer)}).front();
}

struct Written {
    const char* pointer;
    const char* text;
    const char* read;
};

class SettingsWritten : public testing::TestWithParam<Written> {};

TEST_P(SettingsWritten, ComeBackAsTheyWereTyped) {
    const Job before = small_job();
    const auto edit = write_setting(before, setting(before, GetParam().pointer), GetParam().text);
    ASSERT_TRUE(edit) << edit.error().message;
    EXPECT_EQ(text(edit.value().job, GetParam().pointer), GetParam().read);
    EXPECT_EQ(parse_job(job_text(edit.value().job), "again").value(), edit.value().job);
    const auto emptied = write_setting(edit.value().job, setting(before, GetParam().pointer), "");
    ASSERT_TRUE(emptied) << emptied.error().message;
    EXPECT_EQ(text(emptied.value().job, GetParam().pointer), text(before, GetParam().pointer));
}

INSTANTIATE_TEST_SUITE_P(
    Settings, SettingsWritten,
    testing::Values(Written{"/fitting/hot/part_c", "80", "80"}, Written{"/fitting/drawn_c", " 18.5 ", "18.5"},
                    Written{"/fitting/part_half", "1/16\"", "1/16\""}, Written{"/fitting/locator", "H1", "H1"},
                    Written{"/fitting/fits_other_cars", "yes", "yes"},
                    Written{"/fitting/body_material", "steel", "steel"}, Written{"/skirt/material/name", "ABS", "ABS"},
                    Written{"/skirt/pieces/0/flange/thickness", "2.6", "2.6"},
                    Written{"/loads/stepping", "refused", "refused"}, Written{"/loads/foot_n", "700", "700"},
                    Written{"/road/ground", "-7 1/4\"", "-7 1/4\""}, Written{"/road/breakover_least_deg", "12", "12"},
                    Written{"/forming/mould", "male", "male"}, Written{"/forming/texture", "0.05", "0.05"},
                    Written{"/forming/draft_least_deg", "4.5", "4.5"}, Written{"/forming/tilt_from_deg", "-5", "-5"},
                    Written{"/forming/tilt_to_deg", "0", "0"}, Written{"/forming/tilt_deg", "-2,5", "-2.5"},
                    Written{"/forming/undercut_most", "1", "1"}, Written{"/forming/trim_allowance", "3/4\"", "3/4\""},
                    Written{"/forming/clamp_distance", "50", "50"}, Written{"/forming/flange_least", "1.8", "1.8"},
                    Written{"/forming/shelf_least", "2", "2"}, Written{"/forming/rest_least", "1.25", "1.25"},
                    Written{"/forming/draw_ratio_most", "2.5", "2.5"},
                    Written{"/forming/machine", "own frame", "own frame"}, Written{"/forming/skin", "4", "4"},
                    Written{"/forming/sculpted/sd", "0.5", "0.5"}, Written{"/forming/sculpted/replaces", "yes", "yes"},
                    Written{"/forming/router/base_radius", "75", "75"}, Written{"/forming/router/base_room", "3", "3"},
                    Written{"/forming/router/bearing_least", "0.6", "0.6"},
                    Written{"/forming/router/board", "18", "18"}, Written{"/forming/router/board_left", "5", "5"},
                    Written{"/forming/router/pass_share", "1", "1"}, Written{"/forming/router/land_least", "8", "8"},
                    Written{"/forming/router/run_out_room", "1\"", "1\""}));

TEST(Settings, RefusesWhatCannotBeMeantByItsName) {
    const Job job = small_job();
    const auto refused = [&](const std::string& pointer, const std::string& given) {
        const auto edit = write_setting(job, setting(job, pointer), given);
        return edit ? std::string{} : edit.error().message;
    };
    EXPECT_THAT(refused("/fitting/hot/part_c", "warm"), HasSubstr("hot, part: "));
    EXPECT_THAT(refused("/fitting/hot/part_c", "353"), HasSubstr("hot, part: "));
    EXPECT_THAT(refused("/fitting/part_half", "-1"), HasSubstr("drilling"));
    EXPECT_THAT(refused("/loads/clip_share", "2"), HasSubstr("from 0 to 1"));
    EXPECT_THAT(refused("/fitting/locator", "H99"), HasSubstr("H99"));
    EXPECT_THAT(refused("/forming/draft_least_deg", "50"), HasSubstr("draft, least: "));
    EXPECT_THAT(refused("/forming/tilt_from_deg", "30"), testing::StartsWith("tilt, from: it is below the least tilt"));
    EXPECT_THAT(refused("/forming/mould", "plug"), HasSubstr("mould: "));
    EXPECT_THAT(refused("/forming/sculpted/scan", "bench"), HasSubstr("bench"));
    EXPECT_THAT(refused("/forming/router/bearing_least", "1.2"), HasSubstr("from 0 to 1"));
    EXPECT_THAT(refused("/forming/router/base_radius", "0"), HasSubstr("base plate: "));
}

TEST(Settings, AllHaveAPlaceInTheJobFileAndSayWhatMayBeWritten) {
    const Job job = small_job();
    std::string names;
    for (const Setting& one : settings_of(job)) {
        EXPECT_FALSE(one.help.empty()) << one.name;
        EXPECT_THAT(one.help, testing::EndsWith("."));
        EXPECT_THAT(names, testing::Not(HasSubstr("|" + one.name + "|"))) << "two of one name";
        names += "|" + one.name + "|";
    }
}

TEST(Settings, EmptyMeansWhatTheirHelpSays) {
    Job job = small_job();
    job.forming = Forming{};
    const Forming usual;
    const auto help = [&](const std::string& pointer) { return setting(job, pointer).help; };
    const auto says_mm = [&](const std::string& pointer, const Entry& value) {
        EXPECT_THAT(help(pointer), HasSubstr("empty: " + number_text(geometry::in_mm(value.value)) + " mm"));
    };
    says_mm("/forming/trim_allowance", usual.trim_allowance);
    says_mm("/forming/flange_least", usual.flange_least);
    says_mm("/forming/shelf_least", usual.shelf_least);
    says_mm("/forming/rest_least", usual.rest_least);
    says_mm("/forming/router/base_room", usual.router.base_room);
    says_mm("/forming/router/board_left", usual.router.board_left);
    says_mm("/forming/router/land_least", usual.router.land_least);
    says_mm("/forming/router/run_out_room", usual.router.run_out_room);
    const auto says = [&](const std::string& pointer, double value) {
        EXPECT_THAT(help(pointer), HasSubstr("empty: " + number_text(value) + ","));
    };
    says("/forming/tilt_from_deg", geometry::in_deg(usual.tilt_from));
    says("/forming/tilt_to_deg", geometry::in_deg(usual.tilt_to));
    says("/forming/draw_ratio_most", usual.draw_ratio_most);
    says("/forming/router/bearing_least", usual.router.bearing_least);
    says("/forming/router/pass_share", usual.router.pass_share);
}

TEST(Settings, SmallNumbersAreShownAsTheyCanBeTyped) {
    const Job job = small_job();
    const auto edit = write_setting(job, setting(job, "/skirt/material/expansion_per_k"), "0.00009");
    ASSERT_TRUE(edit) << edit.error().message;
    EXPECT_EQ(text(edit.value().job, "/skirt/material/expansion_per_k"), "0.00009");
}

TEST(Settings, OfferMachinesAndScans) {
    Job job = small_job();
    Machine own;
    own.name = "frame of the yard";
    job.forming.machines = {own};
    job.forming.machine = "large frame";
    survey::Scan scan;
    scan.name = "prototype";
    scan.path = "prototype.stl";
    job.scans = {scan};
    EXPECT_THAT(setting(job, "/forming/machine").words,
                testing::IsSupersetOf({std::string(), own.name, machine_table().front().name, job.forming.machine}));
    EXPECT_THAT(setting(job, "/forming/sculpted/scan").words, testing::ElementsAre("", "prototype"));
    const auto edit = write_setting(job, setting(job, "/forming/sculpted/scan"), "prototype");
    ASSERT_TRUE(edit) << edit.error().message;
    EXPECT_EQ(edit.value().job.forming.sculpted.scan, "prototype");
    const auto undone = write_setting(edit.value().job, setting(job, "/forming/sculpted/scan"), "");
    ASSERT_TRUE(undone) << undone.error().message;
    EXPECT_EQ(undone.value().job.forming.sculpted.scan, "");
}

}  // namespace
}  // namespace sillwright::core

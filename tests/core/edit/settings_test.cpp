#include "core/edit/settings.h"

#include <gmock/gmock.h>

#include <algorithm>

#include "../small_job.h"
#include "core/job_file.h"
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
                    Written{"/road/ground", "-7 1/4\"", "-7 1/4\""}, Written{"/road/breakover_least_deg", "12", "12"}));

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

}  // namespace
}  // namespace sillwright::core

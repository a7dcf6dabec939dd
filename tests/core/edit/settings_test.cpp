#include "core/edit/settings.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "../small_job.h"
#include "core/edit/cell.h"
#include "core/forming/machine_table.h"
#include "core/job_file.h"
#include "core/job_file/words.h"
#include "core/number_text.h"
#include "core/typed.h"

namespace sillwright::core {
namespace {

using testing::HasSubstr;

Job small_job() {
    Job job = parse_job(small_job_text(), "small").value();
    job.buck.boards.resize(2);
    job.buck.boards[0].name = "mdf 12";
    job.buck.boards[1].name = "ply 9";
    return job;
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
    testing::Values(
        Written{"/fitting/hot/part_c", "80", "80"}, Written{"/fitting/drawn_c", " 18.5 ", "18.5"},
        Written{"/fitting/part_half", "1/16\"", "1/16\""}, Written{"/fitting/locator", "H1", "H1"},
        Written{"/fitting/fits_other_cars", "yes", "yes"}, Written{"/fitting/body_material", "steel", "steel"},
        Written{"/skirt/material/name", "ABS", "ABS"}, Written{"/skirt/pieces/0/flange/thickness", "2.6", "2.6"},
        Written{"/loads/stepping", "refused", "refused"}, Written{"/loads/foot_n", "700", "700"},
        Written{"/road/ground", "-7 1/4\"", "-7 1/4\""}, Written{"/road/breakover_least_deg", "12", "12"},
        Written{"/forming/mould", "male", "male"}, Written{"/forming/texture", "0.05", "0.05"},
        Written{"/forming/draft_least_deg", "4.5", "4.5"}, Written{"/forming/tilt_from_deg", "-5", "-5"},
        Written{"/forming/tilt_to_deg", "0", "0"}, Written{"/forming/tilt_deg", "-2,5", "-2.5"},
        Written{"/forming/undercut_most", "1", "1"}, Written{"/forming/trim_allowance", "3/4\"", "3/4\""},
        Written{"/forming/clamp_distance", "50", "50"}, Written{"/forming/flange_least", "1.8", "1.8"},
        Written{"/forming/shelf_least", "2", "2"}, Written{"/forming/rest_least", "1.25", "1.25"},
        Written{"/forming/draw_ratio_most", "2.5", "2.5"}, Written{"/forming/machine", "own frame", "own frame"},
        Written{"/forming/skin", "4", "4"}, Written{"/forming/sculpted/sd", "0.5", "0.5"},
        Written{"/forming/sculpted/replaces", "yes", "yes"}, Written{"/forming/router/base_radius", "75", "75"},
        Written{"/forming/router/base_room", "3", "3"}, Written{"/forming/router/bearing_least", "0.6", "0.6"},
        Written{"/forming/router/board", "18", "18"}, Written{"/forming/router/board_left", "5", "5"},
        Written{"/forming/router/pass_share", "1", "1"}, Written{"/forming/router/land_least", "8", "8"},
        Written{"/forming/router/run_out_room", "1\"", "1\""}, Written{"/buck/rib_board", "ply 9", "ply 9"},
        Written{"/buck/spine_board", "mdf 12", "mdf 12"}, Written{"/buck/base_board", "mdf 12", "mdf 12"},
        Written{"/buck/bit", "flat 6", "flat 6"}, Written{"/buck/chord_most", "0.2", "0.2"},
        Written{"/buck/face", "rear", "rear"}, Written{"/buck/spines", "one", "one"},
        Written{"/buck/spine_height", "60", "60"}, Written{"/buck/fit", "0.2", "0.2"},
        Written{"/buck/slot_extra", "1", "1"}, Written{"/buck/key_step", "5", "5"},
        Written{"/buck/base_room", "1\"", "1\""}, Written{"/buck/pin", "8", "8"},
        Written{"/buck/line", "tool path", "tool path"}, Written{"/buck/relief", "along edge", "along edge"},
        Written{"/buck/tab_width", "8", "8"}, Written{"/buck/tab_height", "0", "0"},
        Written{"/buck/tab_pitch", "300", "300"}, Written{"/buck/letters", "10", "10"},
        Written{"/buck/margin", "12", "12"}, Written{"/buck/gap", "9", "9"}, Written{"/buck/unit", "inch", "inch"},
        Written{"/buck/release", "12", "12"}, Written{"/papers/templates", "A3", "A3"},
        Written{"/papers/pages", "Letter", "Letter"},
        Written{"/papers/call", "the shop, 555 0100", "the shop, 555 0100"}, Written{"/papers/foam", "50", "50"},
        Written{"/papers/carton", "5", "5"}, Written{"/papers/longest", "2400", "2400"},
        Written{"/papers/girth_most", "3 m", "3 m"}));

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
    EXPECT_THAT(refused("/buck/rib_board", "oak"), HasSubstr("there is no board \"oak\""));
    EXPECT_THAT(refused("/buck/pin", "0"), testing::StartsWith("datum rods: "));
    EXPECT_THAT(refused("/buck/fit", "-0.1"), testing::StartsWith("slot's fit: "));
    EXPECT_THAT(refused("/buck/face", "upper"), testing::StartsWith("rib's face: "));
    EXPECT_THAT(refused("/papers/pages", "A3"), HasSubstr("pages are on A4 or Letter"));
    EXPECT_THAT(refused("/papers/foam", "-1"), testing::StartsWith("foam: "));
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
    const Buck buck;
    says_mm("/buck/fit", buck.fit);
    says_mm("/buck/slot_extra", buck.slot_extra);
    says_mm("/buck/key_step", buck.key_step);
    says_mm("/buck/base_room", buck.base_room);
    says_mm("/buck/pin", buck.pin);
    says_mm("/buck/tab_width", buck.tab_width);
    says_mm("/buck/tab_height", buck.tab_height);
    says_mm("/buck/tab_pitch", buck.tab_pitch);
    says_mm("/buck/letters", buck.letters);
    says_mm("/buck/margin", buck.margin);
    const auto says_word = [&](const std::string& pointer, const auto& words, auto value) {
        EXPECT_THAT(help(pointer), HasSubstr("empty: " + word_cell(words, value) + "."));
    };
    says_word("/buck/face", job_file::k_rib_face_words, buck.face);
    says_word("/buck/spines", job_file::k_spine_words, buck.spines);
    says_word("/buck/line", job_file::k_cut_line_words, buck.line);
    says_word("/buck/relief", job_file::k_relief_words, buck.relief);
    says_word("/buck/unit", job_file::k_drawing_unit_words, buck.unit);
    says_word("/buck/release", job_file::k_release_words, buck.release);
    const Papers papers;
    says_word("/papers/templates", job_file::k_paper_words, papers.templates);
    says_word("/papers/pages", job_file::k_paper_words, papers.pages);
    says_mm("/papers/foam", papers.foam);
    says_mm("/papers/carton", papers.carton);
}

TEST(Settings, SmallNumbersAreShownAsTheyCanBeTyped) {
    const Job job = small_job();
    const auto edit = write_setting(job, setting(job, "/skirt/material/expansion_per_k"), "0.00009");
    ASSERT_TRUE(edit) << edit.error().message;
    EXPECT_EQ(text(edit.value().job, "/skirt/material/expansion_per_k"), "0.00009");
}

// Every field of the two, but boards, which stand in a table.
TEST(Settings, HaveAllFieldsOfBuckAndPapers) {
    Job job = small_job();
    job.buck.chord_most = job.buck.spine_height = job.buck.gap = typed_entry("5", BareUnit::mm).value();
    job.buck.fit = typed_entry("0.3", BareUnit::mm).value();
    job.buck.rib_board = job.buck.spine_board = job.buck.base_board = "ply 9";
    job.buck.bit = "flat 6";
    job.buck.face = RibFace::front;
    job.buck.spines = SpineCount::one;
    job.buck.line = CutLine::tool_path;
    job.buck.relief = CornerRelief::along_edge;
    job.buck.unit = DrawingUnit::inches;
    job.buck.release = DxfRelease::older;
    job.papers.templates = PaperSize::a3;
    job.papers.pages = PaperSize::letter;
    job.papers.call = "the shop";
    job.papers.longest = job.papers.girth_most = typed_entry("3000", BareUnit::mm).value();
    const auto file = nlohmann::json::parse(job_text(job));
    std::set<std::string> fields, settings;
    for (const char* part : {"buck", "papers"}) {
        for (const auto& item : file.at(part).items()) {
            fields.insert(std::string("/") + part + "/" + item.key());
        }
    }
    fields.erase("/buck/boards");
    for (const Setting& one : settings_of(job)) {
        if (one.group == SettingGroup::buck || one.group == SettingGroup::papers) {
            settings.insert(one.pointer);
            EXPECT_NE(text(job, one.pointer), "") << one.name;
        }
    }
    EXPECT_EQ(settings, fields);
}

TEST(Settings, OfferBoardsAndBitsThatCutSquare) {
    Job job = small_job();
    EXPECT_THAT(setting(job, "/buck/rib_board").words, testing::ElementsAre("", "mdf 12", "ply 9"));
    EXPECT_THAT(setting(job, "/buck/bit").words, testing::ElementsAre("", "flat 6", "flat 10", "flat 16"));
    Bit own;
    own.name = "two flutes 8";
    own.form = BitForm::flat;
    Bit nose;
    nose.name = "nose";
    job.forming.router.bits = {nose, own};
    job.buck.bit = "flat 6";
    EXPECT_THAT(setting(job, "/buck/bit").words, testing::ElementsAre("", "two flutes 8", "flat 6"))
        << "what was chosen stays to be chosen";
    EXPECT_THAT(setting(job, "/papers/pages").words, testing::ElementsAre("", "A4", "Letter"));
    EXPECT_THAT(setting(job, "/papers/templates").words, testing::ElementsAre("", "A4", "Letter", "A3"));
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

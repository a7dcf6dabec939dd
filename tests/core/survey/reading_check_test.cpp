#include "core/survey/reading_check.h"

#include <gtest/gtest.h>

#include <limits>

#include "tests/core/survey/small_book.h"

namespace sillwright::core::survey {
namespace {

using geometry::degrees;
using tests::mm;

Reading good() {
    return tests::reading(ReadingKind::tie, {"A", "B"}, 500.0);
}

TEST(ReadingCheck, AGoodReadingHasNoFault) {
    EXPECT_EQ(why_not_usable({}, good()), "");
    EXPECT_EQ(why_not_usable({}, tests::reading(ReadingKind::gap, {"A"}, -1.0)), "");
    EXPECT_EQ(why_not_usable({}, tests::reading(ReadingKind::height, {"A", "B"}, -1.0)), "");
}

TEST(ReadingCheck, EachFaultIsSaid) {
    const auto why = [](const auto& spoil) {
        Reading reading = good();
        spoil(reading);
        return why_not_usable({}, reading);
    };
    EXPECT_NE(why([](Reading& r) { r.value.reset(); }), "");
    EXPECT_NE(why([](Reading& r) { r.value = mm(std::numeric_limits<double>::quiet_NaN()); }), "");
    EXPECT_NE(why([](Reading& r) { r.value = mm(-500.0); }), "");
    EXPECT_NE(why([](Reading& r) { r.value = mm(0.0); }), "");
    EXPECT_NE(why([](Reading& r) { r.points = {"A", "A"}; }).find("A twice"), std::string::npos);
    EXPECT_NE(why([](Reading& r) { r.points = {"A"}; }), "");
    EXPECT_NE(why([](Reading& r) { r.points = {"A", ""}; }), "");
    EXPECT_NE(why([](Reading& r) { r.kind = ReadingKind::plane; }), "");
    EXPECT_NE(why([](Reading& r) { r.kind = ReadingKind::angle; }), "");
    EXPECT_NE(why([](Reading& r) { r.kind = ReadingKind::gauge; }).find("up is missing"), std::string::npos);
    EXPECT_NE(why([](Reading& r) { r.kind = ReadingKind::gap, r.value = mm(-1.0); }), "");
    EXPECT_NE(why([](Reading& r) { r.sd = mm(0.0); }), "");
    EXPECT_NE(why([](Reading& r) { r.set_up = "crane"; }).find("\"crane\""), std::string::npos);
}

TEST(ReadingCheck, TheSetUpIsTheNamedOneElseTheFirst) {
    Book book;
    EXPECT_TRUE(set_up_of(book, good())->level);
    book.set_ups = {{"wheels", true, {}, {}, {}, {}}, {"lift", false, degrees(1), degrees(0), {}, {}}};
    EXPECT_EQ(set_up_of(book, good())->name, "wheels");
    Reading other = good();
    other.set_up = "lift";
    EXPECT_EQ(set_up_of(book, other)->name, "lift");
    EXPECT_FALSE(may_lean(book.set_ups[0]));
    EXPECT_FALSE(may_lean(book.set_ups[1])) << "it is held";
    book.set_ups[1].lean_sd = degrees(0.1);
    EXPECT_TRUE(may_lean(book.set_ups[1]));
    EXPECT_TRUE(may_lean({"unknown", false, {}, {}, {}, {}}));
}

}  // namespace
}  // namespace sillwright::core::survey

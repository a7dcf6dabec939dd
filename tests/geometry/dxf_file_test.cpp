#include "geometry/dxf_file.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <charconv>
#include <limits>
#include <set>
#include <sstream>

namespace sillwright::geometry {
namespace {

using testing::HasSubstr;

struct Group {
    int code;
    std::string value;
};

/// The pairs of lines that a DXF text consists of.
std::vector<Group> groups(const std::string& text) {
    std::vector<Group> found;
    std::istringstream in(text);
    std::string code, value;
    while (std::getline(in, code) && std::getline(in, value)) {
        found.push_back({std::stoi(code), value});
    }
    return found;
}

/// Values of `code` in the first entity of a kind.
std::vector<std::string> values(const std::vector<Group>& all, const std::string& kind, int code) {
    std::vector<std::string> found;
    bool inside = false;
    for (const Group& group : all) {
        if (group.code == 0) {
            if (inside) {
                break;
            }
            inside = group.value == kind;
        } else if (inside && group.code == code) {
            found.push_back(group.value);
        }
    }
    return found;
}

Drawing one(DrawnShape shape) {
    return {{{"CUT_OUTSIDE", 1}}, {{"CUT_OUTSIDE", std::move(shape)}}};
}

std::string text_of(const std::string& words) {
    const auto dxf = dxf_text(one(DrawnText{{0, 0}, millimetres(5), {}, words}));
    return dxf ? values(groups(dxf.value()), "TEXT", 1).at(0) : dxf.error().message;
}

TEST(DxfFile, HandlesAreUniqueAndOwnersAndPointersExist) {
    Drawing drawing = one(DrawnLine{{0, 0}, {1, 1}});
    drawing.layers.push_back({"NOTE", 3});
    drawing.entities.push_back({"NOTE", DrawnText{{1, 2}, millimetres(5), {}, "RIB 4"}});
    std::set<std::string> handles{"0"};
    std::vector<std::string> pointers;
    bool header = true;
    unsigned long highest = 0, seed = 0;
    const std::string text = dxf_text(drawing).value();
    for (const Group& group : groups(text)) {
        header = header && group.value != "ENDSEC";
        if (header && group.code == 5) {
            seed = std::stoul(group.value, nullptr, 16);
        } else if (group.code == 5 || group.code == 105) {
            EXPECT_TRUE(handles.insert(group.value).second) << group.value;
            highest = std::max(highest, std::stoul(group.value, nullptr, 16));
        } else if (group.code == 330 || group.code == 340 || group.code == 350 || group.code == 390) {
            pointers.push_back(group.value);
        }
    }
    EXPECT_EQ(seed, highest + 1);
    for (const std::string& pointer : pointers) {
        EXPECT_TRUE(handles.contains(pointer)) << pointer;
    }
}

TEST(DxfFile, SaysMillimetresAndExtents) {
    const std::string text = dxf_text(one(DrawnLine{{-1.5, 2}, {1900, 0.1}})).value();
    EXPECT_THAT(text, HasSubstr("$ACADVER\n1\nAC1015\n"));
    EXPECT_THAT(text, HasSubstr("$INSUNITS\n70\n4\n"));
    EXPECT_THAT(text, HasSubstr("$EXTMIN\n10\n-1.5\n20\n0.1\n30\n0.0\n"));
    EXPECT_THAT(text, HasSubstr("$EXTMAX\n10\n1900.0\n20\n2.0\n30\n0.0\n"));
    EXPECT_TRUE(text.ends_with("0\nEOF\n"));
}

TEST(DxfFile, NumbersAreShortExactAndPlain) {
    const double small = 0x1p-60;
    const auto all = groups(dxf_text(one(DrawnLine{{0.1, -0.0}, {1234567.8901234, small}})).value());
    EXPECT_EQ(values(all, "LINE", 10).at(0), "0.1");
    EXPECT_EQ(values(all, "LINE", 20).at(0), "0.0");
    EXPECT_EQ(values(all, "LINE", 11).at(0), "1234567.8901234");
    const std::string tiny = values(all, "LINE", 21).at(0);
    EXPECT_EQ(tiny.find('e'), std::string::npos) << tiny;
    double back = 0.0;
    std::from_chars(tiny.data(), tiny.data() + tiny.size(), back);
    EXPECT_EQ(back, small);
}

TEST(DxfFile, ArcsRunAnticlockwise) {
    const auto all = groups(dxf_text(one(DrawnArc{{0, 0}, millimetres(3), degrees(90), degrees(-180)})).value());
    EXPECT_NEAR(std::stod(values(all, "ARC", 50).at(0)), 270.0, 1e-12);
    EXPECT_NEAR(std::stod(values(all, "ARC", 51).at(0)), 90.0, 1e-12);
}

TEST(DxfFile, ChainsCarryTheirBulges) {
    const DrawnChain chain{{{{0, 0}, 0.25}, {{10, 0}, 0.0}, {{10, 5}, -1.0}}, true};
    const auto all = groups(dxf_text(one(chain)).value());
    EXPECT_EQ(values(all, "LWPOLYLINE", 90), std::vector<std::string>{"3"});
    EXPECT_EQ(values(all, "LWPOLYLINE", 70), std::vector<std::string>{"1"});
    EXPECT_EQ(values(all, "LWPOLYLINE", 42), (std::vector<std::string>{"0.25", "-1.0"}));
}

// Code points by the Unicode charts: German sharp s U+00DF, Greek delta U+0394, euro U+20AC.
TEST(DxfFile, WritingIsEscaped) {
    EXPECT_EQ(text_of("RIB 4 - 5 % \\ 2"), "RIB 4 - 5 % \\ 2");
    EXPECT_EQ(text_of("\xC3\x9F \xCE\x94 \xE2\x82\xAC"), "\\U+00DF \\U+0394 \\U+20AC");
    EXPECT_EQ(text_of("\\U+0041"), "\\U+005CU+0041");
    EXPECT_EQ(text_of("%%c"), "\\U+0025%c");
    EXPECT_EQ(text_of("^J"), "\\U+005EJ");
    EXPECT_EQ(text_of("a\nb\tc\x7F"), "a b c ");
    EXPECT_EQ(text_of("\xF0\x9F\x98\x80!"), "\\U+FFFD!");  // beyond U+FFFF
    for (const char* broken : {"\xFF", "\xC3", "\xC0\xAF", "\xE2\x82", "\xED\xA0\x80", "\xF8\x88\x80\x80\x80"}) {
        EXPECT_THAT(text_of(broken), HasSubstr("\\U+FFFD")) << "not UTF-8";
    }
}

TEST(DxfFile, AnEmptyDrawingIsAFile) {
    const auto text = dxf_text({});
    ASSERT_TRUE(text);
    EXPECT_THAT(text.value(), HasSubstr("ENTITIES\n0\nENDSEC\n"));
}

TEST(DxfFile, RefusesWhatCannotBeDrawn) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    struct Bad {
        DrawnShape shape;
        const char* words;
    };
    const Length five = millimetres(5);
    for (const Bad& bad :
         {Bad{DrawnLine{{0, nan}, {1, 1}}, "not finite"}, Bad{DrawnPoint{{nan, 0}}, "not finite"},
          Bad{DrawnCircle{{0, 0}, {}}, "radius above 0"}, Bad{DrawnCircle{{0, 0}, millimetres(nan)}, "radius above 0"},
          Bad{DrawnArc{{0, 0}, five, {}, {}}, "needs a sweep"},
          Bad{DrawnArc{{0, 0}, five, {}, degrees(360)}, "full turn"},
          Bad{DrawnChain{{{{0, 0}, 0.0}}, true}, "two vertices"},
          Bad{DrawnChain{{{{0, 0}, nan}, {{1, 0}, 0.0}}, true}, "not finite"},
          Bad{DrawnText{{0, 0}, five, {}, " \n"}, "without words"},
          Bad{DrawnText{{0, 0}, -five, {}, "A"}, "height above 0"}}) {
        const auto text = dxf_text(one(bad.shape));
        ASSERT_FALSE(text) << bad.words;
        EXPECT_EQ(text.error().code, ErrorCode::invalid_argument);
        EXPECT_THAT(text.error().message, HasSubstr("Entity 1 on layer \"CUT_OUTSIDE\""));
        EXPECT_THAT(text.error().message, HasSubstr(bad.words));
    }
}

TEST(DxfFile, RefusesLayersThatAreNone) {
    for (const std::vector<DrawingLayer>& layers : {std::vector<DrawingLayer>{{"", 1}},
                                                    {{"0", 1}},
                                                    {{"note", 1}},
                                                    {{"A B", 1}},
                                                    {{"A", 0}},
                                                    {{"A", 256}},
                                                    {{"A", 1}, {"A", 2}}}) {
        EXPECT_FALSE(dxf_text({layers, {}}));
    }
    const auto text = dxf_text({{{"NOTE", 3}}, {{"DRILL", DrawnPoint{{0, 0}}}}});
    ASSERT_FALSE(text);
    EXPECT_THAT(text.error().message, HasSubstr("layer that the drawing has not"));
}

/// Value of a variable of the header.
std::string variable(const std::string& text, const std::string& name) {
    const auto all = groups(text);
    for (std::size_t i = 0; i + 1 < all.size(); ++i) {
        if (all[i].code == 9 && all[i].value == name) {
            return all[i + 1].value;
        }
    }
    return "";
}

// 1 in = 25.4 mm; codes of units by the published reference: 1 inches, 4 millimetres; 0 English, 1 metric.
TEST(DxfFile, InchesAreInchesThroughout) {
    const Drawing drawing{{{"NOTE", 7}},
                          {{"NOTE", DrawnLine{{25.4, 50.8}, {0, 0}}},
                           {"NOTE", DrawnCircle{{0, 0}, millimetres(12.7)}},
                           {"NOTE", DrawnChain{{{{254, 0}, 0.5}, {{0, 0}}}, false}},
                           {"NOTE", DrawnText{{0, 0}, millimetres(6.35), {}, "R3"}}}};
    const std::string text = dxf_text(drawing, {DxfRelease::r2000, DxfUnit::inches}).value();
    const auto all = groups(text);
    EXPECT_EQ(values(all, "LINE", 10), std::vector<std::string>{"1.0"});
    EXPECT_EQ(values(all, "LINE", 20), std::vector<std::string>{"2.0"});
    EXPECT_EQ(values(all, "CIRCLE", 40), std::vector<std::string>{"0.5"});
    EXPECT_EQ(values(all, "LWPOLYLINE", 10), (std::vector<std::string>{"10.0", "0.0"}));
    EXPECT_EQ(values(all, "LWPOLYLINE", 42), std::vector<std::string>{"0.5"});
    EXPECT_EQ(values(all, "TEXT", 40), std::vector<std::string>{"0.25"});
    EXPECT_EQ(variable(text, "$INSUNITS"), "1");
    EXPECT_EQ(variable(text, "$MEASUREMENT"), "0");
    const std::string metric = dxf_text(drawing).value();
    EXPECT_EQ(variable(metric, "$INSUNITS"), "4");
    EXPECT_EQ(variable(metric, "$MEASUREMENT"), "1");
    EXPECT_EQ(values(groups(metric), "LINE", 10), std::vector<std::string>{"25.4"});
}

TEST(DxfFile, TheOlderReleaseIsChosen) {
    const Drawing drawing = one(DrawnChain{{{{25.4, 0}}, {{0, 0}}}, false});
    const std::string text = dxf_text(drawing, {DxfRelease::r12, DxfUnit::inches}).value();
    EXPECT_EQ(variable(text, "$ACADVER"), "AC1009");
    EXPECT_EQ(values(groups(text), "VERTEX", 10), std::vector<std::string>{"1.0"});
    const auto refused = dxf_text({{{std::string(32, 'A'), 1}}, {}}, {DxfRelease::r12, DxfUnit::millimetres});
    ASSERT_FALSE(refused);
    EXPECT_THAT(refused.error().message, HasSubstr("more than 31 letters"));
    EXPECT_TRUE(dxf_text({{{std::string(32, 'A'), 1}}, {}}));
}

}  // namespace
}  // namespace sillwright::geometry

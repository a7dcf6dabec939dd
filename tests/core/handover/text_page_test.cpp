#include "core/handover/text_page.h"

#include <gtest/gtest.h>

namespace sillwright::core {
namespace {

TEST(TextPage, IsMadeOfHeadingsParagraphsAndBanners) {
    TextPage page;
    page.heading("Mass");
    page.paragraph("one");
    page.paragraph("two", "  - ");
    page.blank();
    page.banner("AB");
    EXPECT_EQ(page.text(),
              "Mass\n----\none\n  - two\n\n" + std::string(100, '=') + "\n    A B\n" + std::string(100, '=') + "\n");
}

TEST(TextPage, WrapsBesideTheLead) {
    TextPage page;
    page.paragraph(std::string(95, 'a') + " bb cc", "  - ");
    EXPECT_EQ(page.text(), "  - " + std::string(95, 'a') + "\n    bb cc\n");
}

TEST(TextPage, TakesControlCharactersOut) {
    TextPage page;
    page.paragraph("a\x1b[2Jb\nc");
    EXPECT_EQ(page.text(), "a [2Jb c\n");
}

}  // namespace
}  // namespace sillwright::core

#include "core/file_name.h"

#include <gtest/gtest.h>

namespace sillwright::core {
namespace {

TEST(FileName, KeepsPlainLettersOnly) {
    EXPECT_EQ(safe_file_name("station_3-a"), "station_3-a");
    EXPECT_EQ(safe_file_name("../etc/passwd"), "___etc_passwd");
    EXPECT_EQ(safe_file_name("3.5 \"rear\"\n"), "3_5__rear__");
    EXPECT_EQ(safe_file_name("ß"), "__");  // two bytes in UTF-8
    EXPECT_EQ(safe_file_name(""), "_");
    EXPECT_EQ(safe_file_name(std::string(500, 'x')).size(), 60U);
}

TEST(FileName, IsUniqueInAnyCase) {
    std::vector<std::string> taken;
    EXPECT_EQ(unique_file_name("A/1", taken), "A_1");
    EXPECT_EQ(unique_file_name("a.1", taken), "a_1_2");
    EXPECT_EQ(unique_file_name("A 1", taken), "A_1_3");
    EXPECT_EQ(unique_file_name("A_1_2", taken), "A_1_2_2");
    EXPECT_EQ(taken.size(), 4U);
}

}  // namespace
}  // namespace sillwright::core

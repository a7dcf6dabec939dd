#include "core/edit/whole_unit.h"

#include <gtest/gtest.h>

namespace sillwright::core {
namespace {

using geometry::in_mm;
using geometry::millimetres;

TEST(WholeUnit, IsWhatAHandReads) {
    EXPECT_EQ(in_mm(to_whole_unit(millimetres(34.6), BareUnit::mm)), 35.0);
    EXPECT_EQ(in_mm(to_whole_unit(millimetres(-34.6), BareUnit::cm)), -35.0) << "a tape in centimetres has millimetres";
    // 35.2 mm is 22.17 sixteenths; 22/16 in = 34.925 mm.
    EXPECT_DOUBLE_EQ(in_mm(to_whole_unit(millimetres(35.2), BareUnit::in)), 34.925);
    EXPECT_EQ(whole_unit_words(BareUnit::in), "sixteenths of an inch");
    EXPECT_EQ(whole_unit_words(BareUnit::mm), "whole millimetres");
}

}  // namespace
}  // namespace sillwright::core

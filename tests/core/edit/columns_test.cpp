#include "core/edit/columns.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <set>

#include "bench_job.h"

namespace sillwright::core {
namespace {

constexpr Table k_tables[] = {Table::mounts, Table::stations, Table::doors, Table::keep_outs};

TEST(Columns, HaveEachTheirOwnNameAndSayWhatMayStandThere) {
    for (const Table table : k_tables) {
        std::set<std::string> names;
        for (const Column& column : columns_of(table)) {
            EXPECT_TRUE(names.insert(column.about.name).second) << column.about.name;
            EXPECT_GT(column.about.help.size(), 10U) << column.about.name;
            EXPECT_TRUE(column.about.help.ends_with(".")) << column.about.name;
        }
        EXPECT_EQ(columns_of(table).front().about.name, "name");
    }
}

TEST(Columns, WriteBackWhatTheyRead) {
    const Job job = bench::estate();
    for (const Table table : k_tables) {
        for (std::size_t row = 0; row < row_count(job, table); ++row) {
            for (const Column& column : columns_of(table)) {
                Job same = job;
                EXPECT_TRUE(column.write(same, row, column.read(job, row))) << column.about.name;
                const std::string text = column.read(same, row);
                EXPECT_EQ(text, column.read(job, row));
                EXPECT_EQ(job_text(same).size() > 0, true);
            }
        }
    }
}

// A cell that is written is the field of the job file that the column names, and no other.
TEST(Columns, NameTheirFieldInTheJobFile) {
    for (const Table table : k_tables) {
        Job job;
        for (int i = 0; i < 2; ++i) {
            job = bench::after(add_row(job, table), job);
        }
        for (const Column& column : columns_of(table)) {
            Job written = job;
            for (const char* text :
                 {"7.25", "stud", "slot", "top edge", "sensor", "strip", "screw", "yes", "0 0.5 -1"}) {
                const auto status = column.write(written, 1, text);
                if (status && written != job) {
                    break;
                }
                written = job;
            }
            ASSERT_NE(written, job) << column.about.name;
            auto before = nlohmann::json::parse(job_text(job));
            auto after = nlohmann::json::parse(job_text(written));
            const std::string field = list_pointer(table) + "/1" + column.pointer;
            const nlohmann::json::json_pointer pointer(field);
            ASSERT_TRUE(after.contains(pointer)) << field;
            for (const auto& step : nlohmann::json::diff(before, after)) {
                const std::string path = step["path"];
                EXPECT_TRUE(field.starts_with(path) || path.starts_with(field)) << field << " is not " << path;
            }
        }
    }
}

}  // namespace
}  // namespace sillwright::core

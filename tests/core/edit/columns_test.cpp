#include "core/edit/columns.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <set>

#include "bench_job.h"

namespace sillwright::core {
namespace {

TEST(Columns, HaveEachTheirOwnNameAndSayWhatMayStandThere) {
    for (const Table table : k_tables) {
        std::set<std::string> names;
        for (const Column& column : columns_of(table)) {
            EXPECT_TRUE(names.insert(column.about.name).second) << column.about.name;
            EXPECT_GT(column.about.help.size(), 10U) << column.about.name;
            EXPECT_TRUE(column.about.help.ends_with(".")) << column.about.name;
        }
        if (table != Table::drains && table != Table::gauge_points) {
            EXPECT_EQ(columns_of(table).front().about.name, "name");
        }
    }
}

TEST(Columns, WriteBackWhatTheyRead) {
    for (const Job& job : {bench::estate(), bench::formed()}) {
        for (const Table table : k_tables) {
            for (std::size_t row = 0; row < row_count(job, table); ++row) {
                for (std::size_t column = 0; column < columns(table).size(); ++column) {
                    const std::string text = cell(job, table, row, column);
                    const auto edit = write_cell(job, table, row, column, text);
                    const std::string& name = columns(table)[column].name;
                    ASSERT_TRUE(edit) << name << ": " << edit.error().message;
                    EXPECT_EQ(cell(edit.value().job, table, row, column), text) << name;
                    EXPECT_EQ(row_count(edit.value().job, table), row_count(job, table)) << name;
                }
            }
        }
    }
}

// A cell that is written is the field of the job file that the column names, and no other.
TEST(Columns, NameTheirFieldInTheJobFile) {
    for (const Table table : k_tables) {
        // Rows that belong to something do so to the first one here.
        Job job = bench::channel();
        job.stations.resize(2);
        job.skirt.pieces[0].drawn.sections.resize(2);
        job.forming.generations.resize(1);
        job.forming.generations[0].name = "plug";
        job.buck.boards.resize(1);
        job.buck.boards[0].name = "mdf 12";
        while (row_count(job, table) < 2) {
            job = bench::after(add_row(job, table), job);
        }
        for (const Column& column : columns_of(table)) {
            if (column.is_owner()) {
                EXPECT_EQ(column.pointer, "");
                continue;
            }
            Job written = job;
            for (const char* text : {"7.25", "stud", "slot", "top edge", "sensor", "strip", "screw", "yes", "0 0.5 -1",
                                     "male", "vee", "across", "shelf"}) {
                const auto status = column.write(written, 1, text);
                if (status && written != job) {
                    break;
                }
                written = job;
            }
            ASSERT_NE(written, job) << column.about.name;
            auto before = nlohmann::json::parse(job_text(job));
            auto after = nlohmann::json::parse(job_text(written));
            const std::string field = row_pointer(job, table, 1) + column.pointer;
            const nlohmann::json::json_pointer pointer(field);
            ASSERT_TRUE(after.contains(pointer)) << field;
            for (const auto& step : nlohmann::json::diff(before, after)) {
                const std::string path = step["path"];
                EXPECT_TRUE(field.starts_with(path) || path.starts_with(field)) << field << " is not " << path;
            }
        }
    }
}

TEST(Columns, OfNestedRowsSayWhereTheFileHasThem) {
    const Job job = bench::formed();
    EXPECT_EQ(row_pointer(job, Table::flutes, 0), "/skirt/pieces/0/flutes/0");
    EXPECT_EQ(row_pointer(job, Table::flutes, 2), "/skirt/pieces/1/flutes/0");
    EXPECT_EQ(row_pointer(job, Table::recesses, 0), "/skirt/pieces/1/recesses/0");
    EXPECT_EQ(row_pointer(job, Table::drains, 1), "/skirt/pieces/0/drains/1");
    EXPECT_EQ(row_pointer(job, Table::ticks, 0), "/forming/generations/1/ticks/0");
    EXPECT_EQ(row_pointer(job, Table::ticks, 2), "/forming/generations/2/ticks/1");
    EXPECT_EQ(row_pointer(job, Table::gauge_points, 2), "/forming/sculpted/lines/1/points/0");
    EXPECT_EQ(row_pointer(job, Table::bits, 1), "/forming/router/bits/1");
    EXPECT_EQ(row_pointer(job, Table::boards, 1), "/buck/boards/1");
    EXPECT_EQ(row_pointer(job, Table::defects, 0), "/buck/boards/0/defects/0");
    EXPECT_EQ(row_pointer(job, Table::defects, 2), "/buck/boards/1/defects/1");
    const nlohmann::json file = nlohmann::json::parse(job_text(job));
    for (const Table table : k_tables) {
        for (std::size_t row = 0; row < row_count(job, table); ++row) {
            EXPECT_TRUE(file.contains(nlohmann::json::json_pointer(row_pointer(job, table, row))));
        }
    }
}

}  // namespace
}  // namespace sillwright::core

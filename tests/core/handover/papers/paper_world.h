#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <map>
#include <memory>
#include <string>
#include <variant>
#include <vector>

#include "core/buck/buck_plan.h"
#include "core/evaluate.h"
#include "core/handover/document.h"
#include "core/handover/papers/paper.h"
#include "core/job_file.h"

namespace sillwright::core::paper_world {

inline std::filesystem::path samples() {
    return std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples";
}

inline std::shared_ptr<const Evaluation> evaluated(const Job& job) {
    auto evaluation = evaluate(job, samples(), {}, Mends::leave);
    EXPECT_TRUE(evaluation) << (evaluation ? "" : evaluation.error().message);
    return evaluation ? evaluation.value() : std::make_shared<const Evaluation>();
}

inline Job sample_job(const std::string& name) {
    auto job = read_job(samples() / (name + ".sillwright"));
    EXPECT_TRUE(job) << (job ? "" : job.error().message);
    return job ? job.value() : Job{};
}

/// Each sample is computed once in a test program.
inline const Evaluation& sample(const std::string& name) {
    static std::map<std::string, std::shared_ptr<const Evaluation>> known;
    auto& one = known[name];
    if (one == nullptr) {
        one = evaluated(sample_job(name));
    }
    return *one;
}

inline const Evaluation& estate_a() {
    return sample("estate_a");
}

/// All that is written on a paper, a line each.
inline std::string all_text(const Document& paper) {
    std::string text = paper.title + "\n" + paper.reader + "\n";
    const auto add = [&](const std::string& line) { text += line + "\n"; };
    for (const Block& block : paper.blocks) {
        if (const auto* heading = std::get_if<Heading>(&block)) {
            add(heading->words);
        } else if (const auto* said = std::get_if<Words>(&block)) {
            add(said->words);
        } else if (const auto* items = std::get_if<Items>(&block)) {
            std::for_each(items->items.begin(), items->items.end(), add);
        } else if (const auto* values = std::get_if<Values>(&block)) {
            for (const Input& line : values->lines) {
                add(line.name + ": " + line.value);
            }
        } else if (const auto* grid = std::get_if<Grid>(&block)) {
            std::for_each(grid->columns.begin(), grid->columns.end(), add);
            for (const auto& row : grid->rows) {
                std::for_each(row.begin(), row.end(), add);
            }
        } else if (const auto* boxes = std::get_if<Boxes>(&block)) {
            std::for_each(boxes->questions.begin(), boxes->questions.end(), add);
        } else if (const auto* figure = std::get_if<Figure>(&block)) {
            add(figure->caption);
        }
    }
    return text;
}

/// Of the tables with a column of that name, the cell in the row whose first cells are as given; empty if there is
/// none.
inline std::string cell_of(const Document& paper, const std::vector<std::string>& row, const std::string& column) {
    for (const Block& block : paper.blocks) {
        const auto* grid = std::get_if<Grid>(&block);
        if (grid == nullptr) {
            continue;
        }
        const auto at = std::find(grid->columns.begin(), grid->columns.end(), column);
        if (at == grid->columns.end()) {
            continue;
        }
        for (const auto& cells : grid->rows) {
            if (cells.size() >= row.size() && std::equal(row.begin(), row.end(), cells.begin())) {
                return cells.at(static_cast<std::size_t>(at - grid->columns.begin()));
            }
        }
    }
    return {};
}

inline std::string value_of(const Document& paper, const std::string& name) {
    for (const Block& block : paper.blocks) {
        if (const auto* values = std::get_if<Values>(&block)) {
            for (const Input& line : values->lines) {
                if (line.name == name) {
                    return line.value;
                }
            }
        }
    }
    return {};
}

inline std::vector<const Figure*> figures(const Document& paper, FigureKind kind) {
    std::vector<const Figure*> all;
    for (const Block& block : paper.blocks) {
        if (const auto* figure = std::get_if<Figure>(&block); figure != nullptr && figure->kind == kind) {
            all.push_back(figure);
        }
    }
    return all;
}

/// Nothing on it is empty, unsaid or a stand-in; every table is as wide as its heading.
inline void expect_sound(const Document& paper) {
    EXPECT_FALSE(paper.stem.empty());
    EXPECT_FALSE(paper.title.empty()) << paper.stem;
    EXPECT_FALSE(paper.reader.empty()) << paper.stem;
    EXPECT_GE(paper.blocks.size(), 4U) << paper.stem;
    for (const Block& block : paper.blocks) {
        if (const auto* heading = std::get_if<Heading>(&block)) {
            EXPECT_FALSE(heading->words.empty()) << paper.stem;
        } else if (const auto* said = std::get_if<Words>(&block)) {
            EXPECT_FALSE(said->words.empty()) << paper.stem;
        } else if (const auto* items = std::get_if<Items>(&block)) {
            EXPECT_FALSE(items->items.empty()) << paper.stem;
            EXPECT_EQ(std::count(items->items.begin(), items->items.end(), ""), 0) << paper.stem;
        } else if (const auto* values = std::get_if<Values>(&block)) {
            EXPECT_FALSE(values->lines.empty()) << paper.stem;
            for (const Input& line : values->lines) {
                EXPECT_FALSE(line.name.empty() || line.value.empty()) << paper.stem << ": " << line.name;
            }
        } else if (const auto* grid = std::get_if<Grid>(&block)) {
            EXPECT_FALSE(grid->rows.empty()) << paper.stem;
            for (const auto& row : grid->rows) {
                EXPECT_EQ(row.size(), grid->columns.size()) << paper.stem << ", " << row.front();
                EXPECT_FALSE(row.front().empty()) << paper.stem;
            }
            for (const std::size_t box : grid->boxes) {
                EXPECT_LT(box, grid->columns.size()) << paper.stem;
            }
        } else if (const auto* boxes = std::get_if<Boxes>(&block)) {
            EXPECT_FALSE(boxes->questions.empty()) << paper.stem;
        } else if (const auto* figure = std::get_if<Figure>(&block)) {
            EXPECT_FALSE(figure->caption.empty()) << paper.stem;
            EXPECT_EQ(figure->kind == FigureKind::drawing, figure->drawing != nullptr) << paper.stem;
        }
    }
    std::string text = all_text(paper);
    for (const std::string& open : paper.open) {
        text += open + "\n";
    }
    std::transform(text.begin(), text.end(), text.begin(), [](unsigned char c) { return std::tolower(c); });
    for (const char* stand_in : {"todo", "tbd", "n/a", "xxx", "lorem", "fixme", "placeholder", "nan", "inf "}) {
        const auto at = text.find(stand_in);
        EXPECT_EQ(at, std::string::npos) << paper.stem << ": " << stand_in << " in "
                                         << (at == std::string::npos ? "" : text.substr(at > 30 ? at - 30 : 0, 80));
    }
}

/// A section of a rib: a box from (low, 0) to (high, top).
inline geometry::Profile box_profile(double low, double high, double top) {
    return geometry::make_profile({{{low, 0.0}, {}}, {{high, 0.0}, {}}, {{high, top}, {}}, {{low, top}, {}}}, true)
        .value();
}

/// A buck made by hand: three ribs on one spine, 400 mm apart.
inline PieceBuck hand_buck() {
    PieceBuck buck;
    buck.along_size = 1.006;
    buck.across_size = 1.006;
    buck.skin_mm = 3.0;
    for (int i = 0; i < 3; ++i) {
        Rib rib;
        rib.label = "R" + std::to_string(i + 1);
        rib.station = i == 1 ? "" : std::to_string(i + 1);
        rib.along = geometry::millimetres(400.0 * i);
        rib.x_mm = 402.4 * i;
        rib.thickness_mm = 11.93;
        rib.place_is_front = i != 2;
        rib.outline = box_profile(-60.0, 50.0 + i, 90.0 + i);
        rib.far_outline = rib.outline;
        rib.laps = {{5.0, 12.08, 40.5 + 4.0 * i}};
        rib.pins_mm = {{-20.0, 60.0}, {20.0, 60.0}};
        rib.level_mm = 50.0;
        buck.ribs.push_back(rib);
    }
    buck.ribs[0].bevels = {
        {"bead to knee", geometry::degrees(1.5), geometry::degrees(0.5), geometry::millimetres(0.31)}};
    buck.ribs[1].bevels = {
        {"bead to knee", geometry::degrees(0.01), geometry::degrees(0.0), geometry::millimetres(0.0)}};
    Spine spine;
    spine.label = "S1";
    spine.side_mm = 5.0;
    spine.thickness_mm = 11.93;
    spine.front_mm = -10.0;
    spine.rear_mm = 830.0;
    spine.height_mm = 60.0;
    spine.rib_labels = {"R1", "R2", "R3"};
    buck.spines = {spine};
    buck.checks = {{"R1 rod 1", "R3 rod 2", geometry::millimetres(805.79)}};
    buck.worst_swap = WrongPlace{"R1", "R2", true, 3.97};
    return buck;
}

}  // namespace sillwright::core::paper_world

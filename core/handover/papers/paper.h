#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/evaluate.h"
#include "core/finding.h"
#include "core/handover/document.h"
#include "core/job.h"
#include "geometry/units.h"

/// What all papers of the handover have in common.
namespace sillwright::core {

/// The cautions (core/handover/cautions.h), in their order.
enum class Caution { lifted_vehicle, near_the_sill, workshop, road_rules, no_proof };

/// The words of one of them.
const std::string& words(Caution caution);

/// Title, reader, and what no paper may lack.
struct PaperHead {
    std::string stem, title, reader;
    std::vector<Caution> cautions;
    std::vector<Stage> bears_on;  ///< Stages whose open points are printed on it.
};

/// A paper begun: side, units, frame and temperatures in words as its first blocks; cautions; all findings of the job
/// that fall short, worst first; the open points of its stages.
Document begun(const Evaluation& evaluation, const PaperHead& head);

/// "RIGHT SIDE", "LEFT SIDE"
std::string side_words(const Job& job);

/// Blocks are added only if there is something in them.
void add_heading(Document& paper, std::string words);
void add_words(Document& paper, std::string words, bool strong = false);
void add_items(Document& paper, std::vector<std::string> items, bool numbered = false);
void add_values(Document& paper, std::vector<Input> lines);
void add_grid(Document& paper, Grid grid);
void add_boxes(Document& paper, std::vector<std::string> questions);

/// Null if there is none of that id.
const Finding* find_finding(const std::vector<Finding>& findings, const std::string& id);

/// A finding's numbers without their words, for a table: "12.44 mm", "at least 6.96 mm", "+5.49 mm"; else empty.
struct FindingCells {
    std::string found, needs, margin;
};
FindingCells cells_of(const Finding& finding);

/// Why it is so, and what would mend it, if anything: sentences.
std::string told(const Finding& finding);

/// A length for a table whose column names the unit: "12.3".
std::string cell(geometry::Length length, int decimals = 1);
std::string cell_mm(double mm, int decimals = 1);
/// "12.3 mm", or "not measured".
std::string measured_text(const std::optional<Entry>& entry, int decimals = 1);
/// "1 part", "2 parts"
std::string count_text(std::size_t count, const std::string& one, const std::string& many);

}  // namespace sillwright::core

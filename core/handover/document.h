#pragma once

#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "core/finding.h"
#include "geometry/drawing.h"
#include "geometry/units.h"

/// What a paper of the handover says, before it is set on pages.
namespace sillwright::core {

struct Heading {
    std::string words;
};

struct Words {
    std::string words;
    bool strong = false;
};

/// A numbered or plain list.
struct Items {
    std::vector<std::string> items;
    bool numbered = false;
};

/// A name and its value, line by line.
struct Values {
    std::vector<Input> lines;
};

/// A table. A cell with nothing in it is a box to write into where `boxes` has its column.
struct Grid {
    std::vector<std::string> columns;
    std::vector<std::vector<std::string>> rows;
    std::vector<std::size_t> boxes{};
};

/// Boxes to tick or to fill: each a question and room for the answer.
struct Boxes {
    std::vector<std::string> questions;
};

/// Which of the program's own drawings.
enum class FigureKind {
    drawing,    ///< `drawing`, to the scale that has room.
    strip,      ///< The unrolled strip.
    section,    ///< At `along`.
    clearance,  ///< Gap by angle of the door named `name`.
    flange,     ///< The flange from below.
    platen,     ///< Of piece number `piece`; so are the next three.
    thickness,
    flutes,
    ladder,
    bars,     ///< What makes the worst gap unsure.
    network,  ///< The measured points.
    solid     ///< Part and car in the round, as lines.
};

struct Figure {
    FigureKind kind = FigureKind::drawing;
    std::string caption;
    std::size_t piece = 0;
    geometry::Length along;
    std::string name;
    std::shared_ptr<const geometry::Drawing> drawing;
    double height_share = 0.4;  ///< Of a page's height, at most.
};

using Block = std::variant<Heading, Words, Items, Values, Grid, Boxes, Figure>;

struct Document {
    std::string stem;       ///< "fitting_sheet"
    std::string title;      ///< "Fitting sheet"
    std::string reader;     ///< "for the installer"
    bool one_page = false;  ///< Is set smaller until it goes on one.
    bool lying = false;     ///< Pages lie on their long side.
    std::vector<Block> blocks;
    std::vector<std::string> cautions;  ///< At the foot of every page.
    std::vector<Finding> falls_short;   ///< Of all the job's, printed on it: none may be hidden.
    std::vector<std::string> open;      ///< Assumptions and what is not measured, that bear on it.
};

}  // namespace sillwright::core

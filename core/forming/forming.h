#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/entry.h"
#include "geometry/units.h"

/// How the part is to be formed, and by which moulds, as decided and measured: plain values of the job. Usual values
/// are common practice, no source, where nothing else is said.
namespace sillwright::core {

/// The sheet is drawn over a male mould, its inside lies on it; into a female one, its outside does.
enum class MouldKind { male, female };

/// A machine that clamps, heats and draws sheet.
struct Machine {
    std::string name;
    std::optional<Entry> length, width;            ///< Opening of the clamp frame, along and across the platen.
    std::optional<Entry> clamp_margin;             ///< Of that opening, what the clamps take at each side.
    std::optional<Entry> draw_depth;               ///< Tallest mould.
    std::optional<Entry> sheet_most;               ///< Thickest sheet that its oven heats.
    std::optional<Entry> oven_length, oven_width;  ///< What is heated evenly.
    Unknown unknown{};

    friend bool operator==(const Machine&, const Machine&) = default;
};

/// A size in which sheet is bought.
struct StockSheet {
    std::string name;
    std::optional<Entry> length, width;
    std::optional<double> price;  ///< Of one sheet, in the shop's own money.
    Unknown unknown{};

    friend bool operator==(const StockSheet&, const StockSheet&) = default;
};

enum class BitForm { round_nose, flat, vee };

struct Bit {
    std::string name;
    BitForm form = BitForm::round_nose;
    std::optional<Entry> diameter;
    std::optional<geometry::Angle> angle;  ///< Between the flanks of a V.
    std::optional<Entry> corner_radius;    ///< Of a flat bit's corners, or a V's point; none: sharp.
    std::optional<Entry> reach;            ///< Deepest cut.
    Unknown unknown{};

    friend bool operator==(const Bit&, const Bit&) = default;
};

/// The hand router that cuts flutes into the plug.
struct Router {
    std::optional<Entry> base_radius;                     ///< Of its base plate, from the bit's axis.
    Entry base_room{geometry::millimetres(2.0), ""};      ///< Between base plate and upstand.
    double bearing_least = 0.5;                           ///< Part of the base plate that must lie on the shelf.
    std::optional<Entry> board;                           ///< Thickness of the plug's board below the shelf.
    Entry board_left{geometry::millimetres(3.0), ""};     ///< Below a flute, at least.
    double pass_share = 0.5;                              ///< Depth of one pass, of the bit's radius.
    Entry land_least{geometry::millimetres(6.0), ""};     ///< Between neighbouring flutes.
    Entry run_out_room{geometry::millimetres(20.0), ""};  ///< From a flute's round end to the shelf's end.
    std::vector<Bit> bits;                                ///< Own ones; none: those of the table.
    Unknown unknown{};

    friend bool operator==(const Router&, const Router&) = default;
};

enum class GenerationKind { plug, female, male, sheet };

/// A distance between scribed ticks that was measured on one generation and on the one before it.
struct Tick {
    std::string name;
    bool across = false;               ///< Across the part; else along it.
    std::optional<Entry> before, now;  ///< Both cold.
    std::optional<Entry> sd;           ///< Standard deviation of each of the two.
    Unknown unknown{};

    friend bool operator==(const Tick&, const Tick&) = default;
};

/// One step of the mould chain. Shrinkages are from the cold generation before to this one, cold: 0.002 is 0.2 %.
struct Generation {
    std::string name;
    GenerationKind kind = GenerationKind::plug;
    std::optional<double> shrink_along, shrink_across;  ///< As assumed; measured ticks go before them.
    std::optional<double> shrink_sd;                    ///< Of an assumed one.
    bool from_hot = false;                              ///< They are quoted from the hot mould before it.
    std::optional<geometry::Temperature> hot;           ///< At which the mould before it runs.
    std::optional<double> expansion_per_k;              ///< Of the mould before it.
    std::vector<Tick> ticks;
    Unknown unknown{};

    friend bool operator==(const Generation&, const Generation&) = default;
};

struct GaugePoint {
    Entry out, up;
    Unknown unknown{};

    friend bool operator==(const GaugePoint&, const GaugePoint&) = default;
};

/// What a profile gauge, or a rule, read on the prototype at one station, from the flange's end round to the top.
struct GaugeLine {
    std::string station;
    std::vector<GaugePoint> points;
    Unknown unknown{};

    friend bool operator==(const GaugeLine&, const GaugeLine&) = default;
};

/// The prototype as it came from the bench.
struct Sculpted {
    std::vector<GaugeLine> lines;
    std::string scan;         ///< Name of one of the job's scans, instead of lines.
    std::optional<Entry> sd;  ///< Standard deviation of a gauge point; of a scan its own goes before it.
    bool replaces = false;    ///< All checks are run on it instead of on the drawn skirt.
    Unknown unknown{};

    friend bool operator==(const Sculpted&, const Sculpted&) = default;
};

/// The draw direction lies in the plane of the sections: straight outward, tilted up by `tilt`.
struct Forming {
    std::optional<MouldKind> mould;
    Entry texture;                               ///< Depth of the mould's texture; zero is smooth.
    std::optional<geometry::Angle> draft_least;  ///< None: what is usual for mould and texture.
    geometry::Angle tilt_from = geometry::degrees(-20.0), tilt_to = geometry::degrees(20.0);  ///< That can be set up.
    std::optional<geometry::Angle> tilt;                                                      ///< None: the best.
    Entry undercut_most;                                    ///< That the part can be sprung over.
    Entry trim_allowance{geometry::millimetres(20.0), ""};  ///< Mould and sheet go on beyond the trim line.
    std::optional<Entry> clamp_distance;                    ///< From the mould's foot to the clamp line.
    Entry flange_least{geometry::millimetres(2.0), ""};     ///< Formed thickness.
    Entry shelf_least{geometry::millimetres(2.2), ""};      ///< The same, its flutes too.
    Entry rest_least{geometry::millimetres(1.5), ""};       ///< Anywhere else.
    double draw_ratio_most = 3.0;                           ///< Area formed by area clamped.
    std::string machine;                                    ///< A name, of the job's own or of the table.
    std::vector<Machine> machines;                          ///< Own ones.
    std::vector<StockSheet> stock;                          ///< Own sizes; none: those of the table.
    Router router;
    std::vector<Generation> generations;  ///< From the plug to the sheet.
    std::optional<Entry> skin;            ///< Of the plug, over its ribs.
    Sculpted sculpted;
    Unknown unknown;

    friend bool operator==(const Forming&, const Forming&) = default;
};

}  // namespace sillwright::core

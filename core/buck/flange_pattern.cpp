#include "core/buck/flange_pattern.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "core/buck/section_drawings.h"
#include "core/file_name.h"
#include "core/handover/findings_file.h"
#include "core/mounts/flat_flange.h"
#include "core/number_text.h"
#include "core/plain_text.h"
#include "core/skirt/flange_bend.h"
#include "core/skirt/thickness.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::DrawnChain;
using geometry::DrawnLine;
using geometry::DrawnText;
using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;

namespace {

const std::string k_outside = "CUT_OUTSIDE";
const std::string k_inside = "CUT_INSIDE";
const std::string k_drill = "DRILL";
const std::string k_engrave = "ENGRAVE";
const std::string k_note = "NOTE";

constexpr Length k_step = millimetres(10.0);
/// Rows further apart than the step leave out what has run out.
constexpr double k_rows_apart = 1.5;
/// Sizes of one hole that differ by less are one.
constexpr double k_round_mm = 1e-6;
// Of the words (by eye).
constexpr double k_warning_mm = 12.0, k_line_mm = 8.0, k_hole_words_mm = 4.0, k_line_pitch = 1.7, k_below_mm = 12.0;
constexpr double k_cross_mm = 8.0;  ///< Of the datum, beyond its hole.

std::string number(double mm) {
    constexpr double k_hundredths = 100.0;
    return number_text(std::round(mm * k_hundredths) / k_hundredths + 0.0);
}

/// Stretches of neighbouring rows.
std::vector<std::vector<FlatRow>> runs_of(const FlatFlange& flat) {
    std::vector<std::vector<FlatRow>> runs;
    for (const FlatRow& row : flat.rows) {
        if (runs.empty() || row.along_mm - runs.back().back().along_mm > k_rows_apart * in_mm(k_step)) {
            runs.emplace_back();
        }
        runs.back().push_back(row);
    }
    return runs;
}

class PatternDrawer {
public:
    PatternDrawer(const Job& job, const CarModel& car, const MountPlan& plan, const FlangeFace& face,
                  FlangePattern& pattern)
        : job_{job},
          piece_{job.skirt.pieces[pattern.piece]},
          model_{car.pieces[pattern.piece]},
          plan_{plan},
          face_{face},
          pattern_{pattern} {}

    void draw() {
        for (const std::vector<FlatRow>& run : runs_of(flat_flange(face_, k_step))) {
            add_run(run);
        }
        for (const HolePlan& hole : plan_.holes) {
            if (hole.piece == pattern_.piece) {
                add_hole(hole);
            }
        }
        add_words();
    }

private:
    void put(const std::string& layer, geometry::DrawnShape shape) {
        pattern_.drawing.entities.push_back({layer, std::move(shape)});
    }

    /// Where the bend begins, laid flat; where the flat begins if there is none to be laid.
    double begin_of(const FlatRow& row) {
        if (piece_.flange.making != FlangeMaking::bent_after) {
            return 0.0;
        }
        const Flange& flange = piece_.flange;
        const Length along = millimetres(row.along_mm);
        const auto corner = face_.bend(along);
        const auto thickness = flange_thickness(piece_, along, &model_);
        if (!corner || !thickness || !flange.inner_radius || !flange.neutral_fraction) {
            bend_unknown_ = true;
            return row.flat_from_mm;
        }
        const auto bend = bend_numbers(geometry::radians(2.0 * std::atan(corner->tan_half)), flange.inner_radius->value,
                                       thickness->thickness, *flange.neutral_fraction, {});
        return row.flat_from_mm - in_mm(bend.allowance);
    }

    void add_run(const std::vector<FlatRow>& run) {
        DrawnChain edge{{}, true};
        DrawnChain flat{{}, false};
        for (const FlatRow& row : run) {
            edge.vertices.push_back({{row.along_mm, begin_of(row)}});
            flat.vertices.push_back({{row.along_mm, row.flat_from_mm}});
        }
        for (auto row = run.rbegin(); row != run.rend(); ++row) {
            edge.vertices.push_back({{row->along_mm, row->free_edge_mm}});
        }
        if (run.size() > 1) {
            put(k_outside, std::move(edge));
            put(k_engrave, std::move(flat));
        }
    }

    void add_hole(const HolePlan& hole) {
        const auto landing = on_flat(face_, hole.landing.p_mm);
        if (!landing) {
            return;
        }
        const HoleSize size = hole.drawn ? *hole.drawn : hole.cut;
        const double shift = hole.drawn ? hole.drawn_shift_mm : hole.shift_mm;
        const Vector2d at{landing->x() + shift, landing->y()};
        const double half_width = 0.5 * size.width_mm;
        const double half_straight = 0.5 * (size.length_mm - size.width_mm);
        if (half_straight < k_round_mm) {
            put(k_drill, geometry::DrawnCircle{at, millimetres(half_width)});
        } else {
            const Vector2d aside{half_straight, 0.0};
            const Vector2d up{0.0, half_width};
            put(k_inside, DrawnChain{{{at - aside - up, 0.0},
                                      {at + aside - up, 1.0},  // a half circle
                                      {at + aside + up, 0.0},
                                      {at - aside + up, 1.0}},
                                     true});
        }
        const bool datum = hole.role == HoleRole::locator;
        if (datum) {
            const double reach = 0.5 * size.length_mm + k_cross_mm;
            for (const Vector2d& arm : {Vector2d{reach, 0.0}, Vector2d{0.0, reach}}) {
                put(k_engrave, DrawnLine{at - arm, at - 0.6 * arm});
                put(k_engrave, DrawnLine{at + 0.6 * arm, at + arm});
            }
        }
        holes_.push_back({at, hole.mount, size, hole.drawn.has_value(), datum, hole.role});
    }

    void add_words() {
        const Eigen::AlignedBox2d box = geometry::bounds_mm(pattern_.drawing);
        if (box.isEmpty()) {
            return;
        }
        const auto datum = std::find_if(holes_.begin(), holes_.end(), [](const Hole& hole) { return hole.datum; });
        for (const Hole& hole : holes_) {
            Vector2d at{hole.at.x(), box.max().y() + k_below_mm};
            std::vector<std::string> lines{
                hole.mount + (hole.datum                     ? " DATUM"
                              : hole.role == HoleRole::guide ? " GUIDE"
                                                             : ""),
                (hole.size.length_mm - hole.size.width_mm < k_round_mm
                     ? "round " + number(hole.size.width_mm)
                     : "slot " + number(hole.size.length_mm) + " x " + number(hole.size.width_mm)) +
                    (hole.decided ? "" : ", proposed")};
            if (datum != holes_.end() && !hole.datum) {
                lines.push_back(number(hole.at.x() - datum->at.x()) + ", " + number(hole.at.y() - datum->at.y()) +
                                " from datum");
            }
            put(k_note, DrawnLine{{hole.at.x(), box.max().y() + 2.0}, {hole.at.x(), at.y() - 2.0}});
            for (auto line = lines.rbegin(); line != lines.rend(); ++line) {
                put(k_note, DrawnText{at, millimetres(k_hole_words_mm), {}, in_ascii(without_controls(*line))});
                at.y() += k_line_pitch * k_hole_words_mm;
            }
        }
        Vector2d at{box.min().x(), box.min().y() - k_below_mm};
        const auto put_line = [&](const std::string& words, double height) {
            at.y() -= k_line_pitch * height;
            put(k_note, DrawnText{at, millimetres(height), {}, in_ascii(without_controls(words))});
        };
        put_line(k_not_for_buck_warning, k_warning_mm);
        put_line(job_heading(job_), k_line_mm);
        put_line("Flange of piece " + piece_.name +
                     ", laid flat. x is along the car, rearward; y from the flange's root "
                     "to its free edge. " +
                     (job_.side == Side::right ? "Seen from below: the face away from the car is up."
                                               : "Seen from above: the face to the car is up."),
                 k_line_mm);
        put_line(std::string("SCALE 1:1. UNIT: ") +
                     (job_.buck.unit == DrawingUnit::inches ? "INCHES; numbers are millimetres." : "MILLIMETRES."),
                 k_line_mm);
        if (bend_unknown_) {
            pattern_.notes.push_back("Piece \"" + piece_.name +
                                     "\": the bend is not laid flat: its inner radius, neutral line or sheet is not "
                                     "given. The flange begins at its flat.");
        }
        if (datum == holes_.end()) {
            pattern_.notes.push_back("Piece \"" + piece_.name + "\": no hole of its flange is the datum yet.");
        }
        for (const std::string& note : pattern_.notes) {
            put_line(note, k_line_mm);
        }
    }

    struct Hole {
        Vector2d at;
        std::string mount;
        HoleSize size;
        bool decided = false, datum = false;
        HoleRole role = HoleRole::clearance;
    };

    const Job& job_;
    const Piece& piece_;
    const PieceModel& model_;
    const MountPlan& plan_;
    const FlangeFace& face_;
    FlangePattern& pattern_;
    bool bend_unknown_ = false;
    std::vector<Hole> holes_;
};

}  // namespace

std::vector<FlangePattern> flange_patterns(const Job& job, const CarModel& car, const MountPlan& plan) {
    std::vector<FlangePattern> patterns;
    std::vector<std::string> taken;
    for (std::size_t i = 0; i < car.pieces.size(); ++i) {
        const Piece& piece = job.skirt.pieces[i];
        const PieceModel& model = car.pieces[i];
        const auto face =
            model.line ? FlangeFace::of(piece, *model.line, model.formed.get()) : std::optional<FlangeFace>();
        if (!face) {
            continue;
        }
        FlangePattern pattern{
            "", i, {{{k_outside, 1}, {k_inside, 2}, {k_drill, 4}, {k_engrave, 5}, {k_note, 3}}, {}}, {}};
        PatternDrawer(job, car, plan, *face, pattern).draw();
        if (!pattern.drawing.entities.empty()) {
            pattern.stem = unique_file_name("flange_" + piece.name, taken);
            patterns.push_back(std::move(pattern));
        }
    }
    return patterns;
}

}  // namespace sillwright::core

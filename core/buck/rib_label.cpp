#include "core/buck/rib_label.h"

#include <algorithm>

#include "core/plain_text.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::DrawnChain;
using geometry::DrawnCircle;
using geometry::DrawnEntity;
using geometry::DrawnLine;
using geometry::DrawnText;
using geometry::millimetres;

namespace {

/// A longer name of a vehicle is cut: the whole of it stands in NOTE.
constexpr std::size_t k_vehicle_columns = 22;
constexpr std::size_t k_vehicle_lines = 2;

// The line of marks, in letter heights from its left end.
constexpr double k_mark_middle = 0.5;
constexpr double k_front_at = 1.5;
constexpr double k_out_at = 8.0;
constexpr double k_arrow_from = 11.5;
constexpr double k_arrow_to = 14.5;
constexpr double k_arrow_head = 0.7;
constexpr double k_dot = 0.12;

void add_arrow(std::vector<DrawnEntity>& all, const std::string& layer, const Vector2d& at, double h) {
    const Vector2d tip = at + Vector2d{k_arrow_to * h, 0.5 * h};
    const double head = k_arrow_head * h;
    all.push_back({layer, DrawnLine{at + Vector2d{k_arrow_from * h, 0.5 * h}, tip}});
    all.push_back(
        {layer, DrawnChain{{{tip + Vector2d{-head, 0.5 * head}}, {tip}, {tip + Vector2d{-head, -0.5 * head}}}, false}});
}

void add_front_mark(std::vector<DrawnEntity>& all, const std::string& layer, const Vector2d& at, double h, Side side) {
    const Vector2d middle = at + Vector2d{k_mark_middle, k_mark_middle} * h;
    all.push_back({layer, DrawnCircle{middle, millimetres(0.5 * h)}});
    if (side == Side::left) {
        all.push_back({layer, DrawnCircle{middle, millimetres(k_dot * h)}});
        return;
    }
    const double reach = 0.5 * h * 0.70710678118654752;
    all.push_back({layer, DrawnLine{middle - Vector2d{reach, reach}, middle + Vector2d{reach, reach}}});
    all.push_back({layer, DrawnLine{middle - Vector2d{reach, -reach}, middle + Vector2d{reach, -reach}}});
}

}  // namespace

double TextBlock::width_mm(double height_mm) const {
    double widest = arrows ? k_arrow_to : 0.0;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const double scale = i == 0 ? title_scale : 1.0;
        widest = std::max(widest, scale * k_letter_width * static_cast<double>(columns(lines[i])));
    }
    return widest * height_mm;
}

double TextBlock::height_mm(double height_mm) const {
    const std::size_t rows = lines.size() + (arrows ? 1 : 0);
    return rows == 0 ? 0.0 : (title_scale + k_line_pitch * static_cast<double>(rows - 1)) * height_mm;
}

TextBlock rib_label(const Job& job, const StationOutline& outline) {
    TextBlock block{{"STATION " + outline.station, job.side == Side::right ? "RIGHT SIDE" : "LEFT SIDE"}, 1.5, true};
    std::vector<std::string> vehicle = wrapped(without_controls(job.vehicle), k_vehicle_columns);
    vehicle.resize(std::min(vehicle.size(), k_vehicle_lines));
    for (std::string& line : vehicle) {
        if (!line.empty()) {
            block.lines.push_back(std::move(line));
        }
    }
    std::string revision = job.revision.empty() ? "" : "REV " + job.revision;
    if (job.skirt.pieces.size() > 1) {
        revision += (revision.empty() ? "" : ", ") + outline.piece;
    }
    if (!revision.empty()) {
        block.lines.push_back(wrapped(without_controls(revision), k_vehicle_columns).front());
    }
    block.lines.push_back(job.side == Side::right ? "THIS FACE TO REAR" : "THIS FACE TO FRONT");
    return block;
}

std::vector<DrawnEntity> drawn_block(const TextBlock& block, const std::string& layer, const Vector2d& corner_mm,
                                     double height_mm, Side side) {
    std::vector<DrawnEntity> all;
    double y = corner_mm.y() + block.height_mm(height_mm);
    for (std::size_t i = 0; i < block.lines.size(); ++i) {
        const double own = i == 0 ? block.title_scale * height_mm : height_mm;
        y -= i == 0 ? own : k_line_pitch * height_mm;
        all.push_back({layer, DrawnText{{corner_mm.x(), y}, millimetres(own), {}, block.lines[i]}});
    }
    if (block.arrows) {
        const Vector2d at{corner_mm.x(), corner_mm.y()};
        add_front_mark(all, layer, at, height_mm, side);
        all.push_back(
            {layer, DrawnText{at + Vector2d{k_front_at * height_mm, 0.0}, millimetres(height_mm), {}, "FRONT"}});
        all.push_back({layer, DrawnText{at + Vector2d{k_out_at * height_mm, 0.0}, millimetres(height_mm), {}, "OUT"}});
        add_arrow(all, layer, at, height_mm);
    }
    return all;
}

}  // namespace sillwright::core

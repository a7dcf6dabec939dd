#include "core/buck/rib_places.h"

#include <algorithm>
#include <cmath>

namespace sillwright::core {

using geometry::in_mm;
using geometry::Length;
using geometry::Loft;
using geometry::millimetres;

namespace {

constexpr int k_looks = 8;  ///< Between two ribs: a cubic stands most off its chord within 2 % of one of them.
/// Places as near are one station's.
constexpr double k_same_place_mm = 1e-6;

double worst_chord_mm(const Loft& line, std::size_t bays) {
    double worst = 0.0;
    const Length step = (line.rear() - line.front()) / static_cast<double>(bays);
    for (std::size_t i = 0; i < bays; ++i) {
        const Length from = line.front() + static_cast<double>(i) * step;
        worst = std::max(worst, in_mm(chord_error(line, from, from + step).error));
    }
    return worst;
}

std::string station_at(const Piece& piece, const Loft& line, Length along) {
    for (std::size_t i = 0; i < line.sections().size(); ++i) {
        if (std::abs(in_mm(line.sections()[i].along - along)) < k_same_place_mm) {
            return piece.drawn.sections[i].station;
        }
    }
    return {};
}

}  // namespace

ChordError chord_error(const Loft& line, Length from, Length to) {
    ChordError worst{{}, from, line.names().front()};
    const auto first = line.nodes_at(from);
    const auto last = line.nodes_at(to);
    for (int k = 1; k <= k_looks; ++k) {
        const double part = static_cast<double>(k) / (k_looks + 1);
        const Length along = from + (to - from) * part;
        const auto nodes = line.nodes_at(along);
        for (std::size_t i = 0; i < nodes.size(); ++i) {
            const Eigen::Vector2d straight = first[i].p_mm + part * (last[i].p_mm - first[i].p_mm);
            const double off = (nodes[i].p_mm - straight).norm();
            if (off > in_mm(worst.error)) {
                worst = {millimetres(off), along, line.names()[i]};
            }
        }
    }
    return worst;
}

std::vector<RibPlace> rib_places(const Piece& piece, const Loft& line, const std::optional<Length>& chord_most) {
    std::vector<RibPlace> places;
    if (!chord_most) {
        for (const auto& section : line.sections()) {
            places.push_back({section.along, station_at(piece, line, section.along)});
        }
        return places;
    }
    std::size_t bays = 1;
    while (bays + 1 < k_most_ribs && worst_chord_mm(line, bays) > in_mm(*chord_most)) {
        ++bays;
    }
    for (std::size_t i = 0; i <= bays; ++i) {
        const Length along =
            line.front() + (line.rear() - line.front()) * (static_cast<double>(i) / static_cast<double>(bays));
        places.push_back({along, station_at(piece, line, along)});
    }
    return places;
}

}  // namespace sillwright::core

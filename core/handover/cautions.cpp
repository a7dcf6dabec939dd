#include "core/handover/cautions.h"

namespace sillwright::core {

const std::vector<std::string>& cautions() {
    static const std::vector<std::string> all{
        "A lifted vehicle can fall: work under it only when it stands on rated stands or a lift. Lifting and jacking "
        "points stay free.",
        "Side-impact sensors, belt and airbag parts, high-voltage battery cases and cables, and fuel and brake lines "
        "are near the sill: nothing is drilled or fixed there without the vehicle maker's instructions.",
        "Router, hot sheet, resin, catalyst and dust injure: guard, ventilate, and wear what their makers ask for.",
        "Road-approval rules differ by country. Local codes and licensed practice decide, this program does not.",
        "A part of which nothing is said to fall short is no proof: measure the car again before a mould is made.",
    };
    return all;
}

}  // namespace sillwright::core

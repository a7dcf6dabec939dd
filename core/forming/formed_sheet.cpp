#include "core/forming/formed_sheet.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace sillwright::core {

using geometry::Length;

namespace {

/// Two neighbours in a rising list, and how far from the first to the second.
struct Between {
    std::size_t first = 0, second = 0;
    double part = 0.0;
};

template <class Value>
Between between(const std::vector<Value>& rising, Value at) {
    const auto behind = std::upper_bound(rising.begin(), rising.end(), at);
    if (behind == rising.begin()) {
        return {};
    }
    const auto first = static_cast<std::size_t>(behind - rising.begin()) - 1;
    if (behind == rising.end()) {
        return {first, first, 0.0};
    }
    return {first, first + 1, (at - rising[first]) / (*behind - rising[first])};
}

}  // namespace

double FormedSheet::share_at(Length along, double mark) const {
    const Between row = between(rows, along);
    const Between column = between(marks, mark);
    const auto in_row = [&](std::size_t i) {
        return std::lerp(shares[i][column.first], shares[i][column.second], column.part);
    };
    return std::lerp(in_row(row.first), in_row(row.second), row.part);
}

Length FormedSheet::thickness_at(Length along, double mark) const {
    return sheet * share_at(along, mark);
}

std::vector<std::string> lacking_for_formed_sheet(const Job& job, const Piece& piece) {
    std::vector<std::string> lacking;
    if (!piece.sheet) {
        lacking.push_back("the sheet thickness of " + piece.name);
    }
    if (!job.forming.mould) {
        lacking.emplace_back("whether the sheet is drawn over a male mould or into a female one");
    }
    if (!job.forming.clamp_distance) {
        lacking.emplace_back("the distance from the mould's foot to the clamp line");
    }
    return lacking;
}

}  // namespace sillwright::core

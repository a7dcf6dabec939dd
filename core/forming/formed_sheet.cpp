#include "core/forming/formed_sheet.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

#include "core/drawn_loft.h"
#include "core/forming/mould_section.h"
#include "geometry/sheet_draping.h"

namespace sillwright::core {

using geometry::Angle;
using geometry::Error;
using geometry::Length;
using geometry::Loft;
using geometry::Result;

namespace {

/// Between two marks and between two rows the thickness stands off the straight by no more, of the sheet: together half
/// of what the whole may be off by.
constexpr double k_mark_error = 0.001;
constexpr double k_row_error = 0.0015;
/// The way from a node to the next is halved so often at most: into 128 parts, half a millimetre or so.
constexpr int k_most_halved = 7;
constexpr std::size_t k_parts = std::size_t{1} << k_most_halved;
/// A gap between stations is halved so often at most.
constexpr int k_most_rows_halved = 3;

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

/// One section's shares, at k_parts places from each node to the next.
struct Row {
    Length along;
    std::vector<double> shares;
};

class Rows {
public:
    Rows(const Job& job, const Piece& piece, const Loft& line, Angle tilt)
        : job_{job}, piece_{piece}, line_{line}, tilt_{tilt}, strips_{line.names().size() - 1} {}

    Result<FormedSheet> run() {
        const auto keys = line_.key_places();
        std::vector<Row> at_keys;
        for (const Length key : keys) {
            auto found = row(key);
            if (!found) {
                return found.error();
            }
            at_keys.push_back(std::move(found).value());
        }
        choose_marks(at_keys);
        for (std::size_t i = 0; i < at_keys.size(); ++i) {
            if (i > 0) {
                if (const auto filled = fill(at_keys[i - 1], at_keys[i], k_most_rows_halved); !filled) {
                    return filled.error();
                }
            }
            put(at_keys[i]);
        }
        sheet_.sheet = piece_.sheet->value;
        sheet_.tilt = tilt_;
        sheet_.mould = *job_.forming.mould;
        return std::move(sheet_);
    }

private:
    [[nodiscard]] Result<Row> row(Length along) const {
        const auto section = mould_section(job_, piece_, line_, along, tilt_);
        if (!section) {
            return section.error();
        }
        const auto draped = geometry::draped(section.value().mould_mm, geometry::DrapeShape::trough);
        if (!draped) {
            return Error{geometry::ErrorCode::does_not_fit,
                         "The sheet cannot be formed " + at_place_words(job_, along) + ": " + draped.error().message +
                             "; take out the undercut there, or make the clamp distance greater."};
        }
        Row found{along, {}};
        found.shares.reserve(strips_ * k_parts + 1);
        for (std::size_t i = 0; i <= strips_ * k_parts; ++i) {
            found.shares.push_back(draped.value().share_at(section.value().at_mark(mark_of(i))));
        }
        return found;
    }

    static double mark_of(std::size_t place) { return static_cast<double>(place) / static_cast<double>(k_parts); }

    /// Halves the way from a node to the next as often as a straight between is not near enough in one of the rows.
    void choose_marks(const std::vector<Row>& rows) {
        places_.push_back(0);
        for (std::size_t strip = 0; strip < strips_; ++strip) {
            halve(rows, strip * k_parts, (strip + 1) * k_parts);
        }
        for (const std::size_t place : places_) {
            sheet_.marks.push_back(mark_of(place));
        }
    }

    void halve(const std::vector<Row>& rows, std::size_t from, std::size_t to) {
        if (to - from > 1 &&
            std::any_of(rows.begin(), rows.end(), [&](const Row& row) { return bends(row, from, to); })) {
            const std::size_t middle = (from + to) / 2;
            halve(rows, from, middle);
            halve(rows, middle, to);
        } else {
            places_.push_back(to);
        }
    }

    static bool bends(const Row& row, std::size_t from, std::size_t to) {
        for (std::size_t i = from + 1; i < to; ++i) {
            const double part = static_cast<double>(i - from) / static_cast<double>(to - from);
            if (std::abs(row.shares[i] - std::lerp(row.shares[from], row.shares[to], part)) > k_mark_error) {
                return true;
            }
        }
        return false;
    }

    void put(const Row& row) {
        std::vector<double> shares;
        shares.reserve(places_.size());
        for (const std::size_t place : places_) {
            shares.push_back(row.shares[place]);
        }
        sheet_.rows.push_back(row.along);
        sheet_.shares.push_back(std::move(shares));
    }

    /// Rows between two, where the straight between them is not near enough; the one that shows it stays in.
    geometry::Status fill(const Row& first, const Row& second, int halvings) {
        const auto found = row(first.along + 0.5 * (second.along - first.along));
        if (!found) {
            return found.error();
        }
        const Row& middle = found.value();
        const bool near =
            halvings == 0 || std::all_of(places_.begin(), places_.end(), [&](std::size_t i) {
                return std::abs(middle.shares[i] - 0.5 * (first.shares[i] + second.shares[i])) <= k_row_error;
            });
        if (!near) {
            if (const auto filled = fill(first, middle, halvings - 1); !filled) {
                return filled;
            }
        }
        put(middle);
        return near ? geometry::Status{std::monostate{}} : fill(middle, second, halvings - 1);
    }

    const Job& job_;
    const Piece& piece_;
    const Loft& line_;
    Angle tilt_;
    std::size_t strips_;
    std::vector<std::size_t> places_;  ///< Of the marks that are kept.
    FormedSheet sheet_;
};

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

Result<std::shared_ptr<const FormedSheet>> formed_sheet(const Job& job, const Piece& piece, const Loft& line,
                                                        Angle tilt) {
    if (!lacking_for_formed_sheet(job, piece).empty()) {
        return std::shared_ptr<const FormedSheet>{};
    }
    auto sheet = Rows(job, piece, line, tilt).run();
    if (!sheet) {
        return sheet.error();
    }
    return std::shared_ptr<const FormedSheet>{std::make_shared<FormedSheet>(std::move(sheet).value())};
}

}  // namespace sillwright::core

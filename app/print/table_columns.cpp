#include "app/print/table_columns.h"

#include <QRegularExpression>
#include <algorithm>
#include <numeric>

#include "app/print/page_words.h"
#include "app/text_of.h"

namespace sillwright::app::print {

namespace {

constexpr double k_to_write_into = 2000.0;

bool is_number(const QString& text) {
    static const QRegularExpression number(QStringLiteral("^[+−-]?[0-9][0-9.,]*( ?(mm|cm|in|°|%|kg|N))?$"));
    return number.match(text).hasMatch();
}

double sum(const std::vector<double>& all) {
    return std::accumulate(all.begin(), all.end(), 0.0);
}

}  // namespace

TableColumns table_columns(const core::Grid& grid, const QFont& font, const QFont& heading, double width,
                           double padding) {
    const std::size_t count = grid.columns.size();
    std::vector<double> least(count), most(count);
    TableColumns columns;
    for (std::size_t i = 0; i < count; ++i) {
        const QString name = text_of(grid.columns[i]);
        least[i] = widest_word(name, heading) + padding;
        most[i] = width_of(name, heading) + padding;
        bool numbers = !grid.rows.empty();
        bool any = false;
        for (const auto& row : grid.rows) {
            const QString text = i < row.size() ? text_of(row[i]) : QString();
            least[i] = std::max(least[i], widest_word(text, font) + padding);
            most[i] = std::max(most[i], width_of(text, font) + padding);
            numbers = numbers && (text.isEmpty() || is_number(text));
            any = any || !text.isEmpty();
        }
        if (std::find(grid.boxes.begin(), grid.boxes.end(), i) != grid.boxes.end()) {
            least[i] = std::max(least[i], k_to_write_into);
            most[i] = std::max(most[i], k_to_write_into);
        }
        columns.right.push_back(numbers && any);
        // A rounding of the measure must not break a line.
        least[i] += 2.0;
        most[i] += 2.0;
    }
    if (sum(most) <= width) {
        columns.widths = most;
    } else if (sum(least) <= width) {
        const double share = (width - sum(least)) / (sum(most) - sum(least));
        for (std::size_t i = 0; i < count; ++i) {
            columns.widths.push_back(least[i] + share * (most[i] - least[i]));
        }
    } else {
        // Long words are broken: columns that are narrow already keep their width, the others share what is left.
        columns.widths = least;
        double left = width;
        std::size_t wide = count;
        std::vector<bool> kept(count, false);
        for (bool changed = true; changed;) {
            changed = false;
            const double even = left / static_cast<double>(std::max<std::size_t>(1, wide));
            for (std::size_t i = 0; i < count; ++i) {
                if (!kept[i] && least[i] <= even) {
                    kept[i] = true;
                    left -= least[i];
                    --wide;
                    changed = true;
                }
            }
        }
        for (std::size_t i = 0; i < count; ++i) {
            if (!kept[i]) {
                columns.widths[i] = left / static_cast<double>(wide);
            }
        }
    }
    return columns;
}

}  // namespace sillwright::app::print

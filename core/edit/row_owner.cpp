#include "core/edit/row_owner.h"

#include <algorithm>
#include <set>
#include <type_traits>
#include <utility>

#include "core/edit/drawn_change.h"
#include "core/edit/table_rows.h"

namespace sillwright::core {

namespace {

template <class Row>
constexpr bool k_of_piece = std::is_same_v<Row, DrainHole> || std::is_same_v<Row, Flute> || std::is_same_v<Row, Recess>;

template <class Item>
std::vector<std::string> names(const std::vector<Item>& items) {
    std::vector<std::string> all;
    for (const Item& item : items) {
        all.push_back(item.name);
    }
    return all;
}

std::vector<std::string> stations_of(const std::vector<GaugeLine>& lines) {
    std::vector<std::string> all;
    for (const GaugeLine& line : lines) {
        all.push_back(line.station);
    }
    return all;
}

/// Of the lists that the rows stand in, one after another.
template <class Row>
std::vector<std::string> owners_of_lists(const Job& job) {
    if constexpr (k_of_piece<Row>) {
        return names(job.skirt.pieces);
    } else if constexpr (std::is_same_v<Row, Tick>) {
        return names(job.forming.generations);
    } else if constexpr (std::is_same_v<Row, GaugePoint>) {
        return stations_of(job.forming.sculpted.lines);
    } else if constexpr (std::is_same_v<Row, BoardDefect>) {
        return names(job.buck.boards);
    } else {
        return {};
    }
}

/// Before the first line that is further along; behind all others.
std::size_t gauge_line_made(Job& job, const std::string& station) {
    std::vector<GaugeLine>& lines = job.forming.sculpted.lines;
    const auto here = station_index(job, station);
    const auto behind = std::find_if(lines.begin(), lines.end(),
                                     [&](const GaugeLine& line) { return station_index(job, line.station) > here; });
    const auto made = lines.insert(behind, GaugeLine{station, {}, {}});
    return static_cast<std::size_t>(made - lines.begin());
}

template <class Row>
std::vector<std::size_t> given(Job& job, Table table, const std::map<std::size_t, std::string>& to) {
    struct Standing {
        std::string owner;
        bool moved;
        std::size_t before;
        Row row;
    };
    std::vector<Standing> all;
    const std::size_t count = count_of_rows<Row>(job);
    for (std::size_t row = 0; row < count; ++row) {
        const std::string owner = owner_of(job, table, row);
        const auto found = to.find(row);
        const bool moved = found != to.end() && found->second != owner;
        all.push_back({moved ? found->second : owner, moved, row, row_of<Row>(job, row)});
    }
    std::stable_partition(all.begin(), all.end(), [](const Standing& one) { return !one.moved; });
    for (const Standing& one : all) {
        list_of_owner(job, table, one.owner);
    }
    const std::vector<std::string> owners = owners_of_lists<Row>(job);
    std::vector<std::size_t> before;
    for (std::size_t list = 0; list < owners.size(); ++list) {
        auto& rows = *RowsOf<Row>::of(job)[list];
        rows.clear();
        for (Standing& one : all) {
            if (one.owner == owners[list]) {
                rows.push_back(std::move(one.row));
                before.push_back(one.before);
            }
        }
    }
    return before;
}

}  // namespace

std::vector<std::string> owners(const Job& job, Table table) {
    if (table == Table::gauge_points) {
        return names(job.stations);
    }
    return with_rows(table, [&]<class Row>(std::type_identity<Row>) { return owners_of_lists<Row>(job); });
}

std::string owner_of(const Job& job, Table table, std::size_t row) {
    return with_rows(table, [&]<class Row>(std::type_identity<Row>) {
        return owners_of_lists<Row>(job).at(place_of_row<Row>(job, row).list);
    });
}

std::string owner_of_new(const Job& job, Table table) {
    if (const std::size_t count = row_count(job, table); count > 0) {
        return owner_of(job, table, count - 1);
    }
    const std::vector<std::string> all = owners(job, table);
    if (all.empty()) {
        return {};
    }
    switch (table) {
        case Table::drains:
        case Table::flutes:
        case Table::recesses: {
            const auto& pieces = job.skirt.pieces;
            const auto drawn =
                std::find_if(pieces.begin(), pieces.end(), [](const Piece& piece) { return !piece.file; });
            return drawn == pieces.end() ? std::string() : drawn->name;
        }
        case Table::ticks:
            return all[std::min<std::size_t>(1, all.size() - 1)];
        default:
            return all.front();
    }
}

std::vector<std::size_t> give_rows(Job& job, Table table, const std::map<std::size_t, std::string>& to) {
    const Job before = job;
    auto order = with_rows(table, [&]<class Row>(std::type_identity<Row>) { return given<Row>(job, table, to); });
    drop_emptied_lines(before, job);
    return order;
}

std::size_t list_of_owner(Job& job, Table table, const std::string& owner) {
    const std::vector<std::string> all =
        with_rows(table, [&]<class Row>(std::type_identity<Row>) { return owners_of_lists<Row>(std::as_const(job)); });
    const auto found = std::find(all.begin(), all.end(), owner);
    if (found == all.end() && table == Table::gauge_points) {
        return gauge_line_made(job, owner);
    }
    return static_cast<std::size_t>(found - all.begin());
}

void drop_emptied_lines(const Job& before, Job& after) {
    std::set<std::string> had_points;
    for (const GaugeLine& line : before.forming.sculpted.lines) {
        if (!line.points.empty()) {
            had_points.insert(line.station);
        }
    }
    std::erase_if(after.forming.sculpted.lines, [&](const GaugeLine& line) {
        return line.points.empty() && line.unknown == Unknown{} && had_points.contains(line.station);
    });
}

}  // namespace sillwright::core

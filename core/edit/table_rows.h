#pragma once

#include <cstddef>
#include <string>
#include <type_traits>
#include <vector>

#include "core/edit/table.h"
#include "core/job.h"

/// Where the rows of each table stand in a job. Those of some tables stand in several lists, one after another: the
/// flutes of each piece, the ticks of each generation, the defects of each board. What such a list belongs to is its
/// rows' owner.
namespace sillwright::core {

/// `of(job)`: the lists that the rows of a kind stand in, in their order. `pointer(list)`: where the job file has one
/// of them.
template <class Row>
struct RowsOf;

namespace rows {

template <class List>
std::vector<List*> one(List& list) {
    return {&list};
}

template <class AnyJob, class Get>
auto of_pieces(AnyJob& job, Get get) {
    std::vector<decltype(&get(job.skirt.pieces[0]))> lists;
    for (auto& piece : job.skirt.pieces) {
        lists.push_back(&get(piece));
    }
    return lists;
}

inline std::string of_piece(std::size_t piece, const std::string& list) {
    return "/skirt/pieces/" + std::to_string(piece) + list;
}

}  // namespace rows

template <>
struct RowsOf<Mount> {
    static auto of(auto& job) { return rows::one(job.mounts); }
    static std::string pointer(std::size_t /*list*/) { return "/mounts"; }
};
template <>
struct RowsOf<Station> {
    static auto of(auto& job) { return rows::one(job.stations); }
    static std::string pointer(std::size_t /*list*/) { return "/stations"; }
};
template <>
struct RowsOf<Door> {
    static auto of(auto& job) { return rows::one(job.doors); }
    static std::string pointer(std::size_t /*list*/) { return "/doors"; }
};
template <>
struct RowsOf<KeepOut> {
    static auto of(auto& job) { return rows::one(job.keep_outs); }
    static std::string pointer(std::size_t /*list*/) { return "/keep_outs"; }
};
template <>
struct RowsOf<DrainHole> {
    static auto of(auto& job) {
        return rows::of_pieces(
            job, [](auto& piece) -> auto& { return piece.drains; });
    }
    static std::string pointer(std::size_t list) { return rows::of_piece(list, "/drains"); }
};
template <>
struct RowsOf<Flute> {
    static auto of(auto& job) {
        return rows::of_pieces(
            job, [](auto& piece) -> auto& { return piece.flutes; });
    }
    static std::string pointer(std::size_t list) { return rows::of_piece(list, "/flutes"); }
};
template <>
struct RowsOf<Recess> {
    static auto of(auto& job) {
        return rows::of_pieces(
            job, [](auto& piece) -> auto& { return piece.recesses; });
    }
    static std::string pointer(std::size_t list) { return rows::of_piece(list, "/recesses"); }
};
template <>
struct RowsOf<Generation> {
    static auto of(auto& job) { return rows::one(job.forming.generations); }
    static std::string pointer(std::size_t /*list*/) { return "/forming/generations"; }
};
template <>
struct RowsOf<Tick> {
    static auto of(auto& job) {
        std::vector<decltype(&job.forming.generations[0].ticks)> lists;
        for (auto& generation : job.forming.generations) {
            lists.push_back(&generation.ticks);
        }
        return lists;
    }
    static std::string pointer(std::size_t list) { return "/forming/generations/" + std::to_string(list) + "/ticks"; }
};
template <>
struct RowsOf<Machine> {
    static auto of(auto& job) { return rows::one(job.forming.machines); }
    static std::string pointer(std::size_t /*list*/) { return "/forming/machines"; }
};
template <>
struct RowsOf<StockSheet> {
    static auto of(auto& job) { return rows::one(job.forming.stock); }
    static std::string pointer(std::size_t /*list*/) { return "/forming/stock"; }
};
template <>
struct RowsOf<Bit> {
    static auto of(auto& job) { return rows::one(job.forming.router.bits); }
    static std::string pointer(std::size_t /*list*/) { return "/forming/router/bits"; }
};
template <>
struct RowsOf<GaugePoint> {
    static auto of(auto& job) {
        std::vector<decltype(&job.forming.sculpted.lines[0].points)> lists;
        for (auto& line : job.forming.sculpted.lines) {
            lists.push_back(&line.points);
        }
        return lists;
    }
    static std::string pointer(std::size_t list) {
        return "/forming/sculpted/lines/" + std::to_string(list) + "/points";
    }
};
template <>
struct RowsOf<Board> {
    static auto of(auto& job) { return rows::one(job.buck.boards); }
    static std::string pointer(std::size_t /*list*/) { return "/buck/boards"; }
};
template <>
struct RowsOf<BoardDefect> {
    static auto of(auto& job) {
        std::vector<decltype(&job.buck.boards[0].defects)> lists;
        for (auto& board : job.buck.boards) {
            lists.push_back(&board.defects);
        }
        return lists;
    }
    static std::string pointer(std::size_t list) { return "/buck/boards/" + std::to_string(list) + "/defects"; }
};

/// `act` called with the type of a table's rows, as a std::type_identity.
template <class Act>
auto with_rows(Table table, const Act& act) {
    switch (table) {
        case Table::mounts:
            return act(std::type_identity<Mount>{});
        case Table::stations:
            return act(std::type_identity<Station>{});
        case Table::doors:
            return act(std::type_identity<Door>{});
        case Table::keep_outs:
            return act(std::type_identity<KeepOut>{});
        case Table::drains:
            return act(std::type_identity<DrainHole>{});
        case Table::flutes:
            return act(std::type_identity<Flute>{});
        case Table::recesses:
            return act(std::type_identity<Recess>{});
        case Table::generations:
            return act(std::type_identity<Generation>{});
        case Table::ticks:
            return act(std::type_identity<Tick>{});
        case Table::machines:
            return act(std::type_identity<Machine>{});
        case Table::stock:
            return act(std::type_identity<StockSheet>{});
        case Table::bits:
            return act(std::type_identity<Bit>{});
        case Table::gauge_points:
            return act(std::type_identity<GaugePoint>{});
        case Table::boards:
            return act(std::type_identity<Board>{});
        case Table::defects:
            break;
    }
    return act(std::type_identity<BoardDefect>{});
}

/// Which of the lists a row is in, and its number there.
struct RowPlace {
    std::size_t list = 0, number = 0;
};

/// Precondition: there is such a row.
template <class Row>
RowPlace place_of_row(const Job& job, std::size_t row) {
    const auto lists = RowsOf<Row>::of(job);
    for (std::size_t list = 0; list < lists.size(); ++list) {
        if (row < lists[list]->size()) {
            return {list, row};
        }
        row -= lists[list]->size();
    }
    return {lists.size(), row};
}

template <class Row>
const Row& row_of(const Job& job, std::size_t row) {
    const RowPlace place = place_of_row<Row>(job, row);
    return RowsOf<Row>::of(job).at(place.list)->at(place.number);
}

template <class Row>
Row& row_of(Job& job, std::size_t row) {
    const RowPlace place = place_of_row<Row>(job, row);
    return RowsOf<Row>::of(job).at(place.list)->at(place.number);
}

template <class Row>
std::size_t count_of_rows(const Job& job) {
    std::size_t count = 0;
    for (const auto* list : RowsOf<Row>::of(job)) {
        count += list->size();
    }
    return count;
}

}  // namespace sillwright::core

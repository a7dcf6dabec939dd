// Edits of all kinds at random: whatever they lead to is a job that can be saved, opened again and computed,
// or the edit is refused in words.
#include <gmock/gmock.h>

#include <functional>
#include <random>

#include "bench_job.h"
#include "core/drawn_lacking.h"
#include "core/drawn_loft.h"
#include "core/edit/book_edit.h"
#include "core/edit/flute_edit.h"
#include "core/edit/mount_edit.h"
#include "core/edit/node_edit.h"
#include "core/edit/run_out_edit.h"
#include "core/edit/section_edit.h"
#include "core/edit/table.h"
#include "core/evaluate.h"

namespace sillwright::core {
namespace {

using geometry::in_mm;
using geometry::millimetres;
using geometry::Result;

constexpr int k_edits = 500;
/// Every so many edits the whole job is computed, which takes its time.
constexpr int k_whole = 50;

class Walker {
public:
    explicit Walker(unsigned seed) : random_{seed} {}

    Result<Edit> step(const Job& job) {
        switch (below(25)) {
            case 0:
            case 1:
            case 2:
                return with_node(job, [&](const Node& node) {
                    return move_node(job, node.id, place_of(node) + Eigen::Vector2d(about(4), about(4)));
                });
            case 3:
                return with_node(job,
                                 [&](const Node& node) { return round_node(job, node.id, millimetres(about(9))); });
            case 4:
                return with_node(job, [&](const Node& node) {
                    return type_node_number(job, node.id, static_cast<NodeNumber>(below(3)), text());
                });
            case 5:
                return with_section(job, [&](DrawnId id, std::size_t section, const Section& here) {
                    const std::size_t after = below(here.nodes.size());
                    const Node& a = here.nodes[after];
                    const Node& b = here.nodes[(after + 1) % here.nodes.size()];
                    return add_node(job, id, section, after, 0.5 * (place_of(a) + place_of(b)), "");
                });
            case 6:
                return with_node(job, [&](const Node& node) {
                    return below(2) == 0 ? delete_nodes(job, node.id) : delete_node(job, node.id);
                });
            case 7:
                return with_node(job, [&](const Node& node) { return rename_nodes(job, node.id, "p" + text()); });
            case 8:
                return append_node(job, body(job), station(job), {about(200), about(200)});
            case 9:
                return copy_section(job, body(job), station(job), {station(job), station(job)});
            case 10:
                return add_station(job, millimetres(950 + about(1200)));
            case 11:
                return below(2) == 0 ? delete_section(job, body(job), station(job)) : delete_station(job, station(job));
            case 12:
                return move_station(job, station(job), std::to_string(950 + about(1200)));
            case 13:
                return place_mount(job, {950 + about(900), 50 + about(10), 16 + about(3)},
                                   {about(0.1), about(0.1), -1});
            case 14:
                return with_table(job);
            case 15:
                return with_node(job, [&](const Node& node) {
                    return run_out_node(job, node.id, std::to_string(950 + about(900)));
                });
            case 16:
            case 17:
                return add_reading(job, line());
            case 18:
                return below(2) == 0 ? drop_reading(job, reading(job), text()) : take_back_reading(job, reading(job));
            case 19:
                return correct_reading(job, reading(job), line());
            case 20:
                return rename_point(job, point(), point(), below(2) == 0);
            case 21:
                return with_book(job);
            case 22:
                return frame_by_marks(job, {point(), point(), point(), {}, {}, {}, {}, {}, {}});
            case 23:
                return lay_flutes(job, below(2), flutes());
            default:
                return paste(job, table(), below(2), below(2), text() + "\t" + text() + "\n" + text());
        }
    }

private:
    std::size_t below(std::size_t n) { return std::uniform_int_distribution<std::size_t>(0, n - 1)(random_); }
    double about(double most) { return std::uniform_real_distribution<double>(-most, most)(random_); }
    static Eigen::Vector2d place_of(const Node& node) { return {in_mm(node.out.value), in_mm(node.up.value)}; }
    static geometry::Error nothing() { return {geometry::ErrorCode::invalid_argument, "Nothing there."}; }

    DrawnId body(const Job& job) {
        const auto all = all_drawn(job);
        return all[below(all.size())];
    }
    std::string station(const Job& job) {
        return job.stations.empty() ? "none" : job.stations[below(job.stations.size())].name;
    }
    Table table() { return k_tables.at(below(k_tables.size())); }
    std::string text() {
        const char* const texts[] = {"12", "3,5", "1 1/2\"", "", "slot", "-7", "what", "40.25 mm", "1e9", "hole"};
        return texts[below(std::size(texts))];
    }

    FluteRow flutes() {
        FluteRow row;
        for (std::size_t i = below(3); i > 0; --i) {
            row.widths.push_back(millimetres(6 + about(8)));
        }
        row.depth = millimetres(2 + about(3));
        row.land = millimetres(5 + about(6));
        row.first_offset = millimetres(15 + about(20));
        if (below(2) == 0) {
            row.rear = millimetres(950 + about(950));
        }
        return row;
    }

    std::string point() {
        const char* const names[] = {"A", "B", "C", "H1", "H2", "T1/1", "T1"};
        return names[below(std::size(names))];
    }
    std::string line() {
        const char* const kinds[] = {"", "height ", "gap ", "up ", "gauge "};
        return kinds[below(std::size(kinds))] + point() + " " + point() + " " + std::to_string(500 + about(400)) +
               (below(4) == 0 ? " @lift" : "");
    }
    std::string reading(const Job& job) {
        const auto& readings = job.book.readings;
        return readings.empty() ? "r1" : readings[below(readings.size())].id;
    }
    Result<Edit> with_book(const Job& job) {
        survey::SetUp lift;
        lift.name = "lift";
        survey::Point known;
        known.name = point();
        known.kind = static_cast<survey::PointKind>(below(5));
        switch (below(6)) {
            case 0:
                return set_set_up(job, "", lift);
            case 1:
                return delete_set_up(job, "lift");
            case 2:
                return set_point(job, known);
            case 3:
                return delete_point(job, point());
            case 4:
                return set_hinge_set(job, {"front door", {"T1", point()}, {}});
            default:
                return keep_mount_from_book(job, point(), below(2) == 0);
        }
    }

    template <class Use>
    Result<Edit> with_section(const Job& job, const Use& use) {
        const DrawnId id = body(job);
        const auto& sections = drawn(job, id).sections;
        if (sections.empty()) {
            return nothing();
        }
        const std::size_t section = below(sections.size());
        return use(id, section, sections[section]);
    }
    template <class Use>
    Result<Edit> with_node(const Job& job, const Use& use) {
        return with_section(job, [&](DrawnId, std::size_t, const Section& section) -> Result<Edit> {
            return use(section.nodes[below(section.nodes.size())]);
        });
    }
    Result<Edit> with_table(const Job& job) {
        const Table which = table();
        const std::size_t rows = row_count(job, which);
        switch (below(4)) {
            case 0:
                return add_row(job, which);
            case 1:
                return rows == 0 ? Result<Edit>(nothing()) : delete_rows(job, which, {below(rows)});
            default:
                return rows == 0 ? Result<Edit>(nothing())
                                 : write_cell(job, which, below(rows), below(columns(which).size()), text());
        }
    }

    std::mt19937 random_;
};

/// Each drawn body has a loft, or says what it lacks, or why its sections do not fit together.
void expect_computable(const Job& job) {
    for (const DrawnId id : all_drawn(job)) {
        if (lacking_for_loft(job, drawn(job, id), closed(job, id), "it").empty()) {
            const auto loft = loft_of(job, drawn(job, id), closed(job, id), name_of(job, id));
            EXPECT_TRUE(loft || loft.error().code == geometry::ErrorCode::does_not_fit) << loft.error().message;
        }
    }
}

TEST(RandomWalk, EveryJobThatIsReachedCanBeKept) {
    int taken = 0;
    for (const unsigned seed : {1U, 2U}) {
        Walker walker(seed);
        Job job = bench::estate();
        for (int i = 0; i < k_edits / 2; ++i) {
            const auto edit = walker.step(job);
            if (!edit) {
                EXPECT_GT(edit.error().message.size(), 10U);
                EXPECT_TRUE(edit.error().message.ends_with(".")) << edit.error().message;
                continue;
            }
            EXPECT_FALSE(edit.value().words.empty());
            ++taken;
            job = edit.value().job;
            const auto again = parse_job(job_text(job), "again");
            ASSERT_TRUE(again) << edit.value().words << ": " << again.error().message;
            ASSERT_EQ(again.value(), job) << edit.value().words;
            expect_computable(job);
            if (taken % k_whole == 0) {
                const auto evaluation = evaluate(job, bench::k_samples);
                EXPECT_TRUE(evaluation || evaluation.error().code == geometry::ErrorCode::does_not_fit)
                    << edit.value().words << ": " << evaluation.error().message;
            }
        }
    }
    EXPECT_GT(taken, k_edits / 3) << "enough of them must be edits that are taken";
}

}  // namespace
}  // namespace sillwright::core

#include <gtest/gtest.h>

#include <QUndoStack>
#include <array>
#include <cmath>
#include <functional>
#include <map>
#include <random>
#include <string>
#include <vector>

#include "app/desk/open_job.h"
#include "core/edit/drawn_id.h"
#include "core/edit/mend_edit.h"
#include "core/edit/mount_edit.h"
#include "core/edit/node_edit.h"
#include "core/edit/run_out_edit.h"
#include "core/edit/section_edit.h"
#include "core/edit/table.h"
#include "core/job_file.h"

// Nothing that can be done to a job leaves a trace once it is undone: edits of every kind, with undo and redo at
// random among them, then all of them back and all of them forth.
namespace sillwright::app {
namespace {

using core::Edit;
using core::Job;
using Eigen::Vector2d;
using geometry::in_mm;
using geometry::millimetres;
using geometry::Result;

constexpr int k_edits = 2'000;
constexpr int k_most_tries = 40'000;  ///< Many are refused, and must leave no trace either.
constexpr unsigned k_seed = 20260314;
/// Above these the walk takes away instead of adding, so that a job stays of a size that jobs have.
constexpr std::size_t k_most_stations = 14, k_most_mounts = 14, k_most_rows = 8, k_most_nodes = 400;

class Walk {
public:
    std::size_t below(std::size_t n) { return static_cast<std::size_t>(random_()) % n; }
    double between(double least, double most) {
        return least + (most - least) * static_cast<double>(random_()) / static_cast<double>(std::mt19937::max());
    }
    template <class T>
    const T& any(const std::vector<T>& list) {
        return list.at(below(list.size()));
    }
    std::string any_of(std::initializer_list<const char*> words) { return *(words.begin() + below(words.size())); }

    static std::vector<const core::Node*> nodes(const Job& job) {
        std::vector<const core::Node*> all;
        for (const core::DrawnId id : core::all_drawn(job)) {
            for (const core::Section& section : core::drawn(job, id).sections) {
                for (const core::Node& node : section.nodes) {
                    all.push_back(&node);
                }
            }
        }
        return all;
    }
    const core::Node& node(const Job& job) { return *any(nodes(job)); }
    core::DrawnId body(const Job& job) { return any(core::all_drawn(job)); }
    std::string station(const Job& job) { return any(job.stations).name; }
    core::Table table() {
        return std::array{core::Table::mounts, core::Table::stations, core::Table::doors, core::Table::keep_outs}.at(
            below(4));
    }
    static Vector2d place(const core::Node& node) { return {in_mm(node.out.value), in_mm(node.up.value)}; }
    Vector2d step() { return {between(-2.0, 2.0), between(-2.0, 2.0)}; }
    std::string length() {
        return any_of({"12", "12,5", "38.25", "1 1/2\"", "3 cm", "0.4 in", "66", "118.7", "-20", "", "much"});
    }

private:
    std::mt19937 random_{k_seed};
};

using Do = std::function<Result<Edit>(Walk&, const Job&)>;

Result<Edit> add_node(Walk& walk, const Job& job) {
    if (Walk::nodes(job).size() > k_most_nodes) {
        return core::delete_nodes(job, walk.node(job).id);
    }
    const auto place = core::find_node(job, walk.node(job).id).value();
    const auto& nodes = core::drawn(job, place.drawn).sections[place.section].nodes;
    const Vector2d from = Walk::place(nodes[place.node]);
    const Vector2d to = Walk::place(nodes[(place.node + 1) % nodes.size()]);
    return core::add_node(job, place.drawn, place.section, place.node, from + walk.between(0.3, 0.7) * (to - from), {});
}

Result<Edit> add_station(Walk& walk, const Job& job) {
    return job.stations.size() > k_most_stations
               ? core::delete_station(job, walk.station(job))
               : core::add_station(job, millimetres(std::floor(walk.between(-50.0, 2'000.0))));
}

Result<Edit> place_mount(Walk& walk, const Job& job) {
    return job.mounts.size() > k_most_mounts
               ? core::delete_mount(job, walk.any(job.mounts).name)
               : core::place_mount(job, {walk.between(0.0, 1'900.0), walk.between(20.0, 60.0), 16.0}, {0.0, 0.0, -1.0});
}

Result<Edit> write_cell(Walk& walk, const Job& job) {
    const core::Table table = walk.table();
    const std::size_t rows = core::row_count(job, table);
    if (rows == 0) {
        return core::add_row(job, table);
    }
    const std::size_t column = walk.below(core::columns(table).size());
    const std::string text = walk.below(2) == 0
                                 ? walk.length()
                                 : walk.any_of({"round", "slot", "hole", "stud", "unused", "H 77", "0 0 -1", "drain",
                                                "62°", "front jacking pad", "0.5", "front door"});
    return core::write_cell(job, table, walk.below(rows), column, text);
}

Result<Edit> paste(Walk& walk, const Job& job) {
    const core::Table table = walk.table();
    const std::size_t rows = core::row_count(job, table);
    const std::size_t column = walk.below(core::columns(table).size());
    return core::paste(job, table, walk.below(rows + 1), column, walk.length() + "\t" + walk.length() + "\n");
}

Result<Edit> add_or_delete_rows(Walk& walk, const Job& job) {
    const core::Table table = walk.table();
    const std::size_t rows = core::row_count(job, table);
    return rows > k_most_rows || (rows > 1 && walk.below(2) == 0) ? core::delete_rows(job, table, {walk.below(rows)})
                                                                  : core::add_row(job, table);
}

Result<Edit> take_mend(Walk& walk, const Job& job) {
    core::Finding finding;
    finding.title = "Front door moving, to skirt";
    finding.mend = core::Mend{"a little lower", {}, std::nullopt};
    for (int i = 0; i < 3; ++i) {
        finding.mend->moves.push_back({walk.node(job).id, 0.2 * walk.step()});
    }
    return core::take_mend(job, finding);
}

/// Edits of every kind that core/edit has.
const std::map<std::string, Do>& kinds() {
    static const std::map<std::string, Do> all{
        {"move a node",
         [](Walk& walk, const Job& job) {
             const core::Node& node = walk.node(job);
             return core::move_node(job, node.id, Walk::place(node) + walk.step());
         }},
        {"type a number",
         [](Walk& walk, const Job& job) {
             constexpr std::array which{core::NodeNumber::out, core::NodeNumber::up, core::NodeNumber::radius};
             const core::Node& node = walk.node(job);
             const std::size_t number = walk.below(3);
             const double near = in_mm((number == 0   ? node.out
                                        : number == 1 ? node.up
                                                      : node.radius)
                                           .value) +
                                 walk.between(-1.0, 1.0);
             return core::type_node_number(job, node.id, which.at(number),
                                           walk.below(4) == 0 ? walk.length() : std::to_string(near) + " mm");
         }},
        {"round a corner",
         [](Walk& walk, const Job& job) {
             return core::round_node(job, walk.node(job).id, millimetres(walk.between(0.0, 9.0)));
         }},
        {"add a node", add_node},
        {"delete nodes", [](Walk& walk, const Job& job) { return core::delete_nodes(job, walk.node(job).id); }},
        {"rename nodes",
         [](Walk& walk, const Job& job) {
             return core::rename_nodes(job, walk.node(job).id, walk.any_of({"edge", "crease", "knee", "bead", "sill"}));
         }},
        {"delete one node", [](Walk& walk, const Job& job) { return core::delete_node(job, walk.node(job).id); }},
        {"let a node run out",
         [](Walk& walk, const Job& job) {
             return core::run_out_node(job, walk.node(job).id,
                                       std::to_string(static_cast<int>(walk.between(0.0, 1'900.0))));
         }},
        {"draw on",
         [](Walk& walk, const Job& job) {
             const core::DrawnId id = walk.body(job);
             return core::append_node(job, id, walk.station(job), {walk.between(-40.0, 160.0), walk.between(0.0, 9.0)});
         }},
        {"copy a section",
         [](Walk& walk, const Job& job) {
             return core::copy_section(job, walk.body(job), walk.station(job), {walk.station(job)});
         }},
        {"delete a section",
         [](Walk& walk, const Job& job) { return core::delete_section(job, walk.body(job), walk.station(job)); }},
        {"add a station", add_station},
        {"delete a station", [](Walk& walk, const Job& job) { return core::delete_station(job, walk.station(job)); }},
        {"move a station",
         [](Walk& walk, const Job& job) {
             const core::Station& station = walk.any(job.stations);
             return core::move_station(job, station.name,
                                       std::to_string(in_mm(station.along.value) + walk.between(-9.0, 9.0)) + " mm");
         }},
        {"place a mount", place_mount},
        {"move a mount",
         [](Walk& walk, const Job& job) {
             return job.mounts.empty()
                        ? place_mount(walk, job)
                        : core::move_mount(job, walk.any(job.mounts).name, {walk.between(0.0, 1'900.0), 50.0, 16.0});
         }},
        {"delete a mount",
         [](Walk& walk, const Job& job) {
             return job.mounts.empty() ? place_mount(walk, job) : core::delete_mount(job, walk.any(job.mounts).name);
         }},
        {"delete a keep-out",
         [](Walk& walk, const Job& job) {
             return job.keep_outs.empty() ? core::add_row(job, core::Table::keep_outs)
                                          : core::delete_keep_out(job, walk.any(job.keep_outs).name);
         }},
        {"write a cell", write_cell},
        {"paste", paste},
        {"add or delete rows", add_or_delete_rows},
        {"take a mend", take_mend},
    };
    return all;
}

/// Kinds that take a whole feature away come seldom, so that something is left to work on.
bool comes_seldom(const std::string& kind) {
    return kind == "delete nodes" || kind == "delete a section" || kind == "delete a station" ||
           kind == "delete one node" || kind == "rename nodes" || kind == "copy a section";
}

class RandomWalk : public testing::Test {
protected:
    RandomWalk() { open_.open(original_, SILLWRIGHT_SOURCE_DIR "/samples/estate_a.sillwright"); }

    std::string text() const { return core::job_text(open_.job()); }

    /// Some steps back, or forth again. What stands there is what stood there.
    void go_through_history(bool back) {
        QUndoStack& history = open_.history();
        for (std::size_t steps = 1 + walk_.below(6); steps > 0; --steps) {
            if (!(back ? history.canUndo() : history.canRedo())) {
                return;
            }
            back ? history.undo() : history.redo();
            open_.stop_computing();
            ASSERT_EQ(std::hash<std::string>()(text()), stood_.at(static_cast<std::size_t>(history.index())));
        }
    }
    /// Whether it was made. One that was refused has changed nothing.
    bool edit(const Do& kind) {
        const Job before = open_.job();
        const int index = open_.history().index();
        const bool made = open_.apply(kind(walk_, open_.job()));
        open_.stop_computing();
        if (!made || open_.history().index() == index) {
            EXPECT_EQ(open_.job(), before);
            return false;
        }
        stood_.resize(static_cast<std::size_t>(index) + 1);
        stood_.push_back(std::hash<std::string>()(text()));
        return true;
    }

    Job original_ = core::read_job(SILLWRIGHT_SOURCE_DIR "/samples/estate_a.sillwright").value();
    OpenJob open_;
    Walk walk_;
    /// Of the job's text at every step of the history, by our own count.
    std::vector<std::size_t> stood_{std::hash<std::string>()(core::job_text(original_))};
};

TEST_F(RandomWalk, OfTwoThousandEditsEndsWhereItBegan) {
    std::vector<std::string> names;
    for (const auto& [name, kind] : kinds()) {
        names.insert(names.end(), comes_seldom(name) ? 1U : 6U, name);
    }
    std::map<std::string, int> made;
    int edits = 0;
    for (int tries = 0; edits < k_edits && tries < k_most_tries && !HasFatalFailure(); ++tries) {
        if (walk_.below(8) == 0) {
            go_through_history(walk_.below(5) < 3);
            continue;
        }
        const std::string name = walk_.any(names);
        if (edit(kinds().at(name))) {
            ++edits;
            ++made[name];
        }
    }
    EXPECT_EQ(edits, k_edits);
    for (const auto& [name, kind] : kinds()) {
        EXPECT_GT(made[name], 0) << name;
    }
    const std::string last = text();
    EXPECT_NE(last, core::job_text(original_));
    EXPECT_TRUE(core::parse_job(last, "last")) << "every value of the job can be saved and read again";

    QUndoStack& history = open_.history();
    EXPECT_GT(history.count(), 100);
    while (history.canUndo()) {
        history.undo();
        open_.stop_computing();
    }
    EXPECT_EQ(text(), core::job_text(original_));
    EXPECT_EQ(open_.job(), original_);
    EXPECT_FALSE(open_.changed());
    while (history.canRedo()) {
        history.redo();
        open_.stop_computing();
    }
    EXPECT_EQ(text(), last);
}

}  // namespace
}  // namespace sillwright::app

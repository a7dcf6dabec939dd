#include "core/fault_place.h"

#include <charconv>
#include <cstddef>
#include <deque>

#include "core/survey/reading_line.h"
#include "core/typed.h"

namespace sillwright::core {

namespace {

/// The words of a pointer, taken from its front one after another.
class Steps {
public:
    explicit Steps(const std::string& pointer) {
        std::size_t at = 0;
        while (at < pointer.size()) {
            const std::size_t end = std::min(pointer.find('/', at + 1), pointer.size());
            steps_.push_back(pointer.substr(at + 1, end - at - 1));
            at = end;
        }
    }

    /// Takes the next step if it is `word`.
    bool take(const std::string& word) {
        const bool is = !steps_.empty() && steps_.front() == word;
        if (is) {
            steps_.pop_front();
        }
        return is;
    }

    /// Takes the next step as the number of an item that `items` has; null if it is none.
    template <class Item>
    const Item* take_item(const std::vector<Item>& items) {
        std::size_t index = 0;
        if (steps_.empty()) {
            return nullptr;
        }
        const std::string& step = steps_.front();
        const auto [end, error] = std::from_chars(step.data(), step.data() + step.size(), index);
        if (error != std::errc() || end != step.data() + step.size() || index >= items.size()) {
            return nullptr;
        }
        steps_.pop_front();
        return &items[index];
    }

    /// What is left, as words.
    [[nodiscard]] std::string rest() const {
        std::string words;
        for (const std::string& step : steps_) {
            words += words.empty() ? "" : " ";
            for (const char c : step) {
                words += c == '_' ? ' ' : c;
            }
        }
        if (words.ends_with(" deg")) {
            words.resize(words.size() - 4);
        }
        return words;
    }

private:
    std::deque<std::string> steps_;
};

void add(std::string& words, const std::string& more) {
    if (!more.empty()) {
        words += (words.empty() ? "" : ", ") + more;
    }
}

std::string of_drawn(const Drawn& drawn, std::string words, Steps& steps) {
    if (steps.take("sections")) {
        if (const Section* section = steps.take_item(drawn.sections)) {
            words += " at station " + section->station;
            if (steps.take("nodes")) {
                const Node* node = steps.take_item(section->nodes);
                add(words, node != nullptr ? node->name : "");
            }
        }
    } else if (steps.take("run_outs")) {
        const RunOut* run_out = steps.take_item(drawn.run_outs);
        add(words, run_out != nullptr ? "run-out of " + run_out->name : "run-outs");
    }
    return words;
}

std::string of_mount(const Mount& mount, Steps& steps) {
    std::string words = "mount " + mount.name;
    if (steps.take("sd")) {
        for (const auto& [number, axis] : {std::pair{"0", "along"}, {"1", "out"}, {"2", "up"}}) {
            if (steps.take(number)) {
                add(words, std::string("standard deviation of ") + axis);
            }
        }
    }
    steps.take("at");
    return words;
}

std::string of_door(const Door& door, Steps& steps) {
    if (steps.take("bodies")) {
        if (const DoorBody* body = steps.take_item(door.bodies)) {
            return of_drawn(body->drawn, door.name + ", " + body->name, steps);
        }
    }
    return door.name;
}

std::string of_book(const Job& job, Steps& steps) {
    if (steps.take("readings")) {
        const survey::Reading* reading = steps.take_item(job.book.readings);
        return reading != nullptr ? "reading " + survey::line_of_reading(*reading, job.unit) : "readings";
    }
    if (steps.take("points")) {
        const survey::Point* point = steps.take_item(job.book.points);
        return point != nullptr ? "point " + point->name : "points";
    }
    if (steps.take("set_ups")) {
        const survey::SetUp* set_up = steps.take_item(job.book.set_ups);
        return set_up != nullptr ? "set-up " + set_up->name : "set-ups";
    }
    if (steps.take("instruments")) {
        const survey::Instrument* instrument = steps.take_item(job.book.instruments);
        return instrument != nullptr ? "instrument " + instrument->name : "instruments";
    }
    if (steps.take("hinges")) {
        const survey::HingeSet* set = steps.take_item(job.book.hinges);
        return set != nullptr ? "targets of " + set->door : "hinge sets";
    }
    return "book";
}

std::string of_forming(const Forming& forming, Steps& steps) {
    if (steps.take("machines")) {
        const Machine* machine = steps.take_item(forming.machines);
        return machine != nullptr ? "machine " + machine->name : "machines";
    }
    if (steps.take("stock")) {
        const StockSheet* stock = steps.take_item(forming.stock);
        return stock != nullptr ? "stock size " + stock->name : "stock sizes";
    }
    if (steps.take("generations")) {
        const Generation* generation = steps.take_item(forming.generations);
        if (generation == nullptr) {
            return "generations";
        }
        const Tick* tick = steps.take("ticks") ? steps.take_item(generation->ticks) : nullptr;
        return "generation " + generation->name + (tick != nullptr ? ", " + tick->name : "");
    }
    if (steps.take("router")) {
        const Bit* bit = steps.take("bits") ? steps.take_item(forming.router.bits) : nullptr;
        return bit != nullptr ? "bit " + bit->name : "router";
    }
    if (steps.take("sculpted")) {
        const GaugeLine* line = steps.take("lines") ? steps.take_item(forming.sculpted.lines) : nullptr;
        return line != nullptr ? "prototype as sculpted at station " + line->station : "prototype as sculpted";
    }
    return "forming";
}

std::string of_buck(const Buck& buck, Steps& steps) {
    const Board* board = steps.take("boards") ? steps.take_item(buck.boards) : nullptr;
    if (board == nullptr) {
        return "buck";
    }
    const BoardDefect* defect = steps.take("defects") ? steps.take_item(board->defects) : nullptr;
    return "board " + board->name + (defect != nullptr ? ", " + defect->name : "");
}

std::string of_piece(const Piece& piece, BareUnit unit, Steps& steps) {
    if (steps.take("flutes")) {
        const Flute* flute = steps.take_item(piece.flutes);
        return piece.name + ", " + (flute != nullptr ? flute->name : "flutes");
    }
    if (steps.take("recesses")) {
        const Recess* recess = steps.take_item(piece.recesses);
        return piece.name + ", " + (recess != nullptr ? recess->name : "recesses");
    }
    if (steps.take("drains")) {
        const DrainHole* drain = steps.take_item(piece.drains);
        return piece.name + ", " + (drain != nullptr ? "drain at " + entry_text(drain->along, unit) : "drains");
    }
    return of_drawn(piece.drawn, piece.name, steps);
}

std::string of_list(const Job& job, Steps& steps) {
    if (steps.take("book")) {
        return of_book(job, steps);
    }
    if (steps.take("photos")) {
        const survey::Photo* photo = steps.take_item(job.photos);
        return photo != nullptr ? "photo " + photo->name : "photos";
    }
    if (steps.take("scans")) {
        const survey::Scan* scan = steps.take_item(job.scans);
        return scan != nullptr ? "scan " + scan->name : "scans";
    }
    if (steps.take("stations")) {
        const Station* station = steps.take_item(job.stations);
        return station != nullptr ? "station " + station->name : "stations";
    }
    if (steps.take("body")) {
        return of_drawn(job.body, "body", steps);
    }
    if (steps.take("mounts")) {
        const Mount* mount = steps.take_item(job.mounts);
        return mount != nullptr ? of_mount(*mount, steps) : "mounts";
    }
    if (steps.take("keep_outs")) {
        const KeepOut* keep_out = steps.take_item(job.keep_outs);
        return keep_out != nullptr ? keep_out->name : "keep-outs";
    }
    if (steps.take("doors")) {
        const Door* door = steps.take_item(job.doors);
        return door != nullptr ? of_door(*door, steps) : "doors";
    }
    if (steps.take("fitting")) {
        return "fitting";
    }
    if (steps.take("loads")) {
        return "loads";
    }
    if (steps.take("road")) {
        return "road";
    }
    if (steps.take("forming")) {
        return of_forming(job.forming, steps);
    }
    if (steps.take("buck")) {
        return of_buck(job.buck, steps);
    }
    if (steps.take("papers")) {
        return "papers";
    }
    if (steps.take("skirt") && steps.take("pieces")) {
        const Piece* piece = steps.take_item(job.skirt.pieces);
        return piece != nullptr ? of_piece(*piece, job.unit, steps) : "pieces of the skirt";
    }
    return {};
}

}  // namespace

std::string fault_place(const Job& job, const std::string& pointer) {
    Steps steps(pointer);
    std::string words = of_list(job, steps);
    add(words, steps.rest());
    if (!words.empty() && words.front() >= 'a' && words.front() <= 'z') {
        words.front() = static_cast<char>(words.front() - 'a' + 'A');
    }
    return words;
}

}  // namespace sillwright::core

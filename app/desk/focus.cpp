#include "app/desk/focus.h"

namespace sillwright::app {

Focus::Focus(QObject* parent) : QObject(parent) {}

geometry::Angle Focus::opening(const std::string& door) const {
    const auto found = openings_.find(door);
    return found == openings_.end() ? geometry::Angle{} : found->second;
}

void Focus::go_to(std::optional<geometry::Length> along) {
    if (along != along_) {
        along_ = along;
        emit went();
    }
}

void Focus::turn_door(const std::string& door, geometry::Angle opening) {
    if (opening != this->opening(door)) {
        openings_[door] = opening;
        emit turned(door);
    }
}

void Focus::choose(const Item& item) {
    if (item != chosen_) {
        chosen_ = item;
        emit chose();
    }
}

void Focus::point_at(const Item& item) {
    if (item != pointed_) {
        pointed_ = item;
        emit pointed_on();
    }
}

void Focus::clear() {
    choose({});
    point_at({});
    go_to(std::nullopt);
    while (!openings_.empty()) {
        const std::string door = openings_.begin()->first;
        openings_.erase(openings_.begin());
        emit turned(door);
    }
}

}  // namespace sillwright::app

#include "core/drag.h"

#include <utility>

#include "core/edit/node_edit.h"

namespace sillwright::core {

using geometry::Result;

struct Drag::State {
    std::shared_ptr<const Evaluation> now;
    std::string node_id;
    std::filesystem::path folder;
    geometry::Length deviation;
};

Drag::Drag(std::unique_ptr<State> state) : state_{std::move(state)} {}
Drag::Drag(Drag&&) noexcept = default;
Drag& Drag::operator=(Drag&&) noexcept = default;
Drag::~Drag() = default;

Result<Drag> Drag::begin(std::shared_ptr<const Evaluation> from, const std::string& node_id,
                         const std::filesystem::path& folder, geometry::Length deviation) {
    return Drag(std::make_unique<State>(State{std::move(from), node_id, folder, deviation}));
}

geometry::Status Drag::to(const Eigen::Vector2d& p_mm) {
    const auto edit = move_node(state_->now->job, state_->node_id, p_mm);
    if (!edit) {
        return edit.error();
    }
    auto now = evaluate(edit.value().job, state_->folder);
    if (!now) {
        return now.error();
    }
    state_->now = std::move(now).value();
    return std::monostate{};
}

const Evaluation& Drag::evaluation() const {
    return *state_->now;
}

geometry::Length Drag::deviation() const {
    return state_->deviation;
}

}  // namespace sillwright::core

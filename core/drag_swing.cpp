#include "core/drag_swing.h"

#include <algorithm>
#include <span>
#include <utility>

namespace sillwright::core {

using geometry::MotionDistance;
using geometry::MotionQuestion;
using geometry::Result;
using geometry::Status;

namespace {

MotionQuestion question_of(const SwingMotion& swung, bool at_stop) {
    return {at_stop ? swung.to : swung.from, swung.to, k_drag_tolerance};
}

/// The case whose swing holds that of a door that stands shut.
SwingCase swing_about(SwingCase which) {
    return which == SwingCase::striker ? SwingCase::over_slam : SwingCase::moving;
}

bool swings(SwingCase which) {
    return which == SwingCase::moving || which == SwingCase::over_slam;
}

}  // namespace

Result<DragSwing> DragSwing::begin(const Job& job, const CarModel& car, const BodyModel* body, std::size_t piece,
                                   const DragShape& shape, const std::vector<SwingOutcome>& kept) {
    DragSwing swing(car, piece, shape);
    const BodyModel* const dragged = swing.dragged();
    std::copy_if(kept.begin(), kept.end(), std::back_inserter(swing.kept_), [&](const SwingOutcome& outcome) {
        return outcome.pair.moving != dragged && outcome.pair.fixed != dragged;
    });
    for (std::size_t door = 0; door < car.doors.size(); ++door) {
        for (const SwingPair& pair : swing_pairs(job, car, door, body)) {
            if (pair.moving != dragged && pair.fixed != dragged) {
                continue;
            }
            using enum SwingCase;
            for (const SwingCase which : {moving, over_slam, released, striker}) {
                Status begun = swing.follow(pair, which, false);
                if (begun && which == moving) {
                    begun = swing.follow(pair, which, true);
                }
                if (!begun) {
                    return begun.error();
                }
            }
        }
    }
    return swing;
}

Status DragSwing::follow(const SwingPair& pair, SwingCase which, bool at_stop) {
    const auto swung = swing_motion(car_->doors[pair.door], which);
    if (!swung) {
        return std::monostate{};
    }
    auto distance = geometry::FollowedDistance::begin(*pair.fixed->tree, *pair.moving->tree, swung->motion,
                                                      question_of(*swung, at_stop));
    if (!distance) {
        return distance.error();
    }
    followed_.push_back({pair.moving, pair.fixed, which, at_stop, std::move(distance).value(), {}});
    return std::monostate{};
}

void DragSwing::moved() {
    for (Followed& followed : followed_) {
        followed.now.reset();
    }
}

DragSwing::Followed* DragSwing::followed(const SwingPair& pair, SwingCase which, bool at_stop) {
    const auto found = std::find_if(followed_.begin(), followed_.end(), [&](const Followed& one) {
        return one.moving == pair.moving && one.fixed == pair.fixed && one.which == which && one.at_stop == at_stop;
    });
    return found == followed_.end() || !shape_->follows() ? nullptr : &*found;
}

Status DragSwing::ask(Followed& followed) {
    if (!followed.now) {
        const std::span<const double> moved(shape_->moved());
        const std::span<const double> none;
        auto now = followed.distance.now(followed.fixed == dragged() ? moved : none,
                                         followed.moving == dragged() ? moved : none);
        if (!now) {
            return now.error();
        }
        followed.now = std::move(now).value();
    }
    return std::monostate{};
}

Result<MotionDistance> DragSwing::distance(const SwingPair& pair, SwingCase which, bool at_stop) {
    const SwingMotion swung = *swing_motion(car_->doors[pair.door], which);
    const MotionQuestion question = question_of(swung, at_stop);
    Followed* const about = swings(which) ? nullptr : followed(pair, swing_about(which), false);
    if (about != nullptr) {
        if (const Status asked = ask(*about); !asked) {
            return asked.error();
        }
        if (auto there = about->distance.last_at(question.from)) {
            return std::move(*there);
        }
    }
    if (Followed* const one = followed(pair, which, at_stop)) {
        const Status asked = ask(*one);
        return asked ? Result<MotionDistance>(*one->now) : asked.error();
    }
    return geometry::plain_distance(*pair.fixed->tree, *pair.moving->tree, swung.motion, question);
}

Result<std::optional<SwingOutcome>> DragSwing::tell(const SwingPair& pair, SwingCase which) {
    const auto kept = std::find_if(kept_.begin(), kept_.end(), [&](const SwingOutcome& outcome) {
        return outcome.pair.moving == pair.moving && outcome.pair.fixed == pair.fixed && outcome.which == which;
    });
    if (kept != kept_.end()) {
        return std::optional<SwingOutcome>{*kept};
    }
    const auto swung = swing_motion(car_->doors[pair.door], which);
    if (!swung) {
        return std::optional<SwingOutcome>{};
    }
    auto now = distance(pair, which, false);
    if (!now) {
        return now.error();
    }
    SwingOutcome outcome{pair, which, swung->motion, std::move(now).value(), {}};
    if (which == SwingCase::moving) {
        auto stop = distance(pair, which, true);
        if (!stop) {
            return stop.error();
        }
        outcome.at_stop = stop.value().proven;
    }
    return std::optional<SwingOutcome>{std::move(outcome)};
}

}  // namespace sillwright::core

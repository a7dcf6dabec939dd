#include "app/link/platen_of_job.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "app/length_words.h"
#include "app/link/forming_of_job.h"
#include "core/drawn_loft.h"
#include "core/evaluate.h"
#include "core/finding_state.h"
#include "core/number_text.h"

namespace sillwright::app {

using core::Evaluation;
using core::Platen;
using Eigen::Vector2d;
using geometry::in_mm;
using geometry::in_rad;
using geometry::Length;
using geometry::Loft;
using geometry::millimetres;

namespace {

/// Turns smaller than what is read off a protractor are none.
constexpr double k_no_turn_deg = 0.05;
constexpr Length k_no_set_back = millimetres(0.05);

/// Between two numbers.
struct Stretch {
    double low = std::numeric_limits<double>::infinity(), high = -std::numeric_limits<double>::infinity();

    void take(double at) {
        low = std::min(low, at);
        high = std::max(high, at);
    }
    [[nodiscard]] double middle() const { return (low + high) / 2.0; }
};

/// The part as it lies on the platen: along and across it, where its ends and edges are.
class Laid {
public:
    explicit Laid(const Platen& platen)
        : along_{std::cos(in_rad(platen.yaw)), std::sin(in_rad(platen.yaw))}, across_{-along_.y(), along_.x()} {
        for (const Vector2d& p_mm : platen.part_mm) {
            length_.take(along_.dot(p_mm));
            width_.take(across_.dot(p_mm));
        }
        // Lines go on as far as the mould.
        for (const Vector2d& p_mm : platen.mould_mm.empty() ? platen.part_mm : platen.mould_mm) {
            mould_length_.take(along_.dot(p_mm));
            mould_width_.take(across_.dot(p_mm));
        }
    }

    [[nodiscard]] const Stretch& length() const { return length_; }
    [[nodiscard]] const Stretch& width() const { return width_; }
    [[nodiscard]] Vector2d at(double u_mm, double v_mm) const { return u_mm * along_ + v_mm * across_; }
    [[nodiscard]] PlatenLine across_at(double u_mm, std::string words) const {
        return {at(u_mm, mould_width_.low), at(u_mm, mould_width_.high), std::move(words)};
    }
    [[nodiscard]] PlatenLine along_at(double v_mm, std::string words) const {
        return {at(mould_length_.low, v_mm), at(mould_length_.high, v_mm), std::move(words)};
    }
    /// Of a place along the car.
    [[nodiscard]] double u_of(const Loft& line, Length along) const {
        const double part = (along - line.front()) / (line.rear() - line.front());
        return std::lerp(length_.low, length_.high, part);
    }

private:
    Vector2d along_, across_;
    Stretch length_, width_, mould_length_, mould_width_;
};

std::string number(Length length, core::BareUnit unit) {
    return shortest_words(length, unit);
}

Stretch box(const std::vector<Vector2d>& points_mm, int axis) {
    Stretch made;
    for (const Vector2d& p_mm : points_mm) {
        made.take(p_mm[axis]);
    }
    return made;
}

std::string set_up_words(const Platen& platen, core::BareUnit unit) {
    const double yaw = geometry::in_deg(platen.yaw);
    const double tilt = geometry::in_deg(platen.tilt);
    std::string words =
        std::abs(yaw) < k_no_turn_deg ? "not turned" : "turned " + core::fixed_text(std::abs(yaw), 1) + "°";
    if (std::abs(yaw) >= k_no_turn_deg) {
        words += yaw > 0.0 ? ", rear end to the shelf side" : ", rear end to the flange side";
    }
    words += std::abs(tilt) < k_no_turn_deg
                 ? " · drawn straight out"
                 : " · draw tilted " + core::fixed_text(std::abs(tilt), 1) + (tilt > 0.0 ? "° up" : "° down");
    return words + " · mould " + number(platen.height, unit) + " " + unit_word(unit) + " high";
}

void add_excess(PlatenPicture& picture, const Platen& platen) {
    if (platen.need_mm.empty()) {
        return;
    }
    const Vector2d free = platen.free_mm / 2.0;
    const Stretch length = box(platen.need_mm, 0);
    const Stretch width = box(platen.need_mm, 1);
    const auto add = [&](PlatenExcess::Side side, double mm, const char* name) {
        if (mm > in_mm(k_no_set_back)) {
            picture.excess.push_back(
                {side, mm, number(millimetres(mm), picture.unit) + " past the " + name + " clamp"});
        }
    };
    add(PlatenExcess::Side::left, -free.x() - length.low, "left");
    add(PlatenExcess::Side::right, length.high - free.x(), "right");
    add(PlatenExcess::Side::upper, width.high - free.y(), "upper");
    add(PlatenExcess::Side::lower, -free.y() - width.low, "lower");
}

std::string verdict_of(const Platen& platen, core::BareUnit unit) {
    const std::string by =
        number(platen.excess > Length{} ? platen.excess : -platen.excess, unit) + " " + unit_word(unit);
    if (!(platen.excess > Length{})) {
        return by + " to spare";
    }
    const Stretch length = box(platen.need_mm, 0);
    const Stretch width = box(platen.need_mm, 1);
    const bool too_long = length.high - length.low - platen.free_mm.x() >= width.high - width.low - platen.free_mm.y();
    return by + (too_long ? " too long" : " too wide");
}

void add_set_backs(PlatenPicture& picture, const core::SetBack& by, const Laid& laid) {
    const auto words = [&](Length length) { return "set back " + number(length, picture.unit); };
    if (by.front > k_no_set_back) {
        picture.set_backs.push_back(laid.across_at(laid.length().low + in_mm(by.front), words(by.front)));
    }
    if (by.rear > k_no_set_back) {
        picture.set_backs.push_back(laid.across_at(laid.length().high - in_mm(by.rear), words(by.rear)));
    }
    if (by.shelf > k_no_set_back) {
        picture.set_backs.push_back(laid.along_at(laid.width().high - in_mm(by.shelf), words(by.shelf)));
    }
    if (by.flange > k_no_set_back) {
        picture.set_backs.push_back(laid.along_at(laid.width().low + in_mm(by.flange), words(by.flange)));
    }
}

/// Mounts are seen along the draw direction, as far up the part as the section says.
void add_mounts(PlatenPicture& picture, const Evaluation& evaluation, std::size_t piece, const Loft& line,
                const Platen& platen, const Laid& laid) {
    const Vector2d across(-std::sin(in_rad(platen.tilt)), std::cos(in_rad(platen.tilt)));  // (out, up)
    Stretch drawn;
    for (const geometry::LoftSection& section : line.sections()) {
        for (const geometry::LoftNode& node : section.nodes) {
            drawn.take(across.dot(node.p_mm));
        }
    }
    for (const core::HolePlan& hole : evaluation.plan.holes) {
        if (hole.piece == piece) {
            const Eigen::Vector3d& p_mm = hole.landing.p_mm;
            const double v = laid.width().middle() + across.dot(p_mm.tail<2>()) - drawn.middle();
            picture.mounts.push_back({hole.mount, laid.at(laid.u_of(line, millimetres(p_mm.x())), v)});
        }
    }
}

}  // namespace

PlatenPicture platen_of_job(const Evaluation& evaluation, std::size_t number) {
    PlatenPicture picture;
    picture.unit = evaluation.job.unit;
    const core::PieceForming* forming = forming_of(evaluation, number);
    if (forming == nullptr) {
        picture.words = nothing_formed_words();
        return picture;
    }
    const Platen& platen = forming->platen;
    picture.piece = evaluation.job.skirt.pieces.at(forming->piece).name;
    picture.machine = platen.machine;
    if (platen.part_mm.empty() || platen.window_mm.minCoeff() <= 0.0) {
        picture.words = missing_words("To lay the part on the machine, decide first:", platen.missing);
        picture.words = picture.words.empty() ? "Choose a machine under Settings." : picture.words;
        return picture;
    }
    picture.window_mm = platen.window_mm;
    picture.free_mm = platen.free_mm;
    picture.part_mm = platen.part_mm;
    picture.mould_mm = platen.mould_mm;
    picture.need_mm = platen.need_mm;
    picture.verdict = verdict_of(platen, picture.unit);
    picture.set_up = set_up_words(platen, picture.unit);
    for (std::size_t i = 0; i < platen.missing.size(); ++i) {
        picture.set_up += (i == 0 ? " · not counted: " : ", ") + platen.missing[i];
    }
    const core::Finding* finding = finding_of(evaluation, forming_id(evaluation, *forming) + "window");
    picture.state = finding != nullptr
                        ? finding->state
                        : core::state_of(-in_mm(platen.excess), in_mm(evaluation.job.limits.close_band.value), {});
    add_excess(picture, platen);
    const Laid laid(platen);
    if (platen.set_back) {
        add_set_backs(picture, *platen.set_back, laid);
    }
    const auto& pieces = evaluation.car.pieces;
    if (forming->piece < pieces.size() && pieces[forming->piece].line) {
        const Loft& line = *pieces[forming->piece].line;
        for (const Length along : platen.split_stations) {
            picture.splits.push_back(
                laid.across_at(laid.u_of(line, along), "split " + core::at_place_words(evaluation.job, along)));
        }
        add_mounts(picture, evaluation, forming->piece, line, platen, laid);
    }
    return picture;
}

}  // namespace sillwright::app

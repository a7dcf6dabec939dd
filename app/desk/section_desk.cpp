#include "app/desk/section_desk.h"

#include <QAction>
#include <QButtonGroup>
#include <QComboBox>
#include <QFileDialog>
#include <QInputDialog>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>
#include <cmath>
#include <utility>

#include "app/desk/copy_section_dialog.h"
#include "app/desk/photo_bar.h"
#include "app/desk/row_layout.h"
#include "app/desk/scan_desk.h"
#include "app/desk/section_menu.h"
#include "app/desk/underlays.h"
#include "app/length_words.h"
#include "app/link/door_limits_of_job.h"
#include "app/link/nearest_stretch.h"
#include "app/link/section_nodes.h"
#include "app/looks.h"
#include "core/edit/mount_edit.h"
#include "core/edit/run_out_edit.h"
#include "core/edit/section_edit.h"
#include "core/edit/whole_unit.h"
#include "core/typed.h"
#include "geometry/profile.h"

namespace sillwright::app {

using core::DrawnId;
using core::NodeNumber;
using Eigen::Vector2d;
using Eigen::Vector3d;
using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;

namespace {

/// Within this of a whole unit, of a hole, of a line a hand means it; pixels.
constexpr double k_whole_reach = 8.0;
constexpr double k_mount_reach = 40.0;
constexpr double k_stretch_reach = 24.0;
constexpr double k_last_node_reach = 16.0;
/// An arrow key moves by a whole unit, with Shift by a tenth of a millimetre or a sixty-fourth of an inch.
constexpr double k_fine_mm = 0.1;
constexpr double k_fine_in = 1.0 / 64.0;

Length step_length(core::BareUnit unit, bool fine) {
    if (!fine) {
        return core::whole_unit(unit);
    }
    return unit == core::BareUnit::in ? geometry::inches(k_fine_in) : millimetres(k_fine_mm);
}

Vector2d place_of(const core::Node& node) {
    return {in_mm(node.out.value), in_mm(node.up.value)};
}

const core::Node* node_of(const core::Job& job, const std::string& id) {
    const auto place = core::find_node(job, id);
    return place ? &core::drawn(job, place->drawn).sections[place->section].nodes[place->node] : nullptr;
}

}  // namespace

SectionDesk::SectionDesk(OpenJob& job, Focus& focus, QWidget* parent)
    : QWidget(parent), job_{job}, focus_{focus}, drawing_{new SectionDrawing} {
    setObjectName(QStringLiteral("sectionDesk"));
    setBackgroundRole(QPalette::Base);
    setAutoFillBackground(true);
    thread_.setMaxThreadCount(1);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(0);
    make_hands();
    column->addWidget(drawing_, 1);
    connect_drawing();
    connect(&job_, &OpenJob::job_changed, this, [this] {
        const auto place = job_.dragging() ? core::find_node(job_.job(), dragged_) : std::nullopt;
        // The skirt under the hand leaves the ground as it is.
        if (!place || place->drawn.kind != DrawnId::Kind::piece) {
            ++job_number_;
        }
    });
    connect(&job_, &OpenJob::opened, this, &SectionDesk::take_photo_away);
    // Follows every change of the job's value, and of what was computed of it.
    connect(&job_, &OpenJob::results_changed, this, &SectionDesk::refresh);
    connect(&focus_, &Focus::went, this, [this] {
        end_stroke();
        refresh();
    });
    connect(&focus_, &Focus::turned, this, &SectionDesk::refresh);
    const auto items = [this] { drawing_->show_items(focus_.chosen(), focus_.pointed()); };
    connect(&focus_, &Focus::chose, this, items);
    connect(&focus_, &Focus::pointed_on, this, items);
    refresh();
}

SectionDesk::~SectionDesk() {
    thread_.waitForDone();
}

void SectionDesk::make_hands() {
    auto* row = new QWidget;
    auto* layout = new RowLayout(row);
    layout->setContentsMargins(6, 6, 6, 4);
    auto* group = new QButtonGroup(this);
    const QString moves =
        tr("Press a point to choose it and drag it. Arrow keys move the chosen point by 1 mm, or by "
           "1/16 in, with Shift by 0.1 mm or 1/64 in. Typed digits are written on the ruler; Return "
           "fixes them, Tab writes the other. Tab goes through the points.");
    const std::array<QPushButton*, 4> hands{
        hand_button(QStringLiteral("moveHand"), tr("Move"), moves, Hand::move),
        hand_button(QStringLiteral("placeMountHand"), tr("Place a mount"),
                    tr("Press on the body's line: a mount is placed there. Shift places without whole units."),
                    Hand::place_mount),
        hand_button(QStringLiteral("addNodeHand"), tr("Add a node"),
                    tr("Press on a line drawn at this station: a node is added there."), Hand::add_node),
        hand_button(QStringLiteral("drawSectionHand"), tr("Draw a section"),
                    tr("Press point after point. Escape, or a second press on the last point, ends the line."),
                    Hand::draw_section)};
    std::copy(hands.begin(), hands.end(), hands_.begin());
    for (QPushButton* hand : hands) {
        group->addButton(hand);
        layout->addWidget(hand);
    }
    body_ = new QComboBox;
    body_->setObjectName(QStringLiteral("drawnBody"));
    body_->setAccessibleName(tr("What is drawn"));
    body_->setFont(looks::font(looks::k_text));
    body_->setMinimumHeight(looks::k_target);
    body_->setSizeAdjustPolicy(QComboBox::AdjustToContents);
    body_->hide();
    layout->addWidget(body_);
    connect(body_, &QComboBox::activated, this, &SectionDesk::end_stroke);

    auto* fit = new QPushButton(tr("Fit"));
    fit->setObjectName(QStringLiteral("fitSection"));
    fit->setAccessibleName(tr("Fit the section to the paper"));
    fit->setToolTip(tr("Fit the section to the paper. The wheel makes it larger and smaller about the pointer."));
    fit->setFont(looks::font(looks::k_text));
    fit->setMinimumHeight(looks::k_target);
    connect(fit, &QPushButton::clicked, drawing_, &SectionDrawing::fit_section);
    layout->addWidget(fit);

    photo_bar_ = new PhotoBar;
    layout->addWidget(photo_bar_->lay_button());
    from_scan_ = new QPushButton(tr("Draw this section from the scan"));
    from_scan_->setObjectName(QStringLiteral("drawSectionFromScan"));
    from_scan_->setAccessibleName(from_scan_->text());
    from_scan_->setFont(looks::font(looks::k_text));
    from_scan_->setMinimumHeight(looks::k_target);
    from_scan_->hide();
    connect(from_scan_, &QPushButton::clicked, this, &SectionDesk::draw_from_scan);
    layout->addWidget(from_scan_);
    hands_[static_cast<std::size_t>(Hand::move_photo)] = photo_bar_->move_button();
    hands_[static_cast<std::size_t>(Hand::scale_photo)] = photo_bar_->scale_button();
    group->addButton(photo_bar_->move_button());
    group->addButton(photo_bar_->scale_button());
    connect(photo_bar_->move_button(), &QPushButton::clicked, this, [this] { take_hand(Hand::move_photo); });
    connect(photo_bar_->scale_button(), &QPushButton::clicked, this, [this] { take_hand(Hand::scale_photo); });
    connect(photo_bar_->lay_button(), &QPushButton::clicked, this, &SectionDesk::lay_photo);
    connect(photo_bar_, &PhotoBar::opacity_changed, drawing_, &SectionDrawing::set_photo_opacity);
    connect(photo_bar_, &PhotoBar::taken_away, this, &SectionDesk::take_photo_away);

    whole_units_ = new QAction(tr("Draw to whole units"), this);
    whole_units_->setObjectName(QStringLiteral("wholeUnits"));
    whole_units_->setCheckable(true);
    whole_units_->setChecked(true);
    hands_[0]->setChecked(true);
    auto* column = static_cast<QVBoxLayout*>(this->layout());
    column->addWidget(row);
    column->addWidget(photo_bar_);
}

QPushButton* SectionDesk::hand_button(const QString& name, const QString& text, const QString& help, Hand hand) {
    auto* button = new QPushButton(text);
    button->setObjectName(name);
    button->setAccessibleName(text);
    button->setAccessibleDescription(help);
    button->setToolTip(QStringLiteral("<p>%1</p>").arg(help));
    button->setFont(looks::font(looks::k_text));
    button->setMinimumHeight(looks::k_target);
    button->setCheckable(true);
    connect(button, &QPushButton::clicked, this, [this, hand] { take_hand(hand); });
    return button;
}

void SectionDesk::connect_drawing() {
    connect(drawing_, &SectionDrawing::pointed_at, &focus_, &Focus::point_at);
    connect(drawing_, &SectionDrawing::chosen, &focus_, &Focus::choose);
    connect(drawing_, &SectionDrawing::drag_begun, this, &SectionDesk::begin_drag);
    connect(drawing_, &SectionDrawing::dragged, this, &SectionDesk::drag);
    connect(drawing_, &SectionDrawing::dropped, this, &SectionDesk::drop);
    connect(drawing_, &SectionDrawing::drag_put_back, this, &SectionDesk::put_back);
    connect(drawing_, &SectionDrawing::rounded, this, [this](const std::string& node_id, double radius_mm) {
        const Length whole = core::to_whole_unit(millimetres(radius_mm), job_.job().unit);
        job_.apply(core::round_node(job_.job(), node_id, draws_freely(false) ? millimetres(radius_mm) : whole));
    });
    connect(drawing_, &SectionDrawing::number_typed, this,
            [this](const std::string& node_id, NodeNumber which, const QString& text) {
                type_number(node_id, which, text.toStdString());
            });
    connect(drawing_, &SectionDrawing::stepped, this, &SectionDesk::step);
    connect(drawing_, &SectionDrawing::delete_wished, this, &SectionDesk::remove);
    connect(drawing_, &SectionDrawing::menu_wished, this, &SectionDesk::open_menu);
    connect(drawing_, &SectionDrawing::hovered, this, &SectionDesk::hover);
    connect(drawing_, &SectionDrawing::left, this, [this] { drawing_->show_landing(std::nullopt); });
    connect(drawing_, &SectionDrawing::pressed, this, &SectionDesk::press);
    connect(drawing_, &SectionDrawing::ended, this, [this] { take_hand(Hand::move); });
    connect(drawing_, &SectionDrawing::let_go, this, &SectionDesk::let_go);
}

// What is seen -------------------------------------------------------------------------------------

void SectionDesk::refresh() {
    if (!focus_.along()) {
        drawing_->show_sentence(job_.job().stations.empty()
                                    ? tr("No station is marked yet. Mark where sections are measured in the table of "
                                         "stations; then sections are drawn here.")
                                    : tr("Choose a place along the car: its section is drawn here."));
        return;
    }
    const auto results = job_.results();
    const SectionSource source{job_.job(), results.get(), results != nullptr && job_.current(), *focus_.along(),
                               focus_.openings()};
    SectionPicture picture = section_on_ground(source, ground(source));
    show_fixed(picture);
    show_underlays(picture);
    if (source.current) {
        add_forming(picture, *results, *focus_.along(), forming_);
    }
    const std::string words = note();
    picture.note += (picture.note.empty() || words.empty() ? "" : "\n") + words;
    drawing_->show_section(std::move(picture));
    drawing_->show_items(focus_.chosen(), focus_.pointed());
    want_limits();
}

void SectionDesk::use(Underlays& underlays) {
    underlays_ = &underlays;
    connect(underlays_, &Underlays::changed, this, &SectionDesk::refresh);
    refresh();
}

void SectionDesk::show_forming(SectionForming what) {
    if (what != forming_) {
        forming_ = what;
        refresh();
    }
}

/// Straightened photos of the station, and where scans are cut at the place.
void SectionDesk::show_underlays(SectionPicture& picture) {
    if (underlays_ == nullptr) {
        return;
    }
    drawing_->show_photos(station() != nullptr ? underlays_->of_section(station()->name) : std::vector<PhotoUnder>());
    const auto& scans = underlays_->laid().scans;
    scans_here_.resize(scans.size());
    bool any = false;
    for (std::size_t i = 0; i < scans.size(); ++i) {
        ScanHere& here = scans_here_[i];
        if (here.scan != scans[i] || here.along != focus_.along()) {
            here = {scans[i], focus_.along(), {}};
            const std::vector<core::survey::ScanCut> cuts =
                scans[i]->placed.mesh ? core::survey::cut_scan(*scans[i]->placed.mesh, {*focus_.along()})
                                      : std::vector<core::survey::ScanCut>();
            for (const core::survey::ScanCut& cut : cuts) {
                for (const geometry::PlaneLine& line : cut.lines) {
                    here.lines.push_back(
                        {SectionRole::scan, line, false, here.lines.empty() ? scans[i]->scan.name : "", {}});
                }
            }
        }
        any = any || !here.lines.empty();
        picture.lines.insert(picture.lines.end(), here.lines.begin(), here.lines.end());
    }
    from_scan_->setVisible(any && station() != nullptr);
}

void SectionDesk::draw_from_scan() {
    for (const ScanHere& here : scans_here_) {
        if (!here.lines.empty() && station() != nullptr) {
            app::draw_from_scan(*underlays_, *here.scan, {station()->name}, this);
            return;
        }
    }
}

/// Numbers that were typed while a node is dragged read as they were typed.
void SectionDesk::show_fixed(SectionPicture& picture) const {
    for (SectionNode& node : picture.nodes) {
        for (const FixedNumber& number : fixed_) {
            if (node.id == dragged_) {
                SectionNumber& shown = number.which == NodeNumber::out  ? node.out
                                       : number.which == NodeNumber::up ? node.up
                                                                        : node.radius;
                shown = {number.typed, true};
            }
        }
    }
}

std::string SectionDesk::note() const {
    if (const auto deviation = job_.drag_deviation(); deviation && job_.current()) {
        const QString within = QString::fromStdString(shortest_words(*deviation, core::BareUnit::mm));
        return (job_.dragging() ? tr("within %1 mm while dragging") : tr("within %1 mm until it is computed in full"))
            .arg(within)
            .toStdString();
    }
    if (job_.current()) {
        return {};
    }
    if (!job_.failure().isEmpty()) {
        return job_.failure().toStdString();
    }
    return (job_.computing() || job_.dragging() ? tr("doors and gaps are being computed")
                                                : tr("doors and gaps are not computed yet"))
        .toStdString();
}

std::shared_ptr<const SectionPicture> SectionDesk::ground(const SectionSource& source) {
    GroundKey key{job_.dragging() ? ground_key_.results : job_.results(),    job_number_,   focus_.along(), {},
                  limits_along_ == focus_.along() ? limits_.get() : nullptr, source.current};
    for (const auto& [door, opening] : focus_.openings()) {
        if (opening != geometry::Angle{}) {
            key.open_doors.push_back(door);
        }
    }
    if (!ground_ || !(key == ground_key_)) {
        const bool here = limits_ && limits_along_ == focus_.along();
        ground_ =
            std::make_shared<const SectionPicture>(section_ground(source, here ? *limits_ : std::vector<DoorLimit>{}));
        ground_key_ = std::move(key);
    }
    return ground_;
}

/// Limit lines take longer than a picture: they are found in a thread of their own, and the
/// last ones of this place stay until then.
void SectionDesk::want_limits() {
    const auto results = job_.results();
    if (finding_limits_ || job_.dragging() || !results || !job_.current() || job_.drag_deviation() || !focus_.along() ||
        (limits_of_ == results && limits_along_ == focus_.along())) {
        return;
    }
    finding_limits_ = true;
    thread_.start([this, results, along = *focus_.along()] {
        const auto found = door_limits_at(*results, along);
        // A line that cannot be found is not drawn; the swing's findings say why.
        auto limits = std::make_shared<const std::vector<DoorLimit>>(found ? found.value() : std::vector<DoorLimit>{});
        QMetaObject::invokeMethod(
            this,
            [this, results, along, limits] {
                finding_limits_ = false;
                limits_ = limits;
                limits_along_ = along;
                limits_of_ = results;
                refresh();
            },
            Qt::QueuedConnection);
    });
}

// Hands --------------------------------------------------------------------------------------------

void SectionDesk::take_hand(Hand hand) {
    end_stroke();
    hands_[static_cast<std::size_t>(hand)]->setChecked(true);
    drawing_->set_hand(hand);
    body_->setVisible(hand == Hand::draw_section);
    if (hand == Hand::draw_section) {
        fill_bodies();
    }
    drawing_->setFocus(Qt::OtherFocusReason);
}

void SectionDesk::fill_bodies() {
    const int before = body_->currentIndex();
    body_->clear();
    for (const DrawnId id : core::all_drawn(job_.job())) {
        body_->addItem(QString::fromStdString(core::name_of(job_.job(), id)));
    }
    body_->setCurrentIndex(std::clamp(before, 0, body_->count() - 1));
}

Length SectionDesk::reach(double pixels) const {
    return millimetres(pixels / drawing_->pixels_per_mm());
}

bool SectionDesk::draws_freely(bool free) const {
    return free || !whole_units_->isChecked();
}

void SectionDesk::begin_drag(const std::string& node_id) {
    fixed_.clear();
    drawn_to_.clear();
    dragged_ = node_id;
    if (!job_.begin_drag(node_id)) {
        dragged_.clear();
    }
}

void SectionDesk::drag(const Vector2d& to_mm, bool free) {
    if (dragged_.empty()) {
        return;
    }
    drag_free_mm_ = to_mm;
    drag_mm_ = to_mm;
    drawn_to_.clear();
    if (!draws_freely(free)) {
        const core::Snapped snapped = core::snap_node(job_.job(), dragged_, to_mm, reach(k_whole_reach));
        drag_mm_ = Vector2d(snapped.at_mm.y(), snapped.at_mm.z());
        drawn_to_ = snapped.to;
    }
    for (const FixedNumber& number : fixed_) {
        if (number.which != NodeNumber::radius) {
            (number.which == NodeNumber::out ? drag_mm_.x() : drag_mm_.y()) = in_mm(number.value);
        }
    }
    job_.drag_to(drag_mm_);
    show_tag(drag_mm_, drawn_to_, {});
}

void SectionDesk::drop() {
    const std::string node_id = std::exchange(dragged_, {});
    if (node_id.empty()) {
        return;
    }
    if (fixed_.empty()) {
        job_.drop();
    } else {
        // The move and the numbers typed on the way are one step.
        job_.put_back();
        auto edit = core::move_node(job_.job(), node_id, drag_mm_);
        for (const FixedNumber& number : std::exchange(fixed_, {})) {
            if (edit) {
                const std::string words = edit.value().words;
                edit = core::type_node_number(edit.value().job, node_id, number.which, number.typed);
                if (edit) {
                    edit = core::Edit{edit.value().job, words};
                }
            }
        }
        job_.apply(edit);
    }
    show_tag(drag_mm_, drawn_to_, [node_id, free_mm = drag_free_mm_](const core::Job& job) {
        return core::move_node(job, node_id, free_mm);
    });
}

void SectionDesk::put_back() {
    dragged_.clear();
    fixed_.clear();
    job_.put_back();
    show_tag({}, {}, {});
}

void SectionDesk::type_number(const std::string& node_id, NodeNumber which, const std::string& text) {
    if (dragged_ == node_id) {
        const auto entry = core::typed_entry(text, job_.job().unit);
        if (!entry) {
            drawing_->say(QString::fromStdString(entry.error().message));
            return;
        }
        std::erase_if(fixed_, [which](const FixedNumber& number) { return number.which == which; });
        fixed_.push_back({which, entry.value().value, text});
        drag(drag_free_mm_, false);
        return;
    }
    const auto edit = core::type_node_number(job_.job(), node_id, which, text);
    if (!edit) {
        drawing_->say(QString::fromStdString(edit.error().message));
        return;
    }
    job_.apply(edit);
}

void SectionDesk::step(const std::string& node_id, int right, int up, bool fine) {
    if (const core::Node* node = node_of(job_.job(), node_id)) {
        const double by = in_mm(step_length(job_.job().unit, fine));
        job_.apply(core::move_node(job_.job(), node_id, place_of(*node) + by * Vector2d(right, up)));
    }
}

void SectionDesk::remove(const Item& item) {
    const core::Job& job = job_.job();
    bool done = false;
    switch (item.kind) {
        case Item::Kind::node:
            done = job_.apply(core::delete_nodes(job, item.id));
            break;
        case Item::Kind::mount:
            done = job_.apply(core::delete_mount(job, item.id));
            break;
        case Item::Kind::keep_out:
            done = job_.apply(core::delete_keep_out(job, item.id));
            break;
        default:
            return;
    }
    if (done) {
        focus_.choose({});
        drawing_->say(tr("Done: %1. Undo brings it back.").arg(job_.history().undoText()));
    }
}

void SectionDesk::show_tag(const Vector2d& at_mm, const std::vector<std::string>& to, Freely freely) {
    QStringList words;
    for (const std::string& one : to) {
        words.push_back(QString::fromStdString(one));
    }
    freely_ = std::move(freely);
    drawing_->show_tag(at_mm, words.join(QStringLiteral(" · ")));
}

void SectionDesk::let_go() {
    if (!freely_) {
        return;
    }
    const Freely freely = std::exchange(freely_, {});
    const Item chosen = focus_.chosen();
    // In the place of the step that was drawn to something.
    job_.history().undo();
    job_.apply(freely(job_.job()));
    focus_.choose(chosen);
}

// The other hands ----------------------------------------------------------------------------------

const core::Station* SectionDesk::station() const {
    return focus_.along() ? station_at(job_.job(), *focus_.along()) : nullptr;
}

std::optional<core::Snapped> SectionDesk::mount_landing(const Vector2d& at_mm, bool free) const {
    const auto results = job_.results();
    if (!results || !focus_.along()) {
        return std::nullopt;
    }
    auto snapped = core::snap_mount(job_.job(), results->car, *focus_.along(), at_mm, reach(k_mount_reach));
    if (snapped && draws_freely(free) && results->car.body) {
        const auto line = results->car.body->section_at(*focus_.along());
        if (line) {
            const Vector2d nearest = geometry::nearest_point(line.value(), at_mm).p_mm;
            snapped->at_mm = Vector3d(in_mm(*focus_.along()), nearest.x(), nearest.y());
            snapped->to.clear();
        }
    }
    return snapped;
}

Vector2d SectionDesk::whole(const Vector2d& at_mm, bool free) const {
    if (draws_freely(free)) {
        return at_mm;
    }
    const core::BareUnit unit = job_.job().unit;
    return {in_mm(core::to_whole_unit(millimetres(at_mm.x()), unit)),
            in_mm(core::to_whole_unit(millimetres(at_mm.y()), unit))};
}

void SectionDesk::hover(const Vector2d& at_mm, bool free) {
    std::optional<SectionLanding> landing;
    std::vector<std::string> to;
    if (drawing_->hand() == Hand::place_mount) {
        if (const auto snapped = mount_landing(at_mm, free)) {
            landing =
                SectionLanding{{snapped->at_mm.y(), snapped->at_mm.z()}, {snapped->axis.y(), snapped->axis.z()}, {}};
            to = snapped->to;
        }
    } else if (drawing_->hand() == Hand::add_node && focus_.along()) {
        if (const auto stretch = nearest_stretch(job_.job(), *focus_.along(), at_mm, reach(k_stretch_reach))) {
            landing = SectionLanding{stretch->at_mm, Vector2d::Zero(), {}};
        }
    } else if (drawing_->hand() == Hand::draw_section && station() != nullptr) {
        landing = SectionLanding{whole(at_mm, free), Vector2d::Zero(), {}};
        const core::Section* section = drawn_section();
        if (stroke_begun_ && section != nullptr && !section->nodes.empty()) {
            landing->from_mm = place_of(section->nodes.back());
        }
    }
    if (drawing_->hand() == Hand::scale_photo) {
        landing = SectionLanding{at_mm, Vector2d::Zero(), photo_first_mm_};
    }
    drawing_->show_landing(landing);
    // The tag of what was just placed stays, so that it can be pressed.
    if (!freely_ || !drawing_->tag_within_reach()) {
        show_tag(landing ? landing->at_mm : Vector2d::Zero(), to, {});
    }
}

void SectionDesk::press(const Vector2d& at_mm, bool free) {
    switch (drawing_->hand()) {
        case Hand::place_mount:
            place_mount(at_mm, free);
            break;
        case Hand::add_node:
            add_node(at_mm);
            break;
        case Hand::draw_section:
            draw_on(at_mm, free);
            break;
        case Hand::scale_photo:
            press_on_photo(at_mm);
            break;
        case Hand::move:
        case Hand::move_photo:
            break;
    }
}

void SectionDesk::place_mount(const Vector2d& at_mm, bool free) {
    const auto landing = mount_landing(at_mm, free);
    if (!landing) {
        drawing_->say(job_.results() ? tr("There is no line of the body near. Press on the body's line.")
                                     : tr("The body is being computed. Press again in a moment."));
        return;
    }
    const std::size_t before = job_.job().mounts.size();
    if (!job_.apply(core::place_mount(job_.job(), landing->at_mm, landing->axis)) ||
        job_.job().mounts.size() == before) {
        return;
    }
    focus_.choose({Item::Kind::mount, job_.job().mounts.back().name});
    const auto freely = mount_landing(at_mm, true);
    show_tag(
        {landing->at_mm.y(), landing->at_mm.z()}, landing->to,
        [freely, axis = landing->axis](const core::Job& job) { return core::place_mount(job, freely->at_mm, axis); });
}

void SectionDesk::add_node(const Vector2d& at_mm) {
    if (station() == nullptr) {
        drawing_->say(tr("Nodes are drawn at stations. Go to a station, or add one here."));
        return;
    }
    const auto stretch = nearest_stretch(job_.job(), *focus_.along(), at_mm, reach(k_stretch_reach));
    if (!stretch) {
        drawing_->say(tr("No line is near. Press on a line that is drawn at this station."));
        return;
    }
    if (job_.apply(core::add_node(job_.job(), stretch->drawn, stretch->section, stretch->after, stretch->at_mm,
                                  std::string()))) {
        const auto& nodes = core::drawn(job_.job(), stretch->drawn).sections[stretch->section].nodes;
        focus_.choose({Item::Kind::node, nodes[stretch->after + 1].id});
    }
}

std::optional<DrawnId> SectionDesk::drawn_body() const {
    const std::vector<DrawnId> all = core::all_drawn(job_.job());
    const int index = body_->currentIndex();
    return index >= 0 && index < static_cast<int>(all.size()) ? std::optional(all[static_cast<std::size_t>(index)])
                                                              : std::nullopt;
}

const core::Section* SectionDesk::drawn_section() const {
    const auto id = drawn_body();
    return id && station() != nullptr ? section_at(core::drawn(job_.job(), *id), station()->name) : nullptr;
}

void SectionDesk::draw_on(const Vector2d& at_mm, bool free) {
    const auto id = drawn_body();
    if (!id || station() == nullptr) {
        drawing_->say(tr("Sections are drawn at stations. Go to a station, or add one here."));
        return;
    }
    const core::Section* section = drawn_section();
    if (!stroke_begun_ && section != nullptr && !section->nodes.empty()) {
        drawing_->say(tr("A section is drawn here already. Add nodes to it, or move the ones that are there."));
        return;
    }
    if (section != nullptr && !section->nodes.empty() &&
        (place_of(section->nodes.back()) - at_mm).norm() <= in_mm(reach(k_last_node_reach))) {
        take_hand(Hand::move);
        return;
    }
    stroke_begun_ = true;
    if (job_.apply(core::append_node(job_.job(), *id, station()->name, whole(at_mm, free)))) {
        if (const core::Section* drawn = drawn_section()) {
            focus_.choose({Item::Kind::node, drawn->nodes.back().id});
        }
    }
}

void SectionDesk::end_stroke() {
    stroke_begun_ = false;
    photo_first_mm_.reset();
    drawing_->show_landing(std::nullopt);
}

// The photo ----------------------------------------------------------------------------------------

void SectionDesk::lay_photo() {
    const QString file =
        QFileDialog::getOpenFileName(this, tr("Lay a photo under the section"), {}, tr("Photos (*.png *.jpg *.jpeg)"));
    if (file.isEmpty()) {
        return;
    }
    const auto photo = read_photo(file);
    if (!photo) {
        drawing_->say(QString::fromStdString(photo.error().message));
        return;
    }
    drawing_->lay_photo(photo.value());
    photo_bar_->begin(drawing_->photo()->opacity);
    take_hand(Hand::move_photo);
    drawing_->say(
        tr("Set its scale: two places on the photo, and how far they are apart. It lies there until the "
           "window closes; the job does not keep it."));
}

void SectionDesk::take_photo_away() {
    drawing_->lay_photo({});
    photo_bar_->end();
    take_hand(Hand::move);
}

void SectionDesk::press_on_photo(const Vector2d& at_mm) {
    if (!photo_first_mm_) {
        photo_first_mm_ = at_mm;
        drawing_->say(tr("Press the second place."));
        return;
    }
    const Vector2d first_mm = *std::exchange(photo_first_mm_, std::nullopt);
    QInputDialog ask(this);
    ask.setObjectName(QStringLiteral("photoDistanceDialog"));
    ask.setFont(looks::font(looks::k_text));
    ask.setWindowTitle(tr("Scale of the photo"));
    ask.setLabelText(tr("How far the two places are apart:"));
    if (ask.exec() != QDialog::Accepted) {
        return;
    }
    const auto length = core::typed_entry(ask.textValue().toStdString(), job_.job().unit);
    if (!length) {
        drawing_->say(QString::fromStdString(length.error().message));
    } else if (length.value().value <= Length{} || first_mm == at_mm) {
        drawing_->say(tr("The two places must be apart, by a length greater than 0."));
    } else {
        drawing_->scale_photo(first_mm, at_mm, in_mm(length.value().value));
        take_hand(Hand::move_photo);
    }
}

// Menus --------------------------------------------------------------------------------------------

void SectionDesk::open_menu(const Item& item, const Vector2d& /*at_mm*/, const QPoint& global) {
    SectionMenu menu(this);
    if (item.kind == Item::Kind::node) {
        menu.add(QStringLiteral("setOut"), tr("Set out…"), [this] { drawing_->type_number(NodeNumber::out); });
        menu.add(QStringLiteral("setUp"), tr("Set up…"), [this] { drawing_->type_number(NodeNumber::up); });
        menu.add(QStringLiteral("setRadius"), tr("Set radius…"), [this] { drawing_->type_number(NodeNumber::radius); });
        menu.add(QStringLiteral("renameNode"), tr("Rename…"), [this, id = item.id] { rename_node(id); });
        menu.add(QStringLiteral("deleteNodes"), tr("Delete at all stations"), [this, item] { remove(item); });
        menu.add(QStringLiteral("deleteNode"), tr("Delete at this station"),
                 [this, id = item.id] { job_.apply(core::delete_node(job_.job(), id)); });
        menu.add(QStringLiteral("runOutNode"), tr("It runs out at…"), [this, id = item.id] { run_out_node(id); });
        if (const auto place = core::find_node(job_.job(), item.id)) {
            const std::string at = core::drawn(job_.job(), place->drawn).sections[place->section].station;
            menu.add(QStringLiteral("deleteSection"),
                     tr("Delete the section of %1").arg(QString::fromStdString(name_of(job_.job(), place->drawn))),
                     [this, id = place->drawn, at] { job_.apply(core::delete_section(job_.job(), id, at)); });
        }
        menu.add_line();
    } else if (item.kind == Item::Kind::mount || item.kind == Item::Kind::keep_out) {
        menu.add(QStringLiteral("deleteItem"), tr("Delete %1").arg(QString::fromStdString(item.id)),
                 [this, item] { remove(item); });
        menu.add_line();
    }
    if (const core::Station* here = station()) {
        menu.add(QStringLiteral("copySection"), tr("Copy this section to other stations…"), [this] { copy_section(); });
        menu.add(QStringLiteral("deleteStation"), tr("Delete station %1").arg(QString::fromStdString(here->name)),
                 [this, name = here->name] { job_.apply(core::delete_station(job_.job(), name)); });
    } else if (focus_.along()) {
        menu.add(QStringLiteral("addStation"), tr("Add a station here"),
                 [this] { job_.apply(core::add_station(job_.job(), *focus_.along())); });
    }
    menu.add_line();
    menu.add(whole_units_);
    menu.add_line();
    for (QAction* action : drawing_->actions()) {  // copy, save, print
        menu.add(action);
    }
    menu.open(global);
}

void SectionDesk::rename_node(const std::string& node_id) {
    const core::Node* node = node_of(job_.job(), node_id);
    if (node == nullptr) {
        return;
    }
    QInputDialog ask(this);
    ask.setObjectName(QStringLiteral("renameNodeDialog"));
    ask.setFont(looks::font(looks::k_text));
    ask.setWindowTitle(tr("Rename"));
    ask.setLabelText(tr("Name at all stations:"));
    ask.setTextValue(QString::fromStdString(node->name));
    if (ask.exec() == QDialog::Accepted) {
        job_.apply(core::rename_nodes(job_.job(), node_id, ask.textValue().trimmed().toStdString()));
    }
}

void SectionDesk::run_out_node(const std::string& node_id) {
    QInputDialog ask(this);
    ask.setObjectName(QStringLiteral("runOutDialog"));
    ask.setFont(looks::font(looks::k_text));
    ask.setWindowTitle(tr("Where it runs out"));
    ask.setLabelText(tr("Along the car, between this station and the next that has no such node:"));
    if (ask.exec() == QDialog::Accepted) {
        job_.apply(core::run_out_node(job_.job(), node_id, ask.textValue().trimmed().toStdString()));
    }
}

void SectionDesk::copy_section() {
    const core::Station* here = station();
    if (here == nullptr) {
        return;
    }
    CopySectionDialog ask(job_.job(), here->name, this);
    if (ask.exec() == QDialog::Accepted && ask.drawn()) {
        job_.apply(core::copy_section(job_.job(), *ask.drawn(), here->name, ask.stations()));
    }
}

}  // namespace sillwright::app

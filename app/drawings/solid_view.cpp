#include "app/drawings/solid_view.h"

#include <QComboBox>
#include <QEvent>
#include <QGuiApplication>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QSignalBlocker>
#include <QVBoxLayout>
#include <algorithm>
#include <map>
#include <utility>

#include "app/drawings/angle_text.h"
#include "app/drawings/door_slider.h"
#include "app/drawings/solid_canvas.h"
#include "app/looks.h"

namespace sillwright::app {

using geometry::Angle;

namespace {

constexpr int k_room_in_button = 24;  ///< Beside its words, both sides together.

QLabel* sentence_in_place(QWidget* parent) {
    auto* label = new QLabel(parent);
    label->setObjectName(QStringLiteral("noSolidPicture"));
    label->setFont(looks::font(looks::k_text));
    label->setWordWrap(true);
    label->setAlignment(Qt::AlignCenter);
    label->setMargin(12);
    return label;
}

}  // namespace

QString why_no_solid_picture() {
    const QString platform = QGuiApplication::platformName();
    const bool on_a_screen = platform == QLatin1String("xcb") || platform.startsWith(QLatin1String("wayland"));
    // The picture is drawn through X11's GLX; a desktop with Wayland usually has X11 beside it.
    if (!on_a_screen || qEnvironmentVariableIsEmpty("DISPLAY")) {
        return QObject::tr(
                   "There is no solid picture here: it needs an X11 display, and this window runs on \"%1\". "
                   "Everything else works.")
            .arg(platform);
    }
    return {};
}

SolidView::SolidView(QWidget* parent)
    : QWidget(parent),
      sentence_{sentence_in_place(this)},
      refused_{new QLabel(this)},
      door_{new QComboBox(this)},
      slider_{new DoorSlider(this)},
      angle_{new QLineEdit(this)},
      worst_{new QPushButton(this)} {
    setObjectName(QStringLiteral("solidView"));
    const QFont text = looks::font(looks::k_text);
    door_->setObjectName(QStringLiteral("doorChoice"));
    door_->setAccessibleName(tr("Door that the slider turns"));
    door_->setMinimumHeight(looks::k_target);
    door_->setFont(text);
    slider_->setObjectName(QStringLiteral("doorSlider"));
    slider_->setAccessibleName(tr("Opening of the door"));
    angle_->setObjectName(QStringLiteral("doorAngle"));
    angle_->setAccessibleName(tr("Opening of the door in degrees"));
    angle_->setFont(looks::font(looks::k_text, true));
    angle_->setMinimumHeight(looks::k_target);
    angle_->setAlignment(Qt::AlignCenter);
    angle_->setFixedWidth(angle_->fontMetrics().horizontalAdvance(QStringLiteral("188.8°")) + 24);
    worst_->setObjectName(QStringLiteral("worstAngle"));
    worst_->setAccessibleName(tr("Turn the door to where its gap is worst"));
    worst_->setMinimumHeight(looks::k_target);
    worst_->setFont(text);
    refused_->setObjectName(QStringLiteral("angleRefused"));
    refused_->setFont(text);
    refused_->setWordWrap(true);
    refused_->hide();
    buttons_ = make_buttons();
    buttons_->hide();

    auto* row = new QHBoxLayout;
    row->setContentsMargins(6, 0, 6, 4);
    row->setSpacing(6);
    row->addWidget(door_);
    row->addWidget(slider_, 1);
    row->addWidget(angle_);
    row->addWidget(worst_);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(2);
    column->addWidget(buttons_, 0, Qt::AlignLeft);
    if (why_no_solid_picture().isEmpty()) {
        canvas_ = new SolidCanvas(this);
        column->addWidget(canvas_, 1);
        connect(canvas_, &SolidCanvas::pressed, this, &SolidView::pressed);
        connect(canvas_, &SolidCanvas::pointed, this, &SolidView::pointed);
    }
    column->addWidget(sentence_, 1);
    column->addWidget(refused_);
    column->addLayout(row);

    connect(door_, &QComboBox::currentIndexChanged, this, [this](int index) {
        show_door();
        if (index >= 0) {
            emit door_chosen(scene_.doors.at(static_cast<std::size_t>(index)).name);
        }
    });
    connect(slider_, &DoorSlider::turned, this, &SolidView::turn_by_hand);
    connect(angle_, &QLineEdit::editingFinished, this, &SolidView::read_typed);
    connect(worst_, &QPushButton::clicked, this, [this] {
        if (marks_.worst) {
            turn_by_hand(marks_.worst->at);
        }
    });
    show_scene({});
}

QWidget* SolidView::make_buttons() {
    auto* widget = new QWidget(this);
    auto* row = new QHBoxLayout(widget);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(6);
    const auto add = [&](const QString& name, const QString& words, const QString& spoken, auto press) {
        auto* button = new QPushButton(words, widget);
        button->setObjectName(name);
        button->setAccessibleName(spoken);
        button->setFont(looks::font(looks::k_text));
        button->setMinimumSize(button->fontMetrics().horizontalAdvance(words) + k_room_in_button, looks::k_target);
        connect(button, &QPushButton::clicked, this, [this, press] {
            if (canvas_ != nullptr) {
                press(*canvas_);
            }
        });
        row->addWidget(button);
    };
    add(QStringLiteral("lookFromOutside"), tr("from outside"), tr("Look at the solid from outside"),
        [](SolidCanvas& canvas) { canvas.look_from(LookFrom::outside); });
    add(QStringLiteral("lookFromBelow"), tr("from below"), tr("Look at the solid from below"),
        [](SolidCanvas& canvas) { canvas.look_from(LookFrom::below); });
    add(QStringLiteral("lookAlong"), tr("along the sill"), tr("Look at the solid along the sill"),
        [](SolidCanvas& canvas) { canvas.look_from(LookFrom::end); });
    add(QStringLiteral("fitSolid"), tr("fit"), tr("Show all of the solid"), [](SolidCanvas& canvas) { canvas.fit(); });
    return widget;
}

void SolidView::show_scene(SolidScene scene) {
    openings_.assign(openings_.size(), Angle{});
    take_scene(std::move(scene));
    {
        const QSignalBlocker quiet(door_);
        door_->setCurrentIndex(scene_.doors.empty() ? -1 : 0);
    }
    show_door();
    if (canvas_ != nullptr) {
        canvas_->look_from(LookFrom::corner);
    }
}

void SolidView::update_scene(SolidScene scene) {
    const auto shown = door();
    const std::string shown_name = shown ? scene_.doors[*shown].name : std::string();
    take_scene(std::move(scene));
    {
        const QSignalBlocker quiet(door_);
        const int same = door_->findText(QString::fromStdString(shown_name));
        door_->setCurrentIndex(scene_.doors.empty() ? -1 : std::max(same, 0));
    }
    show_door();
}

void SolidView::take_scene(SolidScene scene) {
    std::map<std::string, Angle> stood;
    for (std::size_t i = 0; i < scene_.doors.size(); ++i) {
        stood[scene_.doors[i].name] = openings_[i];
    }
    const auto same_name = [](const DoorTurn& a, const DoorTurn& b) { return a.name == b.name; };
    const bool same_doors = std::ranges::equal(scene_.doors, scene.doors, same_name);
    scene_ = std::move(scene);
    openings_.clear();
    for (const DoorTurn& door : scene_.doors) {
        openings_.push_back(std::min(stood[door.name], door.opening));
    }
    if (!same_doors) {
        const QSignalBlocker quiet(door_);
        door_->clear();
        for (const DoorTurn& door : scene_.doors) {
            door_->addItem(QString::fromStdString(door.name));
        }
    }
    const bool any = !scene_.doors.empty();
    door_->setVisible(any);
    slider_->setVisible(any);
    angle_->setVisible(any);
    if (canvas_ != nullptr) {
        sentence_->hide();
        canvas_->show();
        canvas_->set_right_hand(scene_.right_hand);
        canvas_->show_bodies(scene_.bodies, scene_.mounts);
        canvas_->show_tints(scene_.tints);
        for (std::size_t i = 0; i < scene_.doors.size(); ++i) {
            pose_door(i);
        }
    } else {
        sentence_->setText(why_no_solid_picture());
    }
}

void SolidView::show_sentence(const QString& sentence) {
    show_scene({});
    if (canvas_ != nullptr) {
        canvas_->hide();
    }
    sentence_->setText(sentence);
    sentence_->show();
}

std::optional<std::size_t> SolidView::door() const {
    const int index = door_->currentIndex();
    return index < 0 ? std::nullopt : std::optional(static_cast<std::size_t>(index));
}

void SolidView::show_door() {
    refused_->hide();
    show_marks({});
    if (const auto shown = door()) {
        slider_->set_opening(scene_.doors.at(*shown).opening);
        slider_->setAccessibleDescription(
            tr("From shut to the stop at %1").arg(angle_text(scene_.doors.at(*shown).opening)));
        angle_->setToolTip(tr("Type degrees, up to %1.").arg(angle_text(scene_.doors.at(*shown).opening)));
        show_angle();
    }
    show_place_of_dimension();
}

void SolidView::show_angle() {
    const Angle opening = openings_.at(*door());
    slider_->show_angle(opening);
    angle_->setText(angle_text(opening));
}

void SolidView::turn(const std::string& name, Angle opening) {
    for (std::size_t i = 0; i < scene_.doors.size(); ++i) {
        if (scene_.doors[i].name == name) {
            openings_[i] = std::clamp(opening, Angle{}, scene_.doors[i].opening);
            pose_door(i);
            if (door() == i) {
                refused_->hide();
                show_angle();
            }
            show_place_of_dimension();
        }
    }
}

void SolidView::choose_door(const std::string& name) {
    const int index = door_->findText(QString::fromStdString(name));
    if (index >= 0 && index != door_->currentIndex()) {
        const QSignalBlocker quiet(door_);
        door_->setCurrentIndex(index);
        show_door();
    }
}

void SolidView::pose_door(std::size_t door) {
    const DoorTurn& turn = scene_.doors.at(door);
    if (canvas_ != nullptr && turn.pose) {
        canvas_->set_pose(door, turn.pose(openings_.at(door)));
    }
}

void SolidView::turn_by_hand(Angle opening) {
    if (const auto shown = door()) {
        const std::string name = scene_.doors.at(*shown).name;
        turn(name, opening);
        emit door_turned(name, openings_.at(*shown));
    }
}

void SolidView::read_typed() {
    const auto shown = door();
    if (!shown || angle_->text() == angle_text(openings_.at(*shown))) {
        return;
    }
    const DoorTurn& turn = scene_.doors.at(*shown);
    const auto typed = read_angle(angle_->text());
    if (!typed) {
        refuse(QString::fromStdString(typed.error().message));
    } else if (typed.value() < Angle{} || typed.value() > turn.opening) {
        refuse(tr("The %1 does not open to %2. Write an angle from 0 to %3.")
                   .arg(QString::fromStdString(turn.name), angle_text(typed.value()), angle_text(turn.opening)));
    } else {
        turn_by_hand(typed.value());
    }
}

void SolidView::refuse(const QString& sentence) {
    show_angle();
    refused_->setText(sentence);
    refused_->show();
}

void SolidView::show_marks(const DoorMarks& marks) {
    marks_ = marks;
    slider_->set_marks(marks);
    worst_->setVisible(marks.worst.has_value() && with_buttons_);
    if (marks.worst) {
        const QString words = tr("worst %1").arg(angle_text(marks.worst->at));
        worst_->setText(words);
        worst_->setMinimumWidth(worst_->fontMetrics().horizontalAdvance(words) + k_room_in_button);
    }
}

void SolidView::show_dimension(const std::optional<SolidDimension>& dimension) {
    dimension_ = dimension;
    show_place_of_dimension();
}

void SolidView::show_place_of_dimension() {
    if (canvas_ == nullptr) {
        return;
    }
    bool holds = true;
    for (std::size_t i = 0; dimension_ && i < scene_.doors.size(); ++i) {
        if (scene_.doors[i].name == dimension_->door) {
            // As the numbers read: an angle that was typed as shown is the same.
            holds = angle_text(openings_[i]) == angle_text(dimension_->at);
        }
    }
    canvas_->show_dimension(dimension_, holds);
}

void SolidView::show_section(std::optional<geometry::Length> x) {
    if (canvas_ != nullptr) {
        canvas_->show_section(x);
    }
}

void SolidView::show_chosen(const SolidPart& part) {
    if (canvas_ != nullptr) {
        canvas_->show_chosen(part);
    }
}

void SolidView::show_note(const QString& words) {
    if (canvas_ != nullptr) {
        canvas_->show_note(words);
    }
}

void SolidView::show_pointed(const QString& words) {
    if (canvas_ != nullptr) {
        canvas_->show_pointed(words);
    }
}

void SolidView::show_buttons(bool shown) {
    with_buttons_ = shown;
    buttons_->setVisible(shown);
    show_marks(marks_);
}

QImage SolidView::picture(const QSize& pixels) const {
    return canvas_ == nullptr ? QImage() : canvas_->picture(pixels);
}

}  // namespace sillwright::app

#include "app/drawings/solid_view.h"

#include <QComboBox>
#include <QGuiApplication>
#include <QHBoxLayout>
#include <QLabel>
#include <QOpenGLContext>
#include <QSignalBlocker>
#include <QSlider>
#include <QVBoxLayout>
#include <algorithm>
#include <cmath>
#include <utility>

#include "app/drawings/solid_canvas.h"
#include "app/looks.h"

namespace sillwright::app {

using geometry::Angle;
using geometry::degrees;
using geometry::in_deg;

namespace {

/// Slider steps to a degree.
constexpr double k_steps = 10.0;
constexpr int k_target = 40;

QLabel* sentence_in_place(QWidget* parent) {
    auto* label = new QLabel(parent);
    label->setObjectName(QStringLiteral("noSolidPicture"));
    label->setWordWrap(true);
    label->setAlignment(Qt::AlignCenter);
    label->setMargin(24);
    return label;
}

}  // namespace

QString why_no_solid_picture() {
    // OpenCASCADE draws through X11's GLX alone; on any other platform a widget
    // that merely shows its picture ends the process inside Qt.
    if (QGuiApplication::platformName() != QLatin1String("xcb")) {
        return QObject::tr(
                   "There is no solid picture here: it needs an X11 display, and this window runs on \"%1\". "
                   "Everything else works.")
            .arg(QGuiApplication::platformName());
    }
    QOpenGLContext probe;
    if (!probe.create()) {
        return QObject::tr("There is no solid picture here: this display offers no OpenGL. Everything else works.");
    }
    return {};
}

SolidView::SolidView(QWidget* parent)
    : QWidget(parent),
      sentence_{sentence_in_place(this)},
      door_{new QComboBox(this)},
      slider_{new QSlider(Qt::Horizontal, this)},
      angle_{new QLabel(this)} {
    setObjectName(QStringLiteral("solidView"));
    door_->setObjectName(QStringLiteral("doorChoice"));
    door_->setAccessibleName(tr("Door that the slider turns"));
    door_->setMinimumHeight(k_target);
    slider_->setObjectName(QStringLiteral("doorSlider"));
    slider_->setAccessibleName(tr("Opening of the door"));
    slider_->setMinimumHeight(k_target);
    slider_->setStyleSheet(
        QStringLiteral("QSlider::groove:horizontal { height: 8px; background: %1; border-radius: 4px; }"
                       "QSlider::handle:horizontal { width: 36px; height: 36px; margin: -16px 0;"
                       " background: %2; border: 2px solid %2; border-radius: 20px; }"
                       "QSlider::handle:horizontal:focus { border-color: %3; }")
            .arg(looks::colours(looks::Tone::light).edge.name(), looks::colours(looks::Tone::light).door.name(),
                 looks::colours(looks::Tone::light).graphite.name()));
    angle_->setObjectName(QStringLiteral("doorAngle"));
    angle_->setMinimumWidth(angle_->fontMetrics().horizontalAdvance(QStringLiteral("188.8° of 188.8°")));

    auto* row = new QHBoxLayout;
    row->addWidget(door_);
    row->addWidget(slider_, 1);
    row->addWidget(angle_);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    if (why_no_solid_picture().isEmpty()) {
        canvas_ = new SolidCanvas(this);
        column->addWidget(canvas_, 1);
    }
    column->addWidget(sentence_, 1);
    column->addLayout(row);

    connect(door_, &QComboBox::currentIndexChanged, this, &SolidView::choose_door);
    connect(slider_, &QSlider::valueChanged, this, &SolidView::turn_door);
    show_scene({});
}

void SolidView::show_scene(SolidScene scene) {
    scene_ = std::move(scene);
    openings_.assign(scene_.doors.size(), Angle{});
    if (canvas_ != nullptr) {
        sentence_->hide();
        canvas_->show();
        canvas_->show_bodies(scene_.bodies);
    } else {
        sentence_->setText(why_no_solid_picture());
    }
    {
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
    choose_door(any ? 0 : -1);
}

void SolidView::show_sentence(const QString& sentence) {
    show_scene({});
    if (canvas_ != nullptr) {
        canvas_->hide();
    }
    sentence_->setText(sentence);
    sentence_->show();
}

void SolidView::choose_door(int index) {
    if (index < 0) {
        return;
    }
    const auto door = static_cast<std::size_t>(index);
    const QSignalBlocker quiet(slider_);
    slider_->setRange(0, static_cast<int>(std::floor(in_deg(scene_.doors.at(door).opening) * k_steps)));
    slider_->setValue(static_cast<int>(std::lround(in_deg(openings_.at(door)) * k_steps)));
    say_angle();
}

void SolidView::turn_door(int slider_value) {
    const auto door = static_cast<std::size_t>(door_->currentIndex());
    openings_.at(door) = degrees(slider_value / k_steps);
    say_angle();
    if (canvas_ == nullptr || !scene_.doors.at(door).pose) {
        return;
    }
    const DoorPose pose = scene_.doors.at(door).pose(openings_.at(door));
    for (std::size_t i = 0; i < scene_.bodies.size(); ++i) {
        if (scene_.bodies[i].door == door) {
            canvas_->set_pose(i, pose);
        }
    }
}

void SolidView::say_angle() {
    const auto door = static_cast<std::size_t>(door_->currentIndex());
    angle_->setText(tr("%1° of %2°")
                        .arg(in_deg(openings_.at(door)), 0, 'f', 1)
                        .arg(in_deg(scene_.doors.at(door).opening), 0, 'f', 1));
}

}  // namespace sillwright::app

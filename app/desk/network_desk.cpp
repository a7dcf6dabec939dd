#include "app/desk/network_desk.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>
#include <cmath>
#include <string>

#include "app/desk/focus.h"
#include "app/desk/open_book.h"
#include "app/desk/open_job.h"
#include "app/drawings/network_drawing.h"
#include "app/length_words.h"
#include "app/link/network_of_job.h"
#include "app/looks.h"
#include "app/text_of.h"
#include "core/edit/book_edit.h"

namespace sillwright::app {

using core::survey::PlacedPoint;

namespace {

/// So that all fits on the smallest screen while a question is asked too.
constexpr int k_least_height = 165;

QPushButton* button(const char* name) {
    auto* made = new QPushButton;
    made->setObjectName(QLatin1String(name));
    made->setFont(looks::font(looks::k_text, true));
    made->setMinimumHeight(looks::k_target);
    return made;
}

QLabel* label(const char* name) {
    auto* made = new QLabel;
    made->setObjectName(QLatin1String(name));
    made->setFont(looks::font(looks::k_text));
    made->setTextFormat(Qt::PlainText);
    made->setWordWrap(true);
    return made;
}

void name(QPushButton& button, const QString& text) {
    button.setText(text);
    button.setAccessibleName(text);
}

const core::Mount* mount_of(const core::Job& job, const std::string& name) {
    const auto mount =
        std::find_if(job.mounts.begin(), job.mounts.end(), [&](const auto& one) { return one.name == name; });
    return mount == job.mounts.end() ? nullptr : &*mount;
}

/// "H3: along 812.3, out 101.2, up 33.0 mm · 95 %: ± 1.4, 0.8, 0.9"
QString words_of(const PlacedPoint& point, core::BareUnit unit) {
    QStringList at;
    QStringList sure;
    for (int axis = 0; axis < 3; ++axis) {
        at << text_of(short_number(geometry::millimetres(point.at_mm[axis]), unit));
        const double half_mm = core::survey::factor_95(1) * std::sqrt(std::max(0.0, point.covariance_mm2(axis, axis)));
        sure << text_of(short_number(geometry::millimetres(half_mm), unit));
    }
    return NetworkDesk::tr("%1: along %2, out %3, up %4 %5 · 95 % within ± %6 along, %7 out, %8 up")
        .arg(text_of(point.name), at[0], at[1], at[2], text_of(unit_word(unit)), sure[0], sure[1], sure[2]);
}

}  // namespace

NetworkDesk::NetworkDesk(OpenBook& book, Focus& focus, QWidget* parent)
    : QWidget(parent),
      book_{book},
      focus_{focus},
      drawing_{new NetworkDrawing},
      point_row_{new QWidget},
      point_words_{label("pointWords")},
      make_mount_{button("makeMount")},
      make_all_{button("makeAllMounts")},
      question_row_{new QWidget},
      question_{label("mirrorQuestion")},
      here_{button("mirrorHere")},
      there_{button("mirrorThere")} {
    setObjectName(QStringLiteral("networkDesk"));
    drawing_->setMinimumHeight(k_least_height);
    auto* point_line = new QHBoxLayout(point_row_);
    point_line->setContentsMargins(8, 0, 8, 0);
    point_line->addWidget(point_words_, 1);
    point_line->addWidget(make_mount_);
    point_line->addWidget(make_all_);
    question_->setFont(looks::font(looks::k_text, true));
    name(*here_, tr("Where it is drawn"));
    name(*there_, tr("At the dashed place"));
    auto* question_line = new QHBoxLayout(question_row_);
    question_line->setContentsMargins(8, 0, 8, 0);
    question_line->addWidget(question_, 1);
    question_line->addWidget(here_);
    question_line->addWidget(there_);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(4);
    column->addWidget(drawing_, 1);
    column->addWidget(question_row_);
    column->addWidget(point_row_);

    connect(&book_, &OpenBook::changed, this, &NetworkDesk::follow_book);
    connect(&book_.job(), &OpenJob::job_changed, this, &NetworkDesk::follow_book);  // mounts are marked
    connect(&focus_, &Focus::chose, this, &NetworkDesk::follow_focus);
    connect(&focus_, &Focus::pointed_on, this, [this] { drawing_->set_marked(focus_.chosen(), focus_.pointed()); });
    connect(drawing_, &NetworkDrawing::chose, this, [this](const Item& item) {
        focus_.choose(item);
        if (const PlacedPoint* point = book_.results().solution.find(item.id);
            point != nullptr && item.kind == Item::Kind::point) {
            focus_.go_to(geometry::millimetres(point->at_mm.x()));
        }
    });
    connect(drawing_, &NetworkDrawing::pointed, &focus_, &Focus::point_at);
    connect(make_mount_, &QPushButton::clicked, this, &NetworkDesk::make_mount);
    connect(make_all_, &QPushButton::clicked, this,
            [this] { book_.job().apply(core::add_mounts_from_book(book_.job().job())); });
    connect(here_, &QPushButton::clicked, this, [this] { answer(true); });
    connect(there_, &QPushButton::clicked, this, [this] { answer(false); });
    follow_book();
}

void NetworkDesk::follow_book() {
    drawing_->set_picture(network_of_job(book_.job().job(), book_.results()));
    const auto& mirrored = book_.results().solution.mirrored;
    question_row_->setVisible(book_.current() && !mirrored.empty());
    if (!mirrored.empty()) {
        question_->setText(text_of(mirrored.front().question));
    }
    follow_focus();
}

void NetworkDesk::follow_focus() {
    Item chosen = focus_.chosen();
    const core::Job& job = book_.job().job();
    const core::survey::Solution& solution = book_.results().solution;
    if (chosen.kind == Item::Kind::mount) {
        chosen.kind = Item::Kind::point;  // a mount stands at the point of its name
    }
    drawing_->set_marked(chosen, focus_.pointed());
    const PlacedPoint* point = chosen.kind == Item::Kind::point ? solution.find(chosen.id) : nullptr;
    make_mount_->setVisible(point != nullptr);
    if (point != nullptr) {
        const core::Mount* mount = mount_of(job, point->name);
        point_words_->setText(words_of(*point, job.unit));
        name(*make_mount_, mount == nullptr   ? tr("Make %1 a mount").arg(text_of(point->name))
                           : mount->from_book ? tr("Let %1 go from the book").arg(text_of(point->name))
                                              : tr("Keep %1 as the book has it").arg(text_of(point->name)));
    } else {
        point_words_->clear();
    }
    const auto waiting = std::count_if(solution.points.begin(), solution.points.end(), [&](const PlacedPoint& one) {
        return one.kind == core::survey::PointKind::mount && mount_of(job, one.name) == nullptr;
    });
    make_all_->setVisible(waiting > 0 && point == nullptr);
    point_row_->setVisible(point != nullptr || waiting > 0);
    name(*make_all_, tr("Make %n clip point(s) mounts", nullptr, static_cast<int>(waiting)));
}

void NetworkDesk::make_mount() {
    const core::Job& job = book_.job().job();
    const std::string point = focus_.chosen().id;
    const core::Mount* mount = mount_of(job, point);
    book_.job().apply(mount == nullptr ? core::add_mounts_from_book(job, {point})
                                       : core::keep_mount_from_book(job, point, !mount->from_book));
}

void NetworkDesk::answer(bool here) {
    const auto& mirrored = book_.results().solution.mirrored;
    if (book_.current() && !mirrored.empty()) {
        book_.job().apply(core::answer_mirrored(book_.job().job(), mirrored.front(), here));
    }
}

}  // namespace sillwright::app

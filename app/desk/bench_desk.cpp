#include "app/desk/bench_desk.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>

#include "app/drawings/section_drawing.h"
#include "app/finding_look.h"
#include "app/link/section_of_job.h"
#include "app/looks.h"

namespace sillwright::app {

namespace {

constexpr int k_large = 28;
constexpr int k_button = 84;
/// The number takes the width of its column, within these heights.
constexpr int k_least_number = 64;
constexpr int k_most_number = 240;

QLabel* label(const QString& name, int pixels, bool bold) {
    auto* made = new QLabel;
    made->setObjectName(name);
    made->setFont(looks::font(pixels, bold));
    made->setWordWrap(true);
    made->setTextFormat(Qt::PlainText);
    made->setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Preferred);
    return made;
}

QPushButton* button(const QString& text, const QString& name, const QString& spoken) {
    auto* made = new QPushButton(text);
    made->setObjectName(name);
    made->setAccessibleName(spoken);
    made->setToolTip(spoken);
    made->setFont(looks::font(k_large, true));
    made->setMinimumHeight(k_button);
    return made;
}

/// The largest height at which `text` is not wider than `width`.
int fitting(const QString& text, int width) {
    int pixels = k_most_number;
    while (pixels > k_least_number && QFontMetrics(looks::font(pixels, true)).horizontalAdvance(text) > width) {
        pixels -= 4;
    }
    return pixels;
}

}  // namespace

BenchDesk::BenchDesk(OpenJob& open, Focus& focus, QWidget* parent)
    : QWidget(parent),
      open_{open},
      focus_{focus},
      drawing_{new SectionDrawing},
      number_{label(QStringLiteral("benchNumber"), k_most_number, true)},
      state_{label(QStringLiteral("benchState"), k_large, true)},
      title_{label(QStringLiteral("benchTitle"), k_large, true)},
      numbers_{label(QStringLiteral("benchNumbers"), k_large, false)},
      place_{label(QStringLiteral("benchPlace"), k_large, false)},
      side_{label(QStringLiteral("benchSide"), k_large, true)} {
    setObjectName(QStringLiteral("benchDesk"));
    drawing_->setObjectName(QStringLiteral("benchDrawing"));
    number_->setWordWrap(false);
    auto* before = button(tr("before"), QStringLiteral("benchBefore"), tr("The finding before this one"));
    auto* next = button(tr("next"), QStringLiteral("benchNext"), tr("The next finding"));
    auto* back = button(tr("whole window"), QStringLiteral("benchBack"), tr("Back to the whole window"));
    connect(before, &QPushButton::clicked, this, [this] { step(-1); });
    connect(next, &QPushButton::clicked, this, [this] { step(1); });
    connect(back, &QPushButton::clicked, this, &BenchDesk::left);

    auto* words = new QVBoxLayout;
    words->setSpacing(8);
    for (QLabel* line : {side_, title_, number_, state_, numbers_, place_}) {
        words->addWidget(line);
    }
    words->addStretch(1);
    auto* steps = new QHBoxLayout;
    steps->addWidget(before);
    steps->addWidget(next);
    words->addLayout(steps);
    words->addWidget(back);
    auto* row = new QHBoxLayout(this);
    row->setSpacing(16);
    row->addWidget(drawing_, 3);
    row->addLayout(words, 2);

    connect(&open_, &OpenJob::results_changed, this, &BenchDesk::follow);
    connect(&focus_, &Focus::chose, this, &BenchDesk::follow);
    connect(&focus_, &Focus::went, this, &BenchDesk::follow_place);
}

int BenchDesk::shown_finding() const {
    const auto results = open_.results();
    if (!results || results->findings.empty()) {
        return -1;
    }
    const auto& findings = results->findings;
    const auto chosen = std::find_if(findings.begin(), findings.end(), [this](const core::Finding& finding) {
        return focus_.chosen() == Item{Item::Kind::finding, finding.id};
    });
    return chosen == findings.end() ? 0 : static_cast<int>(chosen - findings.begin());
}

void BenchDesk::step(int by) {
    const int shown = shown_finding();
    if (shown < 0) {
        return;
    }
    const auto results = open_.results();
    const int last = static_cast<int>(results->findings.size()) - 1;
    const core::Finding& finding = results->findings.at(static_cast<std::size_t>(std::clamp(shown + by, 0, last)));
    focus_.choose({Item::Kind::finding, finding.id});
    if (finding.place.along) {
        focus_.go_to(finding.place.along);
    }
}

void BenchDesk::follow() {
    if (!isVisible()) {
        return;
    }
    side_->setText(open_.job().side == core::Side::right ? tr("RIGHT SIDE") : tr("LEFT SIDE"));
    const int shown = shown_finding();
    if (shown < 0) {
        number_->setText(QStringLiteral("–"));
        title_->setText(open_.failure().isEmpty() ? tr("nothing is computed yet") : open_.failure());
        for (QLabel* line : {state_, numbers_, place_}) {
            line->clear();
        }
    } else {
        const core::Finding finding = open_.results()->findings.at(static_cast<std::size_t>(shown));
        const core::FindingNumbers numbers = core::numbers_of(finding);
        const QColor colour = looks::text_colour(finding.state, looks::tone_of(palette()));
        number_->setText(numbers.margin.empty() ? QStringLiteral("–") : QString::fromStdString(numbers.margin));
        state_->setText(QString::fromStdString(look(finding.state).shape + "  " + look(finding.state).word) +
                        (open_.current() ? QString() : tr(" · being computed")));
        title_->setText(QString::fromStdString(finding.title));
        numbers_->setText(QString::fromStdString(core::joined({numbers.found, numbers.needs}, " · ")));
        place_->setText(QString::fromStdString(finding.place.words));
        for (QLabel* line : {number_, state_}) {
            QPalette coloured = line->palette();
            coloured.setColor(QPalette::WindowText, colour);
            line->setPalette(coloured);
        }
    }
    number_->setFont(looks::font(fitting(number_->text(), std::max(1, number_->width())), true));
    number_->setAccessibleName(number_->text());
    follow_place();
}

void BenchDesk::follow_place() {
    const auto results = open_.results();
    if (!isVisible() || !results || !focus_.along()) {
        return;
    }
    auto section = section_of_job(*results, *focus_.along());
    if (section) {
        drawing_->show_section(std::move(section).value());
    } else {
        drawing_->show_sentence(QString::fromStdString(section.error().message));
    }
}

void BenchDesk::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    follow();
}

void BenchDesk::showEvent(QShowEvent* event) {
    QWidget::showEvent(event);
    follow();
}

}  // namespace sillwright::app

#include "app/window/section_area.h"

#include <algorithm>

namespace sillwright::app {

namespace {

/// The corner that the solid takes of the section, within these sizes.
constexpr double k_corner = 0.36;
constexpr QSize k_least{340, 240};
constexpr QSize k_most{760, 560};
/// Clear of the rulers at the paper's edge.
constexpr int k_margin = 12;
/// In less room than this the section needs it all.
constexpr int k_least_height = 430;

}  // namespace

SectionArea::SectionArea(QWidget* section, QWidget* round, QWidget* parent)
    : QWidget(parent), section_{section}, round_{round} {
    setObjectName(QStringLiteral("sectionArea"));
    section_->setParent(this);
    round_->setParent(this);
    round_->raise();
}

void SectionArea::show_round(bool shown) {
    wanted_ = shown;
    place();
}

void SectionArea::unfold(bool unfolded) {
    unfolded_ = unfolded;
    place();
}

void SectionArea::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    place();
}

void SectionArea::place() {
    section_->setGeometry(rect());
    const bool room = unfolded_ || height() >= k_least_height;
    round_->setVisible(wanted_ && room);
    if (unfolded_ || !room || !wanted_) {
        round_->setGeometry(rect());
        emit covered({});
        return;
    }
    const QSize part(static_cast<int>(k_corner * width()), static_cast<int>(k_corner * height()));
    const QSize corner = part.expandedTo(k_least).boundedTo(k_most).boundedTo(size());
    const QPoint at(width() - corner.width() - k_margin, height() - corner.height() - k_margin);
    round_->setGeometry(QRect(at, corner));
    emit covered(corner + QSize(k_margin, k_margin));
}

}  // namespace sillwright::app

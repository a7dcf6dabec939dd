#include "app/window/section_area.h"

#include <algorithm>

namespace sillwright::app {

namespace {

/// The corner that the solid takes of the section, within these sizes.
constexpr double k_corner = 0.36;
constexpr QSize k_least{300, 230};
constexpr QSize k_most{760, 560};
/// Clear of the rulers at the paper's edge.
constexpr int k_margin = 12;

}  // namespace

SectionArea::SectionArea(QWidget* section, QWidget* round, QWidget* parent)
    : QWidget(parent), section_{section}, round_{round} {
    setObjectName(QStringLiteral("sectionArea"));
    section_->setParent(this);
    round_->setParent(this);
    round_->raise();
}

void SectionArea::show_round(bool shown) {
    round_->setVisible(shown);
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
    if (unfolded_) {
        round_->setGeometry(rect());
        return;
    }
    const QSize corner = QSize(static_cast<int>(k_corner * width()), static_cast<int>(k_corner * height()))
                             .expandedTo(k_least)
                             .boundedTo(k_most)
                             .boundedTo(size());
    round_->setGeometry(
        QRect(QPoint(width() - corner.width() - k_margin, height() - corner.height() - k_margin), corner));
}

}  // namespace sillwright::app

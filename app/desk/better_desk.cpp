#include "app/desk/better_desk.h"

#include <QScrollArea>
#include <QVBoxLayout>

#include "app/desk/open_job.h"
#include "app/drawings/bars_drawing.h"
#include "app/link/bars_of_findings.h"

namespace sillwright::app {

BetterDesk::BetterDesk(OpenJob& open, QWidget* parent) : QWidget(parent), open_{open}, drawing_{new BarsDrawing} {
    setObjectName(QStringLiteral("betterDesk"));
    auto* scroll = new QScrollArea;
    scroll->setObjectName(QStringLiteral("betterScroll"));
    scroll->setAccessibleName(tr("What to measure better first"));
    scroll->setWidgetResizable(true);
    scroll->setWidget(drawing_);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->addWidget(scroll);
    connect(&open_, &OpenJob::results_changed, this, &BetterDesk::follow);
    follow();
}

void BetterDesk::follow() {
    const auto results = open_.results();
    drawing_->set_picture(bars_of_findings(results ? results->findings : std::vector<core::Finding>{}));
}

}  // namespace sillwright::app

#include "app/desk/stage_page.h"

#include <QLabel>
#include <QScrollArea>
#include <QVBoxLayout>

#include "app/finding_look.h"
#include "app/looks.h"

namespace sillwright::app {

namespace {

QLabel* label(const QString& text, int pixels, bool bold, QWidget* parent) {
    auto* made = new QLabel(text, parent);
    made->setFont(looks::font(pixels, bold));
    made->setWordWrap(true);
    return made;
}

/// A line of the list: shape and word, never the colour alone.
QString line(const core::StageNeed& need, looks::Tone tone) {
    const core::State state = need.there ? core::State::holds : core::State::not_measured;
    const QString colour = looks::shape_colour(state, tone).name();
    QString words = QString::fromStdString(need.what).toHtmlEscaped();
    if (need.there) {
        words += QObject::tr(" — there");
    } else if (need.where.empty()) {
        words += QObject::tr(" — <b>not asked for yet by this version</b>");
    } else {
        words += QObject::tr(" — <b>missing</b>, goes into: %1").arg(QString::fromStdString(need.where));
    }
    return QStringLiteral("<p style=\"margin:6px 0\"><span style=\"color:%1\">%2</span>&nbsp; %3</p>")
        .arg(colour, QString::fromStdString(look(state).shape), words);
}

}  // namespace

StagePage::StagePage(core::Stage stage, QWidget* parent) : QWidget(parent), stage_{stage} {
    const core::StageWords& stage_words = core::words(stage);
    setObjectName(QStringLiteral("page") + QString::fromStdString(stage_words.name));
    setAccessibleName(QString::fromStdString(stage_words.name));
    auto* sheet = new QWidget;
    auto* column = new QVBoxLayout(sheet);
    column->setContentsMargins(24, 20, 24, 20);
    column->setSpacing(10);
    column->addWidget(label(QString::fromStdString(stage_words.name), looks::k_number, true, sheet));
    column->addWidget(label(QString::fromStdString(stage_words.purpose), looks::k_text, false, sheet));
    list_ = label({}, looks::k_text, false, sheet);
    list_->setObjectName(QStringLiteral("needs"));
    list_->setTextFormat(Qt::RichText);
    column->addWidget(list_);
    below_ = new QVBoxLayout;
    column->addLayout(below_);
    column->addStretch(1);

    auto* scroll = new QScrollArea(this);
    scroll->setObjectName(objectName() + QStringLiteral("Scroll"));
    scroll->setAccessibleName(QString::fromStdString(stage_words.name));
    scroll->setWidgetResizable(true);
    scroll->setWidget(sheet);
    auto* all = new QVBoxLayout(this);
    all->setContentsMargins(0, 0, 0, 0);
    all->addWidget(scroll);
}

void StagePage::show_job(const core::Job& job) {
    QString text;
    for (const core::StageNeed& need : core::stage_needs(job, stage_)) {
        text += line(need, looks::tone_of(palette()));
    }
    list_->setText(text);
}

}  // namespace sillwright::app

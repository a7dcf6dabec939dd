#include "app/desk/handover_desk.h"

#include <QAccessible>
#include <QEvent>
#include <QHBoxLayout>
#include <QLabel>
#include <QProgressBar>
#include <QPushButton>
#include <QScrollArea>
#include <QStackedWidget>
#include <QVBoxLayout>
#include <algorithm>
#include <utility>

#include "app/desk/dressed.h"
#include "app/desk/open_job.h"
#include "app/desk/page_choice.h"
#include "app/desk/settings_desk.h"
#include "app/finding_look.h"
#include "app/text_of.h"
#include "core/evaluate.h"

namespace sillwright::app {

using core::State;

namespace {

constexpr int k_whole = 1000;            ///< Steps of the progress bar.
constexpr int k_bar_height = 12;         ///< Pixels.
constexpr std::size_t k_most_notes = 2;  ///< Of a folder that was written; its READ ME FIRST has all.

QLabel* list_label(const QString& name) {
    auto* label = new QLabel;
    label->setObjectName(name);
    label->setFont(looks::font(looks::k_text));
    label->setTextFormat(Qt::RichText);
    label->setWordWrap(true);
    label->setAlignment(Qt::AlignLeft | Qt::AlignTop);
    label->setContentsMargins(20, 12, 20, 12);
    label->setTextInteractionFlags(Qt::TextSelectableByMouse);
    label->setFocusPolicy(Qt::NoFocus);
    return label;
}

QWidget* scrolled(QLabel* label, const QString& accessible) {
    auto* scroll = new QScrollArea;
    scroll->setAccessibleName(accessible);
    scroll->setWidgetResizable(true);
    scroll->setWidget(label);
    return scroll;
}

QString safe(const std::string& words) {
    return text_of(words).toHtmlEscaped();
}

QString shape_of(State state, looks::Tone tone) {
    return QStringLiteral("<span style=\"color:%1\">%2</span>&nbsp; ")
        .arg(looks::shape_colour(state, tone).name(), text_of(look(state).shape));
}

QString sentence(const QString& words) {
    return QStringLiteral("<p style=\"margin:6px 0\">%1</p>").arg(words);
}

QString lesser(const QString& words) {
    return QStringLiteral("<div style=\"margin-left:28px\">%1</div>").arg(words);
}

/// Shape and word, never the colour alone.
QString line_of(const FolderItem& item, looks::Tone tone) {
    const State state = item.state == InFolder::there     ? State::holds
                        : item.state == InFolder::in_part ? State::close
                                                          : State::not_measured;
    QString words = shape_of(state, tone) + QStringLiteral("<b>%1</b>").arg(safe(item.what));
    words += item.reader.empty() ? QString() : QStringLiteral(", ") + safe(item.reader);
    words += item.state == InFolder::missing   ? HandoverDesk::tr(" — <b>missing</b>")
             : item.state == InFolder::in_part ? HandoverDesk::tr(" — in part, or with something open")
                                               : QString();
    for (const std::string& why : item.why) {
        words += lesser(QStringLiteral("– ") + safe(why));
    }
    return sentence(words);
}

QString line_of(const OpenFinding& finding, looks::Tone tone) {
    QString words = shape_of(finding.state, tone) +
                    QStringLiteral("%1: <b>%2</b>").arg(text_of(look(finding.state).word), safe(finding.title));
    for (const std::string* part : {&finding.numbers, &finding.place}) {
        words += part->empty() ? QString() : QStringLiteral(" · ") + safe(*part);
    }
    for (const std::string& missing : finding.missing) {
        words += lesser(HandoverDesk::tr("– measure %1").arg(safe(missing)));
    }
    if (finding.missing.empty() && !finding.why.empty()) {
        words += lesser(safe(finding.why));
    }
    return sentence(words);
}

}  // namespace

HandoverDesk::HandoverDesk(OpenJob& open, QWidget* parent, List list)
    : QWidget(parent),
      open_{open},
      list_{std::move(list)},
      choice_{new PageChoice},
      pages_{new QStackedWidget},
      items_words_{list_label(QStringLiteral("folderItems"))},
      findings_words_{list_label(QStringLiteral("openFindings"))},
      write_{dressed(new QPushButton(tr("Write the handover folder…")), QStringLiteral("writeHandover"),
                     tr("Write the handover folder"))},
      stop_{dressed(new QPushButton(tr("Stop")), QStringLiteral("stopHandover"), tr("Stop writing the folder"))},
      open_folder_{dressed(new QPushButton(tr("Open the folder")), QStringLiteral("openHandover"),
                           tr("Open the folder that was written"))},
      progress_{new QProgressBar},
      result_{new QLabel} {
    setObjectName(QStringLiteral("handoverDesk"));
    threads_.setMaxThreadCount(1);
    choice_->setObjectName(QStringLiteral("handoverPages"));
    choice_->setAccessibleName(tr("What of the handover is shown"));
    add_page(scrolled(items_words_, tr("What the folder will hold")), tr("Folder"), QStringLiteral("folderPage"));
    add_page(scrolled(findings_words_, tr("Findings that are open")), tr("Open findings"),
             QStringLiteral("openFindingsPage"));
    add_page(new SettingsDesk(open, core::SettingGroup::papers), tr("Papers"), QStringLiteral("papersPage"));
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(4);
    column->addWidget(choice_);
    column->addWidget(pages_, 1);
    column->addWidget(make_foot());
    connect(choice_, &QTabBar::currentChanged, pages_, &QStackedWidget::setCurrentIndex);
    connect(&open_, &OpenJob::results_changed, this, &HandoverDesk::follow);
    connect(&open_, &OpenJob::opened, this, [this] {
        folder_.clear();
        result_->hide();
        show_writing(false);
    });
    follow();
}

HandoverDesk::~HandoverDesk() {
    threads_.waitForDone();
}

QWidget* HandoverDesk::make_foot() {
    progress_->setObjectName(QStringLiteral("handoverProgress"));
    progress_->setAccessibleName(tr("Part written"));
    progress_->setTextVisible(false);
    progress_->setFixedHeight(k_bar_height);
    result_->setObjectName(QStringLiteral("handoverResult"));
    result_->setFont(looks::font(looks::k_text));
    result_->setTextFormat(Qt::PlainText);
    result_->setWordWrap(true);
    result_->hide();
    auto* foot = new QWidget;
    auto* column = new QVBoxLayout(foot);
    column->setContentsMargins(8, 0, 8, 4);
    column->setSpacing(4);
    auto* row = new QHBoxLayout;
    row->addWidget(write_);
    row->addWidget(stop_);
    row->addWidget(open_folder_);
    row->addWidget(progress_, 1);
    row->addStretch(1);
    column->addLayout(row);
    column->addWidget(result_);
    connect(write_, &QPushButton::clicked, this, &HandoverDesk::write_wanted);
    connect(stop_, &QPushButton::clicked, this, &HandoverDesk::stop_wanted);
    connect(open_folder_, &QPushButton::clicked, this,
            [this] { emit open_wanted(QString::fromStdString(folder_.string())); });
    show_writing(false);
    return foot;
}

void HandoverDesk::add_page(QWidget* page, const QString& name, const QString& object_name) {
    page->setObjectName(object_name);
    pages_->addWidget(page);
    choice_->setTabData(choice_->addTab(name), object_name);
}

void HandoverDesk::showEvent(QShowEvent* event) {
    QWidget::showEvent(event);
    follow();
}

void HandoverDesk::changeEvent(QEvent* event) {
    QWidget::changeEvent(event);
    if (event->type() == QEvent::PaletteChange) {
        show_items();  // shapes have the tone's colours
        show_findings();
    }
}

/// The list is made in a thread of its own, of the latest results that are those of the job.
void HandoverDesk::follow() {
    if (!isVisible() || open_.dragging()) {
        return;  // shown anew when it is seen again
    }
    show_findings();
    const auto results = open_.results();
    if (!results) {
        ++run_;
        listed_ = false;
        listed_of_.reset();
        items_.clear();
    } else if (open_.current() && results != listed_of_) {
        listed_of_ = results;
        const std::uint64_t run = ++run_;
        threads_.start([this, run, results, list = list_] {
            auto items = list(*results);
            QMetaObject::invokeMethod(
                this, [this, run, items = std::move(items)]() mutable { take(run, std::move(items)); },
                Qt::QueuedConnection);
        });
    }
    show_items();
}

void HandoverDesk::take(std::uint64_t run, std::vector<FolderItem> items) {
    if (run == run_) {
        items_ = std::move(items);
        listed_ = true;
        show_items();
    }
}

void HandoverDesk::show_items() {
    if (!listed_) {
        items_words_->setText(
            sentence(open_.results() ? tr("The list is being made …") : tr("Nothing is computed yet.")));
        return;
    }
    const auto missing = std::count_if(items_.begin(), items_.end(),
                                       [](const FolderItem& item) { return item.state == InFolder::missing; });
    QString text =
        sentence(missing == 0   ? tr("All of this goes into the folder:")
                 : missing == 1 ? tr("This goes into the folder; <b>one thing is missing</b>:")
                                : tr("This goes into the folder; <b>%1 things are missing</b>:").arg(missing));
    const looks::Tone tone = looks::tone_of(palette());
    for (const FolderItem& item : items_) {
        text += line_of(item, tone);
    }
    items_words_->setText(text);
}

void HandoverDesk::show_findings() {
    const auto results = open_.results();
    if (!results) {
        findings_words_->setText(sentence(tr("Nothing is computed yet.")));
        return;
    }
    const auto open = open_findings(results->findings, results->job.unit);
    QString text = sentence(
        open.empty() ? tr("Every finding holds.")
                     : tr("These are open. They are printed on every paper that they bear on: none is hidden."));
    const looks::Tone tone = looks::tone_of(palette());
    for (const OpenFinding& finding : open) {
        text += line_of(finding, tone);
    }
    findings_words_->setText(text);
}

void HandoverDesk::show_writing(bool writing) {
    write_->setEnabled(!writing);
    stop_->setVisible(writing);
    stop_->setEnabled(writing);
    progress_->setVisible(writing);
    open_folder_->setVisible(!writing && !folder_.empty());
}

void HandoverDesk::show_begun() {
    progress_->setRange(0, 0);  // how far it is is not known yet
    result_->setText(tr("The job is checked once more, and its folder is written …"));
    result_->show();
    show_writing(true);
}

void HandoverDesk::show_progress(double part) {
    progress_->setRange(0, k_whole);
    progress_->setValue(static_cast<int>(part * k_whole));
}

void HandoverDesk::show_stopping() {
    stop_->setEnabled(false);
    result_->setText(tr("Stopping …"));
}

void HandoverDesk::show_written(const std::filesystem::path& folder, const std::vector<std::string>& notes) {
    folder_ = folder;
    QString text = tr("Written: %1").arg(QString::fromStdString(folder.string()));
    const std::size_t shown = std::min(notes.size(), k_most_notes);
    for (std::size_t i = 0; i < shown; ++i) {
        text += QStringLiteral("\n– ") + text_of(notes[i]);
    }
    if (notes.size() > shown) {
        text += tr("\n– and %1 more in READ ME FIRST").arg(notes.size() - shown);
    }
    result_->setText(text);
    result_->show();
    show_writing(false);
    QAccessibleEvent event(result_, QAccessible::Alert);
    QAccessible::updateAccessibility(&event);
}

void HandoverDesk::show_failure(const QString& sentence) {
    result_->setText(sentence);
    result_->show();
    show_writing(false);
    QAccessibleEvent event(result_, QAccessible::Alert);
    QAccessible::updateAccessibility(&event);
}

}  // namespace sillwright::app

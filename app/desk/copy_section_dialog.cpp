#include "app/desk/copy_section_dialog.h"

#include <QCheckBox>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QLabel>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>
#include <algorithm>

#include "app/length_words.h"
#include "app/link/section_nodes.h"
#include "app/looks.h"

namespace sillwright::app {

CopySectionDialog::CopySectionDialog(const core::Job& job, const std::string& from, QWidget* parent)
    : QDialog(parent), body_{new QComboBox} {
    setObjectName(QStringLiteral("copySectionDialog"));
    setWindowTitle(tr("Copy the section at %1").arg(QString::fromStdString(from)));
    setFont(looks::font(looks::k_text));
    auto* column = new QVBoxLayout(this);
    body_->setObjectName(QStringLiteral("copiedBody"));
    body_->setAccessibleName(tr("What is copied"));
    body_->setMinimumHeight(looks::k_target);
    for (const core::DrawnId id : core::all_drawn(job)) {
        if (section_at(core::drawn(job, id), from) != nullptr) {
            bodies_.push_back(id);
            body_->addItem(QString::fromStdString(core::name_of(job, id)));
            if (id.kind == core::DrawnId::Kind::piece && body_->currentIndex() == 0) {
                body_->setCurrentIndex(body_->count() - 1);
            }
        }
    }
    column->addWidget(body_);
    auto* words = new QLabel(tr("What is drawn of it at these stations is replaced:"));
    words->setWordWrap(true);
    column->addWidget(words);

    auto* list = new QWidget;
    auto* rows = new QVBoxLayout(list);
    for (const core::Station& station : job.stations) {
        if (station.name == from) {
            continue;
        }
        auto* box = new QCheckBox(QStringLiteral("%1 · %2 %3")
                                      .arg(QString::fromStdString(station.name),
                                           QString::fromStdString(shortest_words(station.along.value, job.unit)),
                                           QString::fromStdString(unit_word(job.unit))));
        box->setObjectName(QStringLiteral("copyTo ") + QString::fromStdString(station.name));
        box->setProperty("station", QString::fromStdString(station.name));
        box->setMinimumHeight(looks::k_target);
        connect(box, &QCheckBox::toggled, this, &CopySectionDialog::show_ready);
        stations_.push_back(box);
        rows->addWidget(box);
    }
    auto* scroll = new QScrollArea;
    scroll->setWidget(list);
    scroll->setWidgetResizable(true);
    column->addWidget(scroll, 1);

    auto* buttons = new QDialogButtonBox(QDialogButtonBox::Cancel);
    copy_ = buttons->addButton(tr("Copy"), QDialogButtonBox::AcceptRole);
    copy_->setObjectName(QStringLiteral("copySectionNow"));
    for (QAbstractButton* button : buttons->buttons()) {
        button->setMinimumHeight(looks::k_target);
    }
    connect(buttons, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    column->addWidget(buttons);
    resize(380, 520);
    show_ready();
}

std::optional<core::DrawnId> CopySectionDialog::drawn() const {
    const int index = body_->currentIndex();
    return index < 0 ? std::nullopt : std::optional(bodies_[static_cast<std::size_t>(index)]);
}

std::vector<std::string> CopySectionDialog::stations() const {
    std::vector<std::string> names;
    for (const QCheckBox* box : stations_) {
        if (box->isChecked()) {
            names.push_back(box->property("station").toString().toStdString());
        }
    }
    return names;
}

void CopySectionDialog::show_ready() {
    copy_->setEnabled(drawn().has_value() && !stations().empty());
}

}  // namespace sillwright::app

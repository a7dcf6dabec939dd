#include "app/desk/settings_desk.h"

#include <QComboBox>
#include <QGridLayout>
#include <QLabel>
#include <QLineEdit>
#include <QScrollArea>
#include <QSignalBlocker>
#include <QVBoxLayout>
#include <algorithm>
#include <iterator>

#include "app/desk/dressed.h"
#include "app/desk/open_job.h"
#include "app/text_of.h"

namespace sillwright::app {

using core::Setting;
using core::SettingKind;

namespace {

constexpr int k_field_width = 4 * looks::k_target;

std::vector<Setting> of_group(const core::Job& job, core::SettingGroup group) {
    std::vector<Setting> mine;
    for (Setting& setting : core::settings_of(job)) {
        if (setting.group == group) {
            mine.push_back(std::move(setting));
        }
    }
    return mine;
}

/// Whether the same fields can show both.
bool alike(const std::vector<Setting>& a, const std::vector<Setting>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const Setting& one, const Setting& other) {
        return one.pointer == other.pointer && one.name == other.name && one.words == other.words;
    });
}

QString object_name(const Setting& setting) {
    return QStringLiteral("setting") + text_of(setting.pointer).replace(QLatin1Char('/'), QLatin1Char('_'));
}

QLabel* words(const QString& text, bool bold = false) {
    auto* label = new QLabel(text);
    label->setFont(looks::font(looks::k_text, bold));
    label->setWordWrap(true);
    return label;
}

/// What an empty choice comes to, where the help names one of its words: "empty: two".
QString words_for_empty(const Setting& setting) {
    for (const std::string& word : setting.words) {
        if (!word.empty() && setting.help.ends_with("empty: " + word + ".")) {
            return QStringLiteral("(%1)").arg(text_of(word));
        }
    }
    return SettingsDesk::tr("(not decided)");
}

}  // namespace

SettingsDesk::SettingsDesk(OpenJob& open, core::SettingGroup group, QWidget* parent)
    : QWidget(parent), open_{open}, group_{group}, refusal_{words({}, true)} {
    refusal_->setObjectName(QStringLiteral("settingRefusal"));
    refusal_->hide();
    auto* scroll = new QScrollArea;
    scroll->setObjectName(QStringLiteral("settingsScroll"));
    scroll->setAccessibleName(tr("Settings"));
    scroll->setWidgetResizable(true);
    sheet_ = new QWidget;
    grid_ = new QGridLayout(sheet_);
    grid_->setContentsMargins(12, 8, 12, 8);
    grid_->setColumnStretch(2, 1);
    scroll->setWidget(sheet_);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->addWidget(refusal_);
    column->addWidget(scroll, 1);
    connect(&open_, &OpenJob::job_changed, this, &SettingsDesk::follow);
    connect(&open_, &OpenJob::opened, refusal_, &QWidget::hide);
    make_fields();
}

void SettingsDesk::showEvent(QShowEvent* event) {
    QWidget::showEvent(event);
    follow();
}

void SettingsDesk::make_fields() {
    settings_ = of_group(open_.job(), group_);
    fields_.clear();
    qDeleteAll(sheet_->findChildren<QWidget*>(QString(), Qt::FindDirectChildrenOnly));
    for (std::size_t i = 0; i < settings_.size(); ++i) {
        const int row = static_cast<int>(i);
        QLabel* name = words(text_of(settings_[i].name), true);
        name->setWordWrap(false);
        fields_.push_back(make_field(i));
        grid_->addWidget(name, row, 0);
        grid_->addWidget(fields_.back(), row, 1);
        grid_->addWidget(
            words((settings_[i].unit.empty() ? QString() : text_of(settings_[i].unit) + QStringLiteral(" · ")) +
                  text_of(settings_[i].help)),
            row, 2);
    }
}

QWidget* SettingsDesk::make_field(std::size_t number) {
    const Setting& setting = settings_[number];
    const QString name = object_name(setting);
    if (setting.kind == SettingKind::words || setting.kind == SettingKind::flag) {
        auto* choice = dressed(new QComboBox, name, text_of(setting.name));
        for (const std::string& word : setting.words) {
            choice->addItem(word.empty() ? words_for_empty(setting) : text_of(word), text_of(word));
        }
        choice->setFixedWidth(k_field_width);
        connect(choice, &QComboBox::activated, this,
                [this, number, choice] { write(number, choice->currentData().toString()); });
        return choice;
    }
    auto* field = dressed(new QLineEdit, name, text_of(setting.name));
    field->setFixedWidth(k_field_width);
    connect(field, &QLineEdit::editingFinished, this, [this, number, field] {
        if (field->isModified()) {
            write(number, field->text());
        }
    });
    return field;
}

void SettingsDesk::follow() {
    if (!isVisible() || open_.dragging()) {
        return;  // shown anew when it is seen again
    }
    if (!alike(settings_, of_group(open_.job(), group_))) {
        make_fields();
    }
    const std::vector<std::string> texts = core::setting_texts(open_.job(), settings_);
    for (std::size_t i = 0; i < texts.size(); ++i) {
        show_text(i, text_of(texts[i]));
    }
}

void SettingsDesk::show_text(std::size_t number, const QString& text) {
    if (auto* choice = qobject_cast<QComboBox*>(fields_[number])) {
        choice->setCurrentIndex(std::max(0, choice->findData(text)));
    } else if (auto* field = qobject_cast<QLineEdit*>(fields_[number]); field != nullptr && !field->isModified()) {
        field->setText(text);
    }
}

void SettingsDesk::write(std::size_t number, const QString& text) {
    const auto written = core::write_setting(open_.job(), settings_[number], text.toStdString());
    refusal_->setVisible(!written);
    if (!written) {
        refusal_->setText(text_of(written.error().message));
        return;
    }
    if (auto* field = qobject_cast<QLineEdit*>(fields_[number])) {
        field->setModified(false);
    }
    open_.apply(written);
    follow();
}

}  // namespace sillwright::app

#pragma once

#include <QWidget>
#include <vector>

#include "core/edit/settings.h"

class QGridLayout;
class QLabel;

namespace sillwright::app {

class OpenJob;

/// The settings of one group as a form: each is typed into or chosen in place, with what may be written there beside
/// it. A text that is refused stays in its field, with the reason above.
class SettingsDesk : public QWidget {
    Q_OBJECT

public:
    SettingsDesk(OpenJob& open, core::SettingGroup group, QWidget* parent = nullptr);

protected:
    void showEvent(QShowEvent* event) override;

private:
    void follow();
    void make_fields();
    [[nodiscard]] QWidget* make_field(std::size_t number);
    void show_text(std::size_t number, const QString& text);
    void write(std::size_t number, const QString& text);

    OpenJob& open_;
    core::SettingGroup group_;
    std::vector<core::Setting> settings_;
    std::vector<QWidget*> fields_;
    QWidget* sheet_ = nullptr;
    QGridLayout* grid_ = nullptr;
    QLabel* refusal_;
};

}  // namespace sillwright::app

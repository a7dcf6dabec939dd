#include "app/desk/mounts_desk.h"

#include <QStackedWidget>
#include <QVBoxLayout>

#include "app/desk/flange_desk.h"
#include "app/desk/page_choice.h"
#include "app/desk/settings_desk.h"
#include "app/desk/tables_desk.h"

namespace sillwright::app {

using core::SettingGroup;

MountsDesk::MountsDesk(OpenJob& open, Focus& focus, QWidget* parent)
    : QWidget(parent), choice_{new PageChoice}, pages_{new QStackedWidget}, flange_{new FlangeDesk(open, focus)} {
    setObjectName(QStringLiteral("mountsDesk"));
    choice_->setObjectName(QStringLiteral("mountsPages"));
    choice_->setAccessibleName(tr("What of the mounts is shown"));
    auto* lists = new TablesDesk(open, focus, tables_of(core::Stage::mounts));
    lists->show_table(core::Table::mounts);
    add_page(flange_, tr("Flange"), QStringLiteral("flangePage"));
    add_page(lists, tr("Lists"), QStringLiteral("mountsBelow"));
    const auto add_settings = [&](SettingGroup group, const QString& name, const QString& object_name) {
        add_page(new SettingsDesk(open, group), name, object_name);
    };
    add_settings(SettingGroup::fitting, tr("Fitting"), QStringLiteral("fittingPage"));
    add_settings(SettingGroup::part, tr("Sheet"), QStringLiteral("sheetPage"));
    add_settings(SettingGroup::loads, tr("Loads"), QStringLiteral("loadsPage"));
    add_settings(SettingGroup::road, tr("Road"), QStringLiteral("roadPage"));
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(4);
    column->addWidget(choice_);
    column->addWidget(pages_, 1);
    connect(choice_, &QTabBar::currentChanged, pages_, &QStackedWidget::setCurrentIndex);
}

void MountsDesk::add_page(QWidget* page, const QString& name, const QString& object_name) {
    page->setObjectName(object_name);
    pages_->addWidget(page);
    choice_->setTabData(choice_->addTab(name), object_name);
}

}  // namespace sillwright::app

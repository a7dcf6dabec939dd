#include "app/window/main_window.h"

#include <QAbstractItemView>
#include <QAbstractScrollArea>
#include <QAccessible>
#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QMenu>
#include <QMenuBar>
#include <QMessageBox>
#include <QSlider>
#include <QTabBar>
#include <QTableView>
#include <QTimer>
#include <fstream>
#include <vector>

#include "app/desk/stage_rail.h"
#include "app/desk/wrapped_text.h"
#include "tests/app/window_on_copy.h"

namespace sillwright::app {
namespace {

/// A gloved finger: the least height of what is pressed (common practice, no source), pixels.
constexpr int k_least_target = 40;

std::string words_of(const QWidget& widget) {
    std::string words = widget.metaObject()->className();
    for (const QWidget* one = &widget; one != nullptr; one = one->parentWidget()) {
        if (!one->objectName().isEmpty()) {
            words += " in " + one->objectName().toStdString();
        }
    }
    return words;
}

/// Qt's own parts of other widgets: what is scrolled, the line of a box, the corner of a table's headers (all of a
/// table is chosen by Ctrl+A too).
bool part_of_another(const QWidget& widget) {
    const auto* area = qobject_cast<const QAbstractScrollArea*>(widget.parentWidget());
    return (area != nullptr && area->viewport() == &widget) || widget.objectName().startsWith("qt_") ||
           widget.inherits("QTableCornerButton");
}

QString spoken_name(QWidget& widget) {
    QAccessibleInterface* spoken = QAccessible::queryAccessibleInterface(&widget);
    return spoken == nullptr ? QString() : spoken->text(QAccessible::Name);
}

bool is_pressed(const QWidget& widget) {
    return qobject_cast<const QAbstractButton*>(&widget) != nullptr ||
           qobject_cast<const QComboBox*>(&widget) != nullptr || qobject_cast<const QLineEdit*>(&widget) != nullptr ||
           qobject_cast<const QSlider*>(&widget) != nullptr || qobject_cast<const QTabBar*>(&widget) != nullptr;
}

/// The size that all of a label's words need is not there.
bool is_clipped(const QLabel& label) {
    if (label.text().isEmpty()) {
        return false;
    }
    if (label.wordWrap()) {
        return label.heightForWidth(label.width()) > label.height();
    }
    return label.sizeHint().width() > label.width() || label.sizeHint().height() > label.height();
}

bool is_clipped(const QAbstractButton& button) {
    QString words = button.text();
    words.remove(QLatin1Char('&'));
    return button.fontMetrics().horizontalAdvance(words) > button.width();
}

class Window : public WindowOnCopy {
protected:
    /// Asks something of all that is seen, in every stage and in the bench look.
    template <class Ask>
    void everywhere(Ask ask) {
        for (const core::Stage stage : core::k_stages) {
            const QString name = QString::fromStdString(core::words(stage).name);
            SCOPED_TRACE(name.toStdString());
            press("stage" + name);
            window_->settle();
            ask_all(ask);
        }
        SCOPED_TRACE("bench");
        trigger("bench");
        window_->settle();
        window_->resize(1366, 768);
        window_->settle();
        ask_all(ask);
    }
    template <class Ask>
    void ask_all(Ask ask) {
        for (QWidget* widget : window_->findChildren<QWidget*>()) {
            if (widget->isVisible() && !part_of_another(*widget)) {
                ask(*widget);
            }
        }
    }
    QString text(const QString& name) { return child<QLabel>(name).text(); }
};

TEST_F(Window, IsOfTheSizeOfTheSmallestScreenItIsMadeFor) {
    open();
    EXPECT_EQ(window_->size(), QSize(1366, 768)) << "nothing in it asks for more";
}

TEST_F(Window, WhatTakesTheFocusHasAName) {
    open();
    everywhere([](QWidget& widget) {
        if (widget.isEnabled() && widget.focusPolicy() != Qt::NoFocus) {
            EXPECT_FALSE(spoken_name(widget).isEmpty()) << words_of(widget);
        }
    });
}

TEST_F(Window, WhatIsPressedIsLargeEnoughForAGlove) {
    open();
    everywhere([](QWidget& widget) {
        if (is_pressed(widget)) {
            EXPECT_GE(widget.height(), k_least_target) << words_of(widget);
            EXPECT_GE(widget.width(), k_least_target) << words_of(widget);
        }
    });
    trigger("bench");
    const auto& bar = *window_->findChild<QMenuBar*>();
    ASSERT_FALSE(bar.actions().empty());
    for (QAction* item : bar.actions()) {
        EXPECT_GE(bar.actionGeometry(item).height(), k_least_target) << item->text().toStdString();
        QMenu& menu = *item->menu();
        menu.popup({0, 0});
        for (QAction* action : menu.actions()) {
            if (!action->isSeparator()) {
                EXPECT_GE(menu.actionGeometry(action).height(), k_least_target) << action->text().toStdString();
            }
        }
        menu.close();
    }
}

TEST_F(Window, RowsOfTablesAreLargeEnoughForAGlove) {
    open();
    int tables = 0;
    everywhere([&tables](QWidget& widget) {
        if (const auto* table = qobject_cast<QTableView*>(&widget)) {
            ++tables;
            ASSERT_GT(table->model()->rowCount(), 0);
            EXPECT_GE(table->rowHeight(0), k_least_target) << words_of(widget);
        }
    });
    EXPECT_GE(tables, 1) << "of the stage Measure; below the section where there is room";
}

TEST_F(Window, NoWordIsCutOff) {
    for (const char* sample : {"estate_a.sillwright", "estate_a_cladding.sillwright"}) {
        SCOPED_TRACE(sample);
        open(sample);
        everywhere([](QWidget& widget) {
            if (const auto* label = qobject_cast<QLabel*>(&widget)) {
                EXPECT_FALSE(is_clipped(*label)) << words_of(widget) << ": " << label->text().toStdString();
            } else if (const auto* button = qobject_cast<QAbstractButton*>(&widget)) {
                EXPECT_FALSE(is_clipped(*button)) << words_of(widget) << ": " << button->text().toStdString();
            } else if (const auto* words = qobject_cast<WrappedText*>(&widget)) {
                EXPECT_LE(words->heightForWidth(words->width()), words->height()) << words_of(widget);
            }
        });
    }
}

TEST_F(Window, SaysWhichCarAndWhichSide) {
    open();
    EXPECT_EQ(text("side"), "RIGHT SIDE");
    EXPECT_TRUE(window_->windowTitle().contains("Estate A")) << window_->windowTitle().toStdString();
    open("estate_a_left.sillwright");
    EXPECT_EQ(text("side"), "LEFT SIDE");
}

TEST_F(Window, OpensAtTheWorstFinding) {
    open("estate_a_cladding.sillwright");
    const core::Finding& worst = job().results()->findings.front();
    EXPECT_EQ(worst.state, core::State::falls_short);
    EXPECT_EQ(focus().along(), worst.place.along);
    const auto* list = window_->findChild<QAbstractItemView*>("findings");
    EXPECT_TRUE(list->model()->index(0, 0).data().toString().startsWith("falls short"));
    EXPECT_GT(list->model()->rowCount(), 1);
}

TEST_F(Window, AFileThatIsNoJobIsSaidAndTheOpenJobStays) {
    open();
    const std::filesystem::path no_job = file_.parent_path() / "shopping.sillwright";
    std::ofstream(no_job) << "milk";
    EXPECT_FALSE(window_->open_file(no_job));
    EXPECT_TRUE(child<QLabel>("note").isVisible());
    EXPECT_TRUE(text("note").contains("shopping.sillwright")) << text("note").toStdString();
    EXPECT_EQ(job().job(), original_);
    EXPECT_EQ(job().file(), file_);
    EXPECT_FALSE(window_->open_file(no_job.parent_path() / "nowhere.sillwright"));
    EXPECT_TRUE(text("note").contains("nowhere.sillwright")) << text("note").toStdString();
}

TEST_F(Window, StagesOpenByKeysToo) {
    open();
    for (const core::Stage stage : core::k_stages) {
        const QString name = QString::fromStdString(core::words(stage).name);
        const auto& action = child<QAction>("open" + name);
        EXPECT_FALSE(action.shortcut().isEmpty()) << name.toStdString();
        trigger("open" + name);
        EXPECT_EQ(window_->stage(), stage);
    }
}

TEST_F(Window, WithoutX11ASentenceStandsForTheSolid) {
    open();
    // This test's platform is "offscreen".
    EXPECT_TRUE(text("noSolidPicture").contains("X11"));
    EXPECT_EQ(window_->findChild<QWidget*>("solidCanvas"), nullptr);
}

TEST_F(Window, AboutCarriesTheCautions) {
    open();
    QString said;
    QTimer::singleShot(0, window_.get(), [&] {
        auto* box = window_->findChild<QMessageBox*>("aboutBox");
        ASSERT_NE(box, nullptr);
        said = box->text();
        box->close();
    });
    trigger("about");
    for (const char* part : {"lifted vehicle", "high-voltage", "airbag", "fuel and brake lines", "Road-approval"}) {
        EXPECT_TRUE(said.contains(part)) << part;
    }
}

}  // namespace
}  // namespace sillwright::app

// From nothing to a place one can trust, as a hand does it: in the real window, by the keyboard.
#include <gtest/gtest.h>

#include <QLabel>
#include <QLineEdit>
#include <QTabBar>
#include <QTableView>

#include "app/desk/open_book.h"
#include "app/drawings/network_drawing.h"
#include "app/drawings/network_scale.h"
#include "tests/app/desk/measured_sill.h"
#include "tests/app/window_on_copy.h"

namespace sillwright::app {
namespace {

using namespace measured_sill;

class MeasureJourney : public WindowOnCopy {
protected:
    OpenBook& book() { return child<OpenBook>("openBook"); }
    bool settle_book() {
        return QTest::qWaitFor([this] { return !book().computing() && !job().computing(); }, k_patience);
    }
    void show_page(int tab) { child<QTabBar>("measurePages").setCurrentIndex(tab); }
    void type(QWidget& field, const QString& text) {
        field.setFocus();
        QTest::keyClicks(&field, text);
        QTest::keyClick(&field, Qt::Key_Return);
    }
    /// A mark with its place, typed into the table of points as its name, along, out, up.
    void type_mark(const std::string& name) {
        press("pointsAdd");
        auto& table = child<QTableView>("pointsTable");
        const int row = table.model()->rowCount() - 1;
        ASSERT_GE(row, 0);
        const Eigen::Vector3d& at = places_mm().at(name);
        const auto write = [&](int column, const QString& text) {
            table.setCurrentIndex(table.model()->index(row, column));
            table.edit(table.currentIndex());
            auto* editor = table.findChild<QLineEdit*>("listCellEditor");
            ASSERT_NE(editor, nullptr) << name << " column " << column;
            editor->selectAll();
            QTest::keyClicks(editor, text);
            QTest::keyClick(editor, Qt::Key_Return);
            QCoreApplication::processEvents();
            QCoreApplication::sendPostedEvents(nullptr, QEvent::DeferredDelete);
        };
        write(0, QString::fromStdString(name));
        for (int axis = 0; axis < 3; ++axis) {
            write(2 + axis, QString::number(at[axis]));
        }
    }
};

TEST_F(MeasureJourney, SixMarksAndEightTiesEndInAPlaceWithAnEllipse) {
    open();
    trigger("save");  // as this program writes it, to the byte
    const std::string first_bytes = core::job_text(original_);
    press("stageMeasure");
    show_page(1);
    for (const char* mark : {"A", "B", "C", "D", "E", "F"}) {
        type_mark(mark);
    }
    ASSERT_EQ(job().job().book.points.size(), 6U);
    show_page(0);
    for (const std::string& line : eight_ties()) {
        type(child<QLineEdit>("bookLine"), QString::fromStdString(line));
    }
    ASSERT_TRUE(settle_book());
    ASSERT_EQ(job().job().book.readings.size(), 8U);

    // H1 and H2 are placed, each with an ellipse that is seen.
    auto& drawing = child<NetworkDrawing>("networkDrawing");
    for (const char* name : {"H1", "H2"}) {
        ASSERT_TRUE(drawing.place_of(name, NetworkView::plan)) << name;
        EXPECT_GT(ellipse_95(NetworkView::plan, book().results().solution.find(name)->covariance_mm2, 1.0).longer, 0.1);
    }
    EXPECT_GT(drawing.exaggeration(), 1.0);

    // The third tie was read 18 mm too long, and is named.
    ASSERT_TRUE(book().results().solution.suspect);
    EXPECT_EQ(book().results().solution.suspect->reading, 2U);
    EXPECT_TRUE(child<QLabel>("worstReading").text().contains("Reading 3. "))
        << child<QLabel>("worstReading").text().toStdString();
    EXPECT_TRUE(job().job().book.readings[2].dropped.empty()) << "nothing is dropped without consent";
    press("dropWorst");
    type(child<QLineEdit>("dropReason"), "misread");
    ASSERT_TRUE(settle_book());
    EXPECT_EQ(job().job().book.readings[2].dropped, "misread");
    EXPECT_FALSE(book().results().solution.suspect);
    // Ties are rounded to 0.1 mm, so the places are within a few times that.
    EXPECT_LT((book().results().solution.find("H1")->at_mm - places_mm().at("H1")).norm(), 0.5);

    trigger("save");
    EXPECT_NE(bytes(file_), first_bytes);
    while (job().history().canUndo()) {
        job().history().undo();
    }
    EXPECT_EQ(job().job(), original_);
    trigger("save");
    EXPECT_EQ(bytes(file_), first_bytes) << "back to the first byte";
    ASSERT_TRUE(settle_book());
}

}  // namespace
}  // namespace sillwright::app

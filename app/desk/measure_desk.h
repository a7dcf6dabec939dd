#pragma once

#include <QWidget>
#include <string>

class QMenu;
class QPushButton;
class QSplitter;
class QStackedWidget;
class QTabBar;

namespace sillwright::app {

class ArcDrawing;
class BarsDrawing;
class BetterDesk;
class BookDesk;
class BookLine;
class CompareDesk;
class Focus;
class HingeDesk;
class NetworkDesk;
class OpenBook;

/// The stage Measure: the book with the line that is written into it and the network that it makes; what stands behind
/// it; what comes of it; and the lists of what is measured otherwise, as tabs.
class MeasureDesk : public QWidget {
    Q_OBJECT

public:
    MeasureDesk(OpenBook& book, Focus& focus, QWidget* parent = nullptr);

    /// One more tab at the end. The desk takes the page.
    void add_page(QWidget* page, const QString& name, const QString& object_name);
    /// What can be done with the whole book.
    [[nodiscard]] QMenu& sheets() { return *sheets_; }

    [[nodiscard]] NetworkDesk& network() { return *network_; }
    [[nodiscard]] CompareDesk& compare() { return *compare_; }
    [[nodiscard]] HingeDesk& hinges() { return *hinges_; }
    [[nodiscard]] BetterDesk& better() { return *better_; }

public slots:
    /// The tab of that object name.
    void show_page(const QString& object_name);
    /// Asks why a reading of the book is dropped; takes one to be written again.
    void drop(const std::string& reading);
    void correct(const std::string& reading);

protected:
    void resizeEvent(QResizeEvent* event) override;

private:
    [[nodiscard]] QWidget* make_book_page();
    [[nodiscard]] QWidget* make_beginning();
    void follow();
    /// Where a job is opened: at its lists if it has them and no book, else at its book.
    void begin();

    OpenBook& book_;
    QTabBar* choice_;
    QStackedWidget* pages_;
    QPushButton* sheets_button_;
    QMenu* sheets_;
    BookLine* line_;
    QStackedWidget* body_;  ///< How to begin, or the picture over the table.
    QSplitter* halves_;
    NetworkDesk* network_;
    BookDesk* table_;
    CompareDesk* compare_;
    HingeDesk* hinges_;
    BetterDesk* better_;
};

}  // namespace sillwright::app

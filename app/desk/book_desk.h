#pragma once

#include <QWidget>
#include <string>

class QLabel;
class QLineEdit;
class QPushButton;
class QTableView;

namespace sillwright::app {

class BookModel;
class Focus;
class OpenBook;

/// The book as a table. A reading that is chosen is chosen on every drawing, and the other way round; it is dropped
/// with a reason that is asked for, taken back, or written again.
class BookDesk : public QWidget {
    Q_OBJECT

public:
    BookDesk(OpenBook& book, Focus& focus, QWidget* parent = nullptr);

    /// Goes to the end of the book, where a new line stands.
    void show_last();

public slots:
    /// Asks for the reason; the reading is dropped on consent.
    void ask_drop(const std::string& id);

signals:
    /// A reading is to be written again.
    void correct_wanted(const std::string& id);

protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    void make_view();
    [[nodiscard]] QWidget* make_buttons();
    [[nodiscard]] QWidget* make_reason();
    void fit_columns();
    void choose_row();
    void follow_focus();
    void follow_book();
    void drop();
    void leave_reason();
    void take_back();
    [[nodiscard]] std::string chosen() const;

    OpenBook& book_;
    Focus& focus_;
    BookModel* model_;
    QTableView* view_;
    QPushButton* drop_;
    QPushButton* take_back_;
    QPushButton* correct_;
    QWidget* buttons_;
    QWidget* reason_row_;
    QLabel* reason_head_;
    QLineEdit* reason_;
    QLabel* refusal_;
    std::string dropping_;
    bool following_ = false;
};

}  // namespace sillwright::app

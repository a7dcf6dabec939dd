#pragma once

#include <QWidget>
#include <string>

class QLabel;
class QLineEdit;
class QPushButton;
class QWidget;

namespace sillwright::app {

class Focus;
class OpenBook;

/// What matters of the book, said in large: the worst reading with what to do about it, whether all agree, the next
/// reading with its gain, and how many readings nothing else checks.
class MattersDesk : public QWidget {
    Q_OBJECT

public:
    MattersDesk(OpenBook& book, Focus& focus, QWidget* parent = nullptr);

    [[nodiscard]] QSize sizeHint() const override { return {340, 330}; }

signals:
    /// The worst reading is to be dropped, or written again as a whole line.
    void drop_wanted(const std::string& id);
    void correct_wanted(const std::string& id);

protected:
    void changeEvent(QEvent* event) override;

private:
    void follow();
    void measured_again();
    [[nodiscard]] std::string suspect() const;

    OpenBook& book_;
    Focus& focus_;
    QLabel* head_;
    QLabel* worst_;
    QWidget* mend_;
    QPushButton* drop_;
    QLineEdit* again_;
    QLabel* refusal_;
    QLabel* global_;
    QLabel* next_;
    QLabel* unchecked_;
};

}  // namespace sillwright::app

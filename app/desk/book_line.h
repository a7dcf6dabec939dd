#pragma once

#include <QStringList>
#include <QWidget>
#include <string>

class QComboBox;
class QCompleter;
class QLabel;
class QLineEdit;
class QStringListModel;

namespace sillwright::app {

class OpenBook;

/// One line to write into the book: a reading as it is shouted from under the car, taken by Enter, and the line is free
/// for the next. While it is typed, it says below what the line will be taken as; a line that is refused stays, with
/// the column; one that is likely to be a slip is asked about first. The up arrow brings earlier lines back; names are
/// offered as they are begun.
class BookLine : public QWidget {
    Q_OBJECT

public:
    explicit BookLine(OpenBook& book, QWidget* parent = nullptr);

    /// The line of a reading to be written again; Enter corrects it, Escape leaves it.
    void correct(const std::string& id);
    [[nodiscard]] bool correcting() const { return !correcting_.empty(); }
    /// Ready to type.
    void take_focus();

signals:
    /// A line was taken into the book.
    void written();

protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    void follow();
    void take();
    [[nodiscard]] bool ask_about(const QString& text);
    void say_what_it_is();
    void say(const QString& html, bool refusal);
    void offer_names();
    void complete(const QString& name);
    void bring_back(int by);
    void leave_correction();
    [[nodiscard]] std::string set_up() const;

    OpenBook& book_;
    QLabel* head_;
    QLineEdit* line_;
    QComboBox* set_ups_;
    QLabel* says_;
    QCompleter* names_;
    QStringListModel* known_names_;
    QStringList written_;  ///< Lines of this sitting, the latest last.
    qsizetype back_ = 0;   ///< Which of them is in the field; their count for a new one.
    QString draft_;        ///< What was typed before going back.
    std::string correcting_;
    QString doubted_;  ///< The line that was asked about; Enter once more takes it.
};

}  // namespace sillwright::app

#include "app/desk/book_line.h"

#include <QAbstractItemView>
#include <QAccessible>
#include <QComboBox>
#include <QCompleter>
#include <QFontMetrics>
#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLabel>
#include <QLineEdit>
#include <QSignalBlocker>
#include <QStringListModel>
#include <QStyledItemDelegate>
#include <QVBoxLayout>
#include <algorithm>
#include <set>

#include "app/desk/open_book.h"
#include "app/desk/open_job.h"
#include "app/finding_look.h"
#include "app/link/book_words.h"
#include "app/looks.h"
#include "app/text_of.h"
#include "core/edit/book_edit.h"
#include "core/survey/reading_line.h"

namespace sillwright::app {

using core::survey::Reading;

namespace {

constexpr int k_most_offered = 6;

/// Rows that can be pressed with gloves on.
class TallRows : public QStyledItemDelegate {
public:
    using QStyledItemDelegate::QStyledItemDelegate;
    [[nodiscard]] QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const override {
        return QStyledItemDelegate::sizeHint(option, index).expandedTo({looks::k_target, looks::k_target});
    }
};

/// What a line is taken as, in words.
QString taken_as(const Reading& reading, const core::Job& job) {
    QStringList words{text_of(reading_words(reading)), text_of(value_words(reading, job.unit))};
    const std::string unit = number_words(reading.kind, core::survey::reading_sd(job.book, reading), job.unit);
    words << QObject::tr("sd %1").arg(text_of(unit));
    if (!reading.set_up.empty()) {
        words << QObject::tr("set-up %1").arg(text_of(reading.set_up));
    }
    if (!reading.instrument.empty()) {
        words << QObject::tr("by %1").arg(text_of(reading.instrument));
    }
    if (!reading.note.empty()) {
        words << text_of(reading.note);
    }
    return words.join(QStringLiteral(" · "));
}

std::set<std::string> names_in(const core::survey::Book& book) {
    std::set<std::string> names;
    for (const core::survey::Point& point : book.points) {
        names.insert(point.name);
    }
    for (const Reading& reading : book.readings) {
        names.insert(reading.points.begin(), reading.points.end());
    }
    return names;
}

/// The last word, which is being typed.
QString last_word(const QString& text) {
    return text.mid(text.lastIndexOf(QLatin1Char(' ')) + 1);
}

QString with_state(core::State state, const QString& words, looks::Tone tone) {
    return QStringLiteral("<span style=\"color:%1\">%2 %3</span>")
        .arg(looks::text_colour(state, tone).name(), text_of(look(state).shape), words.toHtmlEscaped());
}

}  // namespace

BookLine::BookLine(OpenBook& book, QWidget* parent)
    : QWidget(parent),
      book_{book},
      head_{new QLabel},
      line_{new QLineEdit},
      set_ups_{new QComboBox},
      says_{new QLabel},
      names_{new QCompleter(this)},
      known_names_{new QStringListModel(this)} {
    setObjectName(QStringLiteral("bookLineRow"));
    line_->setObjectName(QStringLiteral("bookLine"));
    line_->setAccessibleName(tr("A reading to write into the book"));
    line_->setPlaceholderText(tr("from to length, then Enter: A H1 1473.5"));
    line_->setFont(looks::font(looks::k_number));
    line_->setMinimumHeight(looks::k_target + 4);
    line_->installEventFilter(this);
    head_->setObjectName(QStringLiteral("bookLineHead"));
    head_->setFont(looks::font(looks::k_text, true));
    head_->setBuddy(line_);
    set_ups_->setObjectName(QStringLiteral("bookSetUp"));
    set_ups_->setAccessibleName(tr("How the car stands for what is written now"));
    set_ups_->setToolTip(tr("How the car stands for what is written now"));
    set_ups_->setFont(looks::font(looks::k_text));
    set_ups_->setMinimumHeight(looks::k_target + 4);
    says_->setObjectName(QStringLiteral("bookLineSays"));
    says_->setFont(looks::font(looks::k_text));
    says_->setTextFormat(Qt::RichText);
    says_->setWordWrap(true);
    says_->setAlignment(Qt::AlignTop | Qt::AlignLeft);
    // Room for two lines, so that nothing moves while a line is typed.
    says_->setMinimumHeight(2 * QFontMetrics(looks::font(looks::k_text)).lineSpacing() + 4);

    names_->setWidget(line_);
    names_->setModel(known_names_);
    names_->setCompletionMode(QCompleter::PopupCompletion);
    names_->setCaseSensitivity(Qt::CaseInsensitive);
    names_->setMaxVisibleItems(k_most_offered);
    names_->popup()->setObjectName(QStringLiteral("bookNames"));
    names_->popup()->setAccessibleName(tr("Names in the book"));
    names_->popup()->setFont(looks::font(looks::k_text));
    names_->popup()->setItemDelegate(new TallRows(names_->popup()));

    auto* row = new QHBoxLayout;
    row->addWidget(head_);
    row->addWidget(line_, 1);
    row->addWidget(set_ups_);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(2);
    column->addLayout(row);
    column->addWidget(says_);

    connect(line_, &QLineEdit::returnPressed, this, &BookLine::take);
    connect(line_, &QLineEdit::textChanged, this, &BookLine::say_what_it_is);
    connect(line_, &QLineEdit::textEdited, this, &BookLine::offer_names);
    connect(names_, QOverload<const QString&>::of(&QCompleter::activated), this, &BookLine::complete);
    connect(set_ups_, &QComboBox::activated, this, [this] {
        say_what_it_is();
        line_->setFocus();
    });
    connect(&book_, &OpenBook::changed, this, &BookLine::follow);
    connect(&book_.job(), &OpenJob::opened, this, [this] {
        leave_correction();
        written_.clear();
        back_ = 0;
        line_->clear();
    });
    follow();
}

void BookLine::take_focus() {
    line_->setFocus();
}

std::string BookLine::set_up() const {
    return set_ups_->currentText().toStdString();
}

void BookLine::follow() {
    const core::survey::Book& book = book_.job().job().book;
    QStringList names;
    for (const std::string& name : names_in(book)) {
        names << text_of(name);
    }
    if (names != known_names_->stringList()) {
        known_names_->setStringList(names);
    }
    QStringList set_ups;
    for (const core::survey::SetUp& one : book.set_ups) {
        set_ups << text_of(one.name);
    }
    QStringList shown;
    for (int i = 0; i < set_ups_->count(); ++i) {
        shown << set_ups_->itemText(i);
    }
    if (shown != set_ups) {
        const QSignalBlocker quiet(set_ups_);
        const QString chosen = set_ups_->currentText();
        set_ups_->clear();
        set_ups_->addItems(set_ups);
        set_ups_->setCurrentIndex(std::max(0, set_ups_->findText(chosen)));
    }
    set_ups_->setVisible(set_ups.size() > 1);
    say_what_it_is();
}

void BookLine::take() {
    const QString text = line_->text().simplified();
    if (text.isEmpty()) {
        return;
    }
    if (correcting_.empty() && ask_about(text)) {
        return;
    }
    const core::Job& job = book_.job().job();
    const std::string line = line_->text().toStdString();
    const auto edit =
        correcting_.empty() ? core::add_reading(job, line, set_up()) : core::correct_reading(job, correcting_, line);
    if (!edit) {
        say(text_of(edit.error().message), true);
        return;
    }
    doubted_.clear();
    written_ << line_->text();
    back_ = written_.size();
    draft_.clear();
    const std::string was = std::exchange(correcting_, std::string());
    names_->popup()->hide();
    {
        const QSignalBlocker quiet(line_);
        line_->clear();
    }
    book_.job().apply(edit);
    say_what_it_is();
    if (!was.empty()) {
        head_->clear();
        head_->hide();
    }
    emit written();
}

/// Whether the line is likely to be a slip and was not asked about yet.
bool BookLine::ask_about(const QString& text) {
    const core::Job& job = book_.job().job();
    const auto reading = core::survey::reading_of_line(text.toStdString(), job.book, job.unit, set_up());
    if (!reading || doubted_ == text) {
        return false;
    }
    QStringList remarks;
    for (const std::string& remark : core::survey::remarks_on(reading.value(), job.book, job.unit)) {
        remarks << text_of(remark);
    }
    if (remarks.empty()) {
        return false;
    }
    doubted_ = text;
    says_->setText(
        with_state(core::State::close,
                   remarks.join(QLatin1Char(' ')) + QLatin1Char(' ') + tr("Enter once more takes the line as it is."),
                   looks::tone_of(palette())));
    QAccessibleEvent event(says_, QAccessible::Alert);
    QAccessible::updateAccessibility(&event);
    return true;
}

/// What the line will be taken as, while it is typed.
void BookLine::say_what_it_is() {
    head_->setVisible(!head_->text().isEmpty());
    const QString text = line_->text();
    if (text.trimmed().isEmpty()) {
        say(tr("<b>A H1 1473.5</b> a tape tie · <b>height A H1 -212</b> plumb · <b>up A H1 -40</b> · more kinds: "
               "offset, plane, along, out, gauge, gap, depth, angle, slope"),
            false);
        return;
    }
    const core::Job& job = book_.job().job();
    const auto reading = core::survey::reading_of_line(text.toStdString(), job.book, job.unit, set_up());
    if (!reading) {
        say(text_of(reading.error().message).toHtmlEscaped(), false);
        return;
    }
    QString words = with_state(core::State::holds, taken_as(reading.value(), job), looks::tone_of(palette()));
    for (const std::string& remark : core::survey::remarks_on(reading.value(), job.book, job.unit)) {
        words += QStringLiteral("<br>") + with_state(core::State::close, text_of(remark), looks::tone_of(palette()));
    }
    say(words, false);
}

void BookLine::say(const QString& html, bool refusal) {
    says_->setText(refusal ? with_state(core::State::falls_short, html, looks::tone_of(palette())) : html);
    says_->setProperty("refusal", refusal);
    if (refusal) {
        QAccessibleEvent event(says_, QAccessible::Alert);
        QAccessible::updateAccessibility(&event);
    }
}

void BookLine::offer_names() {
    const QString begun = last_word(line_->text());
    const bool number = !begun.isEmpty() && (begun.front().isDigit() || begun.front() == QLatin1Char('-'));
    if (begun.isEmpty() || number || line_->cursorPosition() != line_->text().size()) {
        names_->popup()->hide();
        return;
    }
    names_->setCompletionPrefix(begun);
    const bool only_itself = names_->completionCount() == 1 && names_->currentCompletion() == begun;
    if (names_->completionCount() == 0 || only_itself) {
        names_->popup()->hide();
        return;
    }
    names_->complete();
}

void BookLine::complete(const QString& name) {
    const QString text = line_->text();
    const QString written = name.contains(QLatin1Char(' ')) ? QLatin1Char('"') + name + QLatin1Char('"') : name;
    line_->setText(text.left(text.size() - last_word(text).size()) + written + QLatin1Char(' '));
}

void BookLine::bring_back(int by) {
    const qsizetype to = std::clamp<qsizetype>(back_ + by, 0, written_.size());
    if (to == back_) {
        return;
    }
    if (back_ == written_.size()) {
        draft_ = line_->text();
    }
    back_ = to;
    line_->setText(back_ == written_.size() ? draft_ : written_[back_]);
}

void BookLine::correct(const std::string& id) {
    const core::Job& job = book_.job().job();
    const auto& readings = job.book.readings;
    const auto reading =
        std::find_if(readings.begin(), readings.end(), [&](const Reading& one) { return one.id == id; });
    if (reading == readings.end()) {
        return;
    }
    correcting_ = id;
    head_->setText(tr("Correct reading %1:").arg(reading - readings.begin() + 1));
    line_->setText(text_of(core::survey::line_of_reading(*reading, job.unit)));
    line_->setFocus();
    say_what_it_is();
}

void BookLine::leave_correction() {
    if (correcting()) {
        correcting_.clear();
        head_->clear();
        line_->clear();
        say_what_it_is();
    }
}

bool BookLine::eventFilter(QObject* watched, QEvent* event) {
    if (watched == line_ && event->type() == QEvent::KeyPress && !names_->popup()->isVisible()) {
        const int key = static_cast<QKeyEvent*>(event)->key();
        if (key == Qt::Key_Up || key == Qt::Key_Down) {
            bring_back(key == Qt::Key_Up ? -1 : 1);
            return true;
        }
        if (key == Qt::Key_Escape && correcting()) {
            leave_correction();
            return true;
        }
    }
    return QWidget::eventFilter(watched, event);
}

}  // namespace sillwright::app

#include "app/window/new_job_dialog.h"

#include <QButtonGroup>
#include <QComboBox>
#include <QDate>
#include <QDialogButtonBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QSpinBox>
#include <QVBoxLayout>
#include <utility>

#include "app/looks.h"
#include "core/typed.h"

namespace sillwright::app {

namespace {

constexpr int k_side_text = 24;
constexpr int k_side_height = 72;
constexpr int k_most_stations = 60;
constexpr int k_most_doors = 2;
constexpr int k_width = 560;

QLabel* label(const QString& text, bool bold = false) {
    auto* made = new QLabel(text);
    made->setFont(looks::font(looks::k_text, bold));
    made->setTextFormat(Qt::PlainText);
    made->setWordWrap(true);
    return made;
}

template <class Widget>
Widget* named(Widget* widget, const QString& name, const QString& spoken) {
    widget->setObjectName(name);
    widget->setAccessibleName(spoken);
    widget->setFont(looks::font(looks::k_text));
    widget->setMinimumHeight(looks::k_target);
    return widget;
}

/// A field that has a fault says so in its own words too, for who does not see the label.
void show_fault(QLineEdit* edit, QLabel* fault, const QString& sentence) {
    fault->setText(sentence);
    fault->setVisible(!sentence.isEmpty());
    edit->setAccessibleDescription(sentence);
}

}  // namespace

NewJobDialog::NewJobDialog(QWidget* parent)
    : QDialog(parent),
      unit_{named(new QComboBox, QStringLiteral("newUnit"), tr("Unit of a bare number"))},
      fault_{label({})} {
    setObjectName(QStringLiteral("newJobDialog"));
    setWindowTitle(tr("New job"));
    setFont(looks::font(looks::k_text));

    auto* page = new QWidget;
    auto* column = new QVBoxLayout(page);
    column->setSpacing(6);
    column->addWidget(label(tr("Which side of the car?"), true));
    column->addWidget(make_sides());
    column->addWidget(label(tr("A bare number is in"), true));
    unit_->addItem(tr("millimetres"), static_cast<int>(core::BareUnit::mm));
    unit_->addItem(tr("centimetres"), static_cast<int>(core::BareUnit::cm));
    unit_->addItem(tr("inches"), static_cast<int>(core::BareUnit::in));
    column->addWidget(unit_);
    vehicle_ = add_field(column, QStringLiteral("newVehicle"), tr("The car, as you call it"), tr("Estate A"));
    column->addSpacing(8);
    column->addWidget(label(tr("What is known already. Leave empty what is not.")));
    first_ = add_field(column, QStringLiteral("newFirst"), tr("First station, along from the origin"), tr("0"));
    last_ = add_field(column, QStringLiteral("newLast"), tr("Last station, along from the origin"), tr("1800"));
    stations_ = add_number(column, QStringLiteral("newStations"), tr("How many stations"), k_most_stations);
    doors_ = add_number(column, QStringLiteral("newDoors"), tr("How many doors on this side"), k_most_doors);
    sheet_ = add_field(column, QStringLiteral("newSheet"), tr("Thickness of the sheet"), tr("3"));
    column->addStretch(1);

    auto* scroll = new QScrollArea;
    scroll->setWidget(page);
    scroll->setWidgetResizable(true);
    scroll->setFrameShape(QFrame::NoFrame);
    scroll->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    fault_->setObjectName(QStringLiteral("newJobFault"));
    fault_->hide();

    auto* buttons = new QDialogButtonBox;
    auto* make = named(buttons->addButton(tr("Make the job"), QDialogButtonBox::AcceptRole), QStringLiteral("makeJob"),
                       tr("Make the job"));
    make->setDefault(true);
    named(buttons->addButton(tr("Cancel"), QDialogButtonBox::RejectRole), QStringLiteral("cancelNewJob"), tr("Cancel"));
    connect(buttons, &QDialogButtonBox::accepted, this, &NewJobDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &NewJobDialog::reject);

    auto* whole = new QVBoxLayout(this);
    whole->addWidget(scroll, 1);
    whole->addWidget(fault_);
    whole->addWidget(buttons);
    resize(k_width, page->sizeHint().height() + buttons->sizeHint().height() + 48);
}

QWidget* NewJobDialog::make_sides() {
    right_ = named(new QPushButton(tr("RIGHT SIDE")), QStringLiteral("newRight"), tr("Right side"));
    left_ = named(new QPushButton(tr("LEFT SIDE")), QStringLiteral("newLeft"), tr("Left side"));
    auto* sides = new QWidget;
    auto* row = new QHBoxLayout(sides);
    row->setContentsMargins(0, 0, 0, 0);
    auto* group = new QButtonGroup(this);
    for (QPushButton* side : {left_, right_}) {  // as seen from the driver's seat
        side->setCheckable(true);
        side->setFont(looks::font(k_side_text, true));
        side->setMinimumHeight(k_side_height);
        // A word besides the pressed look says which one is chosen.
        const QString word = side->text();
        connect(side, &QPushButton::toggled, side,
                [side, word](bool on) { side->setText(on ? QStringLiteral("✓ ") + word : word); });
        group->addButton(side);
        row->addWidget(side, 1);
    }
    return sides;
}

NewJobDialog::Field NewJobDialog::add_field(QVBoxLayout* column, const QString& name, const QString& text,
                                            const QString& example) {
    Field field{named(new QLineEdit, name, text), label({}, true)};
    field.edit->setPlaceholderText(tr("for example %1").arg(example));
    field.fault->setObjectName(name + QStringLiteral("Fault"));
    field.fault->hide();
    QLabel* heading = label(text);
    heading->setBuddy(field.edit);
    column->addWidget(heading);
    column->addWidget(field.edit);
    column->addWidget(field.fault);
    return field;
}

QSpinBox* NewJobDialog::add_number(QVBoxLayout* column, const QString& name, const QString& text, int most) {
    auto* number = named(new QSpinBox, name, text);
    number->setRange(0, most);
    number->setSpecialValueText(tr("not known yet"));
    QLabel* heading = label(text);
    heading->setBuddy(number);
    column->addWidget(heading);
    column->addWidget(number);
    return number;
}

core::NewJob NewJobDialog::answers() const {
    core::NewJob answers;
    answers.vehicle = vehicle_.edit->text().trimmed().toStdString();
    answers.side = left_->isChecked() ? core::Side::left : core::Side::right;
    answers.unit = static_cast<core::BareUnit>(unit_->currentData().toInt());
    answers.date = QDate::currentDate().toString(Qt::ISODate).toStdString();
    answers.first = first_.edit->text().trimmed().toStdString();
    answers.last = last_.edit->text().trimmed().toStdString();
    answers.stations = stations_->value();
    answers.doors = doors_->value();
    answers.sheet = sheet_.edit->text().trimmed().toStdString();
    return answers;
}

bool NewJobDialog::fields_read() {
    const core::BareUnit unit = answers().unit;
    QLineEdit* worst = nullptr;
    for (const Field& field : {first_, last_, sheet_}) {
        const QString text = field.edit->text().trimmed();
        QString sentence;
        if (!text.isEmpty()) {
            const auto entry = core::typed_entry(text.toStdString(), unit);
            sentence = entry ? QString() : QString::fromStdString(entry.error().message);
        }
        show_fault(field.edit, field.fault, sentence);
        worst = worst == nullptr && !sentence.isEmpty() ? field.edit : worst;
    }
    if (worst != nullptr) {
        worst->setFocus();
    }
    return worst == nullptr;
}

void NewJobDialog::accept() {
    fault_->hide();
    if (!right_->isChecked() && !left_->isChecked()) {
        fault_->setText(tr("Say which side of the car it is: press LEFT SIDE or RIGHT SIDE."));
        fault_->show();
        left_->setFocus();
        return;
    }
    if (!fields_read()) {
        return;
    }
    auto made = core::new_job(answers());
    if (!made) {
        fault_->setText(QString::fromStdString(made.error().message));
        fault_->show();
        return;
    }
    job_ = std::move(made).value();
    QDialog::accept();
}

}  // namespace sillwright::app

#pragma once

#include <QDialog>
#include <optional>

#include "core/edit/new_job.h"

class QComboBox;
class QLabel;
class QLineEdit;
class QPushButton;
class QSpinBox;
class QVBoxLayout;

namespace sillwright::app {

/// Asks what a new job needs: the side in large words, the unit, the car, and what is known already. All but
/// side and unit may be left empty. A number that cannot be read is told beside its field.
class NewJobDialog : public QDialog {
    Q_OBJECT

public:
    explicit NewJobDialog(QWidget* parent = nullptr);

    /// The job that was asked for, once the dialog was accepted.
    [[nodiscard]] const std::optional<core::Job>& job() const { return job_; }

public slots:
    void accept() override;

private:
    /// A field with its name and, below, what is wrong with it.
    struct Field {
        QLineEdit* edit = nullptr;
        QLabel* fault = nullptr;
    };
    [[nodiscard]] QWidget* make_sides();
    Field add_field(QVBoxLayout* column, const QString& name, const QString& label, const QString& example);
    QSpinBox* add_number(QVBoxLayout* column, const QString& name, const QString& label, int most);
    [[nodiscard]] core::NewJob answers() const;
    /// Tells what cannot be read beside its field; whether all can.
    bool fields_read();

    QPushButton* right_ = nullptr;
    QPushButton* left_ = nullptr;
    QComboBox* unit_;
    Field vehicle_, first_, last_, sheet_;
    QSpinBox* stations_ = nullptr;
    QSpinBox* doors_ = nullptr;
    QLabel* fault_;  ///< Of the answers together.
    std::optional<core::Job> job_;
};

}  // namespace sillwright::app

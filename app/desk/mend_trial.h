#pragma once

#include <QFrame>
#include <optional>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/job.h"

class QPushButton;

namespace sillwright::app {

class MarginNote;
class OpenJob;
class WrappedText;

/// A mend that is being tried: made as one step of the history, with the finding's margin before and after
/// side by side and the findings that fall short because of it. *Keep* leaves it, *Put back* undoes it. It
/// ends by itself when the history goes on or back from there.
class MendTrial : public QFrame {
    Q_OBJECT

public:
    explicit MendTrial(OpenJob& open, QWidget* parent = nullptr);

    /// Makes a finding's mend. False, with nothing changed, if the results are not those of the job as
    /// it is now or the mend cannot be made (which OpenJob::refused says).
    bool begin(const core::Finding& finding);
    [[nodiscard]] bool running() const { return running_; }

public slots:
    void keep();
    void put_back();

signals:
    /// Begun or ended.
    void changed();

private:
    void end();
    void show_results();
    void show_after(const std::vector<core::Finding>& after);

    OpenJob& open_;
    bool running_ = false;
    int step_ = 0;  ///< The history's index with the mend made.
    core::Finding finding_;
    std::vector<core::Finding> before_;

    WrappedText* heading_;
    MarginNote* note_before_;
    MarginNote* note_after_;
    WrappedText* effect_;
    QPushButton* keep_;
    QPushButton* put_back_;
};

/// "This makes 2 findings fall short: ...", or that nothing else does.
QString effect_words(const std::vector<core::Finding>& newly_short);

}  // namespace sillwright::app

#pragma once

#include <QObject>
#include <QThreadPool>
#include <cstdint>
#include <memory>
#include <optional>
#include <stop_token>
#include <vector>

#include "core/job.h"
#include "core/survey/results.h"

namespace sillwright::app {

class OpenJob;

/// What the measuring book of the open job says, computed anew whenever the book is another. At shop size it is there
/// at once, before the change is painted; a large book is computed in a thread of its own, and until then `current` is
/// false. Which reading would help most is looked for behind it.
class OpenBook : public QObject {
    Q_OBJECT

public:
    explicit OpenBook(OpenJob& open, QObject* parent = nullptr);
    ~OpenBook() override;

    /// Never null. Of an earlier book while `current` is false.
    [[nodiscard]] const core::survey::Results& results() const { return *results_; }
    [[nodiscard]] bool current() const { return current_; }
    /// Whether a computation runs, be it only for the next reading.
    [[nodiscard]] bool computing() const { return computing_; }
    [[nodiscard]] OpenJob& job() { return open_; }

signals:
    /// results() or current() are others.
    void changed();

private:
    struct Known;
    void follow();
    void compute(bool at_once);
    void take(std::uint64_t run, const std::shared_ptr<const core::survey::Results>& results, bool last);

    OpenJob& open_;
    std::shared_ptr<const core::survey::Results> results_;
    std::unique_ptr<Known> known_;  ///< What of the job the results are of.
    bool current_ = false;
    bool computing_ = false;
    double ms_per_reading_;  ///< Of the last computation without the next reading.
    QThreadPool threads_;
    std::stop_source stop_;
    std::uint64_t run_ = 0;
};

}  // namespace sillwright::app

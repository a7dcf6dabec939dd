#pragma once

#include <QObject>
#include <QThreadPool>
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <stop_token>

#include "app/link/nest_of_job.h"
#include "core/buck/buck.h"
#include "core/forming/forming.h"

namespace sillwright::core {
struct BuckPlan;
}

namespace sillwright::app {

class OpenJob;

/// What is cut for the buck of the open job, and how it lies on its boards: computed in a thread of its own while
/// somebody looks at it, better nests as they come, dropped when the buck is another.
class OpenBuck : public QObject {
    Q_OBJECT

public:
    using Make = std::function<geometry::Result<SharedWork>(const core::Evaluation&, const geometry::Watch&,
                                                            const std::function<void(SharedWork)>&)>;

    /// `make` is another one in tests alone.
    explicit OpenBuck(OpenJob& open, QObject* parent = nullptr, Make make = work_of_job);
    ~OpenBuck() override;

    /// The best so far; null before the first, or when the buck is another by now.
    [[nodiscard]] const SharedWork& work() const { return work_; }
    [[nodiscard]] bool computing() const { return computing_; }
    /// Whether it was stopped before its end.
    [[nodiscard]] bool stopped() const { return stopped_; }
    /// Why there is nothing, in a sentence; empty if there is or will be.
    [[nodiscard]] const QString& failure() const { return failure_; }

    /// Whether somebody looks: nothing is begun while nobody does.
    void want(bool wanted);
    /// Leaves what is found so far.
    void stop();
    /// Begins anew what was stopped.
    void go_on();

signals:
    void changed();
    /// Part done, 0 to 1.
    void progressed(double part);

private:
    /// What of the job the work is of.
    struct Key {
        std::shared_ptr<const core::BuckPlan> plan;
        core::Buck buck;
        std::vector<core::Bit> bits;
        friend bool operator==(const Key&, const Key&) = default;
    };
    void follow();
    void begin();
    void drop();
    void take(std::uint64_t run, const geometry::Result<SharedWork>& work, bool last);

    OpenJob& open_;
    Make make_;
    SharedWork work_;
    std::optional<Key> key_;  ///< Of the work that is there or is computed.
    QString failure_;
    QThreadPool threads_;
    std::stop_source stop_;
    std::uint64_t run_ = 0;
    bool wanted_ = false, computing_ = false, stopped_ = false;
};

}  // namespace sillwright::app

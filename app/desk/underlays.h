#pragma once

#include <QImage>
#include <QObject>
#include <QString>
#include <QThreadPool>
#include <cstdint>
#include <filesystem>
#include <map>
#include <memory>
#include <string>
#include <vector>

#include "app/drawings/photo_under.h"
#include "app/link/straightened_photo.h"
#include "core/job.h"
#include "core/survey/photo.h"
#include "core/survey/scan.h"

namespace sillwright::app {

class OpenBook;

/// A photo of the job with what became of it.
struct LaidPhoto {
    core::survey::Photo photo;
    core::survey::RectifiedPhoto rectified;
    QImage picture;  ///< Made smaller if it is very large; null if it cannot be read.
    double photo_per_picture = 1.0;
    std::optional<StraightenedPhoto> straight;
    QString failure;  ///< Why it cannot be read.
};

/// A scan of the job with what became of it.
struct LaidScan {
    core::survey::Scan scan;
    std::shared_ptr<const geometry::Mesh> mesh;  ///< In its own frame, millimetres; null if it cannot be read.
    core::survey::PlacedScan placed;
    QString failure;
};

struct Laid {
    std::vector<std::shared_ptr<const LaidPhoto>> photos;  ///< As the job's.
    std::vector<std::shared_ptr<const LaidScan>> scans;
};

/// Photos and scans of the open job: read, straightened and placed in a thread of their own whenever they, the
/// measuring book or the body are others; what has not changed is kept.
class Underlays : public QObject {
    Q_OBJECT

public:
    explicit Underlays(OpenBook& book, QObject* parent = nullptr);
    ~Underlays() override;

    /// Of an earlier value of the job while `computing`.
    [[nodiscard]] const Laid& laid() const { return laid_; }
    [[nodiscard]] bool computing() const { return computing_; }
    [[nodiscard]] OpenBook& book() { return book_; }
    /// Straightened photos of a station's section; of the car's side.
    [[nodiscard]] std::vector<PhotoUnder> of_section(const std::string& station) const;
    [[nodiscard]] std::vector<PhotoUnder> of_side() const;

signals:
    void changed();

private:
    struct Task;
    void follow();
    void take(std::uint64_t run, const std::shared_ptr<const Task>& done);
    [[nodiscard]] std::vector<PhotoUnder> pictures(core::survey::PhotoPlane plane, const std::string& station) const;

    OpenBook& book_;
    Laid laid_;
    std::map<const LaidPhoto*, QPixmap> pixmaps_;
    std::shared_ptr<const Task> known_;  ///< What laid_ is of.
    bool computing_ = false;
    std::uint64_t run_ = 0;
    QThreadPool threads_;
};

}  // namespace sillwright::app

#include "app/desk/underlays.h"

#include <QImageReader>
#include <utility>

#include "app/desk/open_book.h"
#include "app/desk/open_job.h"
#include "app/desk/photo_bar.h"
#include "core/drawn_loft.h"

namespace sillwright::app {

using core::survey::PhotoPlane;
using core::survey::PlacedPoint;

namespace {

bool same_places(const std::vector<PlacedPoint>& a, const std::vector<PlacedPoint>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const PlacedPoint& p, const PlacedPoint& q) {
        return p.name == q.name && p.at_mm == q.at_mm && p.covariance_mm2 == q.covariance_mm2;
    });
}

}  // namespace

/// What all is made of, and what was made of it.
struct Underlays::Task {
    core::Job job;
    core::survey::Solution solution;
    std::filesystem::path folder;
    Laid laid;

    [[nodiscard]] bool same_ground(const Task& other) const {
        return folder == other.folder && same_places(solution.points, other.solution.points) &&
               job.stations == other.job.stations && job.side == other.job.side &&
               job.zero_to_midplane == other.job.zero_to_midplane;
    }
    [[nodiscard]] bool same(const Task& other) const {
        const bool fitted =
            std::any_of(job.scans.begin(), job.scans.end(), [](const core::survey::Scan& scan) { return scan.fitted; });
        return same_ground(other) && job.photos == other.job.photos && job.scans == other.job.scans &&
               (!fitted || job.body == other.job.body);
    }

    void lay(const Task* before) {
        for (std::size_t i = 0; i < job.photos.size(); ++i) {
            laid.photos.push_back(lay_photo(job.photos[i], before));
        }
        for (const core::survey::Scan& scan : job.scans) {
            laid.scans.push_back(lay_scan(scan, before));
        }
    }

private:
    [[nodiscard]] std::shared_ptr<const LaidPhoto> lay_photo(const core::survey::Photo& photo, const Task* before) {
        auto made = std::make_shared<LaidPhoto>();
        made->photo = photo;
        for (const auto& old : before != nullptr ? before->laid.photos : laid.photos) {
            if (old->photo == photo && before != nullptr && same_ground(*before)) {
                return old;
            }
            if (old->photo.path == photo.path && old->photo.checksum == photo.checksum && !old->picture.isNull()) {
                made->picture = old->picture;
                made->photo_per_picture = old->photo_per_picture;
            }
        }
        if (made->picture.isNull()) {
            const QString file = QString::fromStdString((folder / photo.path).string());
            const auto read = read_picture(file);
            if (read) {
                made->picture = read.value().picture;
                made->photo_per_picture = read.value().photo_per_picture;
            } else {
                made->failure = QString::fromStdString(read.error().message);
            }
        }
        made->rectified = core::survey::rectify(job, photo, solution);
        made->straight = straighten(made->picture, made->photo_per_picture, made->rectified);
        return made;
    }

    [[nodiscard]] std::shared_ptr<const LaidScan> lay_scan(const core::survey::Scan& scan, const Task* before) const {
        auto made = std::make_shared<LaidScan>();
        made->scan = scan;
        for (const auto& old : before != nullptr ? before->laid.scans : laid.scans) {
            const bool here = before != nullptr && before->folder == folder;
            if (here && old->scan == scan && same_ground(*before) && (!scan.fitted || job.body == before->job.body)) {
                return old;
            }
            if (here && old->scan.path == scan.path && old->scan.checksum == scan.checksum &&
                old->scan.unit == scan.unit) {
                made->mesh = old->mesh;
            }
        }
        if (!made->mesh) {
            auto mesh = core::survey::read_scan(scan, folder);
            if (!mesh) {
                made->failure = QString::fromStdString(mesh.error().message);
                return made;
            }
            made->mesh = std::make_shared<const geometry::Mesh>(std::move(mesh).value());
        }
        const auto body = core::loft_of(job, job.body, false, "body");
        made->placed = core::survey::place_scan(job, scan, *made->mesh, solution, body ? &body.value() : nullptr);
        return made;
    }
};

Underlays::Underlays(OpenBook& book, QObject* parent) : QObject(parent), book_{book} {
    threads_.setMaxThreadCount(1);
    connect(&book_, &OpenBook::changed, this, &Underlays::follow);
    connect(&book_.job(), &OpenJob::job_changed, this, &Underlays::follow);
    connect(&book_.job(), &OpenJob::opened, this, &Underlays::follow);
    connect(&book_.job(), &OpenJob::saved_changed, this, &Underlays::follow);
    follow();
}

Underlays::~Underlays() {
    threads_.waitForDone();
}

void Underlays::follow() {
    OpenJob& open = book_.job();
    if (open.dragging()) {
        return;
    }
    if (open.job().photos.empty() && open.job().scans.empty() && laid_.photos.empty() && laid_.scans.empty()) {
        known_.reset();
        return;
    }
    auto task = std::make_shared<Task>();
    task->job = open.job();
    task->solution = book_.results().solution;
    task->folder = open.folder();
    if (known_ && task->same(*known_)) {
        return;
    }
    computing_ = true;
    threads_.start([this, task, before = known_, run = ++run_] {
        task->lay(before.get());
        QMetaObject::invokeMethod(
            this, [this, run, task] { take(run, task); }, Qt::QueuedConnection);
    });
    emit changed();
}

void Underlays::take(std::uint64_t run, const std::shared_ptr<const Task>& done) {
    if (run != run_) {
        return;
    }
    computing_ = false;
    known_ = done;
    laid_ = done->laid;
    std::map<const LaidPhoto*, QPixmap> pixmaps;
    for (const auto& photo : laid_.photos) {
        if (photo->straight) {
            const auto had = pixmaps_.find(photo.get());
            pixmaps[photo.get()] = had != pixmaps_.end() ? had->second : QPixmap::fromImage(photo->straight->picture);
        }
    }
    pixmaps_ = std::move(pixmaps);
    emit changed();
}

std::vector<PhotoUnder> Underlays::pictures(PhotoPlane plane, const std::string& station) const {
    std::vector<PhotoUnder> under;
    for (const auto& photo : laid_.photos) {
        if (photo->straight && photo->photo.plane == plane &&
            (plane == PhotoPlane::elevation || photo->photo.station == station)) {
            PhotoUnder one;
            one.picture = pixmaps_.at(photo.get());
            one.mm_per_pixel = photo->straight->mm_per_pixel;
            one.top_left_mm = photo->straight->top_left_mm;
            under.push_back(std::move(one));
        }
    }
    return under;
}

std::vector<PhotoUnder> Underlays::of_section(const std::string& station) const {
    return pictures(PhotoPlane::section, station);
}

std::vector<PhotoUnder> Underlays::of_side() const {
    return pictures(PhotoPlane::elevation, {});
}

}  // namespace sillwright::app

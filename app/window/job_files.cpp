#include "app/window/job_files.h"

#include <QDateTime>
#include <QFile>
#include <QFileInfo>
#include <QStandardPaths>
#include <QWidget>
#include <algorithm>
#include <set>
#include <system_error>
#include <utility>

#include "app/desk/open_job.h"
#include "app/window/file_questions.h"
#include "core/file_name.h"
#include "core/job_file.h"
#include "core/shape_files.h"
#include "geometry/file_text.h"
#include "geometry/sha256.h"

namespace sillwright::app {

namespace fs = std::filesystem;

namespace {

/// Larger than any job file that core reads.
constexpr std::uintmax_t k_most_bytes = 1ULL << 30;

QString words(const fs::path& path) {
    return QFile::decodeName(path.c_str());
}

QString file_name(const fs::path& path) {
    return words(path.filename());
}

QString time_of(const fs::path& path) {
    return QFileInfo(words(path)).lastModified().toString(QStringLiteral("d MMM yyyy hh:mm"));
}

/// Empty if it is missing.
std::string checksum_of(const fs::path& file) {
    const auto bytes = geometry::read_file(file, k_most_bytes);
    return bytes ? geometry::sha256(bytes.value()) : std::string();
}

bool same_file(const fs::path& a, const fs::path& b) {
    std::error_code none;
    return fs::weakly_canonical(a, none) == fs::weakly_canonical(b, none);
}

fs::path with_ending(fs::path file) {
    const QString ending = QLatin1String(JobFiles::k_ending);
    if (words(file.extension()).compare(ending, Qt::CaseInsensitive) != 0) {
        file += JobFiles::k_ending;
    }
    return fs::absolute(file).lexically_normal();
}

geometry::Result<core::Job> read_kept(const fs::path& place) {
    const auto text = geometry::read_file(place, k_most_bytes);
    return text ? core::parse_job(text.value(), place.string()) : geometry::Result<core::Job>(text.error());
}

/// A name, unlike any there, for a job that has none yet.
fs::path unnamed_in(const fs::path& folder) {
    const std::string start = QDateTime::currentDateTime().toString(QStringLiteral("yyyyMMdd-hhmmss")).toStdString();
    for (int number = 1;; ++number) {
        const fs::path file = folder / ("job-" + start + "-" + std::to_string(number) + JobFiles::k_ending);
        std::error_code none;
        if (unsaved_work::kept_of(file).empty() && !fs::exists(unsaved_work::lock_of(file), none)) {
            return file;
        }
    }
}

/// The names in `folder` of jobs without a file of which something is kept.
std::set<fs::path> unnamed_kept_in(const fs::path& folder) {
    std::set<fs::path> files;
    std::error_code none;
    for (fs::directory_iterator entry(folder, none), end; !none && entry != end; entry.increment(none)) {
        const std::string name = entry->path().filename().string();
        const std::size_t ending = name.find(JobFiles::k_ending);
        if (name.starts_with('.') && ending != std::string::npos) {
            const fs::path file = folder / (name.substr(1, ending - 1) + JobFiles::k_ending);
            if (!unsaved_work::kept_of(file).empty()) {
                files.insert(file);
            }
        }
    }
    return files;
}

}  // namespace

OwnPlaces OwnPlaces::usual() {
    const QString data = QStandardPaths::writableLocation(QStandardPaths::GenericDataLocation);
    return {{}, fs::path(QFile::encodeName(data).toStdString()) / "sillwright" / "unsaved"};
}

JobFiles::JobFiles(OpenJob& open, FileQuestions& questions, OwnPlaces places, QObject* parent)
    : QObject(parent),
      open_{open},
      questions_{questions},
      places_{std::move(places)},
      recent_{places_.settings_file},
      unsaved_{open} {
    connect(&open_, &OpenJob::saved_changed, this, &JobFiles::title_changed);
    connect(&open_, &OpenJob::opened, this, &JobFiles::title_changed);
    connect(&open_.history(), &QUndoStack::indexChanged, this, &JobFiles::title_changed);
    connect(&unsaved_, &UnsavedWork::failed, this, &JobFiles::warned);
}

JobFiles::~JobFiles() = default;

JobFiles::Lock JobFiles::lock(const fs::path& job_file) {
    Lock lock;
    lock.file = std::make_unique<QLockFile>(words(unsaved_work::lock_of(job_file)));
    lock.file->setStaleLockTime(0);  // a job may be open for days
    if (lock.file->tryLock()) {
        lock.hold = Hold::held;
        return lock;
    }
    qint64 process = 0;
    QString machine, program;
    if (lock.file->error() == QLockFile::LockFailedError && lock.file->getLockInfo(&process, &machine, &program)) {
        lock.hold = Hold::elsewhere;
        lock.owner = tr("process %1 on %2").arg(process).arg(machine);
    }
    lock.file.reset();
    return lock;
}

QString JobFiles::job_name() const {
    const QString vehicle = QString::fromStdString(open_.job().vehicle);
    return !vehicle.isEmpty() ? vehicle : open_.file().empty() ? tr("The job") : file_name(open_.file());
}

bool JobFiles::leave() {
    open_.drop();
    if (!open_.changed()) {
        return true;
    }
    switch (questions_.leave(job_name())) {
        case FileQuestions::Leaving::save:
            return save();
        case FileQuestions::Leaving::throw_away:
            return true;
        case FileQuestions::Leaving::stay:
            break;
    }
    return false;
}

void JobFiles::let_go() {
    unsaved_.forget();
    unsaved_.keep_at(std::nullopt);
    lock_.reset();
    on_disk_.clear();
}

void JobFiles::show_without_file(core::Job job, bool changed) {
    let_go();
    open_.open(std::move(job), {});
    if (changed) {
        open_.history().resetClean();
    }
    std::error_code none;
    fs::create_directories(places_.unsaved, none);
    const fs::path name = unnamed_in(places_.unsaved);
    Lock held = lock(name);
    if (held.hold != Hold::held) {
        emit warned(tr("Unsaved changes cannot be kept for the case that the program ends: the folder %1 cannot be "
                       "written to. Save the job early.")
                        .arg(words(places_.unsaved)));
        return;
    }
    lock_ = std::move(held.file);
    unsaved_.keep_at(unsaved_work::free_place_of(name));
}

bool JobFiles::ask_and_open() {
    if (!leave()) {
        return false;
    }
    const auto recent = recent_.list();
    const fs::path folder = !open_.file().empty() ? open_.file().parent_path()
                            : recent.empty()      ? fs::path()
                                                  : recent.front().file.parent_path();
    const auto file = questions_.job_to_open(folder);
    return file && take(*file);
}

bool JobFiles::open(const fs::path& file) {
    return leave() && take(file);
}

bool JobFiles::take(const fs::path& named) {
    const fs::path file = fs::absolute(named).lexically_normal();
    const std::string on_disk = checksum_of(file);  // before it is read: a change in between is noticed then
    auto job = core::read_job(file);
    if (!job) {
        questions_.say(QString::fromStdString(job.error().message));
        return false;
    }
    const bool again = lock_ && !open_.file().empty() && same_file(file, open_.file());
    Lock held;
    if (!again) {
        held = lock(file);
        if (held.hold == Hold::elsewhere &&
            !questions_.go_on(
                tr("%1 is open in another window of Sillwright already (%2). If you change it in both, the "
                   "one that saves last is asked before it writes over the other. Here, changes are "
                   "not kept for the case that the program ends.")
                    .arg(file_name(file), held.owner),
                tr("Open it all the same"))) {
            return false;
        }
    }
    std::unique_ptr<QLockFile> kept_lock = again ? std::move(lock_) : std::move(held.file);
    const bool here = again || held.hold == Hold::held;
    let_go();
    lock_ = std::move(kept_lock);
    on_disk_ = on_disk;
    open_.open(std::move(job).value(), file);
    recent_.add(file);
    if (here) {
        unsaved_.keep_at(offer_kept(file));
    } else if (held.hold == Hold::not_here) {
        emit warned(tr("The folder %1 cannot be written to: changes are not kept there for the case that the program "
                       "ends, and to save them you need another folder.")
                        .arg(words(file.parent_path())));
    }
    return true;
}

fs::path JobFiles::offer_kept(const fs::path& job_file) {
    for (const fs::path& place : unsaved_work::kept_of(job_file)) {
        auto kept = read_kept(place);
        if (!kept) {
            questions_.say(tr("Unsaved changes of %1 were kept, but cannot be read: %2 The file stays where it is.")
                               .arg(file_name(job_file), QString::fromStdString(kept.error().message)));
            continue;
        }
        std::error_code none;
        if (kept.value() == open_.job()) {
            fs::remove(place, none);  // nothing in it that is not saved
            continue;
        }
        const QString sentence =
            tr("Sillwright ended without saving %1. The unsaved changes are of %2, the saved job is "
               "of %3.")
                .arg(file_name(job_file), time_of(place), time_of(job_file));
        switch (questions_.kept(sentence, true)) {
            case FileQuestions::Kept::take:
                open_.apply(core::Edit{std::move(kept).value(), tr("take unsaved changes").toStdString()});
                return place;
            case FileQuestions::Kept::keep_saved:
                fs::remove(place, none);
                break;
            case FileQuestions::Kept::later:
                break;
        }
    }
    return unsaved_work::free_place_of(job_file);
}

bool JobFiles::offer_unnamed() {
    for (const fs::path& name : unnamed_kept_in(places_.unsaved)) {
        Lock held = lock(name);
        if (held.hold != Hold::held) {
            continue;  // its window is open
        }
        for (const fs::path& place : unsaved_work::kept_of(name)) {
            auto kept = read_kept(place);
            if (!kept) {
                questions_.say(tr("A job that was never saved was kept, but cannot be read: %1 The file stays where it "
                                  "is.")
                                   .arg(QString::fromStdString(kept.error().message)));
                continue;
            }
            const QString vehicle = QString::fromStdString(kept.value().vehicle);
            const QString sentence =
                tr("Sillwright ended without saving %1. It was last changed on %2.")
                    .arg(vehicle.isEmpty() ? tr("a job that has no name yet") : vehicle, time_of(place));
            const auto answer = questions_.kept(sentence, false);
            std::error_code none;
            if (answer == FileQuestions::Kept::keep_saved) {
                fs::remove(place, none);
            } else if (answer == FileQuestions::Kept::take && leave()) {
                let_go();
                open_.open(std::move(kept).value(), {});
                open_.history().resetClean();
                lock_ = std::move(held.file);
                unsaved_.keep_at(place);
                return true;
            }
        }
    }
    return false;
}

bool JobFiles::save() {
    open_.drop();
    return open_.file().empty() ? save_as() : save_to(open_.file());
}

bool JobFiles::save_as() {
    open_.drop();
    fs::path suggestion = open_.file();
    if (suggestion.empty()) {
        const auto recent = recent_.list();
        const fs::path folder =
            recent.empty()
                ? fs::path(QFile::encodeName(QStandardPaths::writableLocation(QStandardPaths::DocumentsLocation))
                               .toStdString())
                : recent.front().file.parent_path();
        suggestion = folder / (core::safe_file_name(job_name().toStdString()) + k_ending);
    }
    while (const auto named = questions_.name_for(suggestion)) {
        const fs::path file = with_ending(*named);
        if (!open_.file().empty() && same_file(file, open_.file())) {
            return save_to(open_.file());
        }
        std::error_code none;
        if (!fs::exists(file, none) ||
            questions_.go_on(
                tr("There is a file %1 already. The job in it is replaced; as it is now it stays beside it as "
                   "%1~.")
                    .arg(words(file)),
                tr("Replace it"))) {
            return save_elsewhere(file);
        }
        suggestion = file;
    }
    return false;
}

bool JobFiles::save_to(const fs::path& file) {
    std::error_code none;
    if (fs::exists(file, none) && checksum_of(file) != on_disk_ &&
        !questions_.go_on(
            tr("%1 was changed by somebody else since it was opened here (%2). Saving writes over that; as it "
               "is now it stays beside it as %1~.")
                .arg(file_name(file), time_of(file)),
            tr("Write over it"))) {
        return false;
    }
    if (!write(file)) {
        return false;
    }
    unsaved_.forget();
    open_.saved_as(file);
    return true;
}

bool JobFiles::save_elsewhere(const fs::path& file) {
    Lock held = lock(file);
    if (held.hold == Hold::elsewhere) {
        questions_.say(
            tr("%1 is open in another window of Sillwright (%2), so it was not written. Choose another name.")
                .arg(words(file), held.owner));
        return false;
    }
    if (!same_file(open_.folder(), file.parent_path())) {
        if (const auto copied = core::copy_shape_files(open_.job(), open_.folder(), file.parent_path()); !copied) {
            questions_.say(tr("Not saved. %1").arg(QString::fromStdString(copied.error().message)));
            return false;
        }
    }
    if (!write(file)) {
        return false;
    }
    unsaved_.forget();
    lock_ = std::move(held.file);
    open_.saved_as(file);
    unsaved_.keep_at(held.hold == Hold::held ? std::optional(unsaved_work::free_place_of(file)) : std::nullopt);
    return true;
}

bool JobFiles::write(const fs::path& file) {
    if (const auto saved = core::save_job(open_.job(), file); !saved) {
        questions_.say(tr("Not saved: %1").arg(QString::fromStdString(saved.error().message)));
        return false;
    }
    on_disk_ = geometry::sha256(core::job_text(open_.job()));
    recent_.add(file);
    return true;
}

bool JobFiles::close() {
    if (!leave()) {
        return false;
    }
    let_go();
    return true;
}

QString JobFiles::title() const {
    QStringList parts{job_name()};
    const QString revision = QString::fromStdString(open_.job().revision);
    parts << (revision.isEmpty() ? tr("skirt") : tr("skirt, revision %1").arg(revision));
    parts << (open_.changed() ? tr("changed") : open_.file().empty() ? tr("not saved yet") : tr("saved"));
    return parts.join(QStringLiteral(" · "));
}

void JobFiles::show_title_on(QWidget* window) {
    const auto show = [this, window] {
        QString shown = title();
        shown.replace(QStringLiteral("[*]"), QStringLiteral("[*][*]"));  // Qt's own mark; twice it means itself
        window->setWindowTitle(shown + QStringLiteral("[*]"));
        window->setWindowModified(open_.changed());
        window->setWindowFilePath(words(open_.file()));
    };
    connect(this, &JobFiles::title_changed, window, show);
    show();
}

}  // namespace sillwright::app

#include "app/window/recent_jobs.h"

#include <QFile>
#include <QSettings>
#include <QStringList>
#include <memory>
#include <system_error>
#include <utility>

namespace sillwright::app {

namespace {

constexpr const char* k_key = "recent_jobs";

std::unique_ptr<QSettings> settings(const QString& file) {
    return file.isEmpty() ? std::make_unique<QSettings>(QSettings::IniFormat, QSettings::UserScope,
                                                        QStringLiteral("sillwright"), QStringLiteral("sillwright"))
                          : std::make_unique<QSettings>(file, QSettings::IniFormat);
}

}  // namespace

RecentJobs::RecentJobs(QString settings_file) : settings_file_{std::move(settings_file)} {}

std::vector<RecentJobs::Entry> RecentJobs::list() const {
    std::vector<Entry> entries;
    for (const QString& name : settings(settings_file_)->value(QLatin1String(k_key)).toStringList()) {
        const std::filesystem::path file = QFile::encodeName(name).toStdString();
        std::error_code none;
        entries.push_back({file, std::filesystem::is_regular_file(file, none)});
    }
    return entries;
}

void RecentJobs::add(const std::filesystem::path& file) {
    const auto kept = settings(settings_file_);
    QStringList names = kept->value(QLatin1String(k_key)).toStringList();
    const QString name = QFile::decodeName(file.c_str());
    names.removeAll(name);
    names.prepend(name);
    kept->setValue(QLatin1String(k_key), QStringList(names.mid(0, k_most)));
}

}  // namespace sillwright::app

#pragma once

#include <QObject>
#include <QThreadPool>
#include <filesystem>
#include <stop_token>
#include <string>
#include <vector>

#include "app/core_link.h"

namespace sillwright::app {

/// Checks a job file and writes its handover folder, in a thread of its own.
class FolderWriter : public QObject {
    Q_OBJECT

public:
    explicit FolderWriter(CoreLink core, QObject* parent = nullptr);
    ~FolderWriter() override;

    /// Precondition: it is not writing.
    void write(const std::filesystem::path& job_file, const std::filesystem::path& folder);
    /// As soon as that can be: the folder is there whole, or not at all.
    void stop();
    [[nodiscard]] bool writing() const { return writing_; }

signals:
    void progressed(double part);
    void written(const sillwright::app::HandedOver& made);
    /// Why there is no folder, in a sentence.
    void failed(const QString& sentence);

private:
    CoreLink core_;
    QThreadPool threads_;
    std::stop_source stop_;
    bool writing_ = false;
};

}  // namespace sillwright::app

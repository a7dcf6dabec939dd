#pragma once

#include <QThreadPool>
#include <QWidget>
#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "app/link/handover_of_job.h"

class QLabel;
class QProgressBar;
class QPushButton;
class QStackedWidget;

namespace sillwright::app {

class OpenJob;
class PageChoice;

/// What the stage Handover shows: what the folder will hold, with what is missing and why; the findings that are open;
/// the settings of its papers. Below it the folder is written, and how far that is.
class HandoverDesk : public QWidget {
    Q_OBJECT

public:
    using List = std::function<std::vector<FolderItem>(const core::Evaluation&)>;

    /// `list` is another one in tests alone.
    explicit HandoverDesk(OpenJob& open, QWidget* parent = nullptr, List list = handover_of_job);
    ~HandoverDesk() override;

    /// One more tab, behind the others.
    void add_page(QWidget* page, const QString& name, const QString& object_name);

    /// The folder is being written.
    void show_begun();
    void show_progress(double part);
    void show_stopping();
    void show_written(const std::filesystem::path& folder, const std::vector<std::string>& notes);
    void show_failure(const QString& sentence);
    /// The folder that was written last; empty before that.
    [[nodiscard]] const std::filesystem::path& folder() const { return folder_; }

signals:
    void write_wanted();
    void stop_wanted();
    void open_wanted(const QString& folder);

protected:
    void showEvent(QShowEvent* event) override;
    void changeEvent(QEvent* event) override;

private:
    [[nodiscard]] QWidget* make_foot();
    void follow();
    void take(std::uint64_t run, std::vector<FolderItem> items);
    void show_items();
    void show_findings();
    void show_writing(bool writing);

    OpenJob& open_;
    List list_;
    PageChoice* choice_;
    QStackedWidget* pages_;
    QLabel* items_words_;
    QLabel* findings_words_;
    QPushButton* write_;
    QPushButton* stop_;
    QPushButton* open_folder_;
    QProgressBar* progress_;
    QLabel* result_;
    std::filesystem::path folder_;

    std::vector<FolderItem> items_;
    bool listed_ = false;                                ///< Of any results.
    std::shared_ptr<const core::Evaluation> listed_of_;  ///< Those that the list is of, or will be.
    QThreadPool threads_;
    std::uint64_t run_ = 0;
};

}  // namespace sillwright::app

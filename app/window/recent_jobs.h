#pragma once

#include <QString>
#include <filesystem>
#include <vector>

namespace sillwright::app {

/// The job files that were opened or saved last, kept from one start to the next.
class RecentJobs {
public:
    /// `settings_file`: where they are kept; empty for the program's usual settings.
    explicit RecentJobs(QString settings_file = {});

    struct Entry {
        std::filesystem::path file;
        bool there = false;  ///< A missing one stays in the list: a disk may only be unplugged.
    };
    /// The newest first.
    [[nodiscard]] std::vector<Entry> list() const;
    void add(const std::filesystem::path& file);

    static constexpr int k_most = 10;

private:
    QString settings_file_;
};

}  // namespace sillwright::app

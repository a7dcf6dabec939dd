#include "app/print/papers.h"

#include <QCoreApplication>
#include <QThread>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <utility>

#include "app/drawings/measuring_sheet_print.h"
#include "app/print/figures.h"
#include "app/print/html.h"
#include "app/print/page_setter.h"
#include "app/print/tiles.h"
#include "core/handover/templates.h"
#include "core/handover/text_page.h"
#include "core/survey/measuring_sheet.h"
#include "core/survey/results.h"

namespace sillwright::app::print {

using core::HandoverFile;
using geometry::Error;
using geometry::ErrorCode;
using geometry::Result;

namespace {

std::string two_digits(std::size_t number) {
    return (number < 10 ? "0" : "") + std::to_string(number);
}

/// Figures are drawings of the window's, which only its own thread may make: the work is done there, and waited for.
template <class Work>
auto in_window_thread(const Work& work) -> decltype(work()) {
    QCoreApplication* const application = QCoreApplication::instance();
    if (QThread::currentThread() == application->thread()) {
        return work();
    }
    std::optional<decltype(work())> made;
    QMetaObject::invokeMethod(
        application, [&] { made.emplace(work()); }, Qt::BlockingQueuedConnection);
    return std::move(*made);
}

/// Made and taken apart in the window's thread.
std::shared_ptr<Figures> figures_of(const core::Evaluation& evaluation) {
    const auto take_apart = [](Figures* figures) {
        in_window_thread([figures] {
            delete figures;
            return true;
        });
    };
    return in_window_thread([&] { return std::shared_ptr<Figures>(new Figures(evaluation), take_apart); });
}

/// A file that is still to be made.
struct FileToMake {
    std::string path;
    std::function<Result<std::string>()> bytes;
};

Result<std::vector<HandoverFile>> made(const std::vector<FileToMake>& files, const geometry::Watch& watch) {
    std::vector<HandoverFile> all;
    for (const FileToMake& file : files) {
        if (watch.stop.stop_requested()) {
            return Error{ErrorCode::stopped, "Stopped: nothing was written."};
        }
        auto bytes = in_window_thread(file.bytes);
        if (!bytes) {
            return Error{bytes.error().code, file.path + ": " + bytes.error().message};
        }
        all.push_back({file.path, std::move(bytes).value()});
        if (watch.progress) {
            watch.progress(static_cast<double>(all.size()) / static_cast<double>(files.size()));
        }
    }
    return all;
}

}  // namespace

Result<std::vector<HandoverFile>> paper_files(const core::Evaluation& evaluation, const core::BuckWork& work,
                                              const geometry::Watch& watch) {
    return paper_files(evaluation, core::documents(evaluation, work), watch);
}

Result<std::vector<HandoverFile>> paper_files(const core::Evaluation& evaluation,
                                              const std::vector<core::Document>& documents,
                                              const geometry::Watch& watch) {
    const core::Job& job = evaluation.job;
    const JobHead head = head_of(job);
    const std::shared_ptr<Figures> figures = figures_of(evaluation);
    const FigureSource source = figures->source();
    const core::Templates templates = core::templates(evaluation);
    std::vector<FileToMake> files;
    for (std::size_t i = 0; i < documents.size(); ++i) {
        files.push_back({"papers/" + two_digits(i + 1) + "_" + documents[i].stem + ".pdf",
                         [&, i] { return document_pdf(documents[i], head, job.papers.pages, source); }});
    }
    if (!job.book.readings.empty() && evaluation.survey) {
        const PageSize size = job.papers.pages == core::PaperSize::letter ? PageSize::letter : PageSize::a4;
        files.push_back({"papers/measuring_book.pdf", [&, size]() -> Result<std::string> {
                             return measuring_sheet_pdf(core::survey::filled_sheet(job, evaluation.survey->solution),
                                                        size);
                         }});
    }
    for (const core::Template& one : templates.all) {
        files.push_back(
            {"templates/" + one.stem + ".pdf", [&] { return template_pdf(one, head, job.papers.templates); }});
    }
    files.push_back({"report.html", [&]() -> Result<std::string> { return report_html(documents, head, source); }});
    return made(files, watch);
}

}  // namespace sillwright::app::print

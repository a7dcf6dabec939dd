#include "app/print/papers.h"

#include <string>
#include <utility>

#include "app/drawings/measuring_sheet_print.h"
#include "app/print/figures.h"
#include "app/print/html.h"
#include "app/print/page_setter.h"
#include "app/print/tiles.h"
#include "core/handover/templates.h"
#include "core/survey/measuring_sheet.h"
#include "core/survey/results.h"

namespace sillwright::app::print {

using core::HandoverFile;
using geometry::Error;
using geometry::Result;

namespace {

std::string two_digits(std::size_t number) {
    return (number < 10 ? "0" : "") + std::to_string(number);
}

Error led_by(const std::string& path, const Error& error) {
    return {error.code, path + ": " + error.message};
}

}  // namespace

Result<std::vector<HandoverFile>> paper_files(const core::Evaluation& evaluation, const core::BuckWork& work) {
    return paper_files(evaluation, core::documents(evaluation, work));
}

Result<std::vector<HandoverFile>> paper_files(const core::Evaluation& evaluation,
                                              const std::vector<core::Document>& documents) {
    const core::Job& job = evaluation.job;
    const JobHead head = head_of(job);
    Figures figures(evaluation);
    const FigureSource source = figures.source();
    std::vector<HandoverFile> files;
    for (std::size_t i = 0; i < documents.size(); ++i) {
        const std::string path = "papers/" + two_digits(i + 1) + "_" + documents[i].stem + ".pdf";
        auto pdf = document_pdf(documents[i], head, job.papers.pages, source);
        if (!pdf) {
            return led_by(path, pdf.error());
        }
        files.push_back({path, std::move(pdf).value()});
    }
    if (!job.book.readings.empty() && evaluation.survey) {
        const PageSize size = job.papers.pages == core::PaperSize::letter ? PageSize::letter : PageSize::a4;
        files.push_back({"papers/measuring_book.pdf",
                         measuring_sheet_pdf(core::survey::filled_sheet(job, evaluation.survey->solution), size)});
    }
    for (const core::Template& one : core::templates(evaluation).all) {
        const std::string path = "templates/" + one.stem + ".pdf";
        auto pdf = template_pdf(one, head, job.papers.templates);
        if (!pdf) {
            return led_by(path, pdf.error());
        }
        files.push_back({path, std::move(pdf).value()});
    }
    files.push_back({"report.html", report_html(documents, head, source)});
    return files;
}

}  // namespace sillwright::app::print

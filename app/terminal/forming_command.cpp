#include "app/terminal/forming_command.h"

#include <algorithm>
#include <string>
#include <vector>

#include "app/terminal/findings_text.h"
#include "app/terminal/page.h"
#include "app/terminal/plain_text.h"
#include "app/terminal/run.h"
#include "app/terminal/standard_streams.h"
#include "core/evaluate.h"
#include "core/finding_words.h"
#include "core/forming/forming_sheet.h"

namespace sillwright::app::terminal {

namespace {

/// Columns of a line's name, and of its indent.
constexpr std::size_t k_name = 32;
constexpr std::size_t k_indent = 2;
/// In a narrow terminal a name takes less than half of the line.
constexpr std::size_t k_name_share = 2;

std::string sheet_text(const std::vector<core::SheetPart>& parts, const TextLook& look) {
    Page page(look);
    const std::size_t inset = std::min(k_name, look.width / k_name_share);
    for (const core::SheetPart& part : parts) {
        page.title(part.title);
        for (const core::Input& line : part.lines) {
            page.paragraph(std::string(k_indent, ' ') + line.name + " ", line.value,
                           std::max(inset, k_indent + columns(line.name) + 1));
        }
        for (const std::string& note : part.notes) {
            page.paragraph("", note, k_indent);
        }
    }
    return page.text();
}

}  // namespace

ExitCode run(const FormingSheet& command, const CoreLink& core) {
    auto checked = core.check(command.job);
    if (!checked) {
        return fail(checked.error());
    }
    CheckedJob forming = std::move(checked).value();
    std::erase_if(forming.findings, [](const core::Finding& one) { return one.stage != core::Stage::forming; });
    const TextLook look = look_of_standard_output();
    const std::string sheet = sheet_text(core::forming_sheet(forming.job, *forming.evaluation->forming), look);
    const auto written = write_out(findings_text(forming, look) + "\n" + sheet);
    return written ? exit_code_of(forming.findings) : fail(written.error());
}

}  // namespace sillwright::app::terminal

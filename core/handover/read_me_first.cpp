#include "core/handover/read_me_first.h"

#include <algorithm>
#include <string_view>
#include <utility>

#include "core/buck/rib_sheet.h"
#include "core/finding_words.h"
#include "core/handover/findings_file.h"
#include "core/handover/text_page.h"

namespace sillwright::core {

namespace {

constexpr std::string_view k_bullet = "  - ";

/// What a file is for; empty for one that its giver must explain.
std::string_view use_of(const std::string& path) {
    constexpr std::pair<std::string_view, std::string_view> k_uses[]{
        {"outlines/all_stations.dxf", "all rib outlines side by side, at the part's own size"},
        {"outlines/", "the rib outline of one station, at the part's own size"},
        {"buck/cut_list.csv", "what is cut for the buck, part by part"},
        {"buck/buck.step", "the buck as it stands, at the plug's size, edges not bevelled"},
        {"buck/plug.stl", "the plug's surface, at the plug's size, in the buck's frame"},
        {"buck/", "a sheet for the router, at the buck's own size"},
        {"sections/", "a section of the finished part, or its flange laid flat"},
        {"templates/not_made.txt", "templates that could not be made, and why"},
        {"templates/", "to be laid on the part: print at 100 %, measure its scale bar first"},
        {"papers/", "one of the papers, for whoever does that step"},
        {"report.html", "all papers as one page for a browser"},
        {"part.step", "the part as a solid, x, y, z of the car"},
        {"part.stl", "the part as a closed mesh, x, y, z of the car, millimetres"},
        {"mounts.csv", "the mounts as a table; an empty field is not measured"},
        {"findings.txt", "every finding with its numbers, formula and source"},
        {"findings.json", "the same for programs, at full precision"},
        {"cautions.txt", "read before work is started"},
    };
    for (const auto& [start, use] : k_uses) {
        if (path.starts_with(start)) {
            return use;
        }
    }
    return "";
}

void add_side(TextPage& page, const Job& job) {
    const bool right = job.side == Side::right;
    page.banner(right ? "RIGHT SIDE" : "LEFT SIDE");
    page.paragraph(std::string("The ") + (right ? "right" : "left") +
                   "-hand sill, as the driver sees it. The part for the other side is not in here: " +
                   "holes and doors differ from side to side, so it needs a job of its own.");
    page.blank();
}

void add_frame(TextPage& page, const Job& job) {
    page.heading("Units and frame");
    page.paragraph(
        "Millimetres everywhere. Along runs rearward, out away from the car, up upward, all from the job's "
        "own origin. Of the car: x rearward, y to the driver's right, z up.");
    page.paragraph(job.zero_to_midplane ? "y is measured from the car's mid-plane."
                                        : "The distance from the line where out is zero to the mid-plane is NOT "
                                          "MEASURED: y in part.step and part.stl starts at that line, and mounts.csv "
                                          "leaves it empty.");
    page.blank();
}

void add_state(TextPage& page, const std::vector<Finding>& sorted, State state, std::string_view heading) {
    if (std::none_of(sorted.begin(), sorted.end(), [&](const Finding& one) { return one.state == state; })) {
        return;
    }
    page.heading(heading);
    for (const Finding& finding : sorted) {
        if (finding.state != state) {
            continue;
        }
        std::string words = finding.title;
        const std::string margin = numbers_of(finding).margin;
        words += margin.empty() ? "" : ", margin " + margin;
        words += finding.place.words.empty() ? "" : ", " + finding.place.words;
        for (const std::string& missing : finding.missing) {
            words += "; measure " + missing;
        }
        page.paragraph(words, k_bullet);
    }
    page.blank();
}

/// The warning about part size stands further up.
void add_notes(TextPage& page, std::vector<std::string> notes) {
    std::erase(notes, k_part_size_warning);
    if (notes.empty()) {
        return;
    }
    page.heading("Notes");
    for (const std::string& note : notes) {
        page.paragraph(note, k_bullet);
    }
    page.blank();
}

void add_assumptions(TextPage& page, const Job& job, bool warned) {
    std::vector<std::string> assumed;
    if (warned) {
        assumed.emplace_back(
            "Shrinkage of the mould and of the sheet, or the skin on the buck, is not known: all sizes are "
            "those of the finished part.");
    }
    if (!job.forming.mould) {
        assumed.emplace_back("The sheet has the same thickness everywhere; a formed sheet has not.");
    }
    if (!job.survey_sd) {
        assumed.emplace_back("How well the car was measured is not stated.");
    }
    if (!job.skirt.forming_sd) {
        assumed.emplace_back("How true the formed part comes out is not stated.");
    }
    if (!job.skirt.paint) {
        assumed.emplace_back("The paint's thickness is not stated.");
    }
    for (const Piece& piece : job.skirt.pieces) {
        if (piece.flange.making == FlangeMaking::bent_after && !piece.file) {
            assumed.push_back("Piece " + piece.name + ": " + k_bent_after_note);
        }
    }
    if (assumed.empty()) {
        return;
    }
    page.heading("Assumed");
    for (const std::string& words : assumed) {
        page.paragraph(words, k_bullet);
    }
    page.blank();
}

}  // namespace

std::string read_me_first(const Job& job, const std::vector<Finding>& findings, const HandoverContents& contents,
                          const JobFileMark& job_file) {
    TextPage page;
    page.heading("READ ME FIRST: " + job_heading(job));
    page.blank();
    add_side(page, job);
    const bool warned =
        std::find(contents.notes.begin(), contents.notes.end(), k_part_size_warning) != contents.notes.end();
    if (warned) {
        page.paragraph(k_part_size_warning);
        page.blank();
    }
    page.paragraph("From job file " + job_file.name + ", SHA-256 " + job_file.sha256 + ".");
    page.paragraph(count_sentence(findings));
    page.blank();
    const std::vector<Finding> sorted = worst_first(findings);
    add_state(page, sorted, State::falls_short, "Falls short");
    add_state(page, sorted, State::not_measured, "Not measured");
    add_notes(page, contents.notes);
    add_assumptions(page, job, warned);
    add_frame(page, job);
    page.heading("What is in here");
    for (const HandoverFile& file : contents.files) {
        const std::string_view use = use_of(file.path);
        page.paragraph(file.path + (use.empty() ? "" : ": " + std::string(use)), k_bullet);
    }
    page.paragraph("manifest.txt: SHA-256 of each of these files; sha256sum -c manifest.txt checks them", k_bullet);
    page.blank();
    page.paragraph(
        "Do not change these files: change the job, and write the folder again. Files of your own in this "
        "folder are kept.");
    return page.text();
}

}  // namespace sillwright::core

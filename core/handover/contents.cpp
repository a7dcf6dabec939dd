#include "core/handover/contents.h"

#include <set>
#include <utility>

#include "core/buck/buck_plan.h"
#include "core/buck/buck_solid.h"
#include "core/buck/buck_work.h"
#include "core/buck/flange_pattern.h"
#include "core/buck/plug_mesh.h"
#include "core/buck/rib_sheet.h"
#include "core/buck/section_drawings.h"
#include "core/buck/sheet_drawing.h"
#include "core/buck/station_outline.h"
#include "core/evaluate.h"
#include "core/handover/cautions.h"
#include "core/handover/findings_file.h"
#include "core/handover/mounts_csv.h"
#include "core/handover/read_me_first.h"
#include "core/handover/text_page.h"
#include "core/sill_frame.h"
#include "core/skirt/piece_solid.h"
#include "geometry/dxf_file.h"
#include "geometry/kernel/placement.h"
#include "geometry/kernel/step_file.h"
#include "geometry/mesh_file.h"
#include "geometry/svg_file.h"

namespace sillwright::core {

using geometry::Error;
using geometry::ErrorCode;
using geometry::Result;
using geometry::Status;

namespace {

/// How near part.step is to the loft: a tenth of the finest cut a router makes.
constexpr geometry::Length k_solid_fit = geometry::millimetres(0.01);

Status add_drawing(HandoverContents& contents, const std::string& path, const geometry::Drawing& drawing,
                   const geometry::DxfOptions& options) {
    auto text = geometry::dxf_text(drawing, options);
    if (!text) {
        return Error{text.error().code, path + ".dxf: " + text.error().message};
    }
    contents.files.push_back({path + ".dxf", std::move(text).value()});
    return std::monostate{};
}

void add_notes(HandoverContents& contents, const std::vector<std::string>& notes) {
    contents.notes.insert(contents.notes.end(), notes.begin(), notes.end());
}

/// Ribs at the part's size, for want of what a buck's size hangs on.
Status add_outlines(HandoverContents& contents, const Job& job, const CarModel& car) {
    const StationOutlines outlines = station_outlines(job, &car);
    for (const NoOutline& refused : outlines.refused) {
        contents.notes.push_back("No rib outline. " + refused.why);
    }
    if (outlines.outlines.empty()) {
        return std::monostate{};
    }
    contents.notes.insert(contents.notes.begin(), k_part_size_warning);
    const auto each = rib_sheets(job, outlines.outlines);
    if (!each) {
        return each.error();
    }
    const auto all = all_ribs_sheet(job, outlines.outlines);
    if (!all) {
        return all.error();
    }
    std::vector<RibSheet> sheets = each.value();
    sheets.push_back(all.value());
    for (const RibSheet& sheet : sheets) {
        if (auto added = add_drawing(contents, "outlines/" + sheet.stem, sheet.drawing, {}); !added) {
            return added;
        }
        add_notes(contents, sheet.notes);
    }
    return std::monostate{};
}

/// Of each piece that has ribs; a file for each where there are several.
Status add_plugs(HandoverContents& contents, const Evaluation& evaluation) {
    std::size_t count = 0;
    for (const PieceBuck& buck : evaluation.buck->pieces) {
        if (buck.ribs.empty()) {
            continue;
        }
        const auto mesh = plug_mesh(evaluation.job, evaluation.car, buck);
        if (!mesh) {
            return mesh.error();
        }
        auto bytes =
            geometry::mesh_bytes(mesh.value(), geometry::MeshFormat::stl_binary, geometry::FileUnit::millimetre);
        if (!bytes) {
            return bytes.error();
        }
        const std::string number = count == 0 ? "" : "_" + std::to_string(count + 1);
        contents.files.push_back({"buck/plug" + number + ".stl", std::move(bytes).value()});
        ++count;
    }
    return std::monostate{};
}

Status add_buck(HandoverContents& contents, const Evaluation& evaluation, const BuckWork& work) {
    const Job& job = evaluation.job;
    if (work.parts.empty()) {
        return add_outlines(contents, job, evaluation.car);
    }
    const auto sheets = sheet_drawings(job, work.parts, work.nesting);
    if (!sheets) {
        return sheets.error();
    }
    for (const SheetDrawing& sheet : sheets.value()) {
        if (auto added = add_drawing(contents, "buck/" + sheet.stem, sheet.drawing, dxf_options(job.buck)); !added) {
            return added;
        }
        auto picture = geometry::svg_text(sheet.drawing);
        if (!picture) {
            return Error{picture.error().code, sheet.stem + ".svg: " + picture.error().message};
        }
        contents.files.push_back({"buck/" + sheet.stem + ".svg", std::move(picture).value()});
        add_notes(contents, sheet.notes);
    }
    contents.files.push_back({"buck/cut_list.csv", cut_list_csv(job, *evaluation.buck, work.parts, work.nesting)});
    const auto boards = buck_solids(job, *evaluation.buck, work.parts);
    if (!boards) {
        return boards.error();
    }
    auto step = geometry::step_text(boards.value());
    if (!step) {
        return step.error();
    }
    contents.files.push_back({"buck/buck.step", std::move(step).value()});
    return add_plugs(contents, evaluation);
}

/// Sections of the finished part, and its flanges laid flat.
Status add_sections(HandoverContents& contents, const Evaluation& evaluation) {
    const geometry::DxfOptions options = dxf_options(evaluation.job.buck);
    const auto sections = section_drawings(evaluation.job, evaluation.car);
    if (!sections) {
        return sections.error();
    }
    for (const SectionDrawing& section : sections.value()) {
        if (auto added = add_drawing(contents, "sections/" + section.stem, section.drawing, options); !added) {
            return added;
        }
        add_notes(contents, section.notes);
    }
    for (const FlangePattern& flange : flange_patterns(evaluation.job, evaluation.car, evaluation.plan)) {
        if (auto added = add_drawing(contents, "sections/" + flange.stem, flange.drawing, options); !added) {
            return added;
        }
        add_notes(contents, flange.notes);
    }
    return std::monostate{};
}

/// The pieces as solids in the car's frame; a piece that has none is noted.
Result<std::vector<geometry::NamedShape>> solids(HandoverContents& contents, const Job& job, const CarModel& car) {
    const SillFrame frame(job);
    const geometry::Mirror mirror = job.side == Side::left ? geometry::Mirror::in_y : geometry::Mirror::none;
    std::vector<geometry::NamedShape> shapes;
    for (std::size_t i = 0; i < car.pieces.size(); ++i) {
        const Piece& piece = job.skirt.pieces[i];
        const PieceModel& model = car.pieces[i];
        if (!model.line || !model.body || !model.body->ring) {
            contents.notes.push_back(
                "part.step lacks piece \"" + piece.name + "\": " +
                (piece.file ? "it comes from the file " + piece.file->path + "." : "it is not fully measured."));
            continue;
        }
        if (piece.front_closed || piece.rear_closed) {
            contents.notes.push_back("part.step has piece \"" + piece.name +
                                     "\" without its end caps; part.stl has them.");
        }
        auto shape = piece_solid(piece, model, k_solid_fit).and_then([&](const geometry::Shape& solid) {
            return geometry::placed(solid, mirror, frame.car_from_sill(Eigen::Vector3d::Zero()));
        });
        if (!shape) {
            return shape.error();
        }
        shapes.push_back({piece.name, std::move(shape).value()});
    }
    return shapes;
}

Status add_step(HandoverContents& contents, const Job& job, const CarModel& car) {
    const auto shapes = solids(contents, job, car);
    if (!shapes) {
        return shapes.error();
    }
    if (shapes.value().empty()) {
        return std::monostate{};
    }
    auto text = geometry::step_text(shapes.value());
    if (!text) {
        return text.error();
    }
    contents.files.push_back({"part.step", std::move(text).value()});
    return std::monostate{};
}

Status add_stl(HandoverContents& contents, const Job& job, const CarModel& car) {
    const SillFrame frame(job);
    geometry::Mesh all;
    for (const PieceModel& piece : car.pieces) {
        if (piece.body) {
            geometry::append(all, frame.car_from_sill(piece.body->mesh));
        } else {
            contents.notes.push_back("part.stl lacks piece \"" + piece.name + "\": it is not fully measured.");
        }
    }
    if (all.triangles.empty()) {
        return std::monostate{};
    }
    auto bytes = geometry::mesh_bytes(all, geometry::MeshFormat::stl_binary, geometry::FileUnit::millimetre);
    if (!bytes) {
        return Error{bytes.error().code, "part.stl: " + bytes.error().message};
    }
    contents.files.push_back({"part.stl", std::move(bytes).value()});
    return std::monostate{};
}

std::string cautions_file(const Job& job) {
    TextPage page;
    page.heading("CAUTIONS: " + job_heading(job));
    for (const std::string& caution : cautions()) {
        page.blank();
        page.paragraph(caution, "- ");
    }
    return page.text();
}

Status refuse_double(const std::vector<HandoverFile>& files) {
    std::set<std::string> paths{"manifest.txt"};
    for (const HandoverFile& file : files) {
        if (!paths.insert(file.path).second) {
            return Error{ErrorCode::invalid_argument,
                         "Two files of the handover would be called " + file.path + ". Give one of them another name."};
        }
    }
    return std::monostate{};
}

}  // namespace

Result<HandoverContents> handover_contents(const Evaluation& evaluation, const BuckWork& work,
                                           const JobFileMark& job_file, const std::vector<HandoverFile>& extra) {
    const Job& job = evaluation.job;
    HandoverContents contents;
    for (const auto& add : {add_step, add_stl}) {
        if (auto added = add(contents, job, evaluation.car); !added) {
            return added.error();
        }
    }
    if (auto added = add_buck(contents, evaluation, work); !added) {
        return added.error();
    }
    if (auto added = add_sections(contents, evaluation); !added) {
        return added.error();
    }
    if (!SillFrame(job).placed()) {
        contents.notes.push_back(
            "The distance to the mid-plane is not measured: y of part.step and part.stl starts "
            "at the line where out is zero.");
    }
    contents.files.push_back({"mounts.csv", mounts_csv(job, evaluation.findings)});
    contents.files.push_back({"findings.txt", findings_file(job, evaluation.findings)});
    contents.files.push_back({"cautions.txt", cautions_file(job)});
    contents.files.insert(contents.files.end(), extra.begin(), extra.end());
    std::string first = read_me_first(job, evaluation.findings, contents, job_file);
    contents.files.insert(contents.files.begin(), {"READ ME FIRST.txt", std::move(first)});
    if (auto refused = refuse_double(contents.files); !refused) {
        return refused.error();
    }
    return contents;
}

}  // namespace sillwright::core

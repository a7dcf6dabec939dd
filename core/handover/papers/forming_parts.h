#pragma once

#include <vector>

#include "core/evaluate.h"
#include "core/forming/forming_plan.h"
#include "core/forming/forming_sheet.h"
#include "core/handover/document.h"

/// The parts of the forming sheet (core/forming/forming_sheet.h), each where it is printed.
namespace sillwright::core {

/// Draw direction, machine and sheet, thickness of one piece.
std::vector<SheetPart> moulder_parts(const Job& job, const FormingPlan& plan, const PieceForming& piece);
/// One of each of its flutes and recesses.
std::vector<SheetPart> flute_parts(const Job& job, const FormingPlan& plan, const PieceForming& piece);
/// The mould chain's sizes; none without a chain.
std::vector<SheetPart> chain_parts(const Job& job, const FormingPlan& plan);

/// Title, lines and notes put on a paper.
void add_part(Document& paper, const SheetPart& part);

}  // namespace sillwright::core

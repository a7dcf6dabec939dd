#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "geometry/result.h"

namespace sillwright::core {

/// Lines of cells as a spreadsheet copies them: parted by tabs, or by semicolons where
/// there is no tab. A cell in double quotes may hold tabs, semicolons and line ends; a quote within
/// it is doubled. Quotes inside a cell that does not begin with one stand for themselves, as
/// in 1 1/2". Lines end with LF, CR LF or CR; one at the very end begins no further line.
/// Spaces at the ends of a cell go.
/// Errors: invalid_argument where a quoted cell does not end; names the line.
geometry::Result<std::vector<std::vector<std::string>>> pasted_cells(std::string_view text);

}  // namespace sillwright::core

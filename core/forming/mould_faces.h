#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "core/job.h"
#include "geometry/loft.h"
#include "geometry/section_faces.h"
#include "geometry/units.h"

namespace sillwright::core {

/// One section of the face on which the sheet lies.
struct MouldFacesAt {
    geometry::Length along;
    std::size_t stretch = 0;  ///< Between two neighbouring key places of the line, from 0.
    std::vector<geometry::SectionFace> faces;
};

/// The face of a drawn piece's mould, section by section: the inside of the sheet on a male mould, its outside on a
/// female one, the drawn line while that is not known; parallels have the same drafts.
///
/// Flange: one that is bent after is formed lying on in the direction of the strip before its root, as far as it is
///   long.
/// Places: from every station and run-out to the next, both ends included, and k_between places between them. A station
///   stands there twice, as run-outs are edges with a side in front and one behind.
/// Units and frame: millimetres, (out, up); node numbers are those of the line's names.
struct MouldFaces {
    std::vector<std::string> names;
    std::vector<MouldFacesAt> sections;
    std::vector<std::string> faults;  ///< Sections that cannot be drawn, with their places.
};

MouldFaces mould_faces(const Job& job, const Piece& piece, const geometry::Loft& line);

/// One section of it. Precondition: the place is in the stretch. Errors: does_not_fit as geometry::section_faces.
geometry::Result<std::vector<geometry::SectionFace>> mould_faces_at(const Job& job, const Piece& piece,
                                                                    const geometry::Loft& line,
                                                                    const geometry::LoftStretch& stretch,
                                                                    geometry::Length along);

/// Whether the flange's strip is formed in another direction than it is drawn.
bool flange_lies_on(const Piece& piece, const geometry::Loft& line);

}  // namespace sillwright::core

#include "geometry/loft.h"

namespace sillwright::geometry {

Result<Profile> Loft::section_at(Length along) const {
    auto profile = make_profile(nodes_at(along), closed_);
    if (!profile) {
        return Error{profile.error().code, "At " + place(along) + ": " + profile.error().message};
    }
    return profile;
}

}  // namespace sillwright::geometry

#include "core/variance_shares.h"

namespace sillwright::core {

std::vector<double> variance_shares(const std::vector<UnsureBy>& parts) {
    double whole = 0.0;
    for (const UnsureBy& part : parts) {
        whole += part.sd * part.sd;
    }
    std::vector<double> shares;
    shares.reserve(parts.size());
    for (const UnsureBy& part : parts) {
        shares.push_back(whole > 0.0 ? part.sd * part.sd / whole : 0.0);
    }
    return shares;
}

}  // namespace sillwright::core

#include "app/core_link.h"

namespace sillwright::app {

using geometry::Error;
using geometry::ErrorCode;

CoreLink core_link() {
    const Error not_yet{ErrorCode::kernel_failure, "This build of Sillwright cannot compute a job yet."};
    return {[=](const std::filesystem::path&) -> geometry::Result<CheckedJob> { return not_yet; },
            [=](const CheckedJob&, const std::filesystem::path&) -> geometry::Result<HandedOver> { return not_yet; }};
}

}  // namespace sillwright::app

#include "core/edit/edit.h"

#include <utility>

#include "core/job_check.h"

namespace sillwright::core {

geometry::Result<Edit> checked_edit(Job job, std::string words) {
    if (const auto fault = first_fault(job)) {
        return geometry::Error{geometry::ErrorCode::invalid_argument, fault->message};
    }
    return Edit{std::move(job), std::move(words)};
}

}  // namespace sillwright::core

#include "core/edit/edit.h"

#include <utility>

#include "core/fault_place.h"
#include "core/job_check.h"
#include "core/job_file/value_check.h"

namespace sillwright::core {

namespace {

geometry::Error refused(std::string message) {
    return {geometry::ErrorCode::invalid_argument, std::move(message)};
}

}  // namespace

geometry::Result<Edit> checked_edit(Job job, std::string words) {
    if (const auto fault = job_file::value_fault(job)) {
        const std::string place = fault_place(job, fault->pointer);
        return refused((place.empty() ? "" : place + ": ") + fault->message);
    }
    if (const auto fault = first_fault(job)) {
        return refused(fault->by_hand);
    }
    return Edit{std::move(job), std::move(words)};
}

}  // namespace sillwright::core

#pragma once

#include <cstddef>
#include <set>
#include <string>

#include "core/job.h"

/// Names and ids that nothing in a job has yet.
namespace sillwright::core {

/// `stem` with a number behind it, one above the highest that is taken: "H9" where H1 to H8 are.
std::string next_name(const std::set<std::string>& taken, const std::string& stem);

/// Ids for new nodes, each given once: "n1", "n2", ... above all of that form in the job.
class NodeIds {
public:
    explicit NodeIds(const Job& job);
    std::string next();

private:
    std::size_t last_ = 0;
};

}  // namespace sillwright::core

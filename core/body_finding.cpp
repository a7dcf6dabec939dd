#include "core/body_finding.h"

namespace sillwright::core {

std::vector<Finding> body_findings(const Job& job, const CarModel& car) {
    if (job.body.empty() || car.missing_body.empty()) {
        return {};
    }
    Finding finding;
    finding.id = "measure/body";
    finding.title = "Sections of the body";
    finding.stage = Stage::measure;
    finding.state = State::not_measured;
    finding.unit = Unit::none;
    finding.why = "The body has no shape between its stations before its sections are all drawn.";
    finding.formula = "guide lines through the nodes of one name, from two sections on";
    finding.source = "geometry; no source needed";
    finding.missing = car.missing_body;
    return {finding};
}

}  // namespace sillwright::core

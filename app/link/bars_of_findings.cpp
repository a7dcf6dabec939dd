#include "app/link/bars_of_findings.h"

#include <cmath>
#include <set>

#include "core/finding_words.h"
#include "core/number_text.h"
#include "core/variance_shares.h"

namespace sillwright::app {

namespace {

/// "swing/front door/moving" without its last word: of shut and moving the worse one is enough.
std::string pair_of(const core::Finding& finding) {
    return finding.id.substr(0, finding.id.rfind('/'));
}

constexpr std::string_view k_said_already = "standard deviation of ";

std::string short_name(const std::string& name) {
    return name.starts_with(k_said_already) ? name.substr(k_said_already.size()) : name;
}

Bar bar_of(const core::Finding& finding) {
    Bar bar;
    const std::vector<double> shares = core::variance_shares(finding.unsure_by);
    double whole = 0.0;
    for (std::size_t i = 0; i < shares.size(); ++i) {
        const core::UnsureBy& part = finding.unsure_by[i];
        whole += part.sd * part.sd;
        bar.parts.push_back({short_name(part.name) + " (sd " + core::fixed_text(part.sd, 2) + " mm)", shares[i]});
    }
    bar.label = finding.title + ": " + core::fixed_text(2.0 * std::sqrt(whole), 2) +
                " mm of the needed gap is for what is not sure";
    bar.words = "Measure better first: " + short_name(finding.unsure_by.front().name) + ".";
    return bar;
}

}  // namespace

BarsPicture bars_of_findings(const std::vector<core::Finding>& findings) {
    BarsPicture picture;
    picture.heading = "What to measure better first";
    picture.none =
        "No gap to a door is computed yet, or nothing says how sure its parts are. It needs a door with its "
        "hinge, the skirt, and how sure the survey and the forming are.";
    std::set<std::string> said;
    for (const core::Finding& finding : core::worst_first(findings)) {
        double whole = 0.0;
        for (const core::UnsureBy& part : finding.unsure_by) {
            whole += part.sd;
        }
        if (finding.stage == core::Stage::swing && whole > 0.0 && said.insert(pair_of(finding)).second) {
            picture.bars.push_back(bar_of(finding));
        }
    }
    return picture;
}

}  // namespace sillwright::app

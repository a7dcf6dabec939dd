#include "app/terminal/survey_text.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <vector>

#include "app/terminal/page.h"
#include "app/terminal/plain_text.h"
#include "core/finding_words.h"
#include "core/number_text.h"
#include "core/survey/checked.h"
#include "core/survey/reading_line.h"
#include "core/survey/survey_findings.h"
#include "core/survey/survey_number.h"

namespace sillwright::app::terminal {

using core::survey::AdjustedNumber;
using core::survey::HingeAxis;
using core::survey::PlacedPoint;
using core::survey::Reading;
using core::survey::ReadingKind;
using core::survey::ReadingResult;
using core::survey::ReadingUse;
using core::survey::Solution;
using core::survey::survey_number;

namespace {

constexpr std::size_t k_name = 14;    ///< Of a point's name in the table.
constexpr std::size_t k_number = 18;  ///< Of "-1473.5 ± 12.9".
constexpr std::size_t k_numbers = 10;

std::string counted(std::size_t count, const std::string& one, const std::string& more) {
    return std::to_string(count) + " " + (count == 1 ? one : more);
}

class SurveyText {
public:
    SurveyText(const SurveyedJob& surveyed, const TextLook& look)
        : job_{surveyed.job}, file_{surveyed.file}, results_{surveyed.results}, page_{look} {}

    std::string write() {
        head();
        if (job_.book.readings.empty()) {
            page_.gap();
            page_.plain(
                "The measuring book is empty. Print its sheet with --sheet, take readings from a spreadsheet with "
                "--take, or write them in the window.");
            return page_.text();
        }
        asked();
        points();
        readings();
        put_aside();
        set_ups();
        hinges();
        compared();
        next();
        summary();
        return page_.text();
    }

private:
    [[nodiscard]] const Solution& solution() const { return results_.solution; }
    [[nodiscard]] std::string number(double mm) const { return survey_number(mm, ReadingKind::tie, job_.unit); }
    [[nodiscard]] std::string unit() const {
        return job_.unit == core::BareUnit::in ? "in" : job_.unit == core::BareUnit::cm ? "cm" : "mm";
    }

    void head() {
        const core::survey::Book& book = job_.book;
        page_.plain(
            core::joined({job_.vehicle, job_.revision.empty() ? "" : "revision " + job_.revision,
                          job_.side == core::Side::right ? "RIGHT SIDE" : "LEFT SIDE", file_.filename().string()},
                         " · "));
        const std::string measured = core::joined(
            {book.who, book.date, book.temperature ? core::number_text(*book.temperature) + " °C" : ""}, ", ");
        if (!measured.empty()) {
            page_.plain("Measured by " + measured + ".");
        }
    }

    /// What the person has to do, before all numbers.
    void asked() {
        page_.gap();
        if (solution().suspect) {
            page_.paragraph("read again", core::suspect_words(job_, solution()));
            page_.paragraph("", "If it was misread: --drop " + job_.book.readings[solution().suspect->reading].id +
                                    " --why \"...\".");
        }
        for (const std::string& problem : solution().problems) {
            page_.paragraph("frame", problem);
        }
        for (const core::survey::Mirrored& question : solution().mirrored) {
            page_.paragraph("say which", question.question);
        }
        for (const core::survey::LackingPoint& point : solution().lacking) {
            page_.paragraph("lacking", point.lacks);
        }
    }

    void points() {
        if (solution().points.empty()) {
            return;
        }
        page_.title("Points in " + unit() + ", each ± 95 %");
        page_.line("  " + left("", k_name) + right("along", k_number) + right("out", k_number) + right("up", k_number));
        for (const PlacedPoint& point : solution().points) {
            std::string row = "  " + left(point.name, k_name);
            for (int i = 0; i < 3; ++i) {
                const double sd = std::sqrt(point.covariance_mm2(i, i));
                row += right(number(point.at_mm[i]) +
                                 (sd > 0.0 ? " ±" + right(number(core::survey::factor_95(1) * sd), 5) : "   held"),
                             k_number);
            }
            page_.line(row);
        }
    }

    static double worst_w(const ReadingResult& reading) {
        double worst = -1.0;
        for (const AdjustedNumber& one : reading.numbers) {
            worst = std::max(worst, one.w.value_or(-1.0));
        }
        return worst;
    }

    [[nodiscard]] std::string line_of(std::size_t i) const {
        return core::survey::line_of_reading(job_.book.readings[i], job_.unit);
    }

    void readings() {
        std::vector<std::size_t> used;
        for (std::size_t i = 0; i < solution().readings.size(); ++i) {
            if (solution().readings[i].use == ReadingUse::used) {
                used.push_back(i);
            }
        }
        if (used.empty()) {
            return;
        }
        std::stable_sort(used.begin(), used.end(), [&](std::size_t a, std::size_t b) {
            return worst_w(solution().readings[a]) > worst_w(solution().readings[b]);
        });
        page_.title(
            "Readings, the most doubtful first. w is how far a reading is from what the others say, over how far it "
            "may be; above 3.29 it is misread. Checked is how much of a misreading would show, from 0 to 1.");
        page_.line("  " + right("w", 6) + "  " + left("id", 6) + left("written", written_width()) +
                   right("adjusted", k_numbers) + right("sd", 7) + right("checked", 9));
        for (const std::size_t i : used) {
            reading_row(i);
        }
    }

    [[nodiscard]] std::size_t written_width() const { return page_.width() - 2 - 6 - 2 - 6 - k_numbers - 7 - 9; }

    /// A row for each number; the words once.
    void reading_row(std::size_t i) {
        const Reading& reading = job_.book.readings[i];
        const ReadingResult& result = solution().readings[i];
        std::vector<std::string> words = wrapped(line_of(i), written_width() - 1);
        std::size_t rows = std::max(words.size(), std::max<std::size_t>(1, shown_numbers(result)));
        words.resize(rows);
        for (std::size_t k = 0; k < rows; ++k) {
            const bool has = k < shown_numbers(result);
            const AdjustedNumber* const one = has ? &result.numbers[k] : nullptr;
            std::string row = "  " +
                              right(one == nullptr ? ""
                                    : one->w       ? core::fixed_text(*one->w, 2)
                                                   : "-",
                                    6) +
                              "  " + left(k == 0 ? reading.id : "", 6) + left(words[k], written_width());
            if (one != nullptr) {
                row += right(survey_number(one->adjusted, reading.kind, job_.unit), k_numbers) +
                       right(survey_number(one->sd, reading.kind, job_.unit), 7) +
                       right(core::fixed_text(one->redundancy, 2), 9);
            }
            page_.line(row);
        }
    }

    /// The plane that a gauge's point lies in is no reading of anybody's.
    static std::size_t shown_numbers(const ReadingResult& result) {
        return std::min<std::size_t>(result.numbers.size(), 2);
    }

    void put_aside() {
        std::vector<std::string> unchecked;
        bool first = true;
        for (std::size_t i = 0; i < solution().readings.size(); ++i) {
            const ReadingResult& result = solution().readings[i];
            const Reading& reading = job_.book.readings[i];
            if (result.use == ReadingUse::used && reading.points.size() > 1 &&
                core::survey::how_checked(result) != core::survey::Checked::by_others) {
                unchecked.push_back(reading.id);
            }
            if (result.use != ReadingUse::used) {
                if (first) {
                    page_.title("Not counted");
                    first = false;
                }
                const std::string why = result.use == ReadingUse::dropped ? "dropped: " + reading.dropped : result.why;
                page_.paragraph("  " + reading.id, line_of(i) + ": " + why, 16);
            }
        }
        if (!unchecked.empty()) {
            page_.title("Readings that no other checks (less than 0.15): " + core::joined(unchecked, ", ") + ".");
        }
    }

    void set_ups() {
        if (job_.book.set_ups.empty()) {
            return;
        }
        page_.gap();
        for (const core::survey::PlacedSetUp& set_up : solution().set_ups) {
            const auto angle = [](geometry::Angle at, geometry::Angle sd) {
                return core::degree_text(at) + (sd > geometry::Angle{} ? " ± " + core::degree_text(1.96 * sd) : "");
            };
            page_.paragraph("set-up", set_up.name + ": " +
                                          (set_up.found ? "leans outward " + angle(set_up.roll, set_up.roll_sd) +
                                                              ", rearward " + angle(set_up.pitch, set_up.pitch_sd) + "."
                                                        : "no reading says how it leans."));
        }
        if (results_.set_ups) {
            page_.paragraph("", results_.set_ups->verdict ? results_.set_ups->words : results_.set_ups->lacks);
        }
    }

    [[nodiscard]] std::string place(const Eigen::Vector3d& at_mm) const {
        return number(at_mm.x()) + " · " + number(at_mm.y()) + " · " + number(at_mm.z());
    }

    void hinges() {
        for (const core::survey::HingeOutcome& outcome : results_.hinges) {
            page_.gap();
            if (!outcome.axis) {
                page_.paragraph("hinge axis", outcome.door + ": " + outcome.lacks);
                continue;
            }
            const HingeAxis& axis = *outcome.axis;
            page_.paragraph("hinge axis", outcome.door + ": through " + place(axis.lower_mm) + " and " +
                                              place(axis.upper_mm) + " " + unit() + " (along · out · up)" +
                                              (axis.from_pins ? ", from its pins." : "."));
            if (!axis.openings.empty()) {
                page_.paragraph("", "Openings: " + openings(axis) + ".");
            }
            if (const auto corner = results_.corners.find(outcome.door); corner != results_.corners.end()) {
                page_.paragraph("", "Its lower rear corner is known to an sd of " + number(corner->second.worst.sd_mm) +
                                        " " + unit() + " at worst, at " +
                                        core::degree_text(corner->second.worst.at, 1) + "; common practice: 1.0 mm.");
            }
            if (axis.suspect) {
                const core::survey::TargetMiss& miss = axis.misses[*axis.suspect];
                page_.paragraph("", "Measure " + miss.target + "/" + std::to_string(miss.opening) + " again (w " +
                                        core::fixed_text(miss.w, 1) + ").");
            }
            for (const std::string& weakness : axis.weaknesses) {
                page_.paragraph("", weakness);
            }
        }
    }

    static std::string openings(const HingeAxis& axis) {
        std::vector<std::string> words;
        for (const geometry::Angle opening : axis.openings) {
            words.push_back(core::degree_text(opening, 1));
        }
        return core::joined(words, ", ");
    }

    void compared() {
        if (!results_.other_hand && results_.other_hand_lacks.empty()) {
            return;
        }
        page_.gap();
        if (!results_.other_hand) {
            page_.paragraph("other side", results_.other_hand_lacks);
            return;
        }
        const core::survey::Comparison& comparison = *results_.other_hand;
        page_.paragraph("other side", comparison.verdict ? comparison.words : comparison.lacks);
        for (const core::survey::PointDifference& point : comparison.points) {
            page_.line("  " + left(point.name, Page::k_lead - 2) + right(number(point.distance_mm), 8) + " ± " +
                       number(1.96 * point.sd_mm) + " " + unit());
        }
    }

    void next() {
        if (solution().next) {
            page_.gap();
            page_.paragraph("measure next", solution().next->words);
        }
    }

    void summary() {
        const auto uses = [&](ReadingUse use) {
            return static_cast<std::size_t>(std::count_if(solution().readings.begin(), solution().readings.end(),
                                                          [&](const ReadingResult& one) { return one.use == use; }));
        };
        std::vector<std::string> parts;
        for (const auto& [use, word] : {std::pair{ReadingUse::used, "used"},
                                        {ReadingUse::dropped, "dropped"},
                                        {ReadingUse::waiting, "waiting"},
                                        {ReadingUse::not_usable, "not usable"}}) {
            if (uses(use) > 0) {
                parts.push_back(std::to_string(uses(use)) + " " + word);
            }
        }
        const core::survey::GlobalTest& global = solution().global;
        std::string words = counted(job_.book.readings.size(), "reading", "readings") + ": " +
                            core::joined(parts, ", ") + ". " + counted(solution().points.size(), "point", "points") +
                            " placed, " + std::to_string(solution().lacking.size()) + " lacking.";
        if (global.degrees_of_freedom > 0) {
            words += " Sum of squares " + core::fixed_text(global.sum, 1) + " with " +
                     counted(static_cast<std::size_t>(global.degrees_of_freedom), "reading", "readings") +
                     " more than needed: " + (global.holds ? "as it should be, " : "not as it should be, ") +
                     core::fixed_text(global.lower, 1) + " to " + core::fixed_text(global.upper, 1) + ".";
        }
        page_.gap();
        page_.plain(words);
    }

    const core::Job& job_;
    const std::filesystem::path& file_;
    const core::survey::Results& results_;
    Page page_;
};

}  // namespace

std::string survey_text(const SurveyedJob& surveyed, const TextLook& look) {
    return SurveyText(surveyed, look).write();
}

std::string taken_text(const core::survey::CsvBook& csv, const TextLook& look) {
    Page page(look);
    page.plain(counted(csv.readings.size(), "row", "rows") + " taken, " + std::to_string(csv.refused.size()) +
               " refused.");
    for (const core::survey::CsvRemark& remark : csv.remarks) {
        page.paragraph("look at", core::survey::words_of(remark));
    }
    for (const core::survey::CsvRefusal& refusal : csv.refused) {
        page.paragraph("refused", core::survey::words_of(refusal));
    }
    if (csv.refused.empty()) {
        return page.text();
    }
    page.title("Mend these rows and take them alone:");
    // As they stand in the file, so that they can be copied from here.
    return page.text() + core::survey::refused_csv(csv);
}

}  // namespace sillwright::app::terminal

#include "tests/bench/survey_measure.h"

#include <random>
#include <string>
#include <vector>

#include "core/survey/shown.h"
#include "core/survey/solve.h"
#include "tests/bench/measure.h"

namespace sillwright::bench {

using core::survey::Book;
using core::survey::Point;
using core::survey::PointKind;
using core::survey::Reading;
using core::survey::ReadingKind;
using Eigen::Vector3d;
using geometry::millimetres;

namespace {

constexpr int k_runs = 5;

/// Points along a sill, each taped to its neighbours, levelled and plumbed from marks until there are enough readings.
class Sill {
public:
    Sill(int points, int readings) {
        constexpr double k_length_mm = 4000.0;
        for (int i = 0; i < points; ++i) {
            const double along = k_length_mm * i / points;
            at_.emplace_back(along, between(-150.0, 150.0), between(-150.0, 150.0));
            Point point;
            point.name = "P" + std::to_string(i);
            point.kind = i % 5 == 0 ? PointKind::mark : PointKind::mount;
            book_.points.push_back(point);
        }
        hold();
        for (int reach = 1; static_cast<int>(book_.readings.size()) < readings; ++reach) {
            for (int i = 0; i + reach < points && static_cast<int>(book_.readings.size()) < readings; ++i) {
                add(reach == 2 ? ReadingKind::height : reach == 4 ? ReadingKind::out : ReadingKind::tie, i, i + reach);
            }
        }
    }
    [[nodiscard]] const Book& book() const { return book_; }

private:
    double between(double low, double high) { return std::uniform_real_distribution<double>(low, high)(random_); }

    void hold() {
        const auto entry = [](double mm) { return core::Entry{millimetres(mm), ""}; };
        const std::size_t last = at_.size() - 1;
        const std::size_t middle = last / 2;
        for (const std::size_t i : {std::size_t{0}, last, middle}) {
            book_.points[i].up = entry(at_[i].z());
        }
        for (const std::size_t i : {std::size_t{0}, last}) {
            book_.points[i].out = entry(at_[i].y());
        }
        book_.points[0].along = entry(at_[0].x());
    }
    void add(ReadingKind kind, int from, int to) {
        constexpr double k_sd_mm = 1.0;
        const std::vector<Vector3d> points{at_[static_cast<std::size_t>(from)], at_[static_cast<std::size_t>(to)]};
        Reading reading;
        reading.id = std::to_string(book_.readings.size());
        reading.kind = kind;
        reading.points = {book_.points[static_cast<std::size_t>(from)].name,
                          book_.points[static_cast<std::size_t>(to)].name};
        const double value = core::survey::shown(kind, 0, points, Eigen::Vector2d::Zero(), 0.0).value;
        reading.value = core::Entry{millimetres(value + std::normal_distribution<double>(0.0, k_sd_mm)(random_)), ""};
        reading.sd = core::Entry{millimetres(k_sd_mm), ""};
        book_.readings.push_back(reading);
    }

    std::mt19937 random_{7};
    std::vector<Vector3d> at_;
    Book book_;
};

}  // namespace

SurveyTimes measure_survey() {
    SurveyTimes times;
    const Sill large(500, 3000);
    const Sill shop(30, 120);
    const auto solve = [&times](const Sill& sill, bool with_next) {
        const core::survey::Solution solution = core::survey::solve(sill.book(), with_next);
        times.failed |= solution.points.size() != sill.book().points.size() || !solution.adjustment;
    };
    times.start_ms = least_ms(k_runs, [&] { times.failed |= core::survey::find_start(large.book()).at_mm.empty(); });
    times.large_ms = least_ms(k_runs, [&] { solve(large, false); });
    times.large_next_ms = least_ms(k_runs, [&] { solve(large, true); });
    times.shop_ms = least_ms(k_runs, [&] { solve(shop, true); });
    return times;
}

}  // namespace sillwright::bench

#include "geometry/nest.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <ctime>
#include <numbers>

#include "geometry/seeded_draw.h"
#include "tests/support/nest_by_library.h"
#include "tests/support/nest_ribs.h"

namespace sillwright::geometry {
namespace {

using Eigen::AlignedBox2d;
using Eigen::Vector2d;

double seconds_since(std::clock_t start) {
    return static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
}

/// Distances by brute force, written for this test alone.
double to_edge(const Vector2d& p, const Vector2d& a, const Vector2d& b) {
    const double t = std::clamp((p - a).dot(b - a) / (b - a).squaredNorm(), 0.0, 1.0);
    return (p - a - t * (b - a)).norm();
}

bool surrounds(const Polygon& ring, const Vector2d& p) {
    double turn = 0.0;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Vector2d a = ring[i] - p, b = ring[(i + 1) % ring.size()] - p;
        turn += std::atan2(a.x() * b.y() - a.y() * b.x(), a.dot(b));
    }
    return std::abs(turn) > std::numbers::pi;
}

bool crosses(const Vector2d& a, const Vector2d& b, const Vector2d& c, const Vector2d& d) {
    Eigen::Matrix2d m;
    m << b - a, c - d;
    if (std::abs(m.determinant()) < 1e-12) {
        return false;
    }
    const Vector2d st = m.inverse() * (c - a);
    return st.minCoeff() > 0.0 && st.maxCoeff() < 1.0;
}

/// Zero where they overlap.
double distance(const Polygon& a, const Polygon& b) {
    double least = 1e300;
    for (std::size_t i = 0; i < a.size(); ++i) {
        for (std::size_t j = 0; j < b.size(); ++j) {
            const Vector2d &a0 = a[i], &a1 = a[(i + 1) % a.size()], &b0 = b[j], &b1 = b[(j + 1) % b.size()];
            if (crosses(a0, a1, b0, b1)) {
                return 0.0;
            }
            least = std::min({least, to_edge(a0, b0, b1), to_edge(b0, a0, a1)});
        }
    }
    return surrounds(a, b[0]) || surrounds(b, a[0]) ? 0.0 : least;
}

/// Each part once, gap, margin, defects, half turns, counts.
void expect_kept(const NestQuestion& question, const NestLayout& layout) {
    constexpr double k_rounding = 2e-6;
    std::vector<int> times(question.parts.size(), 0);
    std::vector<std::size_t> sheets(question.boards.size(), 0);
    for (const std::size_t part : layout.left_out) {
        ++times[part];
    }
    for (const LaidSheet& sheet : layout.sheets) {
        const NestBoard& board = question.boards[sheet.board];
        ++sheets[sheet.board];
        EXPECT_FALSE(sheet.places.empty());
        std::vector<Polygon> rings;
        Vector2d used = Vector2d::Zero();
        for (const NestPlace& place : sheet.places) {
            ++times[place.part];
            const auto& boards = question.parts[place.part].boards;
            EXPECT_NE(std::find(boards.begin(), boards.end(), sheet.board), boards.end());
            if (board.half_turns_only) {
                EXPECT_NEAR(std::sin(in_rad(place.turned)), 0.0, 1e-9);
            }
            rings.push_back(placed_ring(question.parts[place.part].outline_mm, place));
            for (const Vector2d& p : rings.back()) {
                used = used.cwiseMax(p);
                EXPECT_GE(p.minCoeff(), in_mm(question.margin) - k_rounding);
                EXPECT_LE((p - board.size_mm).maxCoeff(), -in_mm(question.margin) + k_rounding);
            }
            for (const AlignedBox2d& d : board.defects) {
                const Polygon defect{d.min(), {d.max().x(), d.min().y()}, d.max(), {d.min().x(), d.max().y()}};
                EXPECT_GE(distance(rings.back(), defect), in_mm(question.margin) - k_rounding);
            }
        }
        EXPECT_NEAR((used - sheet.used_mm).norm(), 0.0, 1e-9);
        for (std::size_t i = 0; i < rings.size(); ++i) {
            for (std::size_t j = i + 1; j < rings.size(); ++j) {
                EXPECT_GE(distance(rings[i], rings[j]), in_mm(question.gap) - k_rounding);
            }
        }
    }
    for (std::size_t i = 0; i < times.size(); ++i) {
        EXPECT_EQ(times[i], 1) << "part " << i;
    }
    for (std::size_t b = 0; b < sheets.size(); ++b) {
        EXPECT_LE(sheets[b], question.boards[b].count.value_or(1000));
    }
}

Polygon box(double length, double width) {
    return {{0, 0}, {length, 0}, {length, width}, {0, width}};
}

NestQuestion boxes(std::size_t count, double length, double width) {
    NestQuestion question;
    question.boards.push_back({{1000, 500}, {}, false, std::nullopt});
    for (std::size_t i = 0; i < count; ++i) {
        question.parts.push_back({box(length, width), {0}});
    }
    question.gap = millimetres(8);
    question.margin = millimetres(10);
    question.effort = 0.2;
    return question;
}

bool same(const NestLayout& a, const NestLayout& b) {
    if (a.sheets.size() != b.sheets.size() || a.tries != b.tries || a.left_out != b.left_out) {
        return false;
    }
    for (std::size_t i = 0; i < a.sheets.size(); ++i) {
        const auto &one = a.sheets[i].places, &other = b.sheets[i].places;
        for (std::size_t k = 0; k < std::max(one.size(), other.size()); ++k) {
            if (one.size() != other.size() || one[k].part != other[k].part || one[k].turned != other[k].turned ||
                one[k].moved_mm != other[k].moved_mm) {
                return false;
            }
        }
    }
    return true;
}

TEST(Nest, OfFortyRibsIsNoWorseThanTheBestOfTheLibrary) {
    const NestQuestion question = tests::rib_question(40, 1);
    const std::clock_t start = std::clock();
    double first_s = -1.0;
    const auto found =
        nest(question, {}, [&](const NestLayout&) { first_s = first_s < 0.0 ? seconds_since(start) : first_s; });
    const double all_s = seconds_since(start);
    ASSERT_TRUE(found) << found.error().message;
    expect_kept(question, found.value());
    EXPECT_TRUE(found.value().left_out.empty());
    EXPECT_LE(first_s, 3.0);
    EXPECT_LE(all_s, 30.0);
    // Its quicker settings; the bench has all of them.
    const tests::LibraryNest best = tests::best_by_library(question, false);
    EXPECT_LE(found.value().sheets.size(), best.sheets);
    double emptiest = 1e300;
    for (const LaidSheet& sheet : found.value().sheets) {
        emptiest = std::min(emptiest, sheet.used_mm.prod());
    }
    if (found.value().sheets.size() == best.sheets) {
        EXPECT_LE(emptiest, best.emptiest_mm2);
        EXPECT_LE(found.value().score.used_mm2, best.used_mm2);
    }
    RecordProperty("seconds", std::to_string(all_s));
    RecordProperty("emptiest_mm2", std::to_string(emptiest));
    RecordProperty("library_emptiest_mm2", std::to_string(best.emptiest_mm2));
}

TEST(Nest, GivesTheSameForTheSameSeed) {
    NestQuestion question = tests::rib_question(9, 4);
    question.effort = 0.3;
    const auto one = nest(question), other = nest(question);
    ASSERT_TRUE(one && other);
    EXPECT_TRUE(same(one.value(), other.value()));
}

TEST(Nest, GetsBetterOnlyAndTellsHowFarItIs) {
    NestQuestion question = tests::rib_question(12, 6);
    question.effort = 0.3;
    std::vector<NestScore> scores;
    double part = 0.0;
    const auto found = nest(question,
                            {{},
                             [&part](double done) {
                                 EXPECT_GE(done, part);
                                 EXPECT_LE(done, 1.0);
                                 part = done;
                             }},
                            [&](const NestLayout& layout) {
                                scores.push_back(layout.score);
                                expect_kept(question, layout);
                            });
    ASSERT_TRUE(found);
    EXPECT_EQ(part, 1.0);
    ASSERT_GE(scores.size(), 2U);
    for (std::size_t i = 1; i < scores.size(); ++i) {
        EXPECT_LT(scores[i], scores[i - 1]);
    }
    EXPECT_EQ(found.value().score, scores.back());
}

TEST(Nest, UsesHollows) {
    // Two Us of 300 x 200 with walls of 50: face to face, each with a leg in the other's hollow, they need less than
    // one above the other.
    NestQuestion question = boxes(0, 1, 1);
    const Polygon u{{0, 0}, {300, 0}, {300, 200}, {250, 200}, {250, 50}, {50, 50}, {50, 200}, {0, 200}};
    question.parts = {{u, {0}}, {u, {0}}};
    const auto found = nest(question);
    ASSERT_TRUE(found);
    expect_kept(question, found.value());
    const Vector2d inside = found.value().sheets[0].used_mm - Vector2d(10, 10);
    EXPECT_LT(inside.prod(), 300.0 * (2 * 200.0 + 8.0) * 0.9);
}

TEST(Nest, TurnsOnlyByHalvesWhereThereIsGrain) {
    NestQuestion question = boxes(5, 300, 90);
    question.boards[0].half_turns_only = true;
    const auto found = nest(question);
    ASSERT_TRUE(found);
    expect_kept(question, found.value());
    // Across the grain it would fit, along it does not.
    question = boxes(1, 100, 490);
    question.boards[0].half_turns_only = true;
    EXPECT_EQ(nest(question).value().left_out.size(), 1U);
    question.boards[0].half_turns_only = false;
    EXPECT_TRUE(nest(question).value().left_out.empty());
}

TEST(Nest, KeepsOffDefects) {
    NestQuestion question = boxes(6, 300, 120);
    question.boards[0].defects = {{Vector2d(0, 0), Vector2d(40, 30)}, {Vector2d(480, 200), Vector2d(500, 230)}};
    const auto found = nest(question);
    ASSERT_TRUE(found);
    expect_kept(question, found.value());
    EXPECT_TRUE(found.value().left_out.empty());
}

TEST(Nest, FillsTheFirstBoardsFirstAndNoMoreThanThereAre) {
    NestQuestion question = boxes(10, 300, 120);
    question.boards.push_back({{400, 300}, {}, false, 2});
    for (NestPart& part : question.parts) {
        part.boards = {1, 0};
    }
    const auto found = nest(question);
    ASSERT_TRUE(found);
    expect_kept(question, found.value());
    const auto off_cuts = std::count_if(found.value().sheets.begin(), found.value().sheets.end(),
                                        [](const LaidSheet& sheet) { return sheet.board == 1; });
    EXPECT_EQ(off_cuts, 2);
    EXPECT_TRUE(found.value().left_out.empty());
    for (NestPart& part : question.parts) {
        part.boards = {1};
    }
    // Two at most go on 400 x 300 with margins of 10: hand count.
    EXPECT_EQ(nest(question).value().left_out.size(), 6U);
}

TEST(Nest, LeavesOutWhatIsLongerThanItsSheet) {
    NestQuestion question = boxes(3, 300, 120);
    question.parts.push_back({box(985, 20), {0}});
    const auto found = nest(question);
    ASSERT_TRUE(found);
    EXPECT_EQ(found.value().left_out, std::vector<std::size_t>{3});
    expect_kept(question, found.value());
}

TEST(Nest, LaysEqualPartsOnePartAndNone) {
    const NestQuestion equal = boxes(12, 200, 80);
    const auto found = nest(equal);
    ASSERT_TRUE(found);
    expect_kept(equal, found.value());
    EXPECT_EQ(found.value().sheets.size(), 1U);
    // By area the box of all cannot be less than the parts themselves.
    EXPECT_GT(found.value().score.used_mm2, 12 * 200 * 80.0);
    EXPECT_LT(found.value().score.used_mm2, 12 * 208 * 88.0 * 1.25);

    const auto one = nest(boxes(1, 200, 80));
    ASSERT_TRUE(one);
    ASSERT_EQ(one.value().sheets.size(), 1U);
    // With the margin to the left of it and below, and no more.
    EXPECT_NEAR(one.value().score.used_mm2, 210.0 * 90.0, 1.0);

    const auto none = nest(boxes(0, 1, 1));
    ASSERT_TRUE(none);
    EXPECT_TRUE(none.value().sheets.empty() && none.value().left_out.empty());
}

TEST(Nest, StopsAtOnceAndAfterTheFirst) {
    std::stop_source before;
    before.request_stop();
    const auto nothing = nest(tests::rib_question(6, 1), {before.get_token(), {}});
    ASSERT_FALSE(nothing);
    EXPECT_EQ(nothing.error().code, ErrorCode::stopped);

    std::stop_source after;
    std::clock_t asked = 0;
    NestLayout first;
    const NestQuestion question = tests::rib_question(40, 1);
    const auto stopped = nest(question, {after.get_token(), {}}, [&](const NestLayout& layout) {
        if (!after.stop_requested()) {
            first = layout;
            after.request_stop();
            asked = std::clock();
        }
    });
    ASSERT_TRUE(stopped);
    EXPECT_LT(seconds_since(asked), 0.5);
    EXPECT_TRUE(same(stopped.value(), first));
    expect_kept(question, stopped.value());
}

TEST(Nest, StopsInTheMidstOfATry) {
    for (const std::size_t at : {2U, 19U, 20U, 40U}) {
        std::stop_source stop;
        std::clock_t asked = 0;
        std::size_t told = 0;
        const NestQuestion question = tests::rib_question(16, 1);
        const auto found = nest(question, {stop.get_token(), [&](double) {
                                               if (++told == at) {
                                                   stop.request_stop();
                                                   asked = std::clock();
                                               }
                                           }});
        ASSERT_TRUE(found);
        EXPECT_LT(seconds_since(asked), 0.5);
        expect_kept(question, found.value());
    }
}

TEST(Nest, OfARealJobTakesLessThanTwoSeconds) {
    NestQuestion question = tests::rib_question(0, 1);
    for (Polygon rib : tests::example_ribs(10, 8)) {
        for (Vector2d& p : rib) {
            p = Vector2d(0.2 * p.x(), 0.85 * p.y());  // about 120 x 160
        }
        question.parts.push_back({rib, {0}});
    }
    question.parts.push_back({box(1900, 80), {0}});
    question.parts.push_back({box(1900, 80), {0}});
    const std::clock_t start = std::clock();
    const auto found = nest(question);
    EXPECT_LT(seconds_since(start), 2.0);
    ASSERT_TRUE(found);
    expect_kept(question, found.value());
    EXPECT_EQ(found.value().sheets.size(), 1U);
}

TEST(Nest, NeverBreaksARuleOnRandomSets) {
    SeededDraw draw(77, 0);
    const auto between = [&draw](double low, double high) { return low + (high - low) * draw.uniform(); };
    for (int k = 0; k < 50; ++k) {
        NestQuestion question;
        question.gap = millimetres(between(0.0, 12.0));
        question.margin = millimetres(between(0.0, 15.0));
        question.seed = static_cast<std::uint64_t>(k);
        question.effort = 0.05;
        const std::size_t boards = 1 + draw.next() % 2;
        for (std::size_t b = 0; b < boards; ++b) {
            NestBoard board{{between(300, 600), between(200, 500)}, {}, draw.uniform() < 0.3, std::nullopt};
            if (b == 0 && boards == 2) {
                board.count = 1 + draw.next() % 2;
            }
            if (draw.uniform() < 0.3) {
                const Vector2d at{between(0, 250), between(0, 150)};
                board.defects.emplace_back(at, at + Vector2d(between(5, 60), between(5, 60)));
            }
            question.boards.push_back(board);
        }
        const std::size_t parts = 2 + draw.next() % 8;
        for (std::size_t i = 0; i < parts; ++i) {
            // A star about its middle: it does not cross itself, and most are hollow somewhere.
            Polygon ring;
            const int corners = 3 + static_cast<int>(draw.next() % 8);
            for (int c = 0; c < corners; ++c) {
                const double a = 2.0 * std::numbers::pi * (c + 0.8 * draw.uniform()) / corners;
                ring.emplace_back(between(20, 120) * Vector2d(std::cos(a), std::sin(a)));
            }
            double area = 0.0;
            for (std::size_t c = 0; c < ring.size(); ++c) {
                const Vector2d &p = ring[c], &q = ring[(c + 1) % ring.size()];
                area += p.x() * q.y() - p.y() * q.x();
            }
            if (area < 500.0) {
                ring = box(80, 30);
            }
            question.parts.push_back(
                {ring, boards == 2 ? std::vector<std::size_t>{0, 1} : std::vector<std::size_t>{0}});
        }
        SCOPED_TRACE("set " + std::to_string(k));
        const auto found = nest(question);
        ASSERT_TRUE(found) << found.error().message;
        expect_kept(question, found.value());
    }
}

TEST(Nest, RefusesWhatItCannotLay) {
    NestQuestion question = boxes(2, 100, 50);
    question.parts[1].outline_mm = {{0, 0}, {10, 10}, {10, 0}, {0, 10}};
    EXPECT_EQ(nest(question).error().code, ErrorCode::invalid_argument);
    question = boxes(2, 100, 50);
    question.margin = millimetres(std::nan(""));
    EXPECT_EQ(nest(question).error().code, ErrorCode::invalid_argument);
}

}  // namespace
}  // namespace sillwright::geometry

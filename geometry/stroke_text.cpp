#include "geometry/stroke_text.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cstddef>
#include <string>
#include <utility>

#include "geometry/letters_text.h"

namespace sillwright::geometry {

namespace {

// The source's own measures; see resources/letters.txt.
constexpr int k_zero = 'R';
constexpr int k_base_line = '[' - k_zero;
constexpr double k_capital = '[' - 'F';
constexpr std::size_t k_head = 8;  ///< Letters before the first pair.

/// Of the usual width: so much that all capitals but W and M could do with less than their height.
constexpr double k_narrowed = 7.0 / 8.0;

constexpr char k_first_letter = ' ';
constexpr char k_last_letter = '~';
constexpr std::size_t k_degree = static_cast<std::size_t>(k_last_letter - k_first_letter) + 1;

/// One letter of height 1, standing on zero, from x = 0.
struct Letter {
    double width = 0.0;
    std::vector<std::vector<Eigen::Vector2d>> strokes;
};

Letter letter_of(std::string_view line) {
    const std::string_view pairs = line.substr(k_head);
    const double left = pairs[0] - k_zero;
    const double usual = (pairs[1] - pairs[0]) / k_capital;
    Letter letter;
    letter.width = std::min(k_narrowed * usual, k_stroke_letter_width);
    std::vector<Eigen::Vector2d> stroke;
    const auto lift = [&] {
        if (stroke.size() > 1) {
            letter.strokes.push_back(std::move(stroke));
        }
        stroke.clear();
    };
    for (std::size_t i = 2; i + 1 < pairs.size(); i += 2) {
        if (pairs[i] == ' ' && pairs[i + 1] == 'R') {
            lift();
            continue;
        }
        stroke.emplace_back((pairs[i] - k_zero - left) / k_capital * (letter.width / usual),
                            (k_base_line - (pairs[i + 1] - k_zero)) / k_capital);
    }
    lift();
    return letter;
}

const std::vector<Letter>& letters() {
    static const std::vector<Letter> all = [] {
        std::vector<Letter> made;
        std::string_view text = letters_text();
        while (!text.empty()) {
            const std::size_t end = text.find('\n');
            const std::string_view line = text.substr(0, end);
            text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
            if (line.size() > k_head && line.front() != '#') {
                made.push_back(letter_of(line));
            }
        }
        return made;
    }();
    return all;
}

/// Takes one character off the front.
const Letter& take_letter(std::string_view& words) {
    constexpr std::string_view k_degree_sign = "\xC2\xB0";
    if (words.starts_with(k_degree_sign)) {
        words.remove_prefix(k_degree_sign.size());
        return letters()[k_degree];
    }
    const char c = words.front();
    words.remove_prefix(1);
    if (c >= k_first_letter && c <= k_last_letter) {
        return letters()[static_cast<std::size_t>(c - k_first_letter)];
    }
    while (!words.empty() && (static_cast<unsigned char>(words.front()) & 0xC0U) == 0x80U) {
        words.remove_prefix(1);  // the rest of a character of UTF-8
    }
    return letters()[static_cast<std::size_t>('?' - k_first_letter)];
}

}  // namespace

std::vector<DrawnChain> stroke_text(std::string_view words, const Eigen::Vector2d& at_mm, Length height, Angle turned) {
    const Eigen::Matrix2d turn = in_mm(height) * Eigen::Rotation2Dd(in_rad(turned)).toRotationMatrix();
    std::vector<DrawnChain> chains;
    double x = 0.0;
    while (!words.empty()) {
        const Letter& letter = take_letter(words);
        for (const std::vector<Eigen::Vector2d>& stroke : letter.strokes) {
            DrawnChain chain;
            for (const Eigen::Vector2d& p : stroke) {
                chain.vertices.push_back({at_mm + turn * Eigen::Vector2d{x + p.x(), p.y()}});
            }
            chains.push_back(std::move(chain));
        }
        x += letter.width;
    }
    return chains;
}

Length stroke_width(std::string_view words, Length height) {
    double width = 0.0;
    while (!words.empty()) {
        width += take_letter(words).width;
    }
    return width * height;
}

}  // namespace sillwright::geometry

#include "geometry/svg_file.h"

#include <Eigen/Geometry>
#include <array>
#include <cmath>
#include <numbers>
#include <string_view>
#include <variant>

#include "geometry/mesh_source.h"

namespace sillwright::geometry {

namespace {

using Eigen::Vector2d;

constexpr double k_stroke_mm = 0.2;
constexpr double k_round_about_mm = 1.0;
constexpr double k_cross_mm = 1.0;
/// Height of capitals by size of the font: of the usual plain ones 0.70 to 0.73 (from memory).
constexpr double k_capital = 0.72;

/// The usual table of colours, so dark that they can be seen on white; what is not in it is black.
std::string_view colour(int index) {
    constexpr std::array<std::string_view, 10> k_colours{"#000000", "#c00000", "#8a6d00", "#007a00", "#007a8a",
                                                         "#0000c0", "#a000a0", "#000000", "#606060", "#909090"};
    return index < static_cast<int>(k_colours.size()) ? k_colours[static_cast<std::size_t>(index)] : k_colours[0];
}

std::string number(double value) {
    std::string text;
    append_number(text, value + 0.0);  // minus zero becomes zero
    return text;
}

std::string place(const Vector2d& p) {
    return number(p.x()) + " " + number(-p.y());
}

std::string attribute(std::string_view name, double value) {
    return " " + std::string(name) + "=\"" + number(value) + "\"";
}

std::string xml_words(std::string_view words) {
    std::string text;
    for (const char c : words) {
        const auto byte = static_cast<unsigned char>(c);
        if (c == '&') {
            text += "&amp;";
        } else if (c == '<') {
            text += "&lt;";
        } else if (c == '>') {
            text += "&gt;";
        } else {
            text += byte < ' ' || byte == 0x7F ? ' ' : c;
        }
    }
    return text;
}

/// An arc as a command of a path that stands at its beginning. The sweep is turned about with y.
std::string arc_to(double radius, double sweep, const Vector2d& to) {
    const std::string r = number(radius);
    return "A" + r + " " + r + " 0 " + (std::abs(sweep) > std::numbers::pi ? "1 " : "0 ") +
           (sweep > 0.0 ? "0 " : "1 ") + place(to);
}

struct EntityWriter {
    std::string& out;

    void path(const std::string& commands) const { out += "<path d=\"" + commands + "\"/>\n"; }
    void operator()(const DrawnLine& line) const { path("M" + place(line.from_mm) + "L" + place(line.to_mm)); }
    void operator()(const DrawnArc& arc) const {
        const auto at = [&](double angle) -> Vector2d {
            return arc.centre_mm + in_mm(arc.radius) * Vector2d{std::cos(angle), std::sin(angle)};
        };
        const double start = in_rad(arc.start);
        const double sweep = in_rad(arc.sweep);
        path("M" + place(at(start)) + arc_to(in_mm(arc.radius), sweep, at(start + sweep)));
    }
    void operator()(const DrawnCircle& circle) const {
        out += "<circle" + attribute("cx", circle.centre_mm.x()) + attribute("cy", -circle.centre_mm.y()) +
               attribute("r", in_mm(circle.radius)) + "/>\n";
    }
    void operator()(const DrawnChain& chain) const {
        std::string commands = "M" + place(chain.vertices.front().p_mm);
        const std::size_t steps = chain.vertices.size() - (chain.closed ? 0 : 1);
        for (std::size_t i = 0; i < steps; ++i) {
            const ChainVertex& from = chain.vertices[i];
            const Vector2d& to = chain.vertices[(i + 1) % chain.vertices.size()].p_mm;
            if (from.bulge != 0.0 && to != from.p_mm) {
                const DrawnArc arc = arc_of_bulge(from.p_mm, to, from.bulge);
                commands += arc_to(in_mm(arc.radius), in_rad(arc.sweep), to);
            } else if (i + 1 < chain.vertices.size()) {
                commands += "L" + place(to);
            }
        }
        path(commands + (chain.closed ? "Z" : ""));
    }
    void operator()(const DrawnText& text) const {
        const double height = in_mm(text.height);
        const bool middle = text.place == TextPlace::middle;
        const double angle = in_rad(text.turned);
        const Vector2d up{-std::sin(angle), std::cos(angle)};
        const Vector2d at = middle ? Vector2d(text.at_mm - 0.5 * height * up) : text.at_mm;
        out += "<text" + attribute("x", at.x()) + attribute("y", -at.y()) + attribute("font-size", height / k_capital);
        if (angle != 0.0) {
            out += " transform=\"rotate(" + number(-angle * 180.0 / std::numbers::pi) + " " + place(at) + ")\"";
        }
        out += std::string(middle ? " text-anchor=\"middle\"" : "") + ">" + xml_words(text.words) + "</text>\n";
    }
    void operator()(const DrawnPoint& point) const {
        for (const Vector2d& arm : {Vector2d{k_cross_mm, 0.0}, Vector2d{0.0, k_cross_mm}}) {
            (*this)(DrawnLine{point.at_mm - arm, point.at_mm + arm});
        }
    }
};

/// Of what is drawn, writing with one height for each byte.
Eigen::AlignedBox2d view_of(const Drawing& drawing) {
    Eigen::AlignedBox2d box = bounds_mm(drawing);
    for (const DrawnEntity& entity : drawing.entities) {
        if (const auto* text = std::get_if<DrawnText>(&entity.shape)) {
            const double height = in_mm(text->height);
            const double width = height * static_cast<double>(text->words.size());
            const Eigen::Rotation2Dd turn(in_rad(text->turned));
            const double left = text->place == TextPlace::middle ? -0.5 * width : 0.0;
            const double low = text->place == TextPlace::middle ? -0.5 * height : 0.0;
            for (const double x : {left, left + width}) {
                for (const double y : {low - 0.3 * height, low + height}) {
                    box.extend(Vector2d(text->at_mm + turn * Vector2d{x, y}));
                }
            }
        }
    }
    if (box.isEmpty()) {
        box.extend(Vector2d::Zero());
    }
    const Vector2d round_about = Vector2d::Constant(k_round_about_mm);
    return {Vector2d(box.min() - round_about), Vector2d(box.max() + round_about)};
}

}  // namespace

Result<std::string> svg_text(const Drawing& drawing) {
    if (const auto checked = check_drawing(drawing); !checked) {
        return checked.error();
    }
    const Eigen::AlignedBox2d view = view_of(drawing);
    const Vector2d size = view.sizes();
    std::string out =
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\"";
    out += " width=\"" + number(size.x()) + "mm\" height=\"" + number(size.y()) + "mm\"";
    out += " viewBox=\"" + number(view.min().x()) + " " + number(-view.max().y()) + " " + number(size.x()) + " " +
           number(size.y()) + "\">\n";
    for (const DrawingLayer& layer : drawing.layers) {
        const std::string hue(colour(layer.colour));
        out += "<g id=\"" + layer.name + "\" fill=\"none\" stroke=\"" + hue + "\"" +
               attribute("stroke-width", k_stroke_mm) + ">\n";
        std::string words;
        for (const DrawnEntity& entity : drawing.entities) {
            if (entity.layer == layer.name) {
                const bool writing = std::holds_alternative<DrawnText>(entity.shape);
                std::visit(EntityWriter{writing ? words : out}, entity.shape);
            }
        }
        if (!words.empty()) {
            out += "<g fill=\"" + hue + "\" stroke=\"none\" font-family=\"sans-serif\">\n" + words + "</g>\n";
        }
        out += "</g>\n";
    }
    return out + "</svg>\n";
}

}  // namespace sillwright::geometry

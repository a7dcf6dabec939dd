#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <string>
#include <string_view>

namespace sillwright::geometry {

/// The pairs of lines, a code and a value, that a DXF file consists of.
class DxfPairs {
public:
    void text(int code, std::string_view value);
    void whole(int code, int value) { text(code, std::to_string(value)); }
    /// The shortest digits that read back as the same number, without exponent, in any locale.
    void number(int code, double value);
    /// The name of an object, in hexadecimal digits; 0 is nobody.
    void handle(int code, std::uint32_t value);
    /// x and y of a point; their codes are ten apart.
    void flat_point(int code, const Eigen::Vector2d& p);
    /// The same, and z = 0.
    void point(int code, const Eigen::Vector2d& p);
    void begin_section(std::string_view name);
    void end_section() { text(0, "ENDSEC"); }
    void append(const DxfPairs& other) { out_ += other.out_; }
    [[nodiscard]] std::string take() { return std::move(out_); }

private:
    std::string out_;
};

/// Writing as a DXF file takes it: see dxf_text.
std::string dxf_words(std::string_view utf8);

/// Any angle as degrees from 0 to 360, the latter left out.
double degrees_from_0(double radians_any);

}  // namespace sillwright::geometry

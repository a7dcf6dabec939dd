#include "geometry/sha256.h"

#include <array>
#include <bit>
#include <cstdint>

namespace sillwright::geometry {

namespace {

using State = std::array<std::uint32_t, 8>;

constexpr std::size_t k_block_bytes = 64;
/// The message's length in bits ends the last block.
constexpr std::size_t k_length_bytes = 8;

/// FIPS 180-4, section 5.3.3.
constexpr State k_start{0x6a09e667U, 0xbb67ae85U, 0x3c6ef372U, 0xa54ff53aU,
                        0x510e527fU, 0x9b05688cU, 0x1f83d9abU, 0x5be0cd19U};

/// FIPS 180-4, section 4.2.2.
constexpr std::array<std::uint32_t, 64> k_constants{
    0x428a2f98U, 0x71374491U, 0xb5c0fbcfU, 0xe9b5dba5U, 0x3956c25bU, 0x59f111f1U, 0x923f82a4U, 0xab1c5ed5U,
    0xd807aa98U, 0x12835b01U, 0x243185beU, 0x550c7dc3U, 0x72be5d74U, 0x80deb1feU, 0x9bdc06a7U, 0xc19bf174U,
    0xe49b69c1U, 0xefbe4786U, 0x0fc19dc6U, 0x240ca1ccU, 0x2de92c6fU, 0x4a7484aaU, 0x5cb0a9dcU, 0x76f988daU,
    0x983e5152U, 0xa831c66dU, 0xb00327c8U, 0xbf597fc7U, 0xc6e00bf3U, 0xd5a79147U, 0x06ca6351U, 0x14292967U,
    0x27b70a85U, 0x2e1b2138U, 0x4d2c6dfcU, 0x53380d13U, 0x650a7354U, 0x766a0abbU, 0x81c2c92eU, 0x92722c85U,
    0xa2bfe8a1U, 0xa81a664bU, 0xc24b8b70U, 0xc76c51a3U, 0xd192e819U, 0xd6990624U, 0xf40e3585U, 0x106aa070U,
    0x19a4c116U, 0x1e376c08U, 0x2748774cU, 0x34b0bcb5U, 0x391c0cb3U, 0x4ed8aa4aU, 0x5b9cca4fU, 0x682e6ff3U,
    0x748f82eeU, 0x78a5636fU, 0x84c87814U, 0x8cc70208U, 0x90befffaU, 0xa4506cebU, 0xbef9a3f7U, 0xc67178f2U};

/// The 64 words made from a block's 16; section 6.2.2, step 1.
std::array<std::uint32_t, 64> schedule(std::string_view block) {
    std::array<std::uint32_t, 64> w{};
    for (std::size_t i = 0; i < k_block_bytes; ++i) {
        w.at(i / 4) = (w.at(i / 4) << 8U) | static_cast<unsigned char>(block[i]);
    }
    for (std::size_t t = 16; t < w.size(); ++t) {
        const std::uint32_t a = w.at(t - 15);
        const std::uint32_t b = w.at(t - 2);
        const std::uint32_t s0 = std::rotr(a, 7) ^ std::rotr(a, 18) ^ (a >> 3U);
        const std::uint32_t s1 = std::rotr(b, 17) ^ std::rotr(b, 19) ^ (b >> 10U);
        w.at(t) = s1 + w.at(t - 7) + s0 + w.at(t - 16);
    }
    return w;
}

/// Section 6.2.2, steps 2 to 4.
void take_block(State& state, std::string_view block) {
    const auto w = schedule(block);
    auto [a, b, c, d, e, f, g, h] = state;
    for (std::size_t t = 0; t < w.size(); ++t) {
        const std::uint32_t s1 = std::rotr(e, 6) ^ std::rotr(e, 11) ^ std::rotr(e, 25);
        const std::uint32_t choice = (e & f) ^ (~e & g);
        const std::uint32_t t1 = h + s1 + choice + k_constants.at(t) + w.at(t);
        const std::uint32_t s0 = std::rotr(a, 2) ^ std::rotr(a, 13) ^ std::rotr(a, 22);
        const std::uint32_t majority = (a & b) ^ (a & c) ^ (b & c);
        h = g;
        g = f;
        f = e;
        e = d + t1;
        d = c;
        c = b;
        b = a;
        a = t1 + s0 + majority;
    }
    const State add{a, b, c, d, e, f, g, h};
    for (std::size_t i = 0; i < state.size(); ++i) {
        state.at(i) += add.at(i);
    }
}

/// What follows the last whole block: a one bit, zeros, the length; section 5.1.1.
std::string padded(std::string_view rest, std::uint64_t all_bytes) {
    std::string block(rest);
    block += '\x80';
    while (block.size() % k_block_bytes != k_block_bytes - k_length_bytes) {
        block += '\0';
    }
    const std::uint64_t bits = all_bytes * 8;
    for (int shift = 56; shift >= 0; shift -= 8) {
        block += static_cast<char>((bits >> static_cast<unsigned>(shift)) & 0xffU);
    }
    return block;
}

}  // namespace

std::string sha256(std::string_view bytes) {
    State state = k_start;
    std::string_view left = bytes;
    for (; left.size() >= k_block_bytes; left.remove_prefix(k_block_bytes)) {
        take_block(state, left.substr(0, k_block_bytes));
    }
    const std::string last = padded(left, bytes.size());
    for (std::size_t at = 0; at < last.size(); at += k_block_bytes) {
        take_block(state, std::string_view(last).substr(at, k_block_bytes));
    }
    std::string hex;
    for (const std::uint32_t word : state) {
        for (int shift = 28; shift >= 0; shift -= 4) {
            hex += "0123456789abcdef"[(word >> static_cast<unsigned>(shift)) & 0xfU];
        }
    }
    return hex;
}

}  // namespace sillwright::geometry

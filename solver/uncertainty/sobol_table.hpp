// Direction numbers of Sobol' sequences, as data.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

namespace tuft::doubt {

constexpr std::size_t kSobolPolynomials = 480;
constexpr std::size_t kSobolInitials = 5033;

/// Primitive polynomials over the field of two elements, in order of rising degree (1 to 12); bit k is the
/// coefficient of x^k. Entry j belongs to dimension j + 1; dimension 0 needs none.
extern const std::array<std::uint16_t, kSobolPolynomials> kSobolPolynomial;

/// Initial numbers m_1 .. m_s of each polynomial behind each other, s its degree; m_k is odd and below 2^k.
extern const std::array<std::uint16_t, kSobolInitials> kSobolInitial;

}  // namespace tuft::doubt

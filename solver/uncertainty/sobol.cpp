#include "solver/uncertainty/sobol.hpp"

#include <boost/random/sobol.hpp>
#include <cstddef>

namespace tuft::uncertainty {
namespace {

constexpr int kBits = 32;

// Polynomials and initial numbers of S. Joe and F. Y. Kuo, "Constructing Sobol sequences with better
// two-dimensional projections", SIAM J. Sci. Comput. 30 (2008) 2635-2654, search criterion 6. A polynomial's
// bit k is the coefficient of x^k.
using Table = boost::random::default_sobol_table;

/// Direction numbers v_1 .. v_32 of a dimension above 0: m_k 2^(32 - k) for the first s, then the recurrence
/// D1.
void fill_directions(std::size_t dimension, std::uint32_t* v) {
  const std::uint32_t polynomial = Table::polynomial(dimension - 1);
  int s = -1;  // its degree
  for (std::uint32_t rest = polynomial; rest != 0; rest >>= 1) ++s;
  for (int k = 0; k < s; ++k) {
    const std::uint32_t initial = Table::minit(dimension - 1, static_cast<std::size_t>(k));
    v[k] = initial << (kBits - 1 - k);
  }
  for (int k = s; k < kBits; ++k) {
    v[k] = v[k - s] ^ (v[k - s] >> s);
    for (int i = 1; i < s; ++i)
      if ((polynomial >> (s - i) & 1u) != 0) v[k] ^= v[k - i];
  }
}

std::vector<std::uint32_t> directions(int dimensions) {
  std::vector<std::uint32_t> v(static_cast<std::size_t>(dimensions) * kBits);
  for (int k = 0; k < kBits; ++k) v[k] = 1u << (kBits - 1 - k);
  for (std::size_t j = 1; j < static_cast<std::size_t>(dimensions); ++j) fill_directions(j, &v[j * kBits]);
  return v;
}

/// Nested uniform scrambling (D2): each digit is turned over or not by a fair coin that depends on the digits
/// before it. A one before the digits names the branch, so that 01 and 001 have coins of their own.
std::uint32_t scramble(std::uint32_t bits, std::uint64_t key) {
  std::uint32_t turned = 0;
  for (int k = 0; k < kBits; ++k) {
    const std::uint64_t branch = (std::uint64_t{1} << k) | (k == 0 ? 0u : bits >> (kBits - k));
    turned = (turned << 1) | static_cast<std::uint32_t>(mix(key ^ branch) >> 63);
  }
  return bits ^ turned;
}

int checked(int dimensions) {
  if (dimensions < 1 || dimensions > kMostDimensions)
    refuse("dimensions = ", dimensions, ": must be 1 to ", kMostDimensions);
  return dimensions;
}

}  // namespace

Sobol::Sobol(int dimensions) : dimensions_(checked(dimensions)), direction_(directions(dimensions)) {}

Sobol::Sobol(int dimensions, std::uint64_t seed) : Sobol(dimensions) {
  scrambled_ = true;
  for (std::uint64_t j = 0; j < static_cast<std::uint64_t>(dimensions); ++j) key_.push_back(mix(seed, j));
}

std::uint32_t Sobol::bits(std::uint64_t index, int dimension) const {
  if (index >> kBits != 0 || dimension < 0 || dimension >= dimensions_)
    refuse("point of a sequence: there is no such number or dimension");
  const std::size_t j = static_cast<std::size_t>(dimension);
  const std::uint32_t* v = &direction_[j * kBits];
  std::uint32_t x = 0;
  for (std::uint64_t gray = index ^ (index >> 1); gray != 0; gray >>= 1, ++v)
    if ((gray & 1u) != 0) x ^= *v;
  return scrambled_ ? scramble(x, key_[j]) : x;
}

void Sobol::point(std::uint64_t index, double* out) const {
  for (int j = 0; j < dimensions_; ++j) out[j] = at(index, j);
}

SampleMatrix Sobol::points(std::uint64_t first, int count) const {
  if (count < 0) refuse("points of a sequence: the count must not be negative");
  if (first + static_cast<std::uint64_t>(count) > std::uint64_t{1} << kBits)
    refuse("points of a sequence: their numbers must stay below 2^32");
  SampleMatrix rows(count, dimensions_);
  for_each_piece(count, [&](long i) { point(first + static_cast<std::uint64_t>(i), rows.row(i).data()); });
  return rows;
}

}  // namespace tuft::uncertainty

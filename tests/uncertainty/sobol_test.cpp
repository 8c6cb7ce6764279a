#include "solver/uncertainty/sobol.hpp"

#include <boost/random/sobol.hpp>
#include <catch2/catch.hpp>
#include <cstdint>
#include <set>
#include <vector>

using tuft::uncertainty::kMostDimensions;
using Table = boost::random::default_sobol_table;
using tuft::uncertainty::Sobol;

namespace {

int degree_of(std::uint32_t p) {
  int degree = -1;
  for (; p != 0; p >>= 1) ++degree;
  return degree;
}

std::uint32_t times_x(std::uint32_t a, std::uint32_t p, int degree) {
  a <<= 1;
  return (a >> degree & 1u) != 0 ? a ^ p : a;
}

/// Order of x modulo p: p is primitive if it is 2^degree - 1.
int order_of_x(std::uint32_t p) {
  const int degree = degree_of(p);
  std::uint32_t power = degree == 1 ? 1u : 2u;
  int order = 1;
  for (; power != 1u && order < (1 << degree); ++order) power = times_x(power, p, degree);
  return order;
}

/// How many of the first 2^m points fall into each cell of a grid of 2^a by 2^b over two axes, a + b = m.
bool one_in_each_cell(const Sobol& sobol, int i, int j, int a, int b) {
  std::set<std::uint32_t> cells;
  const std::uint64_t count = std::uint64_t{1} << (a + b);
  for (std::uint64_t n = 0; n < count; ++n) {
    const std::uint32_t left = a == 0 ? 0 : sobol.bits(n, i) >> (32 - a);
    const std::uint32_t right = b == 0 ? 0 : sobol.bits(n, j) >> (32 - b);
    cells.insert(left << b | right);
  }
  return cells.size() == count;
}

}  // namespace

TEST_CASE("every polynomial of the table is primitive, stands once, and has odd initial numbers") {
  std::set<std::uint32_t> seen;
  int last = 1;
  for (std::size_t j = 0; j + 1 < static_cast<std::size_t>(kMostDimensions); ++j) {
    const std::uint32_t p = Table::polynomial(j);
    const int degree = degree_of(p);
    INFO("polynomial " << p);
    CHECK(order_of_x(p) == (1 << degree) - 1);
    CHECK(degree >= last);
    last = degree;
    seen.insert(p);
    for (int k = 1; k <= degree; ++k) {
      const std::uint32_t m = Table::minit(j, static_cast<std::size_t>(k - 1));
      CHECK((m % 2 == 1 && m < (1u << k)));
    }
  }
  CHECK(seen.size() == static_cast<std::size_t>(kMostDimensions) - 1);
  CHECK(order_of_x(0b11111) == 5);  // irreducible and not primitive: the check can fail
}

TEST_CASE("the plain sequence is the one of Joe and Kuo") {
  const Sobol sobol(kMostDimensions);
  // Their direction numbers in the order of the Gray code, as computed by SciPy 1.10 (32 bits, not
  // scrambled).
  const double first[8][3] = {{0, 0, 0},
                              {0.5, 0.5, 0.5},
                              {0.75, 0.25, 0.25},
                              {0.25, 0.75, 0.75},
                              {0.375, 0.375, 0.625},
                              {0.875, 0.875, 0.125},
                              {0.625, 0.125, 0.875},
                              {0.125, 0.625, 0.375}};
  for (std::uint64_t n = 0; n < 8; ++n) {
    for (int j = 0; j < 3; ++j) CHECK(sobol.bits(n, j) * 0x1p-32 == first[n][j]);
  }
  const int dimension[7] = {0, 1, 2, 9, 100, 339, 480};
  const std::uint32_t at_1000[7] = {943718400,  415236096,  2227175424, 297795584,
                                    3300917248, 1195376640, 3233808384};
  const std::uint32_t at_12345[7] = {2752774144, 3493593088, 688652288, 1845231616,
                                     2317090816, 767295488,  3899916288};
  for (int k = 0; k < 7; ++k) {
    INFO("dimension " << dimension[k]);
    CHECK(sobol.bits(1000, dimension[k]) == at_1000[k]);
    CHECK(sobol.bits(12345, dimension[k]) == at_12345[k]);
  }
}

TEST_CASE("every slice of every axis holds one point, scrambled or not") {
  const Sobol plain(kMostDimensions), scrambled(kMostDimensions, 11);
  for (int j = 0; j < kMostDimensions; ++j) {
    INFO("dimension " << j);
    REQUIRE(one_in_each_cell(plain, j, j, 8, 0));
    REQUIRE(one_in_each_cell(scrambled, j, j, 8, 0));
  }
  CHECK(one_in_each_cell(scrambled, 3, 3, 14, 0));
}

TEST_CASE("every elementary interval of the first two axes holds one point, scrambled or not") {
  for (const std::uint64_t seed : {1u, 2u, 77u}) {
    const Sobol plain(2), scrambled(2, seed);
    for (int m = 1; m <= 12; ++m) {
      for (int a = 0; a <= m; ++a) {
        REQUIRE(one_in_each_cell(plain, 0, 1, a, m - a));
        REQUIRE(one_in_each_cell(scrambled, 0, 1, a, m - a));
      }
    }
  }
}

TEST_CASE("scrambling makes each point uniform and keeps replicates apart") {
  // The mean of a fixed point over many seeds is 1/2 and its variance 1/12 (derived): within four standard
  // errors of 4000 independent draws.
  const int seeds = 4000;
  for (const std::uint64_t n : {0u, 1u, 1000u}) {
    double mean = 0.0, square = 0.0, product = 0.0;
    for (int s = 0; s < seeds; ++s) {
      const Sobol sobol(5, static_cast<std::uint64_t>(s));
      const double u = sobol.at(n, 4) - 0.5, v = sobol.at(n, 3) - 0.5;
      mean += u / seeds;
      square += u * u / seeds;
      product += u * v / seeds;
    }
    CHECK(std::abs(mean) < 4.0 * std::sqrt(1.0 / 12.0 / seeds));
    CHECK(std::abs(square - 1.0 / 12.0) < 4.0 * std::sqrt(1.0 / 180.0 / seeds));
    CHECK(std::abs(product) < 4.0 / 12.0 / std::sqrt(seeds));
  }
}

TEST_CASE("nested scrambling keeps two points as close as they were") {
  // Points that share their first k digits share them afterwards too, and part at the same digit.
  const Sobol plain(3), scrambled(3, 5);
  int as_shifted = 0;
  for (std::uint64_t a = 0; a < 64; ++a) {
    for (std::uint64_t b = a + 1; b < 64; ++b) {
      for (int j = 0; j < 3; ++j) {
        const std::uint32_t before = plain.bits(a, j) ^ plain.bits(b, j);
        const std::uint32_t after = scrambled.bits(a, j) ^ scrambled.bits(b, j);
        REQUIRE(degree_of(before) == degree_of(after));
        as_shifted += before == after ? 1 : 0;
      }
    }
  }
  // One shift for all would leave every difference as it was.
  CHECK(as_shifted < 3);
}

TEST_CASE("points never lie on an end, and blocks are the points asked for one by one") {
  const Sobol sobol(7, 3);
  const auto block = sobol.points(100, 50);
  for (int i = 0; i < 50; ++i) {
    for (int j = 0; j < 7; ++j) {
      CHECK(block(i, j) == sobol.at(100 + static_cast<std::uint64_t>(i), j));
      CHECK((block(i, j) > 0.0 && block(i, j) < 1.0));
    }
  }
  CHECK(Sobol(1).at(0, 0) > 0.0);
}

TEST_CASE("a sequence refuses what it can't give") {
  CHECK_THROWS_WITH(Sobol(0), "dimensions = 0: must be 1 to 481");
  CHECK_THROWS_WITH(Sobol(482, 1), "dimensions = 482: must be 1 to 481");
  CHECK_THROWS_WITH(Sobol(2).bits(0, 2), "point of a sequence: there is no such number or dimension");
  CHECK_THROWS_WITH(Sobol(2).at(std::uint64_t{1} << 32, 0),
                    "point of a sequence: there is no such number or dimension");
  CHECK_THROWS_WITH(Sobol(1).points(0, -1), "points of a sequence: the count must not be negative");
  CHECK_THROWS_WITH(Sobol(1).points(0xffffffffu, 2),
                    "points of a sequence: their numbers must stay below 2^32");
}

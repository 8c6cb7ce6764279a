#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/sparse/block_lu.hpp"
#include "solver/sparse/dissection.hpp"
#include "solver/sparse/frontal_lu.hpp"

using namespace tuft::sparse;

namespace {

struct System {
  SparsePattern pattern;
  std::vector<double> values;
  std::vector<UnknownPlace> places;
};

double lu_noise(unsigned* seed) {
  *seed = *seed * 1664525u + 1013904223u;
  return *seed / 4294967296.0 - 0.5;
}

/// Two unknowns a cell, nine-point couplings with random entries: nothing symmetric about it.
System random_system(int nx, int ny) {
  System s;
  unsigned seed = 7;
  s.pattern.row_start.push_back(0);
  for (int y = 0; y < ny; ++y)
    for (int x = 0; x < nx; ++x)
      for (int m = 0; m < 2; ++m) {
        s.places.push_back({x, y, false, false});
        for (int b = std::max(y - 1, 0); b <= std::min(y + 1, ny - 1); ++b)
          for (int a = std::max(x - 1, 0); a <= std::min(x + 1, nx - 1); ++a)
            for (int l = 0; l < 2; ++l) {
              const bool own = a == x && b == y && l == m;
              s.pattern.column.push_back(2 * (b * nx + a) + l);
              s.values.push_back(lu_noise(&seed) + (own ? 6.0 : 0.0));
            }
        s.pattern.row_start.push_back(static_cast<int>(s.pattern.column.size()));
      }
  return s;
}

std::vector<double> times(const System& s, const std::vector<double>& x) {
  std::vector<double> y(x.size(), 0.0);
  for (int r = 0; r < s.pattern.n(); ++r)
    for (int k = s.pattern.row_start[static_cast<std::size_t>(r)];
         k < s.pattern.row_start[static_cast<std::size_t>(r) + 1]; ++k)
      y[static_cast<std::size_t>(r)] +=
          s.values[static_cast<std::size_t>(k)] *
          x[static_cast<std::size_t>(s.pattern.column[static_cast<std::size_t>(k)])];
  return y;
}

template <class Scalar>
double worst_error(int nx, int ny) {
  const System s = random_system(nx, ny);
  FrontalLu<Scalar> lu(s.pattern, s.places, nx, ny);
  CHECK(lu.factor(s.values) == 0);
  unsigned seed = 3;
  std::vector<double> exact(static_cast<std::size_t>(s.pattern.n()));
  for (double& x : exact) x = lu_noise(&seed);
  std::vector<double> x = times(s, exact);
  lu.solve(&x);
  double worst = 0.0;
  for (std::size_t k = 0; k < x.size(); ++k) worst = std::max(worst, std::abs(x[k] - exact[k]));
  return worst;
}

}  // namespace

TEST_CASE("the direct solver gives the exact solution back", "[exact]") {
  CHECK(worst_error<double>(17, 13) < 1e-12);
  CHECK(worst_error<double>(1, 40) < 1e-12);
  CHECK(worst_error<double>(2, 3) < 1e-12);
  CHECK(worst_error<float>(17, 13) < 1e-4);
}

TEST_CASE("unknowns may stand anywhere in larger vectors, whose other entries stay", "[exact]") {
  const System s = random_system(12, 9);
  FrontalLu<double> lu(s.pattern, s.places, 12, 9);
  lu.factor(s.values);
  const auto n = static_cast<std::size_t>(s.pattern.n());
  std::vector<double> x(n);
  unsigned seed = 11;
  for (double& v : x) v = lu_noise(&seed);
  std::vector<int> numbers;
  std::vector<double> first(3 * n, 7.0), second(3 * n, 7.0);
  for (std::size_t k = 0; k < n; ++k) {
    numbers.push_back(static_cast<int>(3 * n - 1 - 2 * k));
    first[3 * n - 1 - 2 * k] = x[k];
    second[3 * n - 1 - 2 * k] = -2.0 * x[k];
  }
  lu.solve(&x);
  lu.set_numbers(numbers);
  lu.solve({first.data(), second.data()});
  double worst = 0.0;
  for (std::size_t k = 0; k < n; ++k)
    worst = std::max(
        {worst, std::abs(first[3 * n - 1 - 2 * k] - x[k]), std::abs(second[3 * n - 1 - 2 * k] + 2.0 * x[k])});
  CHECK(worst < 1e-13);
  for (std::size_t k = 0; k < 3 * n; ++k)
    if (k < n || (3 * n - 1 - k) % 2 == 1) {
      CHECK(first[k] == 7.0);
      CHECK(second[k] == 7.0);
    }
}

namespace {

/// u, v and p of a staggered grid, closed all around; one pressure is given and left out.
System staggered_system(int nx, int ny) {
  System s;
  unsigned seed = 13;
  struct Place {
    int kind, i, j;
  };
  std::vector<Place> list;
  std::vector<int> number(static_cast<std::size_t>(3 * nx * ny), -1);
  const auto at = [&](int kind, int i, int j) -> int& {
    return number[static_cast<std::size_t>(3 * (j * nx + i) + kind)];
  };
  const auto find = [&](int kind, int i, int j) {
    return i < 0 || j < 0 || i >= nx || j >= ny ? -1 : at(kind, i, j);
  };
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i)
      for (int kind = 0; kind < 3; ++kind) {
        if ((kind == 0 && i == 0) || (kind == 1 && j == 0)) continue;  // walls
        if (kind == 2 && i == nx / 2 && j == ny / 2) continue;         // the level
        at(kind, i, j) = static_cast<int>(list.size());
        list.push_back({kind, i, j});
        s.places.push_back({i, j, kind == 2, kind < 2});
      }
  s.pattern.row_start.push_back(0);
  for (const Place& row : list) {
    const auto couple = [&](int kind, int i, int j, double value) {
      const int c = find(kind, i, j);
      if (c < 0) return;
      s.pattern.column.push_back(c);
      s.values.push_back(value);
    };
    const int i = row.i, j = row.j;
    if (row.kind == 2) {
      couple(0, i, j, -1.0);
      couple(0, i + 1, j, 1.0);
      couple(1, i, j, -1.0);
      couple(1, i, j + 1, 1.0);
    } else {
      const int di = row.kind == 0 ? 1 : 0, dj = 1 - di;
      couple(row.kind, i, j, 5.0);
      for (const int sign : {-1, 1}) {
        couple(row.kind, i + sign, j, -1.0 + 0.5 * lu_noise(&seed));
        couple(row.kind, i, j + sign, -1.0 + 0.5 * lu_noise(&seed));
      }
      couple(2, i, j, 1.0);
      couple(2, i - di, j - dj, -1.0);
    }
    s.pattern.row_start.push_back(static_cast<int>(s.pattern.column.size()));
  }
  return s;
}

}  // namespace

TEST_CASE("pressures leave the separators of a staggered grid, and the solution stays exact", "[exact]") {
  const int nx = 40, ny = 31;
  const System s = staggered_system(nx, ny);
  // Every separator but the leaves' own rows holds velocities, and a pressure or two put off from below.
  const std::vector<Front> fronts = dissect(s.pattern, s.places, nx, ny);
  int in_fronts = 0;
  for (const Front& front : fronts) {
    const auto pressures = std::count_if(front.own.begin(), front.own.end(), [&](int d) {
      return s.places[static_cast<std::size_t>(d)].pressure;
    });
    in_fronts += static_cast<int>(front.own.size());
    if (!front.children.empty()) CHECK(pressures <= 2);
  }
  CHECK(in_fronts == s.pattern.n());

  FrontalLu<double> lu(s.pattern, s.places, nx, ny);
  CHECK(lu.factor(s.values) == 0);
  unsigned seed = 17;
  std::vector<double> exact(static_cast<std::size_t>(s.pattern.n()));
  for (double& x : exact) x = lu_noise(&seed);
  std::vector<double> x = times(s, exact);
  lu.solve(&x);
  double worst = 0.0;
  for (std::size_t k = 0; k < x.size(); ++k) worst = std::max(worst, std::abs(x[k] - exact[k]));
  CHECK(worst < 1e-10);
}

TEST_CASE("couplings that reach over a separator are refused", "[messages]") {
  System s = random_system(12, 12);
  s.pattern.column[0] = 2 * 12 * 12 - 1;  // far corner
  CHECK_THROWS_AS(FrontalLu<double>(s.pattern, s.places, 12, 12), std::logic_error);
}

TEST_CASE("block by block is exact for a block lower triangular matrix, several right-hand sides at once",
          "[exact]") {
  const int nx = 17, ny = 13;
  System s = random_system(nx, ny);
  std::vector<int> block;
  for (int r = 0; r < s.pattern.n(); ++r) block.push_back(r % 2);
  for (int r = 0; r < s.pattern.n(); r += 2)  // the first block sees nothing of the second
    for (int k = s.pattern.row_start[static_cast<std::size_t>(r)];
         k < s.pattern.row_start[static_cast<std::size_t>(r) + 1]; ++k)
      if (s.pattern.column[static_cast<std::size_t>(k)] % 2 == 1) s.values[static_cast<std::size_t>(k)] = 0.0;
  BlockLu lu(s.pattern, s.places, block, nx, ny);
  lu.factor(s.values);
  const auto n = static_cast<std::size_t>(s.pattern.n());
  unsigned seed = 5;
  std::vector<double> exact, x;
  for (int m = 0; m < 3; ++m) {
    std::vector<double> one(n, 0.0);  // the middle one acts on nothing and stays
    for (double& v : one) v = m == 1 ? 0.0 : lu_noise(&seed);
    const std::vector<double> right = times(s, one);
    exact.insert(exact.end(), one.begin(), one.end());
    x.insert(x.end(), right.begin(), right.end());
  }
  lu.solve(&x, 3);
  double worst = 0.0;
  for (std::size_t k = 0; k < x.size(); ++k) worst = std::max(worst, std::abs(x[k] - exact[k]));
  CHECK(worst < 1e-4);
}

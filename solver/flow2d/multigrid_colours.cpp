#include "solver/flow2d/multigrid_colours.hpp"

#include <algorithm>
#include <type_traits>
#include <utility>

#include "solver/flow2d/multigrid_kernels.hpp"

namespace tuft::field {
namespace {

/// The cells around those of one colour in one row.
template <class T>
Around<T> neighbours(const Coloured<T>& values, int c, int j) {
  const T* beside = values.row(1 - c, j) + ((j + c) & 1);
  return {beside - 1, beside, values.row(1 - c, j - 1), values.row(1 - c, j + 1)};
}

/// Their coefficients.
template <class T>
Around<T> faces(const ColourLevel<T>& level, int c, int j) {
  const int row = level.kept_row(j);
  return {level.west.row(c, row), level.west.row(1 - c, row) + ((j + c) & 1), level.south.row(c, row),
          level.south.row(1 - c, level.kept_row(j + 1))};
}

/// Room for n values, the thread's own.
template <class T>
T* scratch(int n) {
  thread_local std::vector<T> room;
  if (room.size() < static_cast<std::size_t>(n)) room.resize(static_cast<std::size_t>(n));
  return room.data();
}

}  // namespace

template <class T>
CoarseWeights<T>::CoarseWeights(std::vector<Between> its_places) : places(std::move(its_places)) {
  for (auto& n : next) n.assign((places.size() + 1) / 2, T{});
  for (std::size_t i = 0; i < places.size(); ++i) next[i & 1][i / 2] = static_cast<T>(places[i].weight);
}

template <class T>
ColourLevel<T>::ColourLevel(Level* from)
    : nx(from->nx),
      ny(from->ny),
      solution(nx, ny),
      rhs(nx, ny),
      kept(std::move(from->kept)),
      gaps(from->gaps),
      in_x(std::move(from->in_x)),
      in_y(std::move(from->in_y)) {
  const Level& level = *from;
  const std::vector<int>& rows = level.distinct;
  const int n = static_cast<int>(rows.size());
  west = Coloured<T>(nx, n);
  south = Coloured<T>(nx, n + 1);
  inverse = Coloured<T>(nx, n);
  if (level.holds) held = Coloured<T>(nx, n);
  std::vector<double> inverses(static_cast<std::size_t>(nx));
  for (int r = 0; r < n; ++r) {
    const int j = rows[static_cast<std::size_t>(r)], first = j & 1;
    split_row(nx + 1, level.west(j), west.row(first, r), west.row(1 - first, r));
    split_row(nx, level.south(j), south.row(first, r), south.row(1 - first, r));
    if (level.holds) split_row(nx, level.held(j), held.row(first, r), held.row(1 - first, r));
    for (int i = 0; i < nx; ++i) {
      const double d = level.diagonal(i, j);
      inverses[static_cast<std::size_t>(i)] = d > 0.0 ? 1.0 / d : 0.0;
    }
    split_row(nx, inverses.data(), inverse.row(first, r), inverse.row(1 - first, r));
  }
  split_row(nx, level.south(ny), south.row(ny & 1, n), south.row(1 - (ny & 1), n));
  rows_.resize(static_cast<std::size_t>(2 * ny));
  for (int j = 0; j < ny; ++j)
    for (int c = 0; c < 2; ++c) {
      const int cells_in_row = count(c, j);
      const int groups = (cells_in_row + relaxed_together - 1) / relaxed_together;
      rows_[static_cast<std::size_t>(c * ny + j)] = {
          cells_in_row,  groups * relaxed_together,   faces(*this, c, j), neighbours(solution, c, j),
          rhs.row(c, j), inverse.row(c, kept_row(j)), solution.row(c, j)};
    }
}

template <class T>
void ColourLevel<T>::image(const Coloured<T>& values, int c, int j, T* out) const {
  const T* s = values.row(c, j);
  const int n = count(c, j);
  image_row(n, row(c, j).coefficients, neighbours(values, c, j), s, out);
  if (held.empty()) return;
  const T* d = held.row(c, kept_row(j));
#pragma omp simd
  for (int k = 0; k < n; ++k) out[k] += d[k] * s[k];
}

template <class T>
void ColourLevel<T>::residual(const Coloured<T>& values, int c, int j, T* out) const {
  image(values, c, j, out);
  const T* b = rhs.row(c, j);
  const int n = count(c, j);
#pragma omp simd
  for (int k = 0; k < n; ++k) out[k] = b[k] - out[k];
}

template <class T>
template <class U>
void ColourLevel<T>::restrict_residual(int c, int J, ColourLevel<U>* coarse, double* squares) const {
  // Cells (2I, .) and (2I + 1, .) of one colour are entry I of their row, so that the two rows of a coarse
  // one add up entry by entry.
  const int wide = coarse->nx;
  T *lower = scratch<T>(2 * wide), *upper = lower + wide;
  if (squares != nullptr) *squares = 0.0;
  const auto take = [&](int j, T* out) {
    const int n = count(c, j);
    residual(solution, c, j, out);
    for (int k = n; k < wide; ++k) out[k] = T{};
    if constexpr (std::is_same_v<T, double>)
      if (squares != nullptr) *squares += squares_row(n, out);
  };
  take(2 * J, lower);
  if (2 * J + 1 < ny)
    take(2 * J + 1, upper);
  else
    std::fill_n(upper, wide, T{});
  split_sum(wide, lower, upper, coarse->rhs.row(J & 1, J), coarse->rhs.row(1 - (J & 1), J));
  for (int C = 0; C < 2 && coarse->gaps; ++C) {
    const ColourRow<U>& target = coarse->row(C, J);
    U* b = coarse->rhs.row(C, J);
    for (int k = 0; k < target.count; ++k)
      if (!(target.inverse[k] > U{})) b[k] = U{};
  }
}

template <class T>
template <class U>
void ColourLevel<T>::add_correction(const ColourLevel<U>& coarse, int j) {
  if (gaps || coarse.gaps) {
    for (int c = 0; c < 2; ++c) add_correction_around_gaps(coarse, c, j);
    return;
  }
  // The coarse rows on both sides blended into one, in its natural order with a ghost at either end.
  U* blended = scratch<U>(coarse.nx + 2) + 1;
  blended[-1] = blended[coarse.nx] = U{};
  const Between& q = in_y.places[static_cast<std::size_t>(j)];
  const U next_share = static_cast<U>(q.weight), near_share = U{1} - next_share;
  const int first = q.near & 1;
  const U *near_even = coarse.solution.row(first, q.near), *near_odd = coarse.solution.row(1 - first, q.near);
  const int next_first = q.next & 1;
  const U *next_even = coarse.solution.row(next_first, q.next),
          *next_odd = coarse.solution.row(1 - next_first, q.next);
  join_blended(coarse.nx, near_share, near_even, near_odd, next_share, next_even, next_odd, blended);
  if (q.rim > 0.0)
    for (int I = 0; I < coarse.nx; ++I)
      if (coarse.rim_holds_y(I, q.near == 0 ? 0 : coarse.ny)) blended[I] *= static_cast<U>(1.0 - q.rim);
  for (int p = 0; p < 2; ++p) {
    const int n = (nx + 1 - p) / 2;
    const T* weight = in_x.next[p].data();
    const U* beside = p == 0 ? blended - 1 : blended + 1;
    T* s = solution.row((j + p) & 1, j);
    add_between_row(n, blended, beside, weight, s);
    // At an end of the row the rim may hold 0.
    const auto at_end = [&](int k) {
      const Between& place = in_x.places[static_cast<std::size_t>(2 * k + p)];
      if (!(place.rim > 0.0) || !coarse.rim_holds_x(place.near == 0 ? 0 : coarse.nx, q.near)) return;
      const T near = static_cast<T>(blended[k]);
      s[k] -= static_cast<T>(place.rim) * (near + weight[k] * (static_cast<T>(beside[k]) - near));
    };
    if (n > 0) at_end(0);
    if (n > 1) at_end(n - 1);
  }
}

/// The same where some cells take no part: those have nothing to say, the others share their weight.
template <class T>
template <class U>
void ColourLevel<T>::add_correction_around_gaps(const ColourLevel<U>& coarse, int c, int j) {
  const Between& q = in_y.places[static_cast<std::size_t>(j)];
  const int p = (j + c) & 1, n = count(c, j);
  T* s = solution.row(c, j);
  for (int k = 0; k < n; ++k) {
    if (!part(2 * k + p, j)) continue;
    const Between& place = in_x.places[static_cast<std::size_t>(2 * k + p)];
    const double across[2] = {1.0 - place.weight, place.weight}, along[2] = {1.0 - q.weight, q.weight};
    const int I[2] = {place.near, place.next}, J[2] = {q.near, q.next};
    double sum = 0.0, total = 0.0;
    for (int b = 0; b < 2; ++b)
      for (int a = 0; a < 2; ++a) {
        if (!coarse.part(I[a], J[b])) continue;
        sum += along[b] * across[a];
        total += along[b] * across[a] * static_cast<double>(coarse.solution.at(I[a], J[b]));
      }
    if (!(sum > 0.0)) continue;
    double correction = total / sum;
    if (q.rim > 0.0 && coarse.rim_holds_y(place.near, q.near == 0 ? 0 : coarse.ny)) correction *= 1.0 - q.rim;
    if (place.rim > 0.0 && coarse.rim_holds_x(place.near == 0 ? 0 : coarse.nx, q.near))
      correction *= 1.0 - place.rim;
    s[k] += static_cast<T>(correction);
  }
}

template struct ColourLevel<double>;
template struct ColourLevel<float>;
template void ColourLevel<double>::add_correction(const ColourLevel<float>&, int);
template void ColourLevel<float>::add_correction(const ColourLevel<float>&, int);
template void ColourLevel<double>::restrict_residual(int, int, ColourLevel<float>*, double*) const;
template void ColourLevel<float>::restrict_residual(int, int, ColourLevel<float>*, double*) const;

}  // namespace tuft::field

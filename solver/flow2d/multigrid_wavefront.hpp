// Several passes over the rows of a grid made in one pass over memory.
#pragma once

#include <omp.h>

#include <algorithm>
#include <cstddef>

namespace tuft::field {

/// The stages over rows [begin, end); every one begins `low` and ends `high` rows further in than the one
/// before.
template <class Stage>
void wavefront_band(int begin, int end, int low, int high, int stages, const Stage& stage) {
  for (int front = begin; front < end + stages - 1; ++front)
    for (int s = 0; s < stages; ++s) {
      const int j = front - s;
      if (j >= begin + low * s && j < end - high * s) stage(s, j, j + 1);
    }
}

/// Calls stage(s, j, end), which works on rows [j, end), so that every of `stages` stages comes to each of
/// the rows once: stage s of a row after stage s - 1 of this row and of the two beside it, and before stage s
/// + 1 of those. The stages follow one another down the grid a row apart, so that a row is worked on by all
/// of them while it is in the cache.
///
/// Threads take a band of rows each. Where two bands meet every stage stops one row earlier than the one
/// before; the wedge that is left is done when both bands are. `cells` is the size of the whole job: small
/// ones stay on one thread, and the smallest, which fit the nearest cache, take one stage after another.
/// @pre a stage writes only what belongs to its row, reads that and the two rows beside it, and does not
/// throw.
template <class Stage>
void wavefront(int rows, int stages, std::size_t cells, const Stage& stage) {
  if (cells <= 4096) {
    for (int s = 0; s < stages; ++s) stage(s, 0, rows);
    return;
  }
  const int most = cells > 40000 ? std::min(omp_get_max_threads(), rows / (4 * stages)) : 1;
  if (most <= 1) {
    wavefront_band(0, rows, 0, 0, stages, stage);
    return;
  }
#pragma omp parallel num_threads(most)
  {
    const int bands = omp_get_num_threads(), me = omp_get_thread_num();
    // Bands begin at even rows: pairs of rows that make a coarse one stay together.
    const auto start_of = [&](int band) {
      return band == bands ? rows : static_cast<int>(static_cast<long long>(rows) * band / bands) / 2 * 2;
    };
    const int begin = start_of(me), end = start_of(me + 1);
    wavefront_band(begin, end, me > 0 ? 1 : 0, me + 1 < bands ? 1 : 0, stages, stage);
#pragma omp barrier
    if (me > 0)
      for (int s = 1; s < stages; ++s) stage(s, begin - s, begin + s);
  }
}

}  // namespace tuft::field

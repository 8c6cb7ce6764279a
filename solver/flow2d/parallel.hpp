// Rows shared among threads; each row is worked on by one, so that results don't depend on how many there
// are.
#pragma once

#include <cstddef>

namespace tuft::field {

/// Calls body(j) for j in [begin, end). `cells` is the size of the whole job: small ones stay on one thread,
/// where a barrier would cost more than it saves.
/// @pre body writes only what belongs to row j, and does not throw.
template <class Body>
inline void for_rows(int begin, int end, std::size_t cells, const Body& body) {
  if (cells <= 40000) {  // even a team of one has its price
    for (int j = begin; j < end; ++j) body(j);
    return;
  }
#pragma omp parallel for schedule(static)
  for (int j = begin; j < end; ++j) body(j);
}

}  // namespace tuft::field

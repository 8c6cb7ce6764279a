// Work shared among threads; each piece is done by one, so that results don't depend on how many there are.
#pragma once

namespace tuft::doubt {

/// Calls body(i) for i in [0, count).
/// @pre body writes only what belongs to piece i, and does not throw.
template <class Body>
inline void for_each_piece(long count, const Body& body) {
#pragma omp parallel for schedule(static) if (count > 1)
  for (long i = 0; i < count; ++i) body(i);
}

}  // namespace tuft::doubt

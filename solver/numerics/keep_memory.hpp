// What a program may ask of the allocator when it starts.
#pragma once

#if defined(__linux__) && __has_include(<malloc.h>)
#include <malloc.h>
#endif

namespace tuft::numerics {

/// Keeps memory that is given back, up to 256 MB, for the next to ask, in place of returning it to the
/// system: solvers ask for the same arrays again and again, and a fresh page costs as much as a sweep over
/// it. For a program's main(); it holds for the whole process. Does nothing without glibc.
inline void keep_freed_memory() {
#if defined(__GLIBC__) && defined(M_TRIM_THRESHOLD)
  mallopt(M_TRIM_THRESHOLD, 256 << 20);
  mallopt(M_MMAP_THRESHOLD, 32 << 20);  // the most that glibc takes
#endif
}

}  // namespace tuft::numerics

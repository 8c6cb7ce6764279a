// Memory for arrays of many megabytes.
#pragma once

#include <cstddef>

namespace tuft::field {

/// Cleared memory from the system, which is asked for pages of 2 MiB: a grid of millions of cells otherwise
/// spends as long on faults and misses of small pages as on several multigrid cycles. The pages are only
/// advice; without them nothing but time is lost. nullptr where the system has no such call or no memory.
void* map_large(std::size_t bytes);

/// Gives back what map_large() gave for `bytes`.
void unmap_large(void* memory, std::size_t bytes) noexcept;

}  // namespace tuft::field

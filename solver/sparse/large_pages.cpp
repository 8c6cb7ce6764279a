#include "solver/sparse/large_pages.hpp"

#if defined(__linux__)
#include <sys/mman.h>

#include <cstdint>
#endif

namespace tuft::field {

#if defined(__linux__)
namespace {

constexpr std::size_t kPage = std::size_t{2} << 20;

std::size_t whole_pages(std::size_t bytes) { return (bytes + kPage - 1) / kPage * kPage; }

}  // namespace

void* map_large(std::size_t bytes) {
  // One page more than asked for, so that a whole page's boundary lies within; what is over goes back at
  // once.
  const std::size_t size = whole_pages(bytes), more = size + kPage;
  void* mapped = mmap(nullptr, more, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
  if (mapped == MAP_FAILED) return nullptr;
  char* begin = static_cast<char*>(mapped);
  const std::size_t before = (kPage - reinterpret_cast<std::uintptr_t>(begin) % kPage) % kPage;
  if (before > 0) munmap(begin, before);
  if (more - before > size) munmap(begin + before + size, more - before - size);
  madvise(begin + before, size, MADV_HUGEPAGE);
  return begin + before;
}

void unmap_large(void* memory, std::size_t bytes) noexcept { munmap(memory, whole_pages(bytes)); }
#else
void* map_large(std::size_t) { return nullptr; }
void unmap_large(void*, std::size_t) noexcept {}
#endif

}  // namespace tuft::field

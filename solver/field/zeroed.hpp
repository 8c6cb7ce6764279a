// Memory for large arrays that begin as zeros.
#pragma once

#include <cstddef>
#include <cstdlib>
#include <cstring>
#include <new>
#include <type_traits>
#include <utility>

#if defined(__linux__)
#include <sys/mman.h>
#endif

namespace tuft::field {

/// `size` values of a plain number type, all 0. Zeros come from the system with the memory itself where that
/// is possible, and large arrays ask for large pages: a grid of millions of cells otherwise spends as long on
/// page faults as on several multigrid cycles.
template <class T>
class Zeroed {
  static_assert(std::is_arithmetic_v<T>);

 public:
  Zeroed() = default;
  explicit Zeroed(std::size_t size) : size_(size) {
    if (size_ > 0) allocate();
  }
  Zeroed(const Zeroed& other) : Zeroed(other.size_) {
    if (size_ > 0) std::memcpy(data_, other.data_, size_ * sizeof(T));
  }
  Zeroed(Zeroed&& other) noexcept { swap(other); }
  Zeroed& operator=(Zeroed other) noexcept {
    swap(other);
    return *this;
  }
  ~Zeroed() { release(); }

  T* data() { return data_; }
  const T* data() const { return data_; }
  std::size_t size() const { return size_; }

 private:
  void swap(Zeroed& other) noexcept {
    std::swap(data_, other.data_);
    std::swap(size_, other.size_);
    std::swap(mapped_, other.mapped_);
  }

  void allocate() {
#if defined(__linux__)
    constexpr std::size_t large = std::size_t{1} << 22;
    if (size_ * sizeof(T) >= large) {
      void* pages =
          mmap(nullptr, size_ * sizeof(T), PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
      if (pages != MAP_FAILED) {
        madvise(pages, size_ * sizeof(T), MADV_HUGEPAGE);  // only advice: without it nothing but time is lost
        mapped_ = true;
        data_ = static_cast<T*>(pages);
        return;
      }
    }
#endif
    data_ = static_cast<T*>(std::calloc(size_, sizeof(T)));
    if (data_ == nullptr) throw std::bad_alloc();
  }

  void release() noexcept {
#if defined(__linux__)
    if (mapped_) {
      munmap(data_, size_ * sizeof(T));
      return;
    }
#endif
    std::free(data_);
  }

  T* data_ = nullptr;
  std::size_t size_ = 0;
  bool mapped_ = false;
};

}  // namespace tuft::field

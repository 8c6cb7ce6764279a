// Memory for large arrays that begin as zeros.
#pragma once

#include <cstddef>
#include <cstdlib>
#include <cstring>
#include <new>
#include <type_traits>
#include <utility>

#include "solver/sparse/large_pages.hpp"

namespace tuft::field {

/// `size` values of a plain number type, all 0. Zeros come with the memory itself where the system gives it
/// out cleared, so that a large array is not written twice; arrays of megabytes lie in large pages.
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
    constexpr std::size_t large = std::size_t{4} << 20;
    if (size_ * sizeof(T) >= large) data_ = static_cast<T*>(map_large(size_ * sizeof(T)));
    mapped_ = data_ != nullptr;
    if (mapped_) return;
    data_ = static_cast<T*>(std::calloc(size_, sizeof(T)));
    if (data_ == nullptr) throw std::bad_alloc();
  }

  void release() noexcept { mapped_ ? unmap_large(data_, size_ * sizeof(T)) : std::free(data_); }

  T* data_ = nullptr;
  std::size_t size_ = 0;
  bool mapped_ = false;
};

}  // namespace tuft::field

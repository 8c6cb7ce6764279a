// Memory for large arrays that begin as zeros.
#pragma once

#include <cstddef>
#include <cstdlib>
#include <cstring>
#include <new>
#include <type_traits>
#include <utility>

namespace tuft::field {

/// `size` values of a plain number type, all 0. Zeros come with the memory itself where the system gives it
/// out cleared, so that a large array is not written twice.
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
  ~Zeroed() { std::free(data_); }

  T* data() { return data_; }
  const T* data() const { return data_; }
  std::size_t size() const { return size_; }

 private:
  void swap(Zeroed& other) noexcept {
    std::swap(data_, other.data_);
    std::swap(size_, other.size_);
  }

  void allocate() {
    data_ = static_cast<T*>(std::calloc(size_, sizeof(T)));
    if (data_ == nullptr) throw std::bad_alloc();
  }

  T* data_ = nullptr;
  std::size_t size_ = 0;
};

}  // namespace tuft::field

// A plain two-dimensional array of numbers, x fastest.
#pragma once

#include <cstddef>
#include <vector>

namespace tuft::flow2d {

/// nx by ny values, stored row by row (x fastest). Index (i, j) is column i of row j; unchecked, both from 0.
template <class T>
class Array2T {
 public:
  Array2T() = default;
  Array2T(int nx, int ny, T value = T{})
      : nx_(nx), ny_(ny), data_(static_cast<std::size_t>(nx) * static_cast<std::size_t>(ny), value) {}

  int nx() const { return nx_; }
  int ny() const { return ny_; }
  std::size_t size() const { return data_.size(); }
  bool empty() const { return data_.empty(); }

  T& operator()(int i, int j) { return data_[index(i, j)]; }
  const T& operator()(int i, int j) const { return data_[index(i, j)]; }
  T& operator[](std::size_t k) { return data_[k]; }
  const T& operator[](std::size_t k) const { return data_[k]; }
  T* row(int j) { return data_.data() + index(0, j); }
  const T* row(int j) const { return data_.data() + index(0, j); }
  T* data() { return data_.data(); }
  const T* data() const { return data_.data(); }
  void fill(T value) { data_.assign(data_.size(), value); }
  const std::vector<T>& values() const { return data_; }

 private:
  std::size_t index(int i, int j) const {
    return static_cast<std::size_t>(j) * static_cast<std::size_t>(nx_) + static_cast<std::size_t>(i);
  }
  int nx_ = 0;
  int ny_ = 0;
  std::vector<T> data_;
};

using Array2 = Array2T<double>;
using Mask = Array2T<unsigned char>;

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

}  // namespace tuft::flow2d

// The order things are taken in, so that the order in which a person wrote them does not change a bit.
#pragma once

#include <algorithm>
#include <numeric>
#include <vector>

namespace tuft::network {

/// Indices of a list in the order of the names.
template <typename Named>
std::vector<int> by_name(const std::vector<Named>& list) {
  std::vector<int> order(list.size());
  std::iota(order.begin(), order.end(), 0);
  std::sort(order.begin(), order.end(), [&](int a, int b) {
    return list[static_cast<std::size_t>(a)].name < list[static_cast<std::size_t>(b)].name;
  });
  return order;
}

/// Element of a list by a signed index.
template <typename T>
const T& at(const std::vector<T>& list, int index) {
  return list[static_cast<std::size_t>(index)];
}
template <typename T>
T& at(std::vector<T>& list, int index) {
  return list[static_cast<std::size_t>(index)];
}

}  // namespace tuft::network

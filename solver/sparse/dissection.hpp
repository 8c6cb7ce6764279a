// The order in which the unknowns of a grid are eliminated.
#pragma once

#include <vector>

#include "solver/sparse/frontal_lu.hpp"

namespace tuft::field {

/// One front of the elimination tree.
struct Front {
  int parent = -1;
  std::vector<int> children;
  std::vector<int> own;  ///< unknowns eliminated here
  std::vector<int>
      border;  ///< unknowns eliminated further up that couple to this front or what lies below it
};

/// Fronts in the order of elimination: children before parents, the root last.
/// @throws std::logic_error when two unknowns couple that the dissection had taken for separate.
std::vector<Front> dissect(const SparsePattern& pattern, const std::vector<UnknownPlace>& places, int nx,
                           int ny);

}  // namespace tuft::field

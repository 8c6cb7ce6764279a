// What does not change with the numbers of a matrix: the order in which the unknowns of a grid are
// eliminated, and where the parts of its factors lie.
#pragma once

#include <cstddef>
#include <vector>

#include "solver/sparse/frontal_lu.hpp"

namespace tuft::sparse {

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

/// Entry `value` of the pattern goes to row, column of a front.
struct Placement {
  int value, row, column;
};

/// Border entries from..from+length of a front lie at to..to+length of its parent's.
struct Run {
  int from, to, length;
};

/// The fronts of FrontalLu, children before parents, and their lists one after another.
struct FrontalLayout {
  /// One front. What is its own in the stores begins where its numbers say and ends where the next front's
  /// begins: what a pass reads lies together, in the order in which it reads it. (Of `upper` the next is the
  /// front before, for that pass runs down the tree.)
  struct Node {
    int own = 0, border = 0;
    std::size_t children = 0, unknowns = 0, entries = 0, runs = 0, workspace = 0, lower = 0, upper = 0;
  };

  FrontalLayout(const SparsePattern& pattern, const std::vector<Front>& fronts);

  const Node& node(int f) const { return nodes[f]; }
  int root() const { return static_cast<int>(nodes.size()) - 2; }
  /// Sizes of the stores.
  const Node& total() const { return nodes.back(); }
  Span<const int> children_of(int f) const { return part(children, &Node::children, f); }
  Span<const int> unknowns_of(int f) const { return part(unknowns, &Node::unknowns, f); }
  Span<const Placement> entries_of(int f) const { return part(entries, &Node::entries, f); }
  /// From a front into its parent, in the order of its border.
  Span<const Run> runs_of(int f) const { return part(runs, &Node::runs, f); }

  std::size_t n = 0;          ///< unknowns
  std::vector<Node> nodes;    ///< and one beyond the last
  std::vector<int> unknowns;  ///< where each front's own are found in a right-hand side

 private:
  template <class T>
  Span<const T> part(const std::vector<T>& store, std::size_t Node::*begin, int f) const {
    return {store.data() + node(f).*begin, store.data() + node(f + 1).*begin};
  }
  void place_fronts(const std::vector<Front>& fronts);
  void share_entries(const SparsePattern& pattern, const std::vector<Front>& fronts);
  void place_entries(const std::vector<Front>& fronts);

  std::vector<int> children;
  std::vector<Placement> entries;
  std::vector<Run> runs;
};

}  // namespace tuft::sparse

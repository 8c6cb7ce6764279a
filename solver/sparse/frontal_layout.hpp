// Where the parts of a factorisation by fronts lie: what does not change with the numbers.
#pragma once

#include <cstddef>
#include <vector>

#include "solver/sparse/dissection.hpp"
#include "solver/sparse/frontal_lu.hpp"

namespace tuft::field {

/// Entry `value` of the pattern goes to row, column of a front.
struct Placement {
  int value, row, column;
};

/// Border entries from..from+length of a front lie at to..to+length of its parent's.
struct Run {
  int from, to, length;
};

/// A part of one of the stores.
template <class T>
struct Span {
  T* first;
  T* last;
  T* begin() const { return first; }
  T* end() const { return last; }
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

  const Node& node(int f) const { return nodes[static_cast<std::size_t>(f)]; }
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

}  // namespace tuft::field

// A direct solver for blocks of unknowns, used one block after another.
#pragma once

#include <vector>

#include "solver/sparse/frontal_lu.hpp"

namespace tuft::sparse {

/// Block Gauss-Seidel with exact blocks: the matrix is cut into blocks of unknowns, each block's own part is
/// factored by FrontalLu, and a solve runs through the blocks in order, every one taking what those before it
/// found. Entries that lead to a later block are left out, so that this is an inverse only of a block lower
/// triangular matrix, and a preconditioner of any other. Work and memory of factors grow with the third and
/// second power of the unknowns a cell has in one block: several small blocks cost a fraction of one large.
class BlockLu {
 public:
  /// `block` gives every unknown its block, from 0; blocks without unknowns are allowed. Places as FrontalLu
  /// has them.
  BlockLu(const SparsePattern& pattern, const std::vector<UnknownPlace>& places,
          const std::vector<int>& block, int nx, int ny);

  /// Factors the blocks from `first` up to and without `end` (-1: all) of the matrix with these entries (in
  /// the pattern's order); the others keep their factors.
  void factor(const std::vector<double>& values, int first = 0, int end = -1);

  /// *x := approximate inverse times *x, for `columns` right-hand sides one after another in x. A block is
  /// left alone where nothing acts on it. Blocks from `end` on (-1: none) keep what x holds.
  void solve(std::vector<double>* x, int columns = 1, int end = -1) const;

 private:
  /// Entry `value` of the whole pattern, from unknown `column` of an earlier block into a row of this one.
  struct Coupling {
    int value, row, column;
  };
  struct Block {
    int number;
    std::vector<int> unknowns;  ///< numbers in the whole
    std::vector<int> entries;   ///< of the whole pattern, in the block's own order
    FrontalLu<float> lu;
    std::vector<Coupling> before;
    std::vector<double> strength;  ///< of each coupling, as last factored
  };
  static Block make_block(const SparsePattern& pattern, const std::vector<UnknownPlace>& places,
                          const std::vector<int>& block, const std::vector<int>& local,
                          std::vector<int> members, int nx, int ny);
  std::vector<Block> blocks_;
  std::size_t n_ = 0;
};

}  // namespace tuft::sparse

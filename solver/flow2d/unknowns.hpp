// Which entries of a state are unknown, their numbers, and which balances depend on which of them.
#pragma once

#include <array>
#include <vector>

#include "solver/flow2d/residual.hpp"
#include "solver/flow2d/state.hpp"
#include "solver/sparse/frontal_lu.hpp"

namespace tuft::flow2d {

/// Kinds of unknowns, in the order in which a state holds them.
enum Kind { kind_u = 0, kind_v = 1, kind_p = 2, kind_t = 3 };

struct Unknown {
  Kind kind;
  int i, j;
};

/// Numbers the unknowns of a problem: open faces, the pressure of air cells, the temperature of all cells
/// that conduct or hold air. One pressure of every body of air without an outlet is given (it only sets the
/// level) and left out; its mass balance follows from the others.
class Unknowns {
 public:
  Unknowns(const Problem& problem, const Mesh& mesh);

  int n() const { return static_cast<int>(list_.size()); }
  const Unknown& operator[](int k) const { return list_[k]; }
  /// Number of an unknown, -1 for a value that is given or lies outside the grid.
  int number(Kind kind, int i, int j) const;
  /// Cells whose pressure sets the level of a closed body of air.
  const std::vector<std::array<int, 2>>& level_cells() const { return level_cells_; }

  const sparse::SparsePattern& pattern() const { return pattern_; }
  /// Place of each entry of the pattern in its balance's stencil (see Slopes).
  const std::vector<unsigned char>& places_in_stencil() const { return slot_; }
  std::vector<sparse::UnknownPlace> places() const;

  std::vector<double> gather(const State& state) const;

  static const Array2& part(const State& state, Kind kind);
  static Array2& part(State& state, Kind kind);

 private:
  void find_level_cells(const Problem& problem, const Mesh& mesh);
  void set_pattern();

  int nx_, ny_;
  std::vector<Unknown> list_;
  std::array<Array2T<int>, 4> number_;
  std::vector<std::array<int, 2>> level_cells_;
  sparse::SparsePattern pattern_;
  std::vector<unsigned char> slot_;
};

}  // namespace tuft::flow2d

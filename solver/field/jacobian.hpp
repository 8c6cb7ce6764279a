// The compact Jacobian: entries of the sparse matrix that preconditions Newton's steps.
#pragma once

#include <array>
#include <vector>

#include "solver/field/residual.hpp"
#include "solver/field/unknowns.hpp"

namespace tuft::field {

/// d(balance)/d(unknown) of the compact residual, in the order of the unknowns' pattern. Columns whose
/// balances don't meet are moved together (Curtis, Powell & Reid 1974, J. Inst. Maths Applics 13:117-119): at
/// most 36 evaluations whatever the grid's size.
class CompactJacobian {
 public:
  /// `unknowns` and the residual given later must belong together; the first must outlive the object.
  explicit CompactJacobian(const Unknowns& unknowns);

  /// At `state`. `step` is the change of each kind of unknown that differences are taken over.
  const std::vector<double>& evaluate(const State& state, const double (&step)[4], Residual* residual);

 private:
  static constexpr std::size_t kColours = 36;

  const Unknowns& unknowns_;
  /// Entries and columns by colour, so that each colour touches its own alone.
  std::array<std::vector<int>, kColours> columns_, entries_, rows_;
  std::vector<double> values_;
  /// Balances are linear in the pressures, with coefficients that hold for good unless vents (F16) hang on
  /// them.
  bool pressures_known_ = false;
};

}  // namespace tuft::field

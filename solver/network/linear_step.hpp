// One linear step of the network: openings eliminated, a system left that is small and dense, or large and
// sparse.
#pragma once

#include <Eigen/Core>
#include <vector>

#include "solver/network/equations.hpp"
#include "solver/numerics/dense.hpp"
#include "solver/numerics/sparse_lu.hpp"

namespace tuft::network {

/// What pseudo-time adds to the diagonal; zero for a plain Newton step.
struct Inertia {
  double flow = 0.0;  ///< added to every element's slope [Pa s/kg]
  double heat = 0.0;  ///< relative: times each temperature's own conductance scale, added to its heat balance
};

/// How the matrices of one graph are kept.
enum class MatrixStorage {
  by_size,  ///< dense below numerics::kSparseFrom unknowns, sparse from there on
  dense     ///< for those who want the matrix itself
};

/// Buffers and solver of the linear systems of one graph. Sized once; `compute` allocates nothing where the
/// matrix is dense.
///
/// The flow of each opening is eliminated by its own momentum equation (its slope is never zero); fans keep
/// theirs, as a fan's slope vanishes at the top of a hump and for a still rotor without flow. The unknowns
/// left are fan flows, pressures and temperatures.
class LinearStep {
 public:
  explicit LinearStep(const Equations& equations, MatrixStorage storage = MatrixStorage::by_size);

  /// Newton correction of the state last evaluated by `equations`, into flow, pressure, temperature.
  /// With `frozen_temperature` the energy equations are replaced by no change.
  /// @return false if the system is singular or the correction is not finite.
  bool compute(const Equations& equations, const State& x, const Inertia& inertia, bool frozen_temperature);

  /// The correction of all unknowns with the factors of the last `compute` of them, which was at a state so
  /// near that they serve: what is left of the residual then falls by how far the two states are apart. The
  /// slopes of the openings are those of that state too, so that masses balance as after a step of its own.
  bool compute_with_last_factors(const Equations& equations, const State& x);

  /// Newton correction of the temperatures alone, at the flow there is, into `correction`, whose flow and
  /// pressure are left as they are. @return false as above.
  bool compute_heat(const Equations& equations, const State& x);

  /// Factors D - J at the state last evaluated, which is `x`: an implicit step whose diagonal D is given row
  /// by row as in Equations::residual; 0 in rows of held temperatures. The sum of an opening's entry and its
  /// slope has to be above nought. @return false if the matrix is sparse and singular.
  bool factor_implicit(const Equations& equations, const State& x, const Eigen::VectorXd& diagonal);

  /// x of (D - J) x = right with those factors, `equations` still at the same state; all unknowns in one
  /// vector. Entries are not finite where the matrix is singular.
  Eigen::VectorXd solve_implicit(const Equations& equations, const Eigen::VectorXd& right);

  const State& correction() const { return correction_; }

  /// Scaled residual norm (largest entry) of the state last evaluated, which is `x`.
  double norm(const Equations& equations, const State& x, bool frozen_temperature);

  /// Both norms of a step's end.
  struct StepNorms {
    double steady = 0.0;  ///< as `norm`
    double left = 0.0;  ///< of the implicit pseudo-time step that led there by the correction last computed:
                        ///< what its linearisation left over. Small steps leave little however far the
                        ///< steady state is.
  };
  StepNorms step_norms(const Equations& equations, const State& x, const Inertia& inertia,
                       bool frozen_temperature);

  /// The Jacobian last assembled, scaled by Scales: rows and columns fans, pressures, temperatures. Only
  /// where the storage is dense.
  const Eigen::MatrixXd& matrix() const { return matrix_; }
  int first_temperature() const { return first_temperature_; }

 private:
  // Change of an opening's flow, scaled, as the others change: from its own momentum equation.
  struct FlowChange {
    double constant, by_pressure, by_ta, by_tb;
  };

  // How an opening's flow enters a row of the matrix last assembled [-], scaled.
  struct Coupling {
    int row, opening;
    double factor;
  };

  void set_inertia(const Equations& equations, const Inertia& inertia);
  // Calls put(row, column, value) for each scaled derivative of a row that is left by a column that is, and
  // couple(row, opening, value) for those by the flow of an opening.
  template <typename Put, typename Couple>
  void each_slope(const Equations& equations, const State& x, bool frozen_temperature, const Put& put,
                  const Couple& couple) const;
  void assemble(const Equations& equations, const State& x, bool frozen_temperature,
                bool frozen_flow = false);
  // Adds to an entry of the matrix.
  void put(int row, int column, double value) {
    if (is_sparse_)
      entries_.push_back({row, column, value});
    else
      matrix_(row, column) += value;
  }
  void clear_row(int row);
  bool solve_block(int first, int size, numerics::DenseLu& dense, numerics::SparseLu& sparse);
  void add_flow_change(const Equations& equations, int row, int opening, double factor);
  void set_right(const Equations& equations);
  void solve_full();
  bool take_solution(const Equations& equations);
  void recover_flows(const Equations& equations);
  int pressure_row(int node) const { return n_flows_ - n_openings_ + node; }
  int temperature_row(int index) const { return first_temperature_ + index; }

  int n_openings_, n_flows_, n_nodes_, n_temperatures_, first_temperature_, size_;
  bool is_sparse_;
  Eigen::MatrixXd matrix_;                        // where dense
  std::vector<numerics::Entry> entries_, block_;  // where sparse
  numerics::SparseLu flow_sparse_, heat_sparse_, full_sparse_;
  Eigen::VectorXd right_, solution_;
  // Of all rows, the openings' too; unscaled. `residual_` may be another right-hand side.
  Eigen::VectorXd row_factor_, residual_, inertia_;
  std::vector<FlowChange> changes_;
  std::vector<Coupling> couplings_;
  numerics::DenseLu flow_lu_, heat_lu_, full_lu_;
  State correction_;
};

}  // namespace tuft::network

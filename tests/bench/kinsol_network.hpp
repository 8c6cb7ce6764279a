// The network's residual solved by SUNDIALS KINSOL with a dense matrix, to measure our solver against.
#pragma once

#include <memory>

#include "solver/network/equations.hpp"

namespace tuft::experiment {

enum class Jacobian { differences, analytic };

/// KINSOL on all unknowns (flows, pressures, temperatures), line search, the same scales, start and tolerance
/// as network::Solver. Set up once; `solve` starts from the state given each time.
class KinsolNetwork {
 public:
  KinsolNetwork(const network::Graph& graph, Jacobian jacobian, double tolerance);
  ~KinsolNetwork();

  /// @return true when KINSOL says it converged; the state is then in `state()`.
  bool solve(const network::State& start);
  network::State state() const;
  long iterations() const;

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace tuft::experiment

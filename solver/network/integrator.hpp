// A stiff integrator with roots: backward differences of variable order (CVODE) behind plain vectors.
#pragma once

#include <Eigen/Core>
#include <memory>
#include <string>
#include <vector>

namespace tuft::network {

class System;

/// What an integration is bound to.
struct Bounds {
  double relative = 1e-6;     ///< error a step may make, relative to y [-]
  Eigen::VectorXd absolute;   ///< ... and besides, in y's own units; its size is the system's
  double longest_step = 1e9;  ///< [s]
};

/// Integrates y' = f(y) of a system step by step, with functions whose rise through zero is an event. The
/// system must outlive it.
class Integrator {
 public:
  Integrator(System& system, const Bounds& bounds, int n_roots);
  ~Integrator();
  Integrator(const Integrator&) = delete;
  Integrator& operator=(const Integrator&) = delete;

  /// Begins anew at time t from y, as after a jump.
  void restart(double t, const Eigen::VectorXd& y);

  enum class Outcome {
    step,   ///< one step was made
    root,   ///< up to an event; `fired` says which
    stop,   ///< up to the time asked for
    failed  ///< `message` says why; t and y are those before
  };
  /// Makes one step, not beyond `stop` > t.
  Outcome advance(double stop, double& t, Eigen::VectorXd& y);

  /// The roots that rose through zero, rising index.
  const std::vector<int>& fired() const;
  const std::string& message() const;

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace tuft::network

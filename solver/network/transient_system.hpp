// A controlled network as the integrator sees it.
#pragma once

#include "solver/numerics/dense.hpp"
#include "solver/network/transient_controls.hpp"
#include "solver/network/integrator.hpp"
#include "solver/network/quasi_steady.hpp"

namespace tuft::transient {

/// y: temperatures over the room's [K], nodes then bodies; then the energy given and the energy left [J]
/// since the start. The last two ride along as quadratures (theory.md, W5):
///
///     E_given' = powers,   E_left' = heat to the room,   sum of C_i T_i' = E_given' - E_left'.
///
/// The third is no equation of the system but follows from mass and heat being balanced in every space; the
/// Jacobian's rows keep it, so backward differences keep it too, up to what the flow leaves unbalanced.
class System : public Problem {
 public:
  System(QuasiSteady& heat, Controls& controls, double ambient);

  int n_temperatures() const { return n_; }
  Eigen::VectorXd temperatures(const Eigen::Ref<const Eigen::VectorXd>& y) const;

  bool rates(const Eigen::Ref<const Eigen::VectorXd>& y, Eigen::Ref<Eigen::VectorXd> rate) override;
  bool jacobian(const Eigen::Ref<const Eigen::VectorXd>& y, Eigen::Ref<Eigen::MatrixXd> slope) override;
  bool roots(const Eigen::Ref<const Eigen::VectorXd>& y, double* values) override;

  /// d rate / d T of temperatures [1/s] at the state last settled; the rows of held ones are zero.
  const Eigen::MatrixXd& temperature_jacobian();
  /// Rates of temperatures [K/s] at the state last settled.
  const Eigen::VectorXd& temperature_rates();

  long n_rates = 0;

 private:
  QuasiSteady* heat_;
  Controls* controls_;
  double ambient_;
  int n_;
  Eigen::VectorXd temperature_, rate_;
  Eigen::MatrixXd slope_;
};

/// How far from rest the temperatures are by a straight continuation (theory.md, W6): J d = -rate, the
/// largest |d| [K]; held temperatures stand still. Keeps the factors of J and makes them anew when they
/// matter, as the question is asked at every step.
class Distance {
 public:
  Distance(System& system, const Controls& controls) : system_(&system), controls_(&controls) {}

  /// Whether the state last settled is that near.
  bool within(double kelvin);
  /// The distance itself, from a fresh J. Infinite where J has no inverse.
  double fresh();
  /// Modes have changed: forget the factors.
  void forget() { age_ = kOld; }

 private:
  static constexpr int kOld = 25;  // asked that often, they are made anew
  double with_old_factors();

  System* system_;
  const Controls* controls_;
  base::DenseLu factors_;
  int age_ = kOld;
};

/// Largest real part of the eigenvalues of the free temperatures' Jacobian [1/s]; below 0 the state is
/// stable.
double fastest_growth(System& system, const Controls& controls);

}  // namespace tuft::transient

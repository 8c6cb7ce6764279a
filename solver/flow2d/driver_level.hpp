// One grid of the driver's, with its solver.
#pragma once

#include <memory>
#include <stdexcept>
#include <string>
#include <vector>

#include "solver/flow2d/driver.hpp"

namespace tuft::flow2d {

inline bool is_held(const Stage& stage) { return !stage.energy; }

/// A grid's flow with its solver, for one stage and scheme at a time.
class Driver::Level {
 public:
  explicit Level(const Flow& flow) : flow_(flow) {
    for (const Problem* p : flow.layers) {
      const std::string fault = p->problem();
      if (!fault.empty()) throw std::invalid_argument(fault);
      if (flow.coupling_terms == nullptr && !p->coupled.empty())
        throw std::invalid_argument(
            "coupled is given: the problem exchanges air with something that is not there");
      factors_.push_back(p->momentum_factor);
      energy_.push_back(p->energy);
    }
  }

  const Flow& flow() const { return flow_; }

  NewtonSummary solve(const Stage& stage, Convection scheme, const NewtonOptions& options, Fields* fields) {
    set(stage, scheme);
    if (stage.thicker == 1.0) return solver().solve(options, fields);
    // What a problem's air is made of its residual takes once.
    std::vector<Problem> thick;
    for (const Problem* p : flow_.layers) thick.push_back(*p);
    Flow thicker = flow_;
    for (std::size_t l = 0; l < thick.size(); ++l) {
      thick[l].fluid.viscosity *= stage.thicker;
      thick[l].fluid.conductivity *= stage.thicker;
      thicker.layers[l] = &thick[l];
    }
    return NewtonSolver(thicker).solve(options, fields);
  }

  /// The problems with all the air's inertia and heat.
  void set(const Stage& stage, Convection scheme) {
    if (solver_ == nullptr && is_held(stage)) solver();  // its unknowns hold the temperatures
    for (std::size_t l = 0; l < flow_.layers.size(); ++l) {
      Problem& p = *flow_.layers[l];
      p.momentum_factor = stage.share * factors_[l];
      p.momentum_scheme = p.energy_scheme = scheme;
      p.energy = stage.energy && energy_[l];
    }
  }

  /// *fields += factor * mode, as Growth has it.
  void push(const std::vector<double>& mode, double factor, Fields* fields) {
    solver().system().add(mode, factor, fields);
  }

  /// How disturbances of steady fields, found with this convection, go on.
  Growth growth(Convection scheme, const Fields& steady) {
    set({}, scheme);
    return growth_of(steady, &solver());
  }

 private:
  NewtonSolver& solver() {
    if (solver_ == nullptr) solver_ = std::make_unique<NewtonSolver>(flow_);
    return *solver_;
  }

  const Flow flow_;
  std::vector<double> factors_;
  std::vector<char> energy_;
  std::unique_ptr<NewtonSolver> solver_;
};

}  // namespace tuft::flow2d

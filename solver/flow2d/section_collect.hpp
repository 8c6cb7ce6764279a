// From a solved plane to its result.
#pragma once

#include "solver/flow2d/residual.hpp"
#include "solver/flow2d/section_tracer.hpp"

namespace tuft::flow2d {

/// Fields and what carries tracers, of one state or the mean of many.
struct Moment {
  flow2d::State state;
  flow2d::Array2 density;
  Carriers carriers;
};

/// The fields of one state; `residual` is of the model's problem.
Moment moment_of(const SectionModel& model, const flow2d::State& state, flow2d::Residual* residual);
Moment moment_of(const SectionModel& model, const flow2d::State& state);

/// What was found on one model's grid.
struct Found {
  SectionEnd end = SectionEnd::not_converged;
  std::string message;
  Moment fields;
  Tracers tracers;
  DrawnAir drawn;
  /// Of a mean: how far each share drawn again may still move [-], per outlet of `drawn`, per vent; empty for
  /// a steady state.
  std::vector<std::vector<double>> by_start;
  bool first_order = true;
  Steadiness steadiness;
  int steps = 0, factorisations = 0, linear_iterations = 0, marched_steps = 0, passages = 0;
  double begins = 0.0, span = 0.0, fluctuation = 0.0;  ///< of the window of a mean
  double residual = 0.0, mass = 0.0, energy = 0.0;
};

/// Fills fields, vents, tracers and recirculation fractions, with the uncertainty that `coarse` tells, found
/// on cells twice as large; null, or not usable: no uncertainty is known.
void collect(const geometry::Case& content, const SectionModel& model, const Found& found,
             const Found* coarse, SectionResult* result);

}  // namespace tuft::flow2d

// The flow on one model's grid: its steady state, or a mean in time over a window that is long enough to
// trust.
#pragma once

#include <vector>

#include "solver/flow2d/driver.hpp"
#include "solver/flow2d/residual.hpp"
#include "solver/flow2d/section_solve.hpp"
#include "solver/flow2d/section_tracer.hpp"

namespace tuft::flow2d {

/// Fields and what carries tracers, of one state or the mean of many.
struct Moment {
  State state;
  Array2 density;
  Carriers carriers;
};

/// The fields of one state; `residual` is of the model's problem.
Moment moment_of(const SectionModel& model, const State& state, Residual* residual);
Moment moment_of(const SectionModel& model, const State& state);

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

/// Sums over one passage, or over several.
struct Sums {
  double time = 0.0, kinetic = 0.0, low = 1e300, high = 0.0;
  Moment fields;
  Tracers tracers;
  DrawnAir drawn;

  void add(double dt, double energy, const Moment& f, const Tracers& t, const DrawnAir& d);
  void add(const Sums& other);
  void scale(double factor);
  double mean_energy() const { return time > 0.0 ? kinetic / time : 0.0; }

 private:
  void take(double weight, const Moment& f, const Tracers& t, const DrawnAir& d);
};

/// Watches a run in time (F33). The run is cut into passages: times in which the fastest air crosses the
/// body. After every third of them the first third is left to settle, and the two others are the window. The
/// run ends when the window is long enough; fewer than three passages are no mean. What a share may still
/// move: half the difference d of the window's halves, and as much as goes on at this rate while the outlets'
/// air is renewed once; at least d.
class ShareMonitor : public Monitor {
 public:
  /// `body`: what the fastest air has to cross for one passage [m]. The window is long enough when no share
  /// drawn again may still move by more than `tolerance` [-], and its halves agree to twice of it in the mean
  /// kinetic energy over its mean. The model outlives the object.
  ShareMonitor(const SectionModel& model, const State& start, double body, double tolerance = 0.005);

  double passed(const March& march, const MarchStep& step) override;
  bool take(const March& march, const MarchStep& step) override;
  bool is_mean() const override { return passages > 0; }
  Fields mean() const override { return {{window.fields.state}, {}}; }

  bool long_enough = false;  ///< by the tolerance
  int passages = 0;          ///< of the fastest air across the body within the window
  double begins = 0.0;       ///< of the window, after the start of the run [s]
  double span = 0.0;         ///< of the window [s]
  double fluctuation = 0.0;  ///< highest less lowest kinetic energy in the window over its mean [-]
  Sums window;               ///< means over it
  /// How far the share of outlet k in what vent v draws may still move [-], by [k][v] (F33).
  std::vector<std::vector<double>> by_start;

 private:
  ShareMonitor(const SectionModel& model, Moment start, double body, double tolerance);
  void set_window();

  const SectionModel& model_;
  const double body_, tolerance_;
  Residual residual_;
  TracerMarcher tracers_;
  double renewal_ = 0.0;  ///< time the outlets' air stays in the plane [s]
  std::vector<Sums> whole_;
  Sums passage_;
  double travelled_ = 0.0;
};

/// The flow on a level's grid, from rough fields on; where no steady state is found a mean in time, `body`
/// [m] long.
Found find_flow(const SectionModel& model, Driver* driver, int level, Fields start,
                const SectionOptions& options, double body);

}  // namespace tuft::flow2d

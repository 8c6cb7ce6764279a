// The flow on one model's grid: its steady state, or a mean in time over a window that is long enough to
// trust.
#pragma once

#include <vector>

#include "solver/flow2d/driver.hpp"
#include "solver/flow2d/section_collect.hpp"
#include "solver/flow2d/section_solve.hpp"

namespace tuft::flow2d {

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
class ShareMonitor : public flow2d::Monitor {
 public:
  /// `body`: what the fastest air has to cross for one passage [m]. The window is long enough when no share
  /// drawn again may still move by more than `tolerance` [-], and its halves agree to twice of it in the mean
  /// kinetic energy over its mean. The model outlives the object.
  ShareMonitor(const SectionModel& model, const flow2d::State& start, double body, double tolerance = 0.005);

  double passed(const flow2d::March& march, const flow2d::MarchStep& step) override;
  bool take(const flow2d::March& march, const flow2d::MarchStep& step) override;
  bool is_mean() const override { return passages > 0; }
  flow2d::Fields mean() const override { return {{window.fields.state}, {}}; }

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
  flow2d::Residual residual_;
  TracerMarcher tracers_;
  double renewal_ = 0.0;  ///< time the outlets' air stays in the plane [s]
  std::vector<Sums> whole_;
  Sums passage_;
  double travelled_ = 0.0;
};

/// The flow on a level's grid, from rough fields on; where no steady state is found a mean in time, `body`
/// [m] long.
Found find_flow(const SectionModel& model, flow2d::Driver* driver, int level, flow2d::Fields start,
                const SectionOptions& options, double body);

}  // namespace tuft::flow2d

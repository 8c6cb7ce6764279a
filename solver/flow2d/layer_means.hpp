// Means over time of fields and flows, and how far flows swing about them.
#pragma once

#include "solver/flow2d/layer_coupling.hpp"
#include "solver/flow2d/layer_result.hpp"

namespace tuft::plan {

/// Adds moments up, each for as long as it lasted; between two of them everything is taken to run straight.
class Means {
 public:
  /// `flows` as collect_flows fills them. The first call is the start of the window.
  void add(double time, const Fields& fields, const PlanResult& flows);

  double span() const { return last_ - first_; }  ///< [s]
  Fields fields() const;
  /// Flows of vents, fans and passages; temperatures are those of what passed, all of it mixed.
  PlanResult flows() const;
  /// Half the way from the least to the largest net inflow of each vent [kg/s].
  std::vector<double> amplitudes() const;

 private:
  double first_ = 0.0, last_ = 0.0;
  bool any_ = false;
  Fields sum_, previous_;
  PlanResult flow_sum_, previous_flows_;
  std::vector<double> low_, high_;
};

}  // namespace tuft::plan

// Means over time of fields and flows, and how far flows swing about them.
#pragma once

#include "solver/flow2d/driver.hpp"
#include "solver/flow2d/layer_coupling.hpp"
#include "solver/flow2d/layer_result.hpp"

namespace tuft::flow2d {

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
  /// Whether no vent swings wider in the second half of the window than 1.25 times the first, or than a
  /// thousandth of `through_flow` [kg/s] (judgement): swings that still grow are not known whole.
  bool amplitudes_stay(double through_flow) const;

 private:
  std::vector<double> swings_between(double from, double to) const;

  double first_ = 0.0, last_ = 0.0;
  bool any_ = false;
  Fields sum_, previous_;
  PlanResult flow_sum_, previous_flows_;
  std::vector<double> times_;              ///< [s]
  std::vector<std::vector<double>> nets_;  ///< of each vent at each of them [kg/s]
};

/// Watches a run in time of layers: half of it to come to rest, half to be averaged.
class FlowMonitor : public Monitor {
 public:
  /// `most_steps` and `most_passages`, of the air through the device: the whole run.
  FlowMonitor(const geometry::Device& device, LayerFlow* flow, int most_steps, double most_passages)
      : device_(device), flow_(*flow), most_steps_(most_steps), most_passages_(most_passages) {}

  double passed(const March& march, const MarchStep& step) override;
  bool take(const March& march, const MarchStep& step) override;
  /// A mean over less than one passage is none.
  bool is_mean() const override { return passages() >= 1.0 && means_.span() > 0.0; }
  Fields mean() const override { return means_.fields(); }

  const Means& means() const { return means_; }
  double passages() const { return passed_ - begun_; }  ///< in the second half

 private:
  const geometry::Device& device_;
  LayerFlow& flow_;
  const int most_steps_;
  const double most_passages_;
  int steps_ = 0;
  double begun_ = 0.0, passed_ = 0.0;
  PlanResult flows_;  ///< of the step
  Means means_;
};

}  // namespace tuft::flow2d

// What watches over a network while time goes on: fans that follow, sources that give way.
#pragma once

#include <vector>

#include "solver/network/fan_speed.hpp"
#include "solver/network/transient.hpp"

namespace tuft::network {

class QuasiSteady;

/// The controls of one network. Between events every fan and every source is in one mode, in which the rates
/// are smooth; an event is a root of one of `roots`, and `cross` changes the mode (theory.md, W3 and W4).
///
/// Source, with limit T*, asked power P and least power P0 < P: below T* it takes P; above it, P0; at T* it
/// is held there, its power being what its balance lacks, as long as that lies between P0 and P (W4).
class Controls {
 public:
  /// Changes powers, speeds and sensors of `graph`. All references must outlive it.
  Controls(Graph& graph, const std::vector<SourceRule>& rules, QuasiSteady& heat);

  /// Takes over what a load asks. What has shut down or failed stays so.
  void load_inputs(const LoadInputs& load_inputs);
  /// A fan that stops for good.
  void fail(int fan);
  /// Finds every mode anew from the temperatures and where they go. False where no flow is found.
  bool find_modes(Eigen::VectorXd& temperature);

  /// Whether a temperature is held: its rate is zero.
  bool holds(int temperature) const { return at(held_, temperature); }
  /// Sources that hold a temperature, by that temperature.
  const std::vector<int>& held_temperatures() const { return held_list_; }
  /// Power of all, held sources as they take it [W], of the state last settled.
  double given() const;
  /// A source's and a fan's state for the record, of the state last settled [W], [rev/s].
  double power(int source) const;
  double speed(int fan) const;
  /// The graph with sources at what they are asked to take, those shut down at nothing.
  Graph as_asked() const;

  /// Functions that rise through zero at an event, of the state last settled. Two for each source and fan.
  int n_roots() const { return 2 * static_cast<int>(sources_.size() + fans_.size()); }
  void roots(const Eigen::VectorXd& temperature, double* values) const;
  /// Whether they need the heat at those temperatures, not the temperatures alone.
  bool roots_need_heat() const;
  /// Changes the mode that belongs to a root and adds what happened. May set a held temperature [K].
  void cross(int root, double time, Eigen::VectorXd& temperature, std::vector<Event>& events);
  /// A root that lies beyond zero without having been crossed, as after a jump; -1 when there is none.
  int overdue(const Eigen::VectorXd& temperature) const;

 private:
  struct Source {
    const SourceRule* rule = nullptr;
    double asked = 0.0, least = 0.0;
    SourceState mode = SourceState::full;
  };
  struct Fan {
    int sensor = kNoSensor;
    bool plays = false;  ///< has a table and a hysteresis
    bool failed = false;
    PlayOperator play_operator;
    PlayMode mode = PlayMode::held;
    double speed = 0.0;
  };

  Body* body_of(const Source& source) const;
  double needed(const Source& source) const;
  double sensed(const Eigen::VectorXd& temperature, int sensor) const;
  double sensed_rate(int sensor) const;
  void apply(std::size_t fan) const;
  void apply_power(const Source& source);
  void find_source_mode(Source& source, Eigen::VectorXd& temperature);
  void find_fan_mode(Fan& fan, double temperature);
  void source_roots(const Source& source, const Eigen::VectorXd& temperature, double* values) const;
  void fan_roots(const Fan& fan, const Eigen::VectorXd& temperature, double* values) const;
  double slack(int root) const;
  Event cross_source(Source& source, int which, Eigen::VectorXd& temperature);
  Event cross_fan(std::size_t index, int which, const Eigen::VectorXd& temperature);

  Graph* graph_;
  QuasiSteady* heat_;
  std::vector<Source> sources_;
  std::vector<Fan> fans_;
  std::vector<char> held_;
  std::vector<int> held_list_;
  bool started_ = false;
};

}  // namespace tuft::network

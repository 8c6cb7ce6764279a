// What is solid in a part of a layer, as one lump that stores heat on its way into the air.
#pragma once

#include <cstddef>
#include <vector>

#include "solver/flow2d/system.hpp"

namespace tuft::flow2d {

/// Chips, boards and fins of one part (docs/field.md, F30): C dT/dt = P - G (T - T_air), T_air the mean of
/// the part's air, and that air is given G (T - T_air) evenly in place of P.
struct HeatLump {
  double capacity = 0.0;           ///< C [J/K], > 0
  double conductance = 0.0;        ///< G [W/K], > 0
  double start = 0.0;              ///< temperature at the start [K]
  double power = 0.0;              ///< P, which the problem's heat sources hold at first [W]
  Problem* problem = nullptr;      ///< of the layer that the part's air lies in
  std::size_t layer = 0;           ///< its number
  std::vector<std::size_t> cells;  ///< of the part
  double area = 0.0;               ///< of those, all together [m2]
};

/// All lumps of a flow. Gives their heat to its layers as `heat_source`, step by step.
class ThermalMasses {
 public:
  ThermalMasses() = default;
  /// `given`: all heat the flow is given, by what faults are measured [W].
  ThermalMasses(std::vector<HeatLump> lumps, double given);

  bool empty() const { return lumps_.empty(); }
  /// Lets the lumps go a step with the air as warm as `air` says (one a lump), and gives the layers their
  /// heat.
  void advance(const TimeWeights& weights, const std::vector<double>& air);
  /// Mean temperature of the air of each lump's part [K].
  std::vector<double> air_of(const Fields& fields) const;
  /// Heat that would be wrong for taking the air to be as warm as `air` where it is `true_air` [W], worst
  /// lump.
  double fault(const std::vector<double>& air, const std::vector<double>& true_air) const;
  /// What faults are measured by: all heat given, or what would pass if all lumps were as warm as at the
  /// start in air of the room's warmth [W], > 0.
  double given() const { return given_; }
  /// The step holds: from here on it is the past.
  void accept();
  /// As they were one step back, which was the start.
  void go_back();

  double power() const;    ///< given to all lumps [W]
  double passing() const;  ///< what they give to the air [W]
  std::vector<double> temperatures() const;

 private:
  struct Lump : HeatLump {
    double next = 0.0, now = 0.0, before = 0.0, heat = 0.0;
  };

  std::vector<Lump> lumps_;
  double given_ = 1e-3;
};

}  // namespace tuft::flow2d

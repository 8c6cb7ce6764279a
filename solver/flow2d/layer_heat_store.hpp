// What is solid in a zone or fin stack, as one lump that stores heat on its way into the air.
#pragma once

#include <vector>

#include "solver/flow2d/layer_coupling.hpp"
#include "solver/flow2d/layer_storage.hpp"

namespace tuft::plan {

/// Chips, boards and fins of one part (docs/field.md, F30): C dT/dt = P - G (T - T_air), T_air the mean of
/// the part's air, and that air is given G (T - T_air) evenly in place of P.
struct HeatStore {
  int part = 0;              ///< zone, or number of zones + fin stack
  double capacity = 0.0;     ///< C [J/K], > 0
  double conductance = 0.0;  ///< G [W/K], > 0
  double start = 0.0;        ///< temperature at the start [K]
  double at_once = 0.0;      ///< of the part's heat, what goes straight into its air and is no part of P [W]
};

/// All lumps of a model. Gives their heat to the model's layers as `heat_source`, step by step.
class HeatStores {
 public:
  /// Takes what the model's layers are given over whole parts as the lumps' P. Keeps the model, which must
  /// outlive it. Throws std::invalid_argument for a part that is not there, and for numbers that cannot be.
  HeatStores(const std::vector<HeatStore>& stores, const Given& given, Model* model);

  bool empty() const { return lumps_.empty(); }
  /// Lets the lumps go a step with the air as warm as `air` says (one a lump), and gives the layers their
  /// heat.
  void advance(const TimeWeights& weights, const std::vector<double>& air);
  /// Mean temperature of the air of each lump's part [K].
  std::vector<double> air_of(const Fields& fields) const;
  /// Heat that would be wrong for taking the air to be as warm as `air` where it is `true_air` [W], worst
  /// lump.
  double fault(const std::vector<double>& air, const std::vector<double>& true_air) const;
  /// The step holds: from here on it is the past.
  void accept();
  /// As they were one step back, which was the start.
  void go_back();

  double power() const;  ///< given to all lumps [W]
  double swing()
      const;  ///< passing if all were as warm as at the start in air of the room's warmth [W], >= 0
  double passing() const;  ///< what they give to the air [W]
  std::vector<double> temperatures() const;

 private:
  struct Lump {
    HeatStore store;
    double power = 0.0;
    double next = 0.0, now = 0.0, before = 0.0, heat = 0.0;
    std::size_t layer = 0;
    std::vector<std::size_t> cells;
    double area = 0.0;
  };
  void give(Lump* lump, double heat);

  Model* model_;
  double room_ = 0.0;  ///< [K]
  std::vector<Lump> lumps_;
};

}  // namespace tuft::plan

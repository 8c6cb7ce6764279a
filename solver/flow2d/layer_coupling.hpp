// What passes between the layers, the outside and the spaces that stay well mixed, for given fields and
// flows.
#pragma once

#include <vector>

#include "solver/flow2d/layer_model.hpp"

namespace tuft::flow2d {

/// Evaluates everything that joins the layers. Keeps a reference to the model, which must outlive it.
///
///   cell openings  E1 to E4 on each cell's part, from the pressures of the two sides             (F22)
///   links          p_a - p_b = what the passage takes, or -(what the fan gives), on the mean of the cells of
///                  each group; the flow spreads by their shares                                 (F23)
///   nodes          mass and heat of spaces that stay well mixed                                  (F24)
class Coupling : public CouplingTerms {
 public:
  explicit Coupling(const LayerModel& model);

  int n_own() const override { return model_.n_own(); }

  /// Left over in the balances of the own unknowns: a pressure [Pa] and two temperatures [K] for every link,
  /// mass [kg/s] and heat [W] for every node. The temperatures at a link's ends are unknowns of their own, so
  /// that what it carries from cells to cells passes through the border alone.
  void evaluate(const Fields& fields) override;
  const std::vector<Exchange>& exchange() const override { return exchange_; }
  /// Links, and cell openings to nodes.
  void evaluate_beside(const Fields& fields) override;
  const std::vector<CellRef>& cells_beside() const override { return cells_beside_; }
  const std::vector<double>& imbalance() const override { return imbalance_; }

  /// Flows of the last evaluation, in the model's order.
  const std::vector<OpeningFlow>& cell_flows() const { return cell_flows_; }
  const std::vector<OpeningFlow>& link_flows() const { return link_flows_; }

  CouplingSlopes slopes(const Fields& fields) const override;
  std::vector<std::pair<CellRef, std::optional<CellRef>>> openings() const override;
  std::array<double, 2> scale_of(int own, const Magnitudes& sizes, double difference) const override;
  void add_balance(Gross* gross, std::vector<std::array<double, 2>>* spaces) const override;
  std::string name_of(int own) const override;
  std::string name_of_layer(int layer) const override;

  /// Pressure at a place and temperature of an end's air; means over a group.
  SideAir side(const Fields& fields, const End& end, double outside) const;

  const LayerModel& model() const { return model_; }
  const Fluid& fluid() const { return model_.layers.front().problem.fluid; }

 private:
  void add_cell(const Fields& fields, const CellRef& cell, double in, double out, double heat);
  void add_end(const Fields& fields, const End& end, double in, double out, double brought);
  void clear(const std::vector<CellRef>& cells);
  void evaluate_opening(const Fields& fields, std::size_t k);
  void evaluate_link(const Fields& fields, int k);
  void add_opening_slopes(const Fields& fields, const CellOpening& opening, CouplingSlopes* out) const;
  void add_link_slopes(const Fields& fields, int k, CouplingSlopes* out) const;
  double heat_of(double mass, double temperature) const;

  const LayerModel& model_;
  std::vector<Exchange> exchange_;
  std::vector<std::size_t> openings_beside_;  ///< to nodes
  std::vector<CellRef> cells_beside_;         ///< of the ends of those and of links, each once
  std::vector<CellRef> cells_;                ///< of all ends, each once
  std::vector<double> imbalance_;
  std::vector<OpeningFlow> cell_flows_, link_flows_;
};

/// Still air at ambient temperature in all layers, nothing moving.
Fields still_fields(const LayerModel& model);

/// A model as the field's solver takes it.
class LayerFlow {
 public:
  LayerFlow(LayerModel model, const Magnitudes& magnitudes);
  LayerFlow(const LayerFlow&) = delete;
  LayerFlow& operator=(const LayerFlow&) = delete;

  const LayerModel& model() const { return model_; }
  LayerModel& model() { return model_; }
  Coupling& coupling() { return coupling_; }
  const Flow& flow() const { return flow_; }
  /// Time the mean flow takes along the device, about [s].
  double passage() const;
  /// Mass of the air in all layers, by the density outside [kg].
  double air() const;

 private:
  LayerModel model_;
  Coupling coupling_;
  Flow flow_;
};

}  // namespace tuft::flow2d

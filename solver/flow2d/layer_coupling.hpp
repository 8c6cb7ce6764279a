// What passes between the layers, the outside and the spaces that stay well mixed, for given fields and
// flows.
#pragma once

#include <vector>

#include "solver/flow2d/exchange.hpp"
#include "solver/flow2d/layer_model.hpp"

namespace tuft::plan {

/// Fields of all layers, and the unknowns beside them (see Model).
struct Fields {
  std::vector<field::State> layers;
  std::vector<double> own;
};

/// A derivative between cells: of what row's cell gains (mass [kg/s] or heat [W]) by the pressure or
/// temperature of column's cell.
struct CellSlope {
  CellRef row;
  bool row_heat = false;
  CellRef column;
  bool column_heat = false;
  double value = 0.0;
};

/// A derivative of what is left over in the balance of an unknown beside the cells, by the pressure or
/// temperature of a cell.
struct OwnSlope {
  int own = 0;
  CellRef column;
  bool column_heat = false;
  double value = 0.0;
};

struct Slopes {
  std::vector<CellSlope> cells;
  std::vector<OwnSlope> own;
};

/// Evaluates everything that joins the layers. Keeps a reference to the model, which must outlive it.
///
///   cell openings  E1 to E4 on each cell's part, from the pressures of the two sides             (F22)
///   links          p_a - p_b = what the passage takes, or -(what the fan gives), on the mean of the cells of
///                  each group; the flow spreads by their shares                                 (F23)
///   nodes          mass and heat of spaces that stay well mixed                                  (F24)
class Coupling {
 public:
  explicit Coupling(const Model& model);

  /// What every cell of every layer gains, and what is left over in the balances of the other unknowns: a
  /// pressure [Pa] and two temperatures [K] for every link, mass [kg/s] and heat [W] for every node. The
  /// temperatures at a link's ends are unknowns of their own, so that what it carries from cells to cells
  /// passes through the border alone.
  void evaluate(const Fields& fields);
  const std::vector<field::Exchange>& exchange() const { return exchange_; }
  /// The same for what hangs on the unknowns beside the cells: links, and cell openings to nodes. Afterwards
  /// exchange() holds that alone, in cells_beside(), and means nothing elsewhere.
  void evaluate_beside(const Fields& fields);
  const std::vector<CellRef>& cells_beside() const { return cells_beside_; }
  const std::vector<double>& left_over() const { return left_over_; }

  /// Flows of the last evaluation, in the model's order.
  const std::vector<OpeningFlow>& cell_flows() const { return cell_flows_; }
  const std::vector<OpeningFlow>& link_flows() const { return link_flows_; }

  /// Derivatives by the cells' states, flows of links and states of nodes held. The fields must be those last
  /// evaluated.
  Slopes slopes(const Fields& fields) const;

  /// Pressure at a place and temperature of an end's air; means over a group.
  SideAir side(const Fields& fields, const End& end, double outside) const;

  const Model& model() const { return model_; }
  const field::Fluid& fluid() const { return model_.layers.front().problem.fluid; }

 private:
  void add_cell(const Fields& fields, const CellRef& cell, double in, double out, double heat);
  void add_end(const Fields& fields, const End& end, double in, double out, double brought);
  void clear(const std::vector<CellRef>& cells);
  void evaluate_opening(const Fields& fields, std::size_t k);
  void evaluate_link(const Fields& fields, int k);
  void add_opening_slopes(const Fields& fields, const CellOpening& opening, Slopes* out) const;
  void add_link_slopes(const Fields& fields, int k, Slopes* out) const;
  double heat_of(double mass, double temperature) const;

  const Model& model_;
  std::vector<field::Exchange> exchange_;
  std::vector<std::size_t> openings_beside_;  ///< to nodes
  std::vector<CellRef> cells_beside_;         ///< of the ends of those and of links, each once
  std::vector<CellRef> cells_;                ///< of all ends, each once
  std::vector<double> left_over_;
  std::vector<OpeningFlow> cell_flows_, link_flows_;
};

/// Still air at ambient temperature in all layers, nothing moving.
Fields still_fields(const Model& model);

}  // namespace tuft::plan

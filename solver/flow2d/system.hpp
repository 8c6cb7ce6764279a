// Unknowns and balances of a flow, on one grid or on several that are joined, as vectors.
#pragma once

#include <array>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "solver/flow2d/residual.hpp"
#include "solver/flow2d/unknowns.hpp"

namespace tuft::flow2d {

/// d/dt at the new time is (now c0 + one step back c1 + two steps back c2)/step.
struct TimeWeights {
  double c0 = 1.0, c1 = -1.0, c2 = 0.0;
  double step = 1.0;  ///< [s], > 0
};

/// Backward differences of second order for steps that may vary, `last` being the step before; of first order
/// where there was none (last = 0).
TimeWeights backward_differences(double step, double last);

/// What one layer holds in a state (docs/field.md, F29): momentum rho V u of faces [kg m/s], mass rho V of
/// cells [kg], heat rho V cp (T - T_ref) of cells [J]. Solids hold nothing.
State content_of(Residual* residual, const State& state);

/// How content changes in one step, taken off what is left over in the layers' balances.
class Storage {
 public:
  /// `now` and `before`: contents of all layers one and two steps back.
  Storage(const TimeWeights& weights, std::vector<State> now, std::vector<State> before)
      : weights_(weights), now_(std::move(now)), before_(std::move(before)) {}

  const TimeWeights& weights() const { return weights_; }
  bool at_start() const { return weights_.c2 == 0.0; }  ///< nothing is known of the time before

  /// *left_over -= d content/dt of layer `l` at `state`, which `residual` was evaluated at last.
  void subtract(std::size_t l, const Residual& residual, const State& state, State* imbalance) const;

  /// d/dw of that rate on the diagonal, as the unknowns' matrix has it: c0/step times what a unit of a
  /// velocity or temperature holds; 0 for a pressure.
  double slope(const Residual& residual, const State& state, int kind, int i, int j) const;

 private:
  TimeWeights weights_;
  std::vector<State> now_, before_;
};

/// Unknowns from which on loops over them are shared among threads.
constexpr int kManyUnknowns = 100000;

/// Fields of all layers, and the unknowns beside them, those of a Joint.
struct Fields {
  std::vector<State> layers;
  std::vector<double> own;
};

struct CellRef {
  int layer = 0, i = 0, j = 0;
};

/// Derivatives of what row's cell exchanges, as Exchange has it, by the pressure or temperature of column's
/// cell.
struct CellSlope {
  CellRef row, column;
  bool column_heat = false;
  double mass = 0.0, out = 0.0, heat = 0.0;
};

/// A derivative of what is left over in the balance of an unknown beside the cells, by the pressure or
/// temperature of a cell.
struct OwnSlope {
  int own = 0;
  CellRef column;
  bool column_heat = false;
  double value = 0.0;
};

struct CouplingSlopes {
  std::vector<CellSlope> cells;
  std::vector<OwnSlope> own;
};

/// Typical sizes that whoever describes a flow knows: what balances and steps are measured against.
struct Magnitudes {
  double flow = 1e-9;        ///< [kg/s], > 0
  double pressure = 1e-4;    ///< [Pa], > 0
  double temperature = 1.0;  ///< difference [K], > 0
};

/// Gross flows through the limits of a flow, all >= 0: mass [kg/s] and heat [W], against T_ref.
struct Gross {
  double mass_in = 0.0, mass_out = 0.0, heat_in = 0.0, heat_out = 0.0;
};

/// Do mass and heat balance?
struct Audit : Gross {
  /// Sum of every cell's left-over mass over the through-flow; in a closed body, over the circulating flow
  /// [-].
  double mass = 0.0;
  double energy = 0.0;        ///< net heat over the heat passing through [-]
  double energy_cells = 0.0;  ///< sum of every cell's left-over heat over the same [-]
};

/// What joins layers to one another, to the outside and to spaces that stay well mixed, with unknowns of its
/// own.
class CouplingTerms {
 public:
  virtual ~CouplingTerms() = default;
  virtual int n_own() const = 0;
  /// What every cell of every layer gains, and what is left over in the balances of the own unknowns.
  virtual void evaluate(const Fields& fields) = 0;
  virtual const std::vector<Exchange>& exchange() const = 0;
  virtual const std::vector<double>& imbalance() const = 0;
  /// The same for what depends on the own unknowns alone. Afterwards exchange() holds that, in
  /// cells_beside(), and means nothing elsewhere.
  virtual void evaluate_beside(const Fields& fields) = 0;
  virtual const std::vector<CellRef>& cells_beside() const = 0;
  /// Derivatives by the cells' states, own unknowns held. The fields must be those last evaluated.
  virtual CouplingSlopes slopes(const Fields& fields) const = 0;
  /// Cells that open directly to another cell, or to something beyond.
  virtual std::vector<std::pair<CellRef, std::optional<CellRef>>> openings() const = 0;
  /// Measure of an own unknown and one over that of its balance, for a typical difference of temperatures.
  virtual std::array<double, 2> scale_of(int own, const Magnitudes& sizes, double difference) const = 0;
  /// Adds gross flows of the last evaluation to and from the outside, and what is left over in spaces beside
  /// the layers: mass [kg/s] and heat [W].
  virtual void add_balance(Gross* gross, std::vector<std::array<double, 2>>* spaces) const = 0;
  virtual std::string name_of(int own) const = 0;
  virtual std::string name_of_layer(int layer) const = 0;
};

/// A flow as whoever describes it hands it to the solver. What it points to belongs to the one who describes
/// it and outlives its use; the inertia, schemes, heat and `energy` of its problems may change between
/// solves.
struct Flow {
  std::vector<Problem*> layers;  ///< one over the other on grids of one (x, y) shape; one for a section
  CouplingTerms* coupling_terms = nullptr;  ///< nothing: one layer that stands alone
  /// What balances are measured against with a joint; without one, what drives the problem says.
  Magnitudes magnitudes;
  /// Factors of the temperatures apart from those of the flow, and layer by layer: cheaper, and enough where
  /// heat hardly drives the air within a layer.
  bool factors_apart = false;
};

/// Numbers the unknowns of all layers one after another, then those beside them.
class FlowSystem {
 public:
  explicit FlowSystem(const Flow& flow);

  const Flow& flow() const { return flow_; }
  int n_cells() const { return offset_.back(); }  ///< unknowns of the layers
  bool stands_alone() const { return flow_.coupling_terms == nullptr; }
  int n_own() const { return flow_.coupling_terms != nullptr ? flow_.coupling_terms->n_own() : 0; }
  int n() const { return n_cells() + n_own(); }
  int n_layers() const { return static_cast<int>(flow_.layers.size()); }
  int nx() const { return flow_.layers.front()->grid.nx(); }
  int ny() const { return flow_.layers.front()->grid.ny(); }

  const Unknowns& unknowns(int layer) const { return *unknowns_[layer]; }
  Residual& residual(int layer) { return *residuals_[layer]; }
  const Residual& residual(int layer) const { return *residuals_[layer]; }
  int offset(int layer) const { return offset_[layer]; }
  /// Number of a cell's pressure (or temperature) among all unknowns, -1 where it is none.
  int number(const CellRef& cell, Kind kind) const;

  /// Sets the scales from what the fields hold. Returns whether they changed enough to matter; always, the
  /// first time. At the start of a solve, `begins`, a flow without a joint takes those that what drives it
  /// promises while its air is still at rest.
  bool set_scales(const Fields& fields, bool begins);
  /// Takes a step's rate c0/dt [1/s] into the measure of pressures, which have to stop the air within the
  /// step; 0: none. Factors made before do not fit afterwards.
  void set_rate(double rate);
  double column(int k) const { return column_[k]; }
  double row(int k) const { return row_[k]; }
  const std::vector<double>& columns() const { return column_; }
  const std::vector<double>& rows() const { return row_; }

  /// What the layers store over a step in time, taken off their balances and balances from now on; nullptr:
  /// nothing, the steady state. Must outlive the evaluations.
  void set_storage(const Storage* storage) { storage_ = storage; }

  /// Scaled balances of the fields.
  std::vector<double> balances(const Fields& fields);
  /// *fields += factor * step.
  void add(const std::vector<double>& step, double factor, Fields* fields) const;
  /// *fields = from + factor * step.
  void move(const Fields& from, const std::vector<double>& step, double factor, Fields* fields) const;
  /// Given velocities and pressure levels.
  void impose(Fields* fields) const;
  /// D at Courant number 1 (docs/field.md, F12): mass flow [kg/s] that renews each unknown's volume, of the
  /// balances evaluated last, and at least what the mean flow would; of temperatures times cp [W/K]; 0 for
  /// pressures and what joins the layers.
  void set_renewal(std::vector<double>* out) const;

  /// Books of the fields last evaluated.
  Audit balance() const;
  /// Balance and place of entry k, for a person.
  std::string place_of(int k) const;
  /// Pressures of bodies of air that nothing but own unknowns joins to the outside, one of each.
  const std::vector<CellRef>& loose_cells() const { return loose_; }

 private:
  void add_to_layer(int layer, const std::vector<double>& step, double factor, Fields* fields) const;
  void find_loose_cells();
  Scales scales_by_sizes(int layer, const Fields& fields, double difference) const;
  bool take_scales(std::vector<Scales> fresh, bool whatever);

  const Flow flow_;
  const Storage* storage_ = nullptr;
  std::vector<std::unique_ptr<Residual>> residuals_;
  std::vector<std::unique_ptr<Unknowns>> unknowns_;
  std::vector<State> imbalance_;
  std::vector<int> offset_;
  std::vector<double> column_, row_;
  std::vector<Scales> scales_;
  std::vector<CellRef> loose_;
};

}  // namespace tuft::flow2d

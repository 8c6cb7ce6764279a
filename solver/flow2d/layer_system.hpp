// Unknowns and balances of all layers and of what joins them, as vectors.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "solver/flow2d/audit.hpp"
#include "solver/flow2d/unknowns.hpp"
#include "solver/flow2d/layer_coupled_newton.hpp"
#include "solver/flow2d/layer_storage.hpp"

namespace tuft::plan {

/// Numbers the unknowns of all layers one after another, then those beside them.
class LayerSystem {
 public:
  LayerSystem(const Model& model, const Magnitudes& magnitudes);

  int n_cells() const { return offset_.back(); }  ///< unknowns of the layers
  int n_own() const { return model_.n_own(); }
  int n() const { return n_cells() + n_own(); }
  int n_layers() const { return static_cast<int>(model_.layers.size()); }

  const field::Unknowns& unknowns(int layer) const { return *unknowns_[static_cast<std::size_t>(layer)]; }
  field::Residual& residual(int layer) { return *residuals_[static_cast<std::size_t>(layer)]; }
  const field::Residual& residual(int layer) const { return *residuals_[static_cast<std::size_t>(layer)]; }
  Coupling& coupling() { return coupling_; }
  const Coupling& coupling() const { return coupling_; }
  int offset(int layer) const { return offset_[static_cast<std::size_t>(layer)]; }
  /// Number of a cell's pressure (or temperature) among all unknowns, -1 where it is none.
  int number(const CellRef& cell, field::Kind kind) const;

  /// Sets the scales from what the fields hold. Returns whether they changed enough to matter; always, the
  /// first time.
  bool set_scales(const Fields& fields);
  /// Takes a step's rate c0/dt [1/s] into the measure of pressures, which have to stop the air within the
  /// step; 0: none. Factors made before do not fit afterwards.
  void set_rate(double rate);
  double column(int k) const { return column_[static_cast<std::size_t>(k)]; }
  double row(int k) const { return row_[static_cast<std::size_t>(k)]; }

  const std::vector<double>& columns() const { return column_; }
  const std::vector<double>& rows() const { return row_; }

  /// What the layers store over a step in time, taken off their balances and books from now on; nullptr:
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

  /// Books of the fields last evaluated: mass and heat left over in all cells and spaces, over what passes.
  field::Audit books() const;
  /// Balance and place of entry k, for a person.
  std::string place_of(int k) const;
  /// Pressures of bodies of air that nothing but links joins to the outside, one of each.
  const std::vector<CellRef>& loose_cells() const { return loose_; }

 private:
  void add_to_layer(int layer, const std::vector<double>& step, double factor, Fields* fields) const;
  void find_loose_cells();
  void set_own_scale(int k, double difference);

  const Model& model_;
  Magnitudes magnitudes_;
  Coupling coupling_;
  const Storage* storage_ = nullptr;
  std::vector<std::unique_ptr<field::Residual>> residuals_;
  std::vector<std::unique_ptr<field::Unknowns>> unknowns_;
  std::vector<field::State> left_over_;
  std::vector<int> offset_;
  std::vector<double> column_, row_;
  std::vector<field::Scales> scales_;
  std::vector<CellRef> loose_;
};

}  // namespace tuft::plan

#include "solver/flow2d/factors.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace tuft::flow2d {
namespace {

/// The layers' patterns one after another, with the entries between paired cells.
struct CouplingPattern {
  sparse::SparsePattern pattern;
  std::vector<std::vector<int>> layer_entries;
};

CouplingPattern coupling_pattern(const FlowSystem& system) {
  std::vector<std::vector<int>> extra(static_cast<std::size_t>(system.n_cells()));
  const auto couple = [&](const CellRef& a, const CellRef& b) {
    for (const Kind row : {kind_p, kind_t})
      for (const Kind column : {kind_p, kind_t}) {
        const int r = system.number(a, row), c = system.number(b, column);
        if (r < 0 || c < 0) continue;
        auto& list = extra[r];
        if (std::find(list.begin(), list.end(), c) == list.end()) list.push_back(c);
      }
  };
  const CouplingTerms* coupling_terms = system.flow().coupling_terms;
  for (const auto& [a, b] :
       coupling_terms != nullptr ? coupling_terms->openings() : decltype(coupling_terms->openings()){}) {
    if (!b) continue;
    couple(a, *b);
    couple(*b, a);
  }
  CouplingPattern out;
  out.pattern.row_start.push_back(0);
  for (int l = 0; l < system.n_layers(); ++l) {
    const sparse::SparsePattern& own = system.unknowns(l).pattern();
    out.layer_entries.emplace_back();
    for (int r = 0; r < own.n(); ++r) {
      for (int k = own.row_start[r]; k < own.row_start[static_cast<std::size_t>(r) + 1]; ++k) {
        out.layer_entries.back().push_back(static_cast<int>(out.pattern.column.size()));
        out.pattern.column.push_back(system.offset(l) + own.column[k]);
      }
      for (const int c : extra[system.offset(l) + r]) out.pattern.column.push_back(c);
      out.pattern.row_start.push_back(static_cast<int>(out.pattern.column.size()));
    }
  }
  return out;
}

/// All layers lie over one (x, y) grid, so that what a vent joins is close by for the elimination.
std::vector<sparse::UnknownPlace> coupling_places(const FlowSystem& system) {
  std::vector<sparse::UnknownPlace> out;
  for (int l = 0; l < system.n_layers(); ++l) {
    const auto part = system.unknowns(l).places();
    out.insert(out.end(), part.begin(), part.end());
  }
  return out;
}

/// Blocks of A: the flow of each layer, then the temperatures of each; or all of it.
std::vector<int> blocks_of(const FlowSystem& system) {
  if (!system.flow().factors_apart) return std::vector<int>(static_cast<std::size_t>(system.n_cells()), 0);
  std::vector<int> out;
  for (int l = 0; l < system.n_layers(); ++l)
    for (int k = 0; k < system.unknowns(l).n(); ++k)
      out.push_back(system.unknowns(l)[k].kind == kind_t ? system.n_layers() + l : l);
  return out;
}

}  // namespace

Factors::Factors(const FlowSystem& system)
    : n_cells_(system.n_cells()),
      n_own_(system.n_own()),
      n_layers_(system.n_layers()),
      loose_(system.loose_cells()),
      lu_([&] {
        CouplingPattern coupling_terms = coupling_pattern(system);
        pattern_ = std::move(coupling_terms.pattern);
        layer_entries_ = std::move(coupling_terms.layer_entries);
        return sparse::BlockLu(pattern_, coupling_places(system), blocks_of(system), system.nx(),
                               system.ny());
      }()) {
  for (int l = 0; l < n_layers_; ++l)
    for (int k = 0; k < system.unknowns(l).n(); ++k)
      is_heat_.push_back(system.unknowns(l)[k].kind == kind_t ? 1 : 0);
}

std::size_t Factors::entry(int row, int column) const {
  const auto begin = pattern_.column.begin() + pattern_.row_start[row],
             end = pattern_.column.begin() + pattern_.row_start[static_cast<std::size_t>(row) + 1];
  return static_cast<std::size_t>(std::find(begin, end, column) - pattern_.column.begin());
}

/// d balance / d unknown of the layers, what passes between them held, then the slopes of that.
void Factors::add_layers(const Fields& fields, Rows rows, FlowSystem* system, std::vector<double>* values) {
  const int n_layers = system->n_layers();
#pragma omp parallel for schedule(dynamic, 1) if (n_layers > 1 && n_cells_ > 20000)
  for (int l = 0; l < n_layers; ++l) {
    std::vector<double> own(layer_entries_[l].size());
    compact_jacobian(system->unknowns(l), system->residual(l), fields.layers[l], rows, own.data());
    for (std::size_t k = 0; k < own.size(); ++k) (*values)[layer_entries_[l][k]] = own[k];
  }
  const auto number = [&](const CellRef& cell, bool heat) {
    return system->number(cell, heat ? kind_t : kind_p);
  };
  by_cells_.clear();
  between_.clear();
  if (system->flow().coupling_terms == nullptr) return;
  const CouplingSlopes slopes = system->flow().coupling_terms->slopes(fields);
  for (const CellSlope& slope : slopes.cells) {
    const int column = number(slope.column, slope.column_heat);
    if (column < 0) continue;
    const auto add = [&](int row, double value) {
      if (row >= 0 && value != 0.0) (*values)[entry(row, column)] += value;
    };
    add(number(slope.row, false), slope.mass);
    add(number(slope.row, true), slope.heat);
    const auto [l, i, j] = slope.row;
    for (const FaceByExchange& face : momentum_by_exchange(system->residual(l), fields.layers[l], i, j)) {
      const int row = system->number({l, face.i, face.j}, face.kind);
      const double value = face.by_mass * slope.mass + face.by_out * slope.out;
      if (row < 0 || value == 0.0) continue;
      if (slope.column.layer == l)
        (*values)[entry(row, column)] += value;
      else
        between_.push_back({row, column, value});
    }
  }
  for (const OwnSlope& slope : slopes.own) {
    const int column = number(slope.column, slope.column_heat);
    if (column >= 0)
      by_cells_.push_back(
          {slope.own, column, slope.value * system->row(n_cells_ + slope.own) * system->column(column)});
  }
}

void Factors::factor(const Fields& fields, const std::vector<double>& inertia, double courant,
                     FlowSystem* system, Rows rows) {
  std::vector<double>& values = values_;
  values.assign(pattern_.column.size(), 0.0);
  add_layers(fields, rows, system, &values);
  // Where only a fan or a passage leads out, the level of pressure is settled by the border; here it is held
  // by a slight leak.
  leaks_.clear();
  far_.clear();
  for (const CellRef& cell : loose_) {
    const int k = system->number(cell, kind_p);
    leaks_.push_back(k);
    values[entry(k, k)] -= 1.0 / (system->row(k) * system->column(k));
  }
  equalised_.resize(static_cast<std::size_t>(n_cells_), 1.0);
  const auto taken = [&](int r) { return rows == Rows::all || (is_heat_[r] != 0) == (rows == Rows::heat); };
#pragma omp parallel for schedule(static) if (n_cells_ > kManyUnknowns)
  for (int r = 0; r < n_cells_; ++r) {
    if (!taken(r)) continue;
    equalised_[r] = 1.0;
    double largest = 0.0;
    const int begin = pattern_.row_start[r], end = pattern_.row_start[static_cast<std::size_t>(r) + 1];
    for (int k = begin; k < end; ++k) {
      double& value = values[k];
      const int c = pattern_.column[k];
      value = -value;
      if (c == r) value += inertia[r] / courant;
      value *= system->row(r) * system->column(c);
      largest = std::max(largest, std::abs(value));
    }
    if (!(largest > 0.0)) continue;
    equalised_[r] = 1.0 / largest;
    for (int k = begin; k < end; ++k) values[k] /= largest;
  }
  end_ = rows == Rows::flow ? n_layers_ : -1;
  lu_.factor(values, rows == Rows::heat ? n_layers_ : 0, end_);
  set_border(fields, system);
}

/// own -= C cells.
void Factors::add_taken(const double* cells, double* own) const {
  for (const OwnEntry& e : by_cells_) own[e.own] += e.value * cells[e.cell];
}

/// Into columns_ B, scaled as A is, and into *own E: what each of the unknowns beside the cells does to the
/// balances, by differences.
void Factors::set_columns_beside(const Fields& fields, FlowSystem* system, Eigen::MatrixXd* own) {
  columns_.assign(static_cast<std::size_t>(n_cells_) * static_cast<std::size_t>(n_own_), 0.0);
  CouplingTerms& coupling = *system->flow().coupling_terms;
  Fields moved = fields;
  struct Change {
    double mass, out, heat;
  };
  const std::vector<CellRef>& cells = coupling.cells_beside();
  std::vector<std::array<FaceByExchange, 4>> faces;
  for (const CellRef& c : cells)
    faces.push_back(momentum_by_exchange(system->residual(c.layer), fields.layers[c.layer], c.i, c.j));
  std::vector<Change> before(cells.size());
  const double h = 1e-8;  // of the unit: laws of openings bend within 1e-6 of rest
  for (int k = 0; k < n_own_; ++k) {
    const double unit = system->column(n_cells_ + k);
    double& x = moved.own[k];
    x = fields.own[k] - h * unit;
    coupling.evaluate_beside(moved);
    for (std::size_t m = 0; m < before.size(); ++m) {
      const CellRef& c = cells[m];
      const Exchange& e = coupling.exchange()[c.layer];
      before[m] = {e.mass(c.i, c.j), e.out(c.i, c.j), e.heat(c.i, c.j)};
    }
    const std::vector<double> own_before = coupling.imbalance();
    x += 2.0 * h * unit;
    coupling.evaluate_beside(moved);
    double* column = columns_.data() + static_cast<std::size_t>(k) * static_cast<std::size_t>(n_cells_);
    for (std::size_t m = 0; m < before.size(); ++m) {
      const CellRef& c = cells[m];
      const Exchange& e = coupling.exchange()[c.layer];
      const int p = system->number(c, kind_p), t = system->number(c, kind_t);
      const auto scale = [&](int row) { return system->row(row) * equalised_[row] / (2.0 * h); };
      const double mass = e.mass(c.i, c.j) - before[m].mass, out = e.out(c.i, c.j) - before[m].out;
      if (p >= 0) column[p] = -mass * scale(p);
      if (t >= 0 && end_ < 0) column[t] = -(e.heat(c.i, c.j) - before[m].heat) * scale(t);
      for (const FaceByExchange& face : faces[m])
        if (const int u = system->number({c.layer, face.i, face.j}, face.kind); u >= 0)
          column[u] -= (face.by_mass * mass + face.by_out * out) * scale(u);
    }
    x = fields.own[k];
    for (int r = 0; r < n_own_; ++r)
      (*own)(r, k) = -(coupling.imbalance()[r] - own_before[r]) / (2.0 * h) * system->row(n_cells_ + r);
  }
}

/// The few entries of B that are not 0, before columns_ becomes A^-1 B.
void Factors::keep_beside() {
  beside_.clear();
  for (int k = 0; k < n_own_; ++k)
    for (int m = 0; m < n_cells_; ++m) {
      const double value = columns_[static_cast<std::size_t>(k) * static_cast<std::size_t>(n_cells_) +
                                    static_cast<std::size_t>(m)];
      if (value != 0.0) beside_.push_back({m, k, value / equalised_[m]});
    }
}

/// A^-1 B and the Schur complement.
void Factors::set_border(const Fields& fields, FlowSystem* system) {
  if (n_own_ == 0) return;
  Eigen::MatrixXd schur(n_own_, n_own_);
  set_columns_beside(fields, system, &schur);
  own_ = schur;
  keep_beside();
  lu_.solve(&columns_, n_own_, end_);
  for (int k = 0; k < n_own_; ++k)
    add_taken(columns_.data() + static_cast<std::size_t>(k) * static_cast<std::size_t>(n_cells_),
              schur.col(k).data());
  schur_.compute(schur);
  border_.resize(columns_.size());
  const int n = n_cells_ * n_own_;
#pragma omp parallel for schedule(static) if (n > kManyUnknowns)
  for (int k = 0; k < n; ++k) border_[k] = static_cast<float>(columns_[k]);
}

void Factors::solve(const std::vector<double>& in, std::vector<double>* out) const {
  const int n = n_cells_;
  std::vector<double>& x = *out;
  x.resize(in.size());
#pragma omp parallel for schedule(static) if (n > kManyUnknowns)
  for (int m = 0; m < n; ++m) x[m] = in[m] * equalised_[m];
  lu_.solve(&x, 1, end_);
  if (n_own_ == 0) return;
  Eigen::VectorXd right(n_own_);
  for (int k = 0; k < n_own_; ++k) right[k] = in[n + k];
  add_taken(x.data(), right.data());
  const Eigen::VectorXd own = schur_.solve(right);
  for (int k = 0; k < n_own_; ++k) x[n + k] = own[k];
  constexpr int block = 2048;  // entries that stay at hand while all columns pass
#pragma omp parallel for schedule(static) if (n > kManyUnknowns)
  for (int begin = 0; begin < n; begin += block)
    for (int k = 0; k < n_own_; ++k) {
      const float* column = border_.data() + static_cast<std::size_t>(k) * static_cast<std::size_t>(n);
      for (int m = begin; m < std::min(n, begin + block); ++m)
        x[m] -= own[k] * static_cast<double>(column[m]);
    }
}

void Factors::take_far(const Fields& fields, const FlowSystem& system) {
  far_.clear();
  const auto take = [&](const FarSlope& slope, int offset) {
    const int row = slope.row + offset, column = slope.column + offset;
    far_.push_back({row, column, -slope.value * system.row(row) * system.column(column)});
  };
  for (int l = 0; l < n_layers_; ++l)
    for (const FarSlope& slope : far_slopes(system.unknowns(l), system.residual(l), fields.layers[l]))
      take(slope, system.offset(l));
  for (const FarSlope& slope : between_) take(slope, 0);
}

void Factors::multiply(const std::vector<double>& in, std::vector<double>* out) const {
  const int n = n_cells_;
  out->resize(in.size());
  double* y = out->data();
#pragma omp parallel for schedule(static) if (n > kManyUnknowns)
  for (int r = 0; r < n; ++r) {
    double sum = 0.0;
    for (int k = pattern_.row_start[r]; k < pattern_.row_start[r + 1]; ++k)
      sum += values_[k] * in[pattern_.column[k]];
    y[r] = sum / equalised_[r];
  }
  for (const int k : leaks_) y[k] -= in[k];
  for (const FarSlope& e : far_) y[e.row] += e.value * in[e.column];
  for (const BesideEntry& e : beside_) y[e.cell] += e.value * in[n + e.own];
  for (int r = 0; r < n_own_; ++r) {
    y[n + r] = 0.0;
    for (int k = 0; k < n_own_; ++k) y[n + r] += own_(r, k) * in[n + k];
  }
  for (const OwnEntry& e : by_cells_) y[n + e.own] -= e.value * in[e.cell];
}

}  // namespace tuft::flow2d

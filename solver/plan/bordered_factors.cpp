#include "solver/plan/bordered_factors.hpp"

#include <algorithm>
#include <cmath>

#include "solver/field/jacobian.hpp"

namespace tuft::plan {
namespace {

/// The layers' patterns one after another, with the entries between paired cells.
struct JointPattern {
  field::SparsePattern pattern;
  std::vector<std::vector<int>> layer_entries;
};

JointPattern joint_pattern(const LayerSystem& system, const Model& model) {
  std::vector<std::vector<int>> extra(static_cast<std::size_t>(system.n_cells()));
  const auto couple = [&](const CellRef& a, const CellRef& b) {
    for (const field::Kind row : {field::kind_p, field::kind_t})
      for (const field::Kind column : {field::kind_p, field::kind_t}) {
        const int r = system.number(a, row), c = system.number(b, column);
        if (r < 0 || c < 0) continue;
        auto& list = extra[static_cast<std::size_t>(r)];
        if (std::find(list.begin(), list.end(), c) == list.end()) list.push_back(c);
      }
  };
  for (const CellOpening& o : model.openings) {
    if (o.b.kind != EndKind::cell) continue;
    couple(o.a.cell, o.b.cell);
    couple(o.b.cell, o.a.cell);
  }
  JointPattern out;
  out.pattern.row_start.push_back(0);
  for (int l = 0; l < system.n_layers(); ++l) {
    const field::SparsePattern& own = system.unknowns(l).pattern();
    out.layer_entries.emplace_back();
    for (int r = 0; r < own.n(); ++r) {
      for (int k = own.row_start[static_cast<std::size_t>(r)];
           k < own.row_start[static_cast<std::size_t>(r) + 1]; ++k) {
        out.layer_entries.back().push_back(static_cast<int>(out.pattern.column.size()));
        out.pattern.column.push_back(system.offset(l) + own.column[static_cast<std::size_t>(k)]);
      }
      for (const int c : extra[static_cast<std::size_t>(system.offset(l) + r)])
        out.pattern.column.push_back(c);
      out.pattern.row_start.push_back(static_cast<int>(out.pattern.column.size()));
    }
  }
  return out;
}

/// All layers lie over one (x, y) grid, so that what a vent joins is close by for the elimination.
std::vector<field::UnknownPlace> joint_places(const LayerSystem& system) {
  std::vector<field::UnknownPlace> out;
  for (int l = 0; l < system.n_layers(); ++l) {
    const auto part = system.unknowns(l).places();
    out.insert(out.end(), part.begin(), part.end());
  }
  return out;
}

double norm_of(const std::vector<double>& v) {
  double largest = 0.0;
  for (const double x : v) largest = std::max(largest, std::abs(x));
  return largest;
}

}  // namespace

BorderedFactors::BorderedFactors(const LayerSystem& system, const Model& model)
    : pattern_(), layer_entries_(), loose_(system.loose_cells()), lu_([&] {
        JointPattern joint = joint_pattern(system, model);
        pattern_ = std::move(joint.pattern);
        layer_entries_ = std::move(joint.layer_entries);
        return field::FrontalLu<float>(pattern_, joint_places(system), model.raster.nx, model.raster.ny);
      }()) {}

std::size_t BorderedFactors::entry(int row, int column) const {
  const auto begin = pattern_.column.begin() + pattern_.row_start[static_cast<std::size_t>(row)],
             end = pattern_.column.begin() + pattern_.row_start[static_cast<std::size_t>(row) + 1];
  return static_cast<std::size_t>(std::find(begin, end, column) - pattern_.column.begin());
}

/// d balance / d unknown of the layers, what passes between them held, then the slopes of that.
void BorderedFactors::add_layers(const Fields& fields, LayerSystem* system,
                                 std::vector<double>* values) const {
  for (int l = 0; l < system->n_layers(); ++l) {
    const auto L = static_cast<std::size_t>(l);
    field::Residual& residual = system->residual(l);
    const field::Scales& s = residual.scales();
    const double pressure = s.momentum / (s.length * s.depth);
    const double step[4] = {1e-6 * s.velocity, 1e-6 * s.velocity, 1e-2 * pressure, 1e-6 * s.temperature};
    const std::vector<double> own =
        field::compact_jacobian(system->unknowns(l), fields.layers[L], step, &residual);
    for (std::size_t k = 0; k < own.size(); ++k)
      (*values)[static_cast<std::size_t>(layer_entries_[L][k])] = own[k];
  }
  for (const CellSlope& slope : system->coupling().slopes(fields)) {
    const int row = system->number(slope.row, slope.row_heat ? field::kind_t : field::kind_p);
    const int column = system->number(slope.column, slope.column_heat ? field::kind_t : field::kind_p);
    if (row >= 0 && column >= 0) (*values)[entry(row, column)] += slope.value;
  }
}

void BorderedFactors::factor(const Fields& fields, const std::vector<double>& inertia, double courant,
                             LayerSystem* system) {
  at_ = fields;
  std::vector<double> values(pattern_.column.size(), 0.0);
  add_layers(fields, system, &values);
  // Where only a fan or a passage leads out, the level of pressure is settled by the border; here it is held
  // by a slight leak.
  for (const CellRef& cell : loose_) {
    const int k = system->number(cell, field::kind_p);
    values[entry(k, k)] -= 1.0 / (system->row(k) * system->column(k));
  }
  const int n = system->n_cells();
  equalised_.assign(static_cast<std::size_t>(n), 1.0);
  for (int r = 0; r < n; ++r) {
    double largest = 0.0;
    const int begin = pattern_.row_start[static_cast<std::size_t>(r)],
              end = pattern_.row_start[static_cast<std::size_t>(r) + 1];
    for (int k = begin; k < end; ++k) {
      double& value = values[static_cast<std::size_t>(k)];
      const int c = pattern_.column[static_cast<std::size_t>(k)];
      value = -value;
      if (c == r) value += inertia[static_cast<std::size_t>(r)] / courant;
      value *= system->row(r) * system->column(c);
      largest = std::max(largest, std::abs(value));
    }
    if (!(largest > 0.0)) continue;
    equalised_[static_cast<std::size_t>(r)] = 1.0 / largest;
    for (int k = begin; k < end; ++k) values[static_cast<std::size_t>(k)] /= largest;
  }
  lu_.factor(values);
  set_border(fields, system);
}

std::vector<double> BorderedFactors::solve_cells(const std::vector<double>& scaled) const {
  std::vector<double> x(equalised_.size());
  for (std::size_t k = 0; k < x.size(); ++k) x[k] = scaled[k] * equalised_[k];
  lu_.solve(&x);
  return x;
}

/// -C y: what a scaled step of the cells takes from the scaled balances beside them.
std::vector<double> BorderedFactors::own_change(const std::vector<double>& cells, LayerSystem* system) const {
  const auto n = static_cast<std::size_t>(system->n_cells());
  std::vector<double> out(static_cast<std::size_t>(system->n_own()), 0.0);
  const double largest = norm_of(cells);
  if (!(largest > 0.0) || out.empty()) return out;
  const double h = 1e-6 / largest;
  std::vector<double> step(static_cast<std::size_t>(system->n()), 0.0);
  for (std::size_t k = 0; k < n; ++k) step[k] = cells[k] * system->column(static_cast<int>(k));
  Fields moved = at_;
  Coupling& coupling = system->coupling();
  system->add(step, -h, &moved);
  coupling.evaluate(moved);
  const std::vector<double> before = coupling.left_over();
  system->add(step, 2.0 * h, &moved);
  coupling.evaluate(moved);
  for (std::size_t k = 0; k < out.size(); ++k)
    out[k] = (coupling.left_over()[k] - before[k]) / (2.0 * h) * system->row(static_cast<int>(n + k));
  return out;
}

/// A^-1 B and the Schur complement, one own unknown after another.
void BorderedFactors::set_border(const Fields& fields, LayerSystem* system) {
  const int n_own = system->n_own(), n = system->n_cells();
  border_.clear();
  if (n_own == 0) return;
  Eigen::MatrixXd schur(n_own, n_own);
  Coupling& coupling = system->coupling();
  for (int k = 0; k < n_own; ++k) {
    const double unit = system->column(n + k), h = 1e-6;
    Fields moved = fields;
    moved.own[static_cast<std::size_t>(k)] -= h * unit;
    coupling.evaluate(moved);
    const std::vector<field::Exchange> before = coupling.exchange();
    const std::vector<double> own_before = coupling.left_over();
    moved.own[static_cast<std::size_t>(k)] += 2.0 * h * unit;
    coupling.evaluate(moved);
    std::vector<double> column(static_cast<std::size_t>(n), 0.0);
    for (int l = 0; l < system->n_layers(); ++l) {
      const auto L = static_cast<std::size_t>(l);
      const field::Unknowns& u = system->unknowns(l);
      for (int m = 0; m < u.n(); ++m) {
        if (u[m].kind != field::kind_p && u[m].kind != field::kind_t) continue;
        const auto& after =
            u[m].kind == field::kind_p ? coupling.exchange()[L].mass : coupling.exchange()[L].heat;
        const auto& was = u[m].kind == field::kind_p ? before[L].mass : before[L].heat;
        const double change = (after(u[m].i, u[m].j) - was(u[m].i, u[m].j)) / (2.0 * h);
        if (change != 0.0)
          column[static_cast<std::size_t>(system->offset(l) + m)] =
              -change * system->row(system->offset(l) + m);
      }
    }
    for (int r = 0; r < n_own; ++r) {
      const auto R = static_cast<std::size_t>(r);
      schur(r, k) = -(coupling.left_over()[R] - own_before[R]) / (2.0 * h) * system->row(n + r);
    }
    // With temperatures held, those at the links' ends move no cell.
    border_.push_back(norm_of(column) > 0.0 ? solve_cells(column) : std::move(column));
    const std::vector<double> taken = own_change(border_.back(), system);
    // E - C A^-1 B with C y = -own_change(y).
    for (int r = 0; r < n_own; ++r) schur(r, k) += taken[static_cast<std::size_t>(r)];
  }
  schur_.compute(schur);
}

void BorderedFactors::solve(const std::vector<double>& in, LayerSystem* system,
                            std::vector<double>* out) const {
  const auto n = static_cast<std::size_t>(system->n_cells()), n_own = border_.size();
  std::vector<double> cells = solve_cells(in);
  if (n_own > 0) {
    const std::vector<double> taken = own_change(cells, system);
    Eigen::VectorXd right(static_cast<int>(n_own));
    for (std::size_t k = 0; k < n_own; ++k) right[static_cast<int>(k)] = in[n + k] + taken[k];
    const Eigen::VectorXd own = schur_.solve(right);
    for (std::size_t k = 0; k < n_own; ++k) {
      const double x = own[static_cast<int>(k)];
      (*out)[n + k] = x;
      for (std::size_t m = 0; m < n; ++m) cells[m] -= x * border_[k][m];
    }
  }
  std::copy(cells.begin(), cells.end(), out->begin());
}

}  // namespace tuft::plan

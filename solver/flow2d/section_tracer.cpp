#include "solver/flow2d/section_tracer.hpp"

#include <Eigen/SparseCore>
#include <Eigen/SparseLU>
#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

namespace tuft::flow2d {
namespace {

/// The steady balances of all air cells as a matrix.
class Steady {
 public:
  Steady(const SectionModel& model, const Carriers& carriers)
      : p_(model.problem), number_(p_.grid.nx(), p_.grid.ny(), -1) {
    for (int j = 0; j < number_.ny(); ++j)
      for (int i = 0; i < number_.nx(); ++i)
        if (!p_.is_solid(i, j)) number_(i, j) = n_++;
    room_ = Eigen::VectorXd::Zero(n_);
    for (int j = 0; j < number_.ny(); ++j)
      for (int i = 0; i < number_.nx(); ++i)
        if (number_(i, j) >= 0) add_row(tracer_balance(p_, carriers, i, j), number_(i, j));
  }

  int n() const { return n_; }
  int number(int i, int j) const { return number_(i, j); }
  const Eigen::VectorXd& room() const { return room_; }

  Eigen::SparseMatrix<double> matrix() const {
    Eigen::SparseMatrix<double> m(n_, n_);
    m.setFromTriplets(entries_.begin(), entries_.end());
    return m;
  }

  /// Values of the unknowns as cells.
  Array2 cells(const Eigen::VectorXd& x) const {
    Array2 out(number_.nx(), number_.ny());
    for (int j = 0; j < number_.ny(); ++j)
      for (int i = 0; i < number_.nx(); ++i)
        if (number_(i, j) >= 0) out(i, j) = x(number_(i, j));
    return out;
  }

 private:
  void add_row(const TracerBalance& balance, int row) {
    double whole = balance.whole();
    room_(row) = balance.room;
    for (int f = 0; f < balance.neighbours; ++f) {
      entries_.emplace_back(row, number_(balance.i[f], balance.j[f]), -balance.carried[f]);
    }
    // Air that nothing enters is the room's.
    if (!(whole > 0.0)) room_(row) = whole = 1.0;
    entries_.emplace_back(row, row, whole);
  }

  const Problem& p_;
  Array2T<int> number_;
  int n_ = 0;
  std::vector<Eigen::Triplet<double>> entries_;
  Eigen::VectorXd room_;
};

constexpr double kRenewed = 0.9;  // largest part of a cell's air that one explicit step may replace

}  // namespace

double sum_error(const SectionModel& model, const Tracers& tracers) {
  double error = 0.0;
  for (int j = 0; j < tracers.room.ny(); ++j)
    for (int i = 0; i < tracers.room.nx(); ++i) {
      if (model.problem.is_solid(i, j)) continue;
      double sum = tracers.room(i, j);
      for (const Array2& s : tracers.share) sum += s(i, j);
      error = std::max(error, std::abs(sum - 1.0));
    }
  return error;
}

Tracers solve_tracers(const SectionModel& model, const Carriers& carriers, const std::vector<int>& outlets) {
  if (outlets.empty()) {  // all of it is the room's, also where nothing moves
    Tracers out;
    out.room = Array2(carriers.source.nx(), carriers.source.ny());
    for (std::size_t k = 0; k < out.room.size(); ++k) out.room[k] = model.problem.solid[k] ? 0.0 : 1.0;
    return out;
  }
  const Steady steady(model, carriers);
  const Eigen::SparseMatrix<double> matrix = steady.matrix();
  Eigen::SparseLU<Eigen::SparseMatrix<double>, Eigen::COLAMDOrdering<int>> lu(matrix);
  if (lu.info() != Eigen::Success) throw std::runtime_error("the tracers' balance could not be factored");
  Tracers out;
  for (const int outlet : outlets) {
    Eigen::VectorXd b = Eigen::VectorXd::Zero(steady.n());
    for (const VentCell& m : model.vent_cells)
      if (m.vent == outlet) b(steady.number(m.i, m.j)) = carriers.source(m.i, m.j);
    out.share.push_back(steady.cells(lu.solve(b)));
  }
  out.room = steady.cells(lu.solve(steady.room()));
  out.error = sum_error(model, out);
  for (Array2& s : out.share)
    for (std::size_t k = 0; k < s.size(); ++k) s[k] = std::clamp(s[k], 0.0, 1.0);  // round-off alone
  return out;
}

std::vector<int> outlets_of(const SectionModel& model, const Carriers& carriers) {
  std::vector<double> out(model.cuts.size(), 0.0);
  for (const VentCell& m : model.vent_cells) out[m.vent] += carriers.source(m.i, m.j);
  std::vector<int> outlets;
  for (std::size_t v = 0; v < out.size(); ++v)
    if (out[v] > 0.0) outlets.push_back(static_cast<int>(v));
  return outlets;
}

DrawnAir drawn_of(const SectionModel& model, const Carriers& carriers, const std::vector<int>& outlets,
                  const Tracers& tracers) {
  DrawnAir d;
  d.outlets = outlets;
  d.inflow.assign(model.cuts.size(), 0.0);
  d.taken.assign(outlets.size(), d.inflow);
  for (const VentCell& m : model.vent_cells) {
    const double in = carriers.sink(m.i, m.j);
    d.inflow[m.vent] += in;
    for (std::size_t k = 0; k < outlets.size(); ++k) d.taken[k][m.vent] += in * tracers.share[k](m.i, m.j);
  }
  return d;
}

double DrawnAir::share(std::size_t k, std::size_t vent) const {
  return inflow[vent] > 0.0 ? std::clamp(taken[k][vent] / inflow[vent], 0.0, 1.0) : 0.0;
}

void DrawnAir::add(double weight, const DrawnAir& other) {
  for (std::size_t v = 0; v < inflow.size(); ++v) inflow[v] += weight * other.inflow[v];
  for (std::size_t k = 0; k < taken.size(); ++k)
    for (std::size_t v = 0; v < inflow.size(); ++v) taken[k][v] += weight * other.taken[k][v];
}

double TracerBalance::whole() const {
  double sum = source + room;
  for (int f = 0; f < neighbours; ++f) sum += carried[f];
  return sum;
}

TracerBalance tracer_balance(const Problem& p, const Carriers& c, int i, int j) {
  TracerBalance out;
  out.source = c.source(i, j);
  const int faces[4][5] = {
      {0, i, j, i - 1, j}, {0, i + 1, j, i + 1, j}, {1, i, j, i, j - 1}, {1, i, j + 1, i, j + 1}};
  for (int f = 0; f < 4; ++f) {
    const auto d = static_cast<std::size_t>(faces[f][0]);
    const double sign = f % 2 == 0 ? 1.0 : -1.0;
    const double in = std::max(0.0, sign * c.flow[d](faces[f][1], faces[f][2]));
    const int x = faces[f][3], y = faces[f][4];
    if (x < 0 || y < 0 || x >= p.grid.nx() || y >= p.grid.ny()) {
      out.room += in;
      continue;
    }
    if (p.is_solid(x, y)) continue;
    const double spread = c.conductance[d](faces[f][1], faces[f][2]) / p.fluid.specific_heat;
    if (!(in + spread > 0.0)) continue;
    const auto k = static_cast<std::size_t>(out.neighbours++);
    out.i[k] = x;
    out.j[k] = y;
    out.carried[k] = in + spread;
  }
  return out;
}

TracerMarcher::TracerMarcher(const SectionModel& model, const Carriers& carriers, std::vector<int> outlets)
    : model_(model), outlets_(std::move(outlets)), now_(solve_tracers(model, carriers, outlets_)) {}

void TracerMarcher::step(const Carriers& carriers, const Array2& density, double dt) {
  const Problem& p = model_.problem;
  const auto& dx = p.grid.x.widths();
  const auto& dy = p.grid.y.widths();
  struct Cell {
    int i, j;
    double per_content;  // 1 / mass in it
    TracerBalance balance;
  };
  std::vector<Cell> cells;
  double quickest = 0.0;
  for (int j = 0; j < p.grid.ny(); ++j)
    for (int i = 0; i < p.grid.nx(); ++i) {
      if (p.is_solid(i, j)) continue;
      const double content = density(i, j) * dx[i] * dy[j];
      cells.push_back({i, j, 1.0 / content, tracer_balance(p, carriers, i, j)});
      quickest = std::max(quickest, cells.back().balance.whole() / content);
    }
  const int parts = std::max(1, static_cast<int>(std::ceil(dt * quickest / kRenewed)));
  const double part = dt / parts;
  Array2T<int> outlet_of(p.grid.nx(), p.grid.ny(), -1);
  for (const VentCell& m : model_.vent_cells) outlet_of(m.i, m.j) = m.vent;
  const auto carry = [&](int outlet, Array2* share) {
    const Array2 old = *share;
    for (const Cell& c : cells) {
      const TracerBalance& b = c.balance;
      const double own = old(c.i, c.j);
      double gain = b.room * ((outlet < 0 ? 1.0 : 0.0) - own) +
                    b.source * ((outlet >= 0 && outlet_of(c.i, c.j) == outlet ? 1.0 : 0.0) - own);
      for (int f = 0; f < b.neighbours; ++f) {
        gain += b.carried[f] * (old(b.i[f], b.j[f]) - own);
      }
      (*share)(c.i, c.j) = own + part * c.per_content * gain;
    }
  };
  for (int n = 0; n < parts; ++n) {
    for (std::size_t k = 0; k < outlets_.size(); ++k) carry(outlets_[k], &now_.share[k]);
    carry(-1, &now_.room);
  }
  now_.error = sum_error(model_, now_);
}

}  // namespace tuft::flow2d

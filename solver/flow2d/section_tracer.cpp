#include "solver/flow2d/section_tracer.hpp"

#include <Eigen/SparseCore>
#include <Eigen/SparseLU>
#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "solver/flow2d/section_tracer_balance.hpp"

namespace tuft::section {
namespace {

using field::Array2;

/// The steady balances of all air cells as a matrix.
class Steady {
 public:
  Steady(const Model& model, const Carriers& carriers)
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
      const auto F = static_cast<std::size_t>(f);
      entries_.emplace_back(row, number_(balance.i[F], balance.j[F]), -balance.carried[F]);
    }
    // Air that nothing enters is the room's.
    if (!(whole > 0.0)) room_(row) = whole = 1.0;
    entries_.emplace_back(row, row, whole);
  }

  const field::Problem& p_;
  field::Array2T<int> number_;
  int n_ = 0;
  std::vector<Eigen::Triplet<double>> entries_;
  Eigen::VectorXd room_;
};

}  // namespace

double sum_error(const Model& model, const Tracers& tracers) {
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

Tracers solve_tracers(const Model& model, const Carriers& carriers, const std::vector<int>& outlets) {
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
    for (const Mouth& m : model.mouths)
      if (m.vent == outlet) b(steady.number(m.i, m.j)) = carriers.source(m.i, m.j);
    out.share.push_back(steady.cells(lu.solve(b)));
  }
  out.room = steady.cells(lu.solve(steady.room()));
  out.error = sum_error(model, out);
  for (Array2& s : out.share)
    for (std::size_t k = 0; k < s.size(); ++k) s[k] = std::clamp(s[k], 0.0, 1.0);  // round-off alone
  return out;
}

std::vector<int> outlets_of(const Model& model, const Carriers& carriers) {
  std::vector<double> out(model.cuts.size(), 0.0);
  for (const Mouth& m : model.mouths) out[static_cast<std::size_t>(m.vent)] += carriers.source(m.i, m.j);
  std::vector<int> outlets;
  for (std::size_t v = 0; v < out.size(); ++v)
    if (out[v] > 0.0) outlets.push_back(static_cast<int>(v));
  return outlets;
}

Drawn drawn_of(const Model& model, const Carriers& carriers, const std::vector<int>& outlets,
               const Tracers& tracers) {
  Drawn d;
  d.outlets = outlets;
  d.inflow.assign(model.cuts.size(), 0.0);
  d.taken.assign(outlets.size(), d.inflow);
  for (const Mouth& m : model.mouths) {
    const auto v = static_cast<std::size_t>(m.vent);
    const double in = carriers.sink(m.i, m.j);
    d.inflow[v] += in;
    for (std::size_t k = 0; k < outlets.size(); ++k) d.taken[k][v] += in * tracers.share[k](m.i, m.j);
  }
  return d;
}

double Drawn::share(std::size_t k, std::size_t vent) const {
  return inflow[vent] > 0.0 ? std::clamp(taken[k][vent] / inflow[vent], 0.0, 1.0) : 0.0;
}

void Drawn::add(double weight, const Drawn& other) {
  for (std::size_t v = 0; v < inflow.size(); ++v) inflow[v] += weight * other.inflow[v];
  for (std::size_t k = 0; k < taken.size(); ++k)
    for (std::size_t v = 0; v < inflow.size(); ++v) taken[k][v] += weight * other.taken[k][v];
}

}  // namespace tuft::section

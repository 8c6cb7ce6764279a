#include "solver/section/tracer.hpp"

#include <Eigen/SparseCore>
#include <Eigen/SparseLU>
#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace tuft::section {
namespace {

using field::Array2;

/// Rows of the balance of every air cell: what enters, times its share, against what is there.
class Balance {
 public:
  Balance(const Model& model, const Carriers& carriers)
      : p_(model.problem), c_(carriers), number_(p_.grid.nx(), p_.grid.ny(), -1) {
    for (int j = 0; j < number_.ny(); ++j)
      for (int i = 0; i < number_.nx(); ++i)
        if (!p_.is_solid(i, j)) number_(i, j) = n_++;
    room_ = Eigen::VectorXd::Zero(n_);
    for (int j = 0; j < number_.ny(); ++j)
      for (int i = 0; i < number_.nx(); ++i)
        if (number_(i, j) >= 0) add_row(i, j);
  }

  int n() const { return n_; }
  int number(int i, int j) const { return number_(i, j); }
  const Eigen::VectorXd& room() const { return room_; }

  Eigen::SparseMatrix<double> matrix() const {
    Eigen::SparseMatrix<double> m(n_, n_);
    m.setFromTriplets(entries_.begin(), entries_.end());
    return m;
  }

 private:
  void add_row(int i, int j) {
    const int row = number_(i, j);
    double whole = c_.source(i, j);
    const int faces[4][5] = {
        {0, i, j, i - 1, j}, {0, i + 1, j, i + 1, j}, {1, i, j, i, j - 1}, {1, i, j + 1, i, j + 1}};
    for (int f = 0; f < 4; ++f) {
      const auto d = static_cast<std::size_t>(faces[f][0]);
      const double sign = f % 2 == 0 ? 1.0 : -1.0;
      const double in = std::max(0.0, sign * c_.flow[d](faces[f][1], faces[f][2]));
      const int x = faces[f][3], y = faces[f][4];
      if (x < 0 || y < 0 || x >= number_.nx() || y >= number_.ny()) {
        whole += in;
        room_(row) += in;
        continue;
      }
      if (number_(x, y) < 0) continue;
      const double spread = c_.conductance[d](faces[f][1], faces[f][2]) / p_.fluid.specific_heat;
      if (!(in + spread > 0.0)) continue;
      whole += in + spread;
      entries_.emplace_back(row, number_(x, y), -(in + spread));
    }
    // Air that nothing enters is the room's.
    if (!(whole > 0.0)) room_(row) = whole = 1.0;
    entries_.emplace_back(row, row, whole);
  }

  const field::Problem& p_;
  const Carriers& c_;
  field::Array2T<int> number_;
  int n_ = 0;
  std::vector<Eigen::Triplet<double>> entries_;
  Eigen::VectorXd room_;
};

}  // namespace

Tracers solve_tracers(const Model& model, const Carriers& carriers, const std::vector<int>& outlets) {
  const Balance balance(model, carriers);
  const Eigen::SparseMatrix<double> matrix = balance.matrix();
  Eigen::SparseLU<Eigen::SparseMatrix<double>, Eigen::COLAMDOrdering<int>> lu(matrix);
  if (lu.info() != Eigen::Success) throw std::runtime_error("the tracers' balance could not be factored");
  const int nx = carriers.source.nx(), ny = carriers.source.ny();
  const auto spread_out = [&](const Eigen::VectorXd& x) {
    Array2 out(nx, ny);
    for (int j = 0; j < ny; ++j)
      for (int i = 0; i < nx; ++i)
        if (balance.number(i, j) >= 0) out(i, j) = x(balance.number(i, j));
    return out;
  };
  Tracers out;
  for (const int outlet : outlets) {
    Eigen::VectorXd b = Eigen::VectorXd::Zero(balance.n());
    for (const Mouth& m : model.mouths)
      if (m.vent == outlet) b(balance.number(m.i, m.j)) = carriers.source(m.i, m.j);
    out.share.push_back(spread_out(lu.solve(b)));
  }
  out.room = spread_out(lu.solve(balance.room()));
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) {
      if (balance.number(i, j) < 0) continue;
      double sum = out.room(i, j);
      for (const Array2& s : out.share) sum += s(i, j);
      out.error = std::max(out.error, std::abs(sum - 1.0));
    }
  for (Array2& s : out.share)
    for (std::size_t k = 0; k < s.size(); ++k) s[k] = std::clamp(s[k], 0.0, 1.0);  // round-off alone
  return out;
}

}  // namespace tuft::section

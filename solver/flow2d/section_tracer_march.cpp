#include <algorithm>
#include <cmath>
#include <utility>

#include "solver/flow2d/section_tracer_balance.hpp"

namespace tuft::section {
namespace {

using field::Array2;

constexpr double kRenewed = 0.9;  // largest part of a cell's air that one explicit step may replace

}  // namespace

double TracerBalance::whole() const {
  double sum = source + room;
  for (int f = 0; f < neighbours; ++f) sum += carried[static_cast<std::size_t>(f)];
  return sum;
}

TracerBalance tracer_balance(const field::Problem& p, const Carriers& c, int i, int j) {
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

TracerMarcher::TracerMarcher(const Model& model, const Carriers& carriers, std::vector<int> outlets)
    : model_(model), outlets_(std::move(outlets)), now_(solve_tracers(model, carriers, outlets_)) {}

void TracerMarcher::step(const Carriers& carriers, const Array2& density, double dt) {
  const field::Problem& p = model_.problem;
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
      const double content =
          density(i, j) * dx[static_cast<std::size_t>(i)] * dy[static_cast<std::size_t>(j)];
      cells.push_back({i, j, 1.0 / content, tracer_balance(p, carriers, i, j)});
      quickest = std::max(quickest, cells.back().balance.whole() / content);
    }
  const int parts = std::max(1, static_cast<int>(std::ceil(dt * quickest / kRenewed)));
  const double part = dt / parts;
  field::Array2T<int> outlet_of(p.grid.nx(), p.grid.ny(), -1);
  for (const Mouth& m : model_.mouths) outlet_of(m.i, m.j) = m.vent;
  const auto carry = [&](int outlet, Array2* share) {
    const Array2 old = *share;
    for (const Cell& c : cells) {
      const TracerBalance& b = c.balance;
      const double own = old(c.i, c.j);
      double gain = b.room * ((outlet < 0 ? 1.0 : 0.0) - own) +
                    b.source * ((outlet >= 0 && outlet_of(c.i, c.j) == outlet ? 1.0 : 0.0) - own);
      for (int f = 0; f < b.neighbours; ++f) {
        const auto F = static_cast<std::size_t>(f);
        gain += b.carried[F] * (old(b.i[F], b.j[F]) - own);
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

}  // namespace tuft::section

// Derivatives that reach beyond the compact form, and those of momentum by what cells exchange.
#include <algorithm>
#include <cmath>

#include "solver/flow2d/laws.hpp"
#include "solver/flow2d/slopes.hpp"

namespace tuft::flow2d {
namespace {

/// Enters slopes whose row and column are unknowns.
class FarSlopes {
 public:
  void enter(int row, int column, double value) {
    if (row >= 0 && column >= 0 && value != 0.0) all_.push_back({row, column, value});
  }
  std::vector<FarSlope> take() { return std::move(all_); }

 private:
  std::vector<FarSlope> all_;
};

template <int D>
void enter_far_warmth(const Unknowns& unknowns, const Slopes& slopes, int row, FarSlopes* out) {
  const Unknown& face = unknowns[row];
  const int I = D == 0 ? 1 : 0, J = D == 0 ? 0 : 1;
  const std::array<double, 2> by = slopes.momentum_by_far_warmth<D>(face.i, face.j);
  out->enter(row, unknowns.number(kind_t, face.i - 2 * I, face.j - 2 * J), by[0]);
  out->enter(row, unknowns.number(kind_t, face.i + I, face.j + J), by[1]);
}

/// Heat of a row of channels by the flow through its middle face.
void enter_channels(const HeatedChannels& c, const Unknowns& unknowns, const Residual& residual,
                    const Slopes& slopes, const State& state, FarSlopes* out) {
  const int d = c.along == 0 ? 0 : 1;
  const Fluid& fluid = residual.problem().fluid;
  for (int row = 0; row < c.rows(); ++row) {
    const auto [i, j] = c.middle_face(row);
    const double flow = residual.mass_flow()[d](i, j), size = std::abs(flow);
    if (size == 0.0) continue;  // a corner
    const double step = 1e-5 * size;
    const double by_flow =
        (channel_cell_conductance(c, fluid, size + step) - channel_cell_conductance(c, fluid, size - step)) /
        (2.0 * step) * (flow > 0.0 ? 1.0 : -1.0);
    const Slopes::ByWarmth& warmth = slopes.flow_by_warmth(d, i, j);
    const int before = unknowns.number(kind_t, d == 0 ? i - 1 : i, d == 0 ? j : j - 1),
              after = unknowns.number(kind_t, i, j);
    for (int k = 0; k < c.cells_in_row(); ++k) {
      const int ci = d == 0 ? c.i0 + k : i, cj = d == 0 ? j : c.j0 + k;
      const int heat = unknowns.number(kind_t, ci, cj);
      const double by = by_flow * (c.metal - state.temperature(ci, cj));
      out->enter(heat, unknowns.number(d == 0 ? kind_u : kind_v, i, j), by * slopes.carry(d, i, j));
      out->enter(heat, before, by * warmth.before);
      out->enter(heat, after, by * warmth.after);
    }
  }
}

}  // namespace

std::vector<FarSlope> far_slopes(const Unknowns& unknowns, const Residual& residual, const State& state) {
  const Slopes slopes(residual, state);
  FarSlopes out;
  for (int row = 0; row < unknowns.n(); ++row) {
    if (unknowns[row].kind == kind_u) enter_far_warmth<0>(unknowns, slopes, row, &out);
    if (unknowns[row].kind == kind_v) enter_far_warmth<1>(unknowns, slopes, row, &out);
  }
  if (residual.problem().energy)
    for (const HeatedChannels& channels : residual.problem().channels)
      enter_channels(channels, unknowns, residual, slopes, state, &out);
  return out.take();
}

std::vector<FarSlope> far_content_slopes(const Unknowns& unknowns, const Residual& residual,
                                         const State& state) {
  const Slopes slopes(residual, state);
  FarSlopes out;
  for (int row = 0; row < unknowns.n(); ++row) {
    const auto [kind, i, j] = unknowns[row];
    if (kind == kind_p)
      out.enter(row, unknowns.number(kind_t, i, j), residual.mesh().volume(i, j) * slopes.density(i, j));
    if (kind != kind_u && kind != kind_v) continue;
    // Flow over area is density times velocity.
    const int d = kind == kind_u ? 0 : 1;
    const ComponentMesh& mesh = residual.mesh().component[d];
    const double length = mesh.volume(i, j) / mesh.area(i, j);
    const Slopes::ByWarmth& by = slopes.flow_by_warmth(d, i, j);
    out.enter(row, unknowns.number(kind_t, d == 0 ? i - 1 : i, d == 0 ? j : j - 1), length * by.before);
    out.enter(row, unknowns.number(kind_t, i, j), length * by.after);
  }
  return out.take();
}

std::array<FaceByExchange, 4> momentum_by_exchange(const Residual& residual, const State& state, int i,
                                                   int j) {
  const Problem& problem = residual.problem();
  const double half = 0.5 * problem.factor_at(i, j);
  std::array<FaceByExchange, 4> out;
  for (int d = 0; d < 2; ++d)
    for (const int high : {0, 1}) {
      FaceByExchange& face = out[static_cast<std::size_t>(2 * d + high)];
      face = {d == 0 ? kind_u : kind_v, d == 0 ? i + high : i, d == 0 ? j : j + high, 0.0, 0.0};
      face.by_out = half * state.velocity[static_cast<std::size_t>(d)](face.i, face.j);
      // What turns within the cell is no strain (add_momentum_along).
      const double turned = problem.grid.axis(d).widths()[static_cast<std::size_t>(d == 0 ? i : j)] /
                            (residual.density()(i, j) * residual.mesh().volume(i, j));
      face.by_mass = (high == 1 ? 1.0 : -1.0) * residual.viscosity()(i, j) *
                     residual.mesh().component[static_cast<std::size_t>(d)].stretch(i, j) * turned;
    }
  return out;
}

}  // namespace tuft::flow2d

#include "solver/flow2d/renewal.hpp"

#include <algorithm>
#include <cmath>

namespace tuft::field {

void set_renewal(const Residual& residual, const Unknowns& unknowns, double* out) {
  const Scales& s = residual.scales();
  const Mesh& mesh = residual.mesh();
  const Problem& problem = residual.problem();
  const auto& flow = residual.mass_flow();
  const double cp = problem.fluid.specific_heat, rate = problem.fluid.density * s.velocity / s.length;
  const auto passing = [&](int i, int j) {
    i = std::clamp(i, 0, problem.grid.nx() - 1);
    j = std::clamp(j, 0, problem.grid.ny() - 1);
    return 0.5 * (std::abs(flow[0](i, j)) + std::abs(flow[0](i + 1, j)) + std::abs(flow[1](i, j)) +
                  std::abs(flow[1](i, j + 1)));
  };
  for (int k = 0; k < unknowns.n(); ++k) {
    const Unknown& d = unknowns[k];
    out[k] = 0.0;
    if (d.kind == kind_u)
      out[k] = 0.5 * (passing(d.i, d.j) + passing(d.i - 1, d.j)) + rate * mesh.component[0].volume(d.i, d.j);
    if (d.kind == kind_v)
      out[k] = 0.5 * (passing(d.i, d.j) + passing(d.i, d.j - 1)) + rate * mesh.component[1].volume(d.i, d.j);
    if (d.kind == kind_t) out[k] = cp * (passing(d.i, d.j) + rate * mesh.volume(d.i, d.j));
  }
}

}  // namespace tuft::field

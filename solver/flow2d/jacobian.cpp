#include "solver/flow2d/jacobian.hpp"

#include <cstddef>

#include "solver/flow2d/parallel.hpp"
#include "solver/flow2d/slopes.hpp"

namespace tuft::field {

void compact_jacobian(const Unknowns& unknowns, const Residual& residual, const State& state, Rows rows,
                      double* values) {
  const Slopes slopes(residual, state);
  const SparsePattern& pattern = unknowns.pattern();
  const auto stencil = [&](const Unknown& d) {
    switch (d.kind) {
      case kind_u:
        return slopes.momentum<0>(d.i, d.j);
      case kind_v:
        return slopes.momentum<1>(d.i, d.j);
      case kind_p:
        return slopes.mass(d.i, d.j);
      case kind_t:
        break;
    }
    return slopes.heat(d.i, d.j);
  };
  for_rows(0, unknowns.n(), static_cast<std::size_t>(unknowns.n()), [&](int r) {
    const Unknown& d = unknowns[r];
    if (rows != Rows::all && (d.kind == kind_t) != (rows == Rows::heat)) return;
    const Stencil17 s = stencil(d);
    for (int k = pattern.row_start[static_cast<std::size_t>(r)];
         k < pattern.row_start[static_cast<std::size_t>(r) + 1]; ++k)
      values[k] = s.at[unknowns.places_in_stencil()[static_cast<std::size_t>(k)]];
  });
}

}  // namespace tuft::field

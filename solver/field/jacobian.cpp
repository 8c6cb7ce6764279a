#include "solver/field/jacobian.hpp"

#include <cstddef>

#include "solver/field/parallel.hpp"

namespace tuft::field {
namespace {

std::size_t colour_of(const Unknown& d) {
  return static_cast<std::size_t>(9 * d.kind + 3 * (d.j % 3) + d.i % 3);
}

}  // namespace

CompactJacobian::CompactJacobian(const Unknowns& unknowns) : unknowns_(unknowns) {
  const SparsePattern& pattern = unknowns.pattern();
  for (int k = 0; k < unknowns.n(); ++k) columns_[colour_of(unknowns[k])].push_back(k);
  for (int r = 0; r < unknowns.n(); ++r)
    for (int k = pattern.row_start[static_cast<std::size_t>(r)];
         k < pattern.row_start[static_cast<std::size_t>(r) + 1]; ++k) {
      const std::size_t colour = colour_of(unknowns[pattern.column[static_cast<std::size_t>(k)]]);
      entries_[colour].push_back(k);
      rows_[colour].push_back(r);
    }
  values_.resize(pattern.column.size());
}

const std::vector<double>& CompactJacobian::evaluate(const State& state, const double (&step)[4],
                                                     Residual* residual) {
  State base = state, moved = state, shifted = state;
  residual->evaluate_compact(state, state, &base);
  for (std::size_t colour = 0; colour < kColours; ++colour) {
    const auto kind = static_cast<Kind>(colour / 9);
    if (columns_[colour].empty() || (kind == kind_p && pressures_known_)) continue;
    Array2& field = Unknowns::part(shifted, kind);
    const double h = step[colour / 9];
    for (const int c : columns_[colour]) field(unknowns_[c].i, unknowns_[c].j) += h;
    residual->evaluate_compact(shifted, state, &moved);
    const int n = static_cast<int>(entries_[colour].size());
    for_rows(0, n, static_cast<std::size_t>(n), [&](int k) {
      const Unknown& row = unknowns_[rows_[colour][static_cast<std::size_t>(k)]];
      const double difference =
          Unknowns::part(moved, row.kind)(row.i, row.j) - Unknowns::part(base, row.kind)(row.i, row.j);
      values_[static_cast<std::size_t>(entries_[colour][static_cast<std::size_t>(k)])] = difference / h;
    });
    const Array2& original = Unknowns::part(state, kind);
    for (const int c : columns_[colour])
      field(unknowns_[c].i, unknowns_[c].j) = original(unknowns_[c].i, unknowns_[c].j);
  }
  pressures_known_ = residual->problem().vents.empty();
  return values_;
}

}  // namespace tuft::field

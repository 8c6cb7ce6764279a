#include "solver/field/jacobian.hpp"

#include <cstddef>

#include "solver/field/parallel.hpp"

namespace tuft::field {
namespace {

int colour_of(const Unknown& d) { return 9 * d.kind + 3 * (d.j % 3) + d.i % 3; }

}  // namespace

std::vector<double> compact_jacobian(const Unknowns& unknowns, const State& state, const double (&step)[4],
                                     Residual* residual) {
  const SparsePattern& pattern = unknowns.pattern();
  State base = state, moved = state, shifted = state;
  residual->evaluate_compact(state, state, &base);
  // Entries and columns by colour, so that each colour touches its own alone.
  std::vector<std::vector<int>> columns(36), entries(36), rows(36);
  for (int k = 0; k < unknowns.n(); ++k)
    columns[static_cast<std::size_t>(colour_of(unknowns[k]))].push_back(k);
  for (int r = 0; r < unknowns.n(); ++r)
    for (int k = pattern.row_start[static_cast<std::size_t>(r)];
         k < pattern.row_start[static_cast<std::size_t>(r) + 1]; ++k) {
      const auto colour =
          static_cast<std::size_t>(colour_of(unknowns[pattern.column[static_cast<std::size_t>(k)]]));
      entries[colour].push_back(k);
      rows[colour].push_back(r);
    }
  std::vector<double> values(pattern.column.size());
  for (std::size_t colour = 0; colour < 36; ++colour) {
    if (columns[colour].empty()) continue;
    const auto kind = static_cast<Kind>(colour / 9);
    Array2& field = Unknowns::part(shifted, kind);
    const double h = step[colour / 9];
    for (int c : columns[colour]) field(unknowns[c].i, unknowns[c].j) += h;
    residual->evaluate_compact(shifted, state, &moved);
    const int n = static_cast<int>(entries[colour].size());
    for_rows(0, n, static_cast<std::size_t>(n), [&](int k) {
      const Unknown& row = unknowns[rows[colour][static_cast<std::size_t>(k)]];
      const double difference =
          Unknowns::part(moved, row.kind)(row.i, row.j) - Unknowns::part(base, row.kind)(row.i, row.j);
      values[static_cast<std::size_t>(entries[colour][static_cast<std::size_t>(k)])] = difference / h;
    });
    const Array2& original = Unknowns::part(state, kind);
    for (int c : columns[colour])
      field(unknowns[c].i, unknowns[c].j) = original(unknowns[c].i, unknowns[c].j);
  }
  return values;
}

}  // namespace tuft::field

#include "solver/flow2d/unknowns.hpp"

#include <algorithm>
#include <cstddef>

namespace tuft::flow2d {
namespace {

struct Offset {
  Kind kind;
  int di, dj;
};

/// What the compact balance of each kind depends on, relative to its own indices.
const std::vector<Offset>& couplings(Kind kind) {
  static const std::vector<Offset> u{
      {kind_u, 0, 0}, {kind_u, -1, 0}, {kind_u, 1, 0}, {kind_u, 0, -1},  {kind_u, 0, 1}, {kind_v, -1, 0},
      {kind_v, 0, 0}, {kind_v, -1, 1}, {kind_v, 0, 1}, {kind_p, -1, 0},  {kind_p, 0, 0}, {kind_t, -1, 0},
      {kind_t, 0, 0}, {kind_t, -1, 1}, {kind_t, 0, 1}, {kind_t, -1, -1}, {kind_t, 0, -1}};
  static const std::vector<Offset> v{
      {kind_v, 0, 0}, {kind_v, 0, -1}, {kind_v, 0, 1}, {kind_v, -1, 0},  {kind_v, 1, 0}, {kind_u, 0, -1},
      {kind_u, 0, 0}, {kind_u, 1, -1}, {kind_u, 1, 0}, {kind_p, 0, -1},  {kind_p, 0, 0}, {kind_t, 0, -1},
      {kind_t, 0, 0}, {kind_t, 1, -1}, {kind_t, 1, 0}, {kind_t, -1, -1}, {kind_t, -1, 0}};
  static const std::vector<Offset> p{{kind_u, 0, 0},  {kind_u, 1, 0}, {kind_v, 0, 0},  {kind_v, 0, 1},
                                     {kind_p, 0, 0},  {kind_t, 0, 0}, {kind_t, -1, 0}, {kind_t, 1, 0},
                                     {kind_t, 0, -1}, {kind_t, 0, 1}};
  static const std::vector<Offset> t = p;
  switch (kind) {
    case kind_u:
      return u;
    case kind_v:
      return v;
    case kind_p:
      return p;
    case kind_t:
      break;
  }
  return t;
}

}  // namespace

const Array2& Unknowns::part(const State& state, Kind kind) {
  switch (kind) {
    case kind_u:
      return state.velocity[0];
    case kind_v:
      return state.velocity[1];
    case kind_p:
      return state.pressure;
    case kind_t:
      break;
  }
  return state.temperature;
}

Array2& Unknowns::part(State& state, Kind kind) {
  return const_cast<Array2&>(part(static_cast<const State&>(state), kind));
}

int Unknowns::number(Kind kind, int i, int j) const {
  const auto& a = number_[kind];
  return i < 0 || j < 0 || i >= a.nx() || j >= a.ny() ? -1 : a(i, j);
}

/// Walks through each body of connected air once.
void Unknowns::find_level_cells(const Problem& problem, const Mesh& mesh) {
  Mask seen(nx_, ny_);
  for (int j = 0; j < ny_; ++j)
    for (int i = 0; i < nx_; ++i) {
      if (seen(i, j) || problem.is_solid(i, j)) continue;
      bool open = false;
      std::vector<std::array<int, 2>> stack{{i, j}};
      seen(i, j) = 1;
      while (!stack.empty()) {
        const auto [x, y] = stack.back();
        stack.pop_back();
        open = open || (!problem.coupled.empty() && problem.coupled(x, y) != 0);
        const int face[4][5] = {
            {0, x, y, x - 1, y}, {0, x + 1, y, x + 1, y}, {1, x, y, x, y - 1}, {1, x, y + 1, x, y + 1}};
        for (const auto& f : face) {
          if (!mesh.component[f[0]].active(f[1], f[2])) continue;
          if (f[3] < 0 || f[4] < 0 || f[3] >= nx_ || f[4] >= ny_) {
            open = true;
          } else if (!seen(f[3], f[4])) {
            seen(f[3], f[4]) = 1;
            stack.push_back({f[3], f[4]});
          }
        }
      }
      if (!open) level_cells_.push_back({i, j});
    }
}

Unknowns::Unknowns(const Problem& problem, const Mesh& mesh)
    : nx_(problem.grid.nx()), ny_(problem.grid.ny()) {
  find_level_cells(problem, mesh);
  number_ = {Array2T<int>(nx_ + 1, ny_, -1), Array2T<int>(nx_, ny_ + 1, -1), Array2T<int>(nx_, ny_, -1),
             Array2T<int>(nx_, ny_, -1)};
  const auto enter = [this](Kind kind, int i, int j) {
    number_[kind](i, j) = n();
    list_.push_back({kind, i, j});
  };
  for (int j = 0; j <= ny_; ++j)
    for (int i = 0; i <= nx_; ++i) {
      if (j < ny_ && mesh.component[0].active(i, j)) enter(kind_u, i, j);
      if (i < nx_ && mesh.component[1].active(i, j)) enter(kind_v, i, j);
      if (i == nx_ || j == ny_) continue;
      const bool solid = problem.is_solid(i, j);
      const bool level =
          std::find(level_cells_.begin(), level_cells_.end(), std::array<int, 2>{i, j}) != level_cells_.end();
      if (!solid && !level) enter(kind_p, i, j);
      const bool conducts = solid && !problem.is_held(i, j) && !problem.solid_conductivity.empty() &&
                            problem.solid_conductivity(i, j) > 0.0;
      if (problem.energy && (!solid || conducts)) enter(kind_t, i, j);
    }
  set_pattern();
}

void Unknowns::set_pattern() {
  pattern_.row_start.push_back(0);
  for (const Unknown& row : list_) {
    unsigned char slot = 0;
    for (const Offset& o : couplings(row.kind)) {
      const int c = number(o.kind, row.i + o.di, row.j + o.dj);
      if (c >= 0) {
        pattern_.column.push_back(c);
        slot_.push_back(slot);
      }
      ++slot;
    }
    pattern_.row_start.push_back(static_cast<int>(pattern_.column.size()));
  }
}

std::vector<sparse::UnknownPlace> Unknowns::places() const {
  std::vector<sparse::UnknownPlace> out;
  for (const Unknown& d : list_)
    out.push_back({std::min(d.i, nx_ - 1), std::min(d.j, ny_ - 1), d.kind == kind_p, d.kind <= kind_v});
  return out;
}

std::vector<double> Unknowns::gather(const State& state) const {
  std::vector<double> out(list_.size());
  for (std::size_t k = 0; k < list_.size(); ++k) out[k] = part(state, list_[k].kind)(list_[k].i, list_[k].j);
  return out;
}

}  // namespace tuft::flow2d

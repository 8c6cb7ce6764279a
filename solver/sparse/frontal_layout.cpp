#include "solver/sparse/frontal_layout.hpp"

#include <algorithm>

#include "solver/sparse/front_kernels.hpp"

namespace tuft::field {
namespace {

/// Pieces of a border that lie in one piece in the parent, too, and there on one side of its `own`.
std::vector<Run> pieces(const std::vector<int>& border, const std::vector<int>& local, int own) {
  std::vector<Run> out;
  for (std::size_t k = 0; k < border.size(); ++k) {
    const int to = local[static_cast<std::size_t>(border[k])];
    if (!out.empty() && out.back().to + out.back().length == to && to != own)
      ++out.back().length;
    else
      out.push_back({static_cast<int>(k), to, 1});
  }
  return out;
}

}  // namespace

FrontalLayout::FrontalLayout(const SparsePattern& pattern, const std::vector<Front>& fronts)
    : n(static_cast<std::size_t>(pattern.n())) {
  place_fronts(fronts);
  share_entries(pattern, fronts);
  place_entries(fronts);
}

void FrontalLayout::place_fronts(const std::vector<Front>& fronts) {
  Node next;
  for (const Front& front : fronts) {
    next.own = static_cast<int>(front.own.size());
    next.border = static_cast<int>(front.border.size());
    nodes.push_back(next);
    children.insert(children.end(), front.children.begin(), front.children.end());
    unknowns.insert(unknowns.end(), front.own.begin(), front.own.end());
    next.children = children.size();
    next.unknowns = unknowns.size();
    next.workspace += static_cast<std::size_t>(workspace_size(next.own, next.border));
    next.lower += lower_size(next.own, next.border);
  }
  nodes.push_back(next);
  std::size_t below = 0;
  for (auto at = nodes.rbegin() + 1; at != nodes.rend(); ++at) {
    at->upper = below;
    below += upper_size(at->own, at->border);
  }
  nodes.back().upper = below;
}

/// Every entry goes to the front that eliminates the earlier of its two unknowns.
void FrontalLayout::share_entries(const SparsePattern& pattern, const std::vector<Front>& fronts) {
  std::vector<int> front_of(n);
  for (int f = 0; f <= root(); ++f)
    for (const int d : fronts[static_cast<std::size_t>(f)].own) front_of[static_cast<std::size_t>(d)] = f;
  const auto for_all = [&](const auto& body) {
    for (int r = 0; r < pattern.n(); ++r)
      for (int k = pattern.row_start[static_cast<std::size_t>(r)];
           k < pattern.row_start[static_cast<std::size_t>(r) + 1]; ++k) {
        const int c = pattern.column[static_cast<std::size_t>(k)];
        body(std::min(front_of[static_cast<std::size_t>(r)], front_of[static_cast<std::size_t>(c)]),
             Placement{k, r, c});
      }
  };
  std::vector<std::size_t> count(nodes.size(), 0);
  for_all([&](int f, const Placement&) { ++count[static_cast<std::size_t>(f)]; });
  for (std::size_t f = 1; f < nodes.size(); ++f) nodes[f].entries = nodes[f - 1].entries + count[f - 1];
  entries.resize(pattern.column.size());
  std::vector<std::size_t> next(nodes.size());
  for (std::size_t f = 0; f < nodes.size(); ++f) next[f] = nodes[f].entries;
  for_all([&](int f, const Placement& entry) { entries[next[static_cast<std::size_t>(f)]++] = entry; });
}

/// Rows and columns of entries in their fronts, and where borders lie in the parents.
void FrontalLayout::place_entries(const std::vector<Front>& fronts) {
  std::vector<int> local(n, -1);
  std::vector<std::vector<Run>> to_parent(nodes.size());
  for (int f = 0; f <= root(); ++f) {
    const Front& front = fronts[static_cast<std::size_t>(f)];
    int place = 0;
    for (const int d : front.own) local[static_cast<std::size_t>(d)] = place++;
    for (const int d : front.border) local[static_cast<std::size_t>(d)] = place++;
    for (std::size_t k = nodes[static_cast<std::size_t>(f)].entries; k < node(f + 1).entries; ++k) {
      entries[k].row = local[static_cast<std::size_t>(entries[k].row)];
      entries[k].column = local[static_cast<std::size_t>(entries[k].column)];
    }
    for (const int child : front.children)
      to_parent[static_cast<std::size_t>(child)] =
          pieces(fronts[static_cast<std::size_t>(child)].border, local, node(f).own);
  }
  for (std::size_t f = 0; f < nodes.size(); ++f) {
    nodes[f].runs = runs.size();
    runs.insert(runs.end(), to_parent[f].begin(), to_parent[f].end());
  }
}

}  // namespace tuft::field

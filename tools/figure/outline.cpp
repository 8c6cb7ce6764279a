#include "tools/figure/outline.hpp"

#include <map>

namespace tuft::figure {
namespace {

/// Ways along the edges that are not yet part of an outline, by where they start.
using Ways = std::map<Corner, std::vector<Corner>>;

Ways edges_of(int nx, int ny, const std::vector<bool>& marked) {
  const auto is = [&](int i, int j) {
    return i >= 0 && i < nx && j >= 0 && j < ny &&
           marked[static_cast<std::size_t>(j) * static_cast<std::size_t>(nx) + static_cast<std::size_t>(i)];
  };
  Ways ways;
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) {
      if (!is(i, j)) continue;
      if (!is(i, j - 1)) ways[{i, j}].push_back({i + 1, j});
      if (!is(i + 1, j)) ways[{i + 1, j}].push_back({i + 1, j + 1});
      if (!is(i, j + 1)) ways[{i + 1, j + 1}].push_back({i, j + 1});
      if (!is(i - 1, j)) ways[{i, j + 1}].push_back({i, j});
    }
  return ways;
}

// How far a way turns to the left of the one before: -1, 0, 1.
int turn(const Corner& a, const Corner& b, const Corner& c) {
  return (b.first - a.first) * (c.second - b.second) - (b.second - a.second) * (c.first - b.first);
}

// Takes a way out. Where two cells touch at a corner there are two: that which turns left stays at its cell.
Corner take(Ways& ways, const Corner& before, const Corner& from) {
  std::vector<Corner>& all = ways[from];
  std::size_t best = 0;
  for (std::size_t k = 1; k < all.size(); ++k)
    if (turn(before, from, all[k]) > turn(before, from, all[best])) best = k;
  const Corner to = all[best];
  all.erase(all.begin() + static_cast<std::ptrdiff_t>(best));
  if (all.empty()) ways.erase(from);
  return to;
}

std::vector<Corner> without_straight(const std::vector<Corner>& ring) {
  std::vector<Corner> result;
  for (std::size_t k = 0; k < ring.size(); ++k)
    if (turn(ring[(k + ring.size() - 1) % ring.size()], ring[k], ring[(k + 1) % ring.size()]) != 0)
      result.push_back(ring[k]);
  return result;
}

}  // namespace

std::vector<std::vector<Corner>> cell_outlines(int nx, int ny, const std::vector<bool>& marked) {
  Ways ways = edges_of(nx, ny, marked);
  std::vector<std::vector<Corner>> outlines;
  while (!ways.empty()) {
    std::vector<Corner> ring{ways.begin()->first};
    Corner before = ring.front(), at = ring.front();
    do {
      const Corner next = take(ways, before, at);
      before = at;
      at = next;
      if (at != ring.front()) ring.push_back(at);
    } while (at != ring.front());
    outlines.push_back(without_straight(ring));
  }
  return outlines;
}

}  // namespace tuft::figure

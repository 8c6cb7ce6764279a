#include "solver/sparse/dissection.hpp"

#include <algorithm>
#include <numeric>
#include <stdexcept>

#include "solver/sparse/front_kernels.hpp"

namespace tuft::sparse {
namespace {

struct Box {
  int x0, x1, y0, y1;
  int nx() const { return x1 - x0; }
  int ny() const { return y1 - y0; }
};

constexpr int leaf_cells = 9;  // fastest by measurement for three to four unknowns a cell

/// Cuts boxes of cells in two along a line of cells, over and over.
class Cutter {
 public:
  /// `pattern` is symmetric in structure.
  Cutter(const SparsePattern& pattern, const std::vector<UnknownPlace>& places, std::vector<Front>* fronts)
      : pattern_(pattern), places_(places), fronts_(*fronts), side_(places.size(), Side::elsewhere) {}

  /// Fronts of the unknowns listed; the number of the topmost. Their cells lie in `box`, or on a line cut
  /// beside it.
  int build(const Box& box, std::vector<int> unknowns) {
    Front front;
    if (box.nx() * box.ny() <= leaf_cells || std::max(box.nx(), box.ny()) < 3) {
      front.own = std::move(unknowns);
    } else {
      const bool cut_x = box.nx() >= box.ny();
      const int middle = cut_x ? (box.x0 + box.x1) / 2 : (box.y0 + box.y1) / 2;
      Box low = box, high = box;
      (cut_x ? low.x1 : low.y1) = middle;
      (cut_x ? high.x0 : high.y0) = middle + 1;
      Parts parts = cut(unknowns, cut_x, middle);
      std::vector<int>().swap(unknowns);
      front.children.push_back(build(low, std::move(parts.low)));
      front.children.push_back(build(high, std::move(parts.high)));
      front.own = std::move(parts.line);
    }
    const int id = static_cast<int>(fronts_.size());
    for (int child : front.children) fronts_[child].parent = id;
    fronts_.push_back(std::move(front));
    return id;
  }

 private:
  enum class Side : unsigned char { elsewhere, low, line, high };
  struct Parts {
    std::vector<int> low, line, high;
  };

  bool touches(int d, Side side) const {
    for (const int c : pattern_.row(d))
      if (side_[c] == side) return true;
    return false;
  }

  /// On the line stays only what couples to both sides. On a staggered grid the pressures leave it, and with
  /// them a third of each separator: their velocities are those of their own cell, on the line, and of the
  /// cell after it.
  Parts cut(const std::vector<int>& unknowns, bool cut_x, int middle) {
    Parts parts;
    for (const int d : unknowns) {
      const UnknownPlace& place = places_[d];
      const int at = cut_x ? place.x : place.y;
      side_[d] = at < middle ? Side::low : at > middle ? Side::high : Side::line;
    }
    for (const int d : unknowns) {
      Side& side = side_[d];
      if (side != Side::line) continue;
      if (!touches(d, Side::low))
        side = Side::high;
      else if (!touches(d, Side::high))
        side = Side::low;
    }
    for (const int d : unknowns) {
      Side& side = side_[d];
      (side == Side::low ? parts.low : side == Side::high ? parts.high : parts.line).push_back(d);
      side = Side::elsewhere;
    }
    return parts;
  }

  const SparsePattern& pattern_;
  const std::vector<UnknownPlace>& places_;
  std::vector<Front>& fronts_;
  std::vector<Side> side_;
};

/// Groups of pressures joined by velocities. Unknowns are taken in front after front, up the tree: a velocity
/// joins the pressures it couples to once it and they are taken in; while only one of them is, it leads out
/// of that one's group.
class PressureGroups {
 public:
  PressureGroups(const SparsePattern& pattern, const std::vector<UnknownPlace>& places)
      : pattern_(pattern),
        places_(places),
        taken_(places.size(), 0),
        first_(places.size(), -1),
        joins_(places.size(), 0),
        parent_(places.size()),
        outlets_(places.size(), 0) {
    std::iota(parent_.begin(), parent_.end(), 0);
  }

  void take_in(int d) {
    if (taken_[d]) return;
    taken_[d] = 1;
    const UnknownPlace& own = places_[d];
    if (!own.pressure && !own.face) return;
    for (const int c : pattern_.row(d)) {
      const UnknownPlace& other = places_[c];
      if (!taken_[c]) continue;
      if (own.face && other.pressure) couple(d, c);
      if (own.pressure && other.face) couple(c, d);
    }
  }

  int root(int d) {
    while (parent_[d] != d) {
      int& p = parent_[d];
      p = parent_[p];
      d = p;
    }
    return d;
  }
  bool is_closed(int root) const { return outlets_[root] == 0; }

 private:
  void couple(int face, int pressure) {
    int& first = first_[face];
    if (first < 0) {
      first = pressure;
      ++outlets_[root(pressure)];
      return;
    }
    unsigned char& joins = joins_[face];
    if (!joins) --outlets_[root(first)];
    joins = 1;
    const int a = root(first), b = root(pressure);
    if (a == b) return;
    parent_[a] = b;
    outlets_[b] += outlets_[a];
  }

  const SparsePattern& pattern_;
  const std::vector<UnknownPlace>& places_;
  std::vector<unsigned char> taken_;
  std::vector<int> first_;             ///< of each velocity: one of its pressures taken in, or -1
  std::vector<unsigned char> joins_;   ///< of each velocity: whether there are two
  std::vector<int> parent_, outlets_;  ///< of each pressure; outlets of the group's root
};

/// Moves one pressure of every group that is closed below a front to that front's parent.
void defer_closed_groups(const SparsePattern& pattern, const std::vector<UnknownPlace>& places,
                         std::vector<Front>* fronts) {
  PressureGroups groups(pattern, places);
  for (Front& front : *fronts) {
    for (const int d : front.own) groups.take_in(d);
    if (front.parent < 0) continue;
    std::vector<int> keep, served;
    std::vector<int>& above = (*fronts)[front.parent].own;
    for (const int d : front.own) {
      const int root = places[d].pressure ? groups.root(d) : -1;
      if (root < 0 || !groups.is_closed(root) ||
          std::find(served.begin(), served.end(), root) != served.end()) {
        keep.push_back(d);
        continue;
      }
      served.push_back(root);
      above.push_back(d);
    }
    front.own = std::move(keep);
  }
}

/// The unknowns above each front that it couples to, itself or through what lies below it.
void set_borders(const SparsePattern& pattern, std::vector<Front>* fronts) {
  std::vector<int> position(pattern.n(), 0), seen(pattern.n(), -1);
  int next = 0;
  for (const Front& front : *fronts)
    for (int d : front.own) position[d] = next++;
  int first_above = 0;
  for (std::size_t f = 0; f < fronts->size(); ++f) {
    Front& front = (*fronts)[f];
    first_above += static_cast<int>(front.own.size());
    const auto consider = [&](int d) {
      if (position[d] < first_above || seen[d] == static_cast<int>(f)) return;
      seen[d] = static_cast<int>(f);
      front.border.push_back(d);
    };
    for (int d : front.own)
      for (const int c : pattern.row(d)) consider(c);
    for (int child : front.children)
      for (int d : (*fronts)[child].border) consider(d);
    std::sort(front.border.begin(), front.border.end(),
              [&](int a, int b) { return position[a] < position[b]; });
  }
}

/// Couplings made mutual: dense fronts hold both halves anyway.
SparsePattern symmetrised(const SparsePattern& p) {
  const int n = p.n();
  std::vector<int> next(n + 1, 0);
  for (int r = 0; r < n; ++r)
    for (const int c : p.row(r)) {
      ++next[r + 1];
      ++next[c + 1];
    }
  std::partial_sum(next.begin(), next.end(), next.begin());
  std::vector<int> twice(next[n]);
  for (int r = 0; r < n; ++r)
    for (const int c : p.row(r)) {
      twice[next[r]++] = c;
      twice[next[c]++] = r;
    }
  SparsePattern out;
  out.row_start.push_back(0);
  out.column.reserve(twice.size());
  auto begin = twice.begin();
  for (int r = 0; r < n; ++r) {
    const auto end = twice.begin() + next[r];
    std::sort(begin, end);
    out.column.insert(out.column.end(), begin, std::unique(begin, end));
    out.row_start.push_back(static_cast<int>(out.column.size()));
    begin = end;
  }
  return out;
}

/// The front that eliminates each unknown.
std::vector<int> fronts_of_unknowns(const std::vector<Front>& fronts, std::size_t n) {
  std::vector<int> out(n, -1);
  for (std::size_t f = 0; f < fronts.size(); ++f)
    for (const int d : fronts[f].own) out[d] = static_cast<int>(f);
  return out;
}

void check_separation(const std::vector<Front>& fronts, std::size_t n) {
  const std::vector<int> front_of = fronts_of_unknowns(fronts, n);
  for (const Front& front : fronts)
    for (const int d : front.border) {
      int up = front.parent;
      while (up >= 0 && up != front_of[d]) up = fronts[up].parent;
      if (up < 0) throw std::logic_error("dissection: two unknowns couple across a separator");
    }
}

/// Pieces of a border that lie in one piece in the parent, too, and there on one side of its `own`.
std::vector<Run> pieces(const std::vector<int>& border, const std::vector<int>& local, int own) {
  std::vector<Run> out;
  for (std::size_t k = 0; k < border.size(); ++k) {
    const int to = local[border[k]];
    if (!out.empty() && out.back().to + out.back().length == to && to != own)
      ++out.back().length;
    else
      out.push_back({static_cast<int>(k), to, 1});
  }
  return out;
}

}  // namespace

std::vector<Front> dissect(const SparsePattern& pattern, const std::vector<UnknownPlace>& places, int nx,
                           int ny) {
  const SparsePattern mutual = symmetrised(pattern);
  std::vector<Front> fronts;
  std::vector<int> all(places.size());
  std::iota(all.begin(), all.end(), 0);
  Cutter(mutual, places, &fronts).build({0, nx, 0, ny}, std::move(all));
  defer_closed_groups(mutual, places, &fronts);
  set_borders(mutual, &fronts);
  check_separation(fronts, places.size());
  return fronts;
}

FrontalLayout::FrontalLayout(const SparsePattern& pattern, const std::vector<Front>& fronts)
    : n(pattern.n()) {
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
    next.workspace += workspace_size(next.own, next.border);
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
  const std::vector<int> front_of = fronts_of_unknowns(fronts, n);
  const auto for_all = [&](const auto& body) {
    for (int r = 0; r < pattern.n(); ++r)
      for (int k = pattern.row_start[r]; k < pattern.row_start[r + 1]; ++k) {
        const int c = pattern.column[k];
        body(std::min(front_of[r], front_of[c]), Placement{k, r, c});
      }
  };
  std::vector<std::size_t> count(nodes.size(), 0);
  for_all([&](int f, const Placement&) { ++count[f]; });
  for (std::size_t f = 1; f < nodes.size(); ++f) nodes[f].entries = nodes[f - 1].entries + count[f - 1];
  entries.resize(pattern.column.size());
  std::vector<std::size_t> next(nodes.size());
  for (std::size_t f = 0; f < nodes.size(); ++f) next[f] = nodes[f].entries;
  for_all([&](int f, const Placement& entry) { entries[next[f]++] = entry; });
}

/// Rows and columns of entries in their fronts, and where borders lie in the parents.
void FrontalLayout::place_entries(const std::vector<Front>& fronts) {
  std::vector<int> local(n, -1);
  std::vector<std::vector<Run>> to_parent(nodes.size());
  for (int f = 0; f <= root(); ++f) {
    const Front& front = fronts[f];
    int place = 0;
    for (const int d : front.own) local[d] = place++;
    for (const int d : front.border) local[d] = place++;
    for (std::size_t k = nodes[f].entries; k < node(f + 1).entries; ++k) {
      entries[k].row = local[entries[k].row];
      entries[k].column = local[entries[k].column];
    }
    for (const int child : front.children)
      to_parent[child] = pieces(fronts[child].border, local, node(f).own);
  }
  for (std::size_t f = 0; f < nodes.size(); ++f) {
    nodes[f].runs = runs.size();
    runs.insert(runs.end(), to_parent[f].begin(), to_parent[f].end());
  }
}

}  // namespace tuft::sparse

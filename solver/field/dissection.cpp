#include "solver/field/dissection.hpp"

#include <algorithm>
#include <numeric>
#include <stdexcept>

namespace tuft::field {
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
    for (int child : front.children) fronts_[static_cast<std::size_t>(child)].parent = id;
    fronts_.push_back(std::move(front));
    return id;
  }

 private:
  enum class Side : unsigned char { elsewhere, low, line, high };
  struct Parts {
    std::vector<int> low, line, high;
  };

  bool touches(int d, Side side) const {
    for (int k = pattern_.row_start[static_cast<std::size_t>(d)];
         k < pattern_.row_start[static_cast<std::size_t>(d) + 1]; ++k)
      if (side_[static_cast<std::size_t>(pattern_.column[static_cast<std::size_t>(k)])] == side) return true;
    return false;
  }

  /// On the line stays only what couples to both sides. On a staggered grid the pressures leave it, and with
  /// them a third of each separator: their velocities are those of their own cell, on the line, and of the
  /// cell after it.
  Parts cut(const std::vector<int>& unknowns, bool cut_x, int middle) {
    Parts parts;
    for (const int d : unknowns) {
      const UnknownPlace& place = places_[static_cast<std::size_t>(d)];
      const int at = cut_x ? place.x : place.y;
      side_[static_cast<std::size_t>(d)] = at < middle ? Side::low : at > middle ? Side::high : Side::line;
    }
    for (const int d : unknowns) {
      Side& side = side_[static_cast<std::size_t>(d)];
      if (side != Side::line) continue;
      if (!touches(d, Side::low))
        side = Side::high;
      else if (!touches(d, Side::high))
        side = Side::low;
    }
    for (const int d : unknowns) {
      Side& side = side_[static_cast<std::size_t>(d)];
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

/// Groups of pressures joined by velocities, with whether a group has a velocity that leads out of it.
class PressureGroups {
 public:
  explicit PressureGroups(std::size_t n) : parent_(n), open_(n, 0) {
    std::iota(parent_.begin(), parent_.end(), 0);
  }
  int root(int d) {
    while (parent_[static_cast<std::size_t>(d)] != d) {
      int& p = parent_[static_cast<std::size_t>(d)];
      p = parent_[static_cast<std::size_t>(p)];
      d = p;
    }
    return d;
  }
  void join(int a, int b) {
    const int ra = root(a), rb = root(b);
    if (ra == rb) return;
    parent_[static_cast<std::size_t>(ra)] = rb;
    open_[static_cast<std::size_t>(rb)] |= open_[static_cast<std::size_t>(ra)];
  }
  void set_open(int a) { open_[static_cast<std::size_t>(root(a))] = 1; }
  bool is_open(int a) { return open_[static_cast<std::size_t>(root(a))] != 0; }

 private:
  std::vector<int> parent_;
  std::vector<unsigned char> open_;
};

/// Works up the tree with the set of unknowns below each front. A velocity joins the pressures it couples to
/// once it and they lie below; while one of its pressures is still above (or given), it leads out of the
/// group.
class Deferral {
 public:
  Deferral(const SparsePattern& pattern, const std::vector<UnknownPlace>& places, std::vector<Front>* fronts)
      : pattern_(pattern), places_(places), fronts_(*fronts), front_of_(places.size(), -1) {
    for (std::size_t f = 0; f < fronts_.size(); ++f)
      for (int d : fronts_[f].own) front_of_[static_cast<std::size_t>(d)] = static_cast<int>(f);
  }

  /// Moves one pressure of every group that is closed below front f to its parent.
  void defer_closed_groups(int f, const std::vector<int>& below) {
    Front& front = fronts_[static_cast<std::size_t>(f)];
    PressureGroups groups(local(below));
    for (int d : below)
      if (places_[static_cast<std::size_t>(d)].face) join_pressures_of(d, &groups);
    std::vector<int> keep, moved;
    std::vector<int> served;
    for (int d : front.own) {
      const bool pressure = places_[static_cast<std::size_t>(d)].pressure;
      const int root = pressure ? groups.root(index_[static_cast<std::size_t>(d)]) : -1;
      if (pressure && !groups.is_open(root) &&
          std::find(served.begin(), served.end(), root) == served.end()) {
        served.push_back(root);
        moved.push_back(d);
      } else {
        keep.push_back(d);
      }
    }
    for (int d : below) index_[static_cast<std::size_t>(d)] = -1;
    if (front.parent < 0) return;
    front.own = keep;
    auto& above = fronts_[static_cast<std::size_t>(front.parent)].own;
    above.insert(above.end(), moved.begin(), moved.end());
    for (int d : moved) front_of_[static_cast<std::size_t>(d)] = front.parent;
  }

  int front_of(int d) const { return front_of_[static_cast<std::size_t>(d)]; }

 private:
  std::size_t local(const std::vector<int>& below) {
    if (index_.empty()) index_.assign(places_.size(), -1);
    for (std::size_t k = 0; k < below.size(); ++k)
      index_[static_cast<std::size_t>(below[k])] = static_cast<int>(k);
    return below.size();
  }

  void join_pressures_of(int d, PressureGroups* groups) {
    int count = 0, first = -1;
    for (int k = pattern_.row_start[static_cast<std::size_t>(d)];
         k < pattern_.row_start[static_cast<std::size_t>(d) + 1]; ++k) {
      const int c = pattern_.column[static_cast<std::size_t>(k)];
      const int at = index_[static_cast<std::size_t>(c)];
      if (!places_[static_cast<std::size_t>(c)].pressure || at < 0) continue;
      if (++count == 1)
        first = at;
      else
        groups->join(first, at);
    }
    if (count == 1) groups->set_open(first);
  }

  const SparsePattern& pattern_;
  const std::vector<UnknownPlace>& places_;
  std::vector<Front>& fronts_;
  std::vector<int> front_of_, index_;
};

/// The unknowns above each front that it couples to, itself or through what lies below it.
void set_borders(const SparsePattern& pattern, std::vector<Front>* fronts) {
  const auto n = static_cast<std::size_t>(pattern.n());
  std::vector<int> position(n, 0), seen(n, -1);
  int next = 0;
  for (const Front& front : *fronts)
    for (int d : front.own) position[static_cast<std::size_t>(d)] = next++;
  int first_above = 0;
  for (std::size_t f = 0; f < fronts->size(); ++f) {
    Front& front = (*fronts)[f];
    first_above += static_cast<int>(front.own.size());
    const auto consider = [&](int d) {
      if (position[static_cast<std::size_t>(d)] < first_above ||
          seen[static_cast<std::size_t>(d)] == static_cast<int>(f))
        return;
      seen[static_cast<std::size_t>(d)] = static_cast<int>(f);
      front.border.push_back(d);
    };
    for (int d : front.own)
      for (int k = pattern.row_start[static_cast<std::size_t>(d)];
           k < pattern.row_start[static_cast<std::size_t>(d) + 1]; ++k)
        consider(pattern.column[static_cast<std::size_t>(k)]);
    for (int child : front.children)
      for (int d : (*fronts)[static_cast<std::size_t>(child)].border) consider(d);
    std::sort(front.border.begin(), front.border.end(), [&](int a, int b) {
      return position[static_cast<std::size_t>(a)] < position[static_cast<std::size_t>(b)];
    });
  }
}

/// Couplings made mutual: dense fronts hold both halves anyway.
SparsePattern symmetrised(const SparsePattern& p) {
  std::vector<std::vector<int>> rows(static_cast<std::size_t>(p.n()));
  for (int r = 0; r < p.n(); ++r)
    for (int k = p.row_start[static_cast<std::size_t>(r)]; k < p.row_start[static_cast<std::size_t>(r) + 1];
         ++k) {
      const int c = p.column[static_cast<std::size_t>(k)];
      rows[static_cast<std::size_t>(r)].push_back(c);
      rows[static_cast<std::size_t>(c)].push_back(r);
    }
  SparsePattern out;
  out.row_start.push_back(0);
  for (auto& row : rows) {
    std::sort(row.begin(), row.end());
    row.erase(std::unique(row.begin(), row.end()), row.end());
    out.column.insert(out.column.end(), row.begin(), row.end());
    out.row_start.push_back(static_cast<int>(out.column.size()));
  }
  return out;
}

void check_separation(const std::vector<Front>& fronts, const Deferral& deferral) {
  for (std::size_t f = 0; f < fronts.size(); ++f)
    for (int d : fronts[f].border) {
      int up = fronts[f].parent;
      while (up >= 0 && up != deferral.front_of(d)) up = fronts[static_cast<std::size_t>(up)].parent;
      if (up < 0) throw std::logic_error("dissection: two unknowns couple across a separator");
    }
}

}  // namespace

std::vector<Front> dissect(const SparsePattern& pattern, const std::vector<UnknownPlace>& places, int nx,
                           int ny) {
  const SparsePattern mutual = symmetrised(pattern);
  std::vector<Front> fronts;
  std::vector<int> all(places.size());
  std::iota(all.begin(), all.end(), 0);
  Cutter(mutual, places, &fronts).build({0, nx, 0, ny}, std::move(all));
  Deferral deferral(pattern, places, &fronts);
  std::vector<std::vector<int>> below(fronts.size());
  for (std::size_t f = 0; f < fronts.size(); ++f) {
    for (int child : fronts[f].children) {
      auto& set = below[static_cast<std::size_t>(child)];
      below[f].insert(below[f].end(), set.begin(), set.end());
      std::vector<int>().swap(set);
    }
    below[f].insert(below[f].end(), fronts[f].own.begin(), fronts[f].own.end());
    deferral.defer_closed_groups(static_cast<int>(f), below[f]);
    below[f].erase(std::remove_if(below[f].begin(), below[f].end(),
                                  [&](int d) { return deferral.front_of(d) > static_cast<int>(f); }),
                   below[f].end());
  }
  set_borders(mutual, &fronts);
  check_separation(fronts, deferral);
  return fronts;
}

}  // namespace tuft::field

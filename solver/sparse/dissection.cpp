#include "solver/sparse/dissection.hpp"

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
    if (taken_[static_cast<std::size_t>(d)]) return;
    taken_[static_cast<std::size_t>(d)] = 1;
    const UnknownPlace& own = places_[static_cast<std::size_t>(d)];
    if (!own.pressure && !own.face) return;
    for (int k = pattern_.row_start[static_cast<std::size_t>(d)];
         k < pattern_.row_start[static_cast<std::size_t>(d) + 1]; ++k) {
      const int c = pattern_.column[static_cast<std::size_t>(k)];
      const UnknownPlace& other = places_[static_cast<std::size_t>(c)];
      if (!taken_[static_cast<std::size_t>(c)]) continue;
      if (own.face && other.pressure) couple(d, c);
      if (own.pressure && other.face) couple(c, d);
    }
  }

  int root(int d) {
    while (parent_[static_cast<std::size_t>(d)] != d) {
      int& p = parent_[static_cast<std::size_t>(d)];
      p = parent_[static_cast<std::size_t>(p)];
      d = p;
    }
    return d;
  }
  bool is_closed(int root) const { return outlets_[static_cast<std::size_t>(root)] == 0; }

 private:
  void couple(int face, int pressure) {
    int& first = first_[static_cast<std::size_t>(face)];
    if (first < 0) {
      first = pressure;
      ++outlets_[static_cast<std::size_t>(root(pressure))];
      return;
    }
    unsigned char& joins = joins_[static_cast<std::size_t>(face)];
    if (!joins) --outlets_[static_cast<std::size_t>(root(first))];
    joins = 1;
    const int a = root(first), b = root(pressure);
    if (a == b) return;
    parent_[static_cast<std::size_t>(a)] = b;
    outlets_[static_cast<std::size_t>(b)] += outlets_[static_cast<std::size_t>(a)];
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
    std::vector<int>& above = (*fronts)[static_cast<std::size_t>(front.parent)].own;
    for (const int d : front.own) {
      const int root = places[static_cast<std::size_t>(d)].pressure ? groups.root(d) : -1;
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
  const auto n = static_cast<std::size_t>(p.n());
  std::vector<int> next(n + 1, 0);
  const auto for_all = [&](const auto& body) {
    for (int r = 0; r < p.n(); ++r)
      for (int k = p.row_start[static_cast<std::size_t>(r)]; k < p.row_start[static_cast<std::size_t>(r) + 1];
           ++k)
        body(static_cast<std::size_t>(r), static_cast<std::size_t>(p.column[static_cast<std::size_t>(k)]));
  };
  for_all([&](std::size_t r, std::size_t c) {
    ++next[r + 1];
    ++next[c + 1];
  });
  std::partial_sum(next.begin(), next.end(), next.begin());
  std::vector<int> twice(static_cast<std::size_t>(next[n]));
  for_all([&](std::size_t r, std::size_t c) {
    twice[static_cast<std::size_t>(next[r]++)] = static_cast<int>(c);
    twice[static_cast<std::size_t>(next[c]++)] = static_cast<int>(r);
  });
  SparsePattern out;
  out.row_start.push_back(0);
  out.column.reserve(twice.size());
  auto begin = twice.begin();
  for (std::size_t r = 0; r < n; ++r) {
    const auto end = twice.begin() + next[r];
    std::sort(begin, end);
    out.column.insert(out.column.end(), begin, std::unique(begin, end));
    out.row_start.push_back(static_cast<int>(out.column.size()));
    begin = end;
  }
  return out;
}

void check_separation(const std::vector<Front>& fronts, std::size_t n) {
  std::vector<int> front_of(n, -1);
  for (std::size_t f = 0; f < fronts.size(); ++f)
    for (const int d : fronts[f].own) front_of[static_cast<std::size_t>(d)] = static_cast<int>(f);
  for (const Front& front : fronts)
    for (const int d : front.border) {
      int up = front.parent;
      while (up >= 0 && up != front_of[static_cast<std::size_t>(d)])
        up = fronts[static_cast<std::size_t>(up)].parent;
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
  defer_closed_groups(mutual, places, &fronts);
  set_borders(mutual, &fronts);
  check_separation(fronts, places.size());
  return fronts;
}

}  // namespace tuft::field

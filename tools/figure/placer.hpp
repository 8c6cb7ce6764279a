// Finds room for labels: beside what they name, along a line, in rows.
#pragma once

#include <optional>
#include <vector>

#include "tools/figure/plane.hpp"

namespace tuft::figure {

/// Where a label went, and whether it needs a line to what it names.
struct Placed {
  Box box;
  bool needs_leader = false;
  Point from, to;  ///< ends of the leader: at the label, at the named
};

/// Weights of busy ground: lines and hatching, and a light tint.
constexpr double kBusyLines = 0.25, kBusyTint = 0.03;

/// Keeps account of what stands where, and finds the best free place for each label in turn. Labels never
/// overlap what was blocked (other labels); they keep off what was marked as busy as far as they can.
class Placer {
 public:
  void block(const Box& box) { blocked_.push_back(box); }  ///< nothing may lie here: text, marks
  /// Lines, hatching, tints: better not, but possible, at this cost for each square pixel.
  void busy(const Box& box, double weight) { busy_.push_back({box, weight}); }

  /// The best place for a label of this size [px] beside `anchor` and within `room`, if there is one; it is
  /// blocked then. Near is better than far, free better than busy, and within `shunned` is bad.
  std::optional<Placed> place(const Box& anchor, double width, double height, const Box& room,
                              const Box& shunned = {});

  /// The best place within `area`, its middle if that is free.
  std::optional<Placed> place_within(const Box& area, double width, double height);

 private:
  std::optional<double> cost(const Placed& placed, double gap, const Box& room) const;
  std::optional<Placed> taken(const std::optional<Placed>& best);

  struct Busy {
    Box box;
    double weight = 0.0;
  };
  std::vector<Box> blocked_;
  std::vector<Busy> busy_;
};

/// A label that wants to be at one height and may be moved up or down.
struct Wish {
  double at = 0.0;      ///< where its middle wants to be [px]
  double height = 0.0;  ///< [px], > 0
};

/// Middles for all labels [px], in the order of the wishes: none overlaps another, all lie within [low,
/// high], their order is that of the wishes (ties: the earlier first), and the sum of squared displacements
/// is the least possible. The heights together must fit into the range; else the range is left at its high
/// end. (Isotonic regression by pooling neighbours, then clamped; from memory.)
std::vector<double> spread_out(const std::vector<Wish>& wishes, double low, double high);

/// A label that wants to start at one place on a line and may use any row.
struct Span {
  double start = 0.0, end = 0.0;  ///< [px]
};

/// A row for each span, from 0, the lowest: spans of one row keep `gap` [px] between them, and no span lies
/// within `gap` right of and over the start of one in a higher row, so that a line going down from each start
/// meets no other span. Taken from the last start to the first; ties: the later one first.
std::vector<int> rows_for(const std::vector<Span>& spans, double gap);

}  // namespace tuft::figure

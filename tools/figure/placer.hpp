// Finds room for labels beside what they name.
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

}  // namespace tuft::figure

// Places for labels, so that no text lies on text.
#pragma once

#include <vector>

namespace tuft::figure {

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

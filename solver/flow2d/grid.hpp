// The Cartesian grid: faces, centres and widths along each axis.
#pragma once

#include <array>
#include <vector>

namespace tuft::field {

/// One axis of a grid: n cells between n+1 increasing faces [m].
class Axis {
 public:
  /// @throws std::invalid_argument when fewer than two faces are given, or they do not increase.
  explicit Axis(std::vector<double> faces);

  int n() const { return static_cast<int>(widths_.size()); }
  double length() const { return faces_.back() - faces_.front(); }
  const std::vector<double>& faces() const { return faces_; }      ///< n+1 [m]
  const std::vector<double>& centres() const { return centres_; }  ///< n, midway between the faces [m]
  const std::vector<double>& widths() const { return widths_; }    ///< n [m]

 private:
  std::vector<double> faces_, centres_, widths_;
};

/// n equal cells from `from` to `to` [m].
Axis uniform_axis(int n, double from, double to);

/// Two cells made one along an axis; a last cell without a partner is kept as it is.
Axis coarsened(const Axis& axis);

/// A Cartesian grid of nx by ny cells.
struct Grid {
  Axis x, y;
  int nx() const { return x.n(); }
  int ny() const { return y.n(); }
  const Axis& axis(int d) const { return d == 0 ? x : y; }
};

}  // namespace tuft::field

#include "tools/io/section_turn.hpp"

#include <algorithm>
#include <limits>

namespace tuft::output {

using section::SectionResult;

Turn::Turn(const SectionResult& result) : nx_(result.u.nx()), ny_(result.u.ny()) {
  double best = -std::numeric_limits<double>::infinity();
  int chosen = 0;
  for (quarters_ = 0; quarters_ < 4; ++quarters_) {
    const double down = -place({result.gravity[0], result.gravity[1]}).y;
    if (down <= best + 1e-9) continue;
    best = down;
    chosen = quarters_;
  }
  quarters_ = chosen;
}

figure::Place Turn::place(const figure::Place& at) const {
  switch (quarters_) {
    case 1:
      return {-at.y, at.x};
    case 2:
      return {-at.x, -at.y};
    case 3:
      return {at.y, -at.x};
    default:
      return at;
  }
}

std::size_t Turn::cell(int i, int j) const {
  int from_i = i, from_j = j;
  if (quarters_ == 1) from_i = j, from_j = ny_ - 1 - i;
  if (quarters_ == 2) from_i = nx_ - 1 - i, from_j = ny_ - 1 - j;
  if (quarters_ == 3) from_i = nx_ - 1 - j, from_j = i;
  return static_cast<std::size_t>(from_j) * static_cast<std::size_t>(nx_) + static_cast<std::size_t>(from_i);
}

std::vector<double> Turn::lines(const SectionResult& result, int axis) const {
  const bool swapped = quarters_ % 2 == 1;
  std::vector<double> lines = (axis == 0) != swapped ? result.x : result.y;
  for (double& line : lines) {
    const figure::Place turned = (axis == 0) != swapped ? place({line, 0.0}) : place({0.0, line});
    line = axis == 0 ? turned.x : turned.y;
  }
  std::sort(lines.begin(), lines.end());
  return lines;
}

}  // namespace tuft::output

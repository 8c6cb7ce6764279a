// How the picture of a section is turned so that down is down. For section_figures.cpp and tracer_film.cpp.
#pragma once

#include <cstddef>
#include <vector>

#include "solver/flow2d/section_result.hpp"
#include "tools/figure/field_map.hpp"

namespace tuft::output {

/// Quarter turns of the picture, counter-clockwise: as many as let gravity point down most.
class Turn {
 public:
  explicit Turn(const section::SectionResult& result);

  /// A place of the section's own axes in the picture [m].
  figure::Place place(const figure::Place& at) const;

  int nx() const { return quarters_ % 2 == 0 ? nx_ : ny_; }  ///< cells of the picture
  int ny() const { return quarters_ % 2 == 0 ? ny_ : nx_; }

  /// Index in the section of a cell of the picture.
  std::size_t cell(int i, int j) const;

  /// Grid lines of the picture along x (0) or y (1) [m].
  std::vector<double> lines(const section::SectionResult& result, int axis) const;

 private:
  int nx_, ny_, quarters_ = 0;
};

}  // namespace tuft::output

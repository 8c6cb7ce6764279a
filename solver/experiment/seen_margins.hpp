// A sample as its solved points and what each claim's margin is there.
#pragma once

#include <vector>

#include "solver/experiment/verdicts.hpp"
#include "solver/study/ensemble.hpp"

namespace tuft::experiment {

struct SeenMargins {
  uncertainty::SampleMatrix points;          ///< coordinates in (0, 1), one row a solved sample
  std::vector<std::vector<double>> margins;  ///< [question][row]
};

SeenMargins seen_margins(const geometry::Case& content, const Questions& questions,
                         const study::Ensemble& sample);

/// True if the margin is the same in every row.
bool is_constant(const std::vector<double>& margins);

}  // namespace tuft::experiment

#include "solver/experiment/seen_margins.hpp"

#include <algorithm>

#include "solver/study/statement.hpp"

namespace tuft::experiment {

SeenMargins seen_margins(const geometry::Case& content, const Questions& questions,
                         const study::Ensemble& sample) {
  SeenMargins out;
  std::vector<Eigen::Index> rows;
  for (std::size_t i = 0; i < sample.views.size(); ++i)
    if (sample.weights[i] > 0.0) rows.push_back(static_cast<Eigen::Index>(i));
  out.points.resize(static_cast<Eigen::Index>(rows.size()), sample.points.cols());
  for (std::size_t r = 0; r < rows.size(); ++r)
    out.points.row(static_cast<Eigen::Index>(r)) = sample.points.row(rows[r]);
  for (const geometry::Claim& claim : questions.placed) {
    std::vector<double> margins;
    for (const Eigen::Index row : rows) margins.push_back(study::margin(content, claim, sample.views[row]));
    out.margins.push_back(std::move(margins));
  }
  return out;
}

bool is_constant(const std::vector<double>& margins) {
  return std::all_of(margins.begin(), margins.end(), [&](double m) { return m == margins.front(); });
}

}  // namespace tuft::experiment

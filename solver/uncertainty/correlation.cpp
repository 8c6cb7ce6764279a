#include "solver/uncertainty/correlation.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <sstream>
#include <stdexcept>

#include "solver/numerics/dense.hpp"
#include "solver/uncertainty/normal.hpp"

namespace tuft::doubt {

namespace {

using Names = std::vector<std::string>;
using Pairs = std::vector<CorrelatedPair>;

std::string entry(const CorrelatedPair& pair, const Names& names) {
  std::ostringstream text;
  const auto name = [&](int i) {
    return names.empty() ? std::to_string(i) : names[static_cast<std::size_t>(i)];
  };
  text << "(" << name(pair.first) << ", " << name(pair.second) << ") = " << pair.value;
  return text.str();
}

void check_pair(const CorrelatedPair& pair, int inputs, const Names& names) {
  const auto there = [&](int i) { return i >= 0 && i < inputs; };
  if (!there(pair.first) || !there(pair.second)) {
    std::ostringstream text;
    text << "correlation of inputs " << pair.first << " and " << pair.second << ": there are " << inputs
         << " inputs, counted from 0";
    throw std::invalid_argument(text.str());
  }
  if (pair.first == pair.second) {
    throw std::invalid_argument("correlation " + entry(pair, names) +
                                ": an input can't be paired with itself");
  }
  if (!(std::abs(pair.value) < 1.0)) {
    throw std::invalid_argument("correlation " + entry(pair, names) + ": must lie between -1 and 1");
  }
}

void check_once(const Pairs& pairs, const Names& names) {
  for (std::size_t a = 0; a < pairs.size(); ++a) {
    for (std::size_t b = a + 1; b < pairs.size(); ++b) {
      const bool same =
          std::minmax(pairs[a].first, pairs[a].second) == std::minmax(pairs[b].first, pairs[b].second);
      if (same) throw std::invalid_argument("correlation " + entry(pairs[b], names) + ": given twice");
    }
  }
}

/// Correlation matrix of some inputs.
Eigen::MatrixXd matrix_of(const std::vector<int>& inputs, const Pairs& pairs) {
  const Eigen::Index n = static_cast<Eigen::Index>(inputs.size());
  Eigen::MatrixXd matrix = Eigen::MatrixXd::Identity(n, n);
  for (const CorrelatedPair& pair : pairs) {
    const auto a = std::find(inputs.begin(), inputs.end(), pair.first);
    const auto b = std::find(inputs.begin(), inputs.end(), pair.second);
    if (a == inputs.end() || b == inputs.end()) continue;
    matrix(a - inputs.begin(), b - inputs.begin()) = pair.value;
    matrix(b - inputs.begin(), a - inputs.begin()) = pair.value;
  }
  return matrix;
}

/// The Cholesky factor; empty if the matrix is not positive definite with a margin well above rounding.
Eigen::MatrixXd factor_of(const std::vector<int>& inputs, const Pairs& pairs) {
  const Eigen::MatrixXd factor = base::cholesky_factor(matrix_of(inputs, pairs));
  return factor.size() > 0 && factor.diagonal().minCoeff() > 1e-6 ? factor : Eigen::MatrixXd();
}

/// Drops inputs as long as what is left still can't hold together, and names the entries of the rest.
std::string contradiction(std::vector<int> inputs, const Pairs& pairs, const Names& names) {
  for (std::size_t i = inputs.size(); i-- > 0;) {
    std::vector<int> fewer = inputs;
    fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(i));
    if (!fewer.empty() && factor_of(fewer, pairs).size() == 0) inputs = fewer;
  }
  std::string text = "the correlation matrix is not positive definite; these entries can't hold together: ";
  bool first = true;
  for (const CorrelatedPair& pair : pairs) {
    const bool inside = std::find(inputs.begin(), inputs.end(), pair.first) != inputs.end() &&
                        std::find(inputs.begin(), inputs.end(), pair.second) != inputs.end();
    if (!inside) continue;
    text += (first ? "" : ", ") + entry(pair, names);
    first = false;
  }
  return text;
}

/// Joins inputs that share a pair, directly or through others.
std::vector<std::vector<int>> groups_of(int inputs, const Pairs& pairs) {
  std::vector<int> label(static_cast<std::size_t>(inputs));
  for (int i = 0; i < inputs; ++i) label[static_cast<std::size_t>(i)] = i;
  for (const CorrelatedPair& pair : pairs) {
    const int a = label[static_cast<std::size_t>(pair.first)];
    const int b = label[static_cast<std::size_t>(pair.second)];
    for (int& each : label) {
      if (each == std::max(a, b)) each = std::min(a, b);
    }
  }
  std::vector<std::vector<int>> groups(static_cast<std::size_t>(inputs));
  for (int i = 0; i < inputs; ++i) {
    groups[static_cast<std::size_t>(label[static_cast<std::size_t>(i)])].push_back(i);
  }
  groups.erase(std::remove_if(groups.begin(), groups.end(), [](const auto& g) { return g.empty(); }),
               groups.end());
  return groups;
}

}  // namespace

Correlation::Correlation(int inputs) : Correlation(inputs, {}) {}

Correlation::Correlation(int inputs, const Pairs& pairs, const Names& names) : inputs_(inputs) {
  if (inputs < 0) throw std::invalid_argument("correlation: the number of inputs must not be negative");
  if (!names.empty() && names.size() != static_cast<std::size_t>(inputs)) {
    throw std::invalid_argument("correlation: one name for each input is needed, or none");
  }
  for (const CorrelatedPair& pair : pairs) check_pair(pair, inputs, names);
  check_once(pairs, names);
  groups_ = groups_of(inputs, pairs);
  factorise(pairs, names);
}

void Correlation::factorise(const Pairs& pairs, const Names& names) {
  for (const std::vector<int>& group : groups_) {
    if (group.size() == 1) continue;
    const Eigen::MatrixXd factor = factor_of(group, pairs);
    if (factor.size() == 0) throw std::invalid_argument(contradiction(group, pairs, names));
    for (Eigen::Index r = 0; r < factor.rows(); ++r) {
      Row row;
      row.input = group[static_cast<std::size_t>(r)];
      for (Eigen::Index c = 0; c <= r; ++c) {
        if (factor(r, c) == 0.0) continue;
        row.column.push_back(group[static_cast<std::size_t>(c)]);
        row.factor.push_back(factor(r, c));
      }
      rows_.push_back(row);
    }
  }
  std::sort(rows_.begin(), rows_.end(), [](const Row& a, const Row& b) { return a.input < b.input; });
}

void Correlation::tie_scores(double* z) const {
  // From the last input back: a row reads inputs up to its own, none of which is overwritten yet.
  for (auto row = rows_.rbegin(); row != rows_.rend(); ++row) {
    double sum = 0.0;
    for (std::size_t k = 0; k < row->column.size(); ++k) sum += row->factor[k] * z[row->column[k]];
    z[row->input] = sum;
  }
}

void Correlation::tie(double* u) const {
  for (const Row& row : rows_) u[row.input] = normal_quantile(u[row.input]);
  tie_scores(u);
  for (const Row& row : rows_) {
    // Far out the rounded probability may reach 1, which has no place on any distribution.
    u[row.input] = std::clamp(normal_cumulative(u[row.input]), 1e-300, 1.0 - 0x1p-53);
  }
}

}  // namespace tuft::doubt

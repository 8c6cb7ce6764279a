#include "solver/uncertainty/distribution.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <sstream>
#include <utility>

#include "solver/numerics/dense.hpp"
#include "solver/uncertainty/normal.hpp"
#include "solver/uncertainty/sample_matrix.hpp"

namespace tuft::uncertainty {
namespace {

double deviation(const Distribution& d) { return (d.high - d.low) / (2.0 * kHalfWidth95); }

double triangular_cumulative(const Distribution& d, double x) {
  if (x <= d.low) return 0.0;
  if (x >= d.high) return 1.0;
  const double width = d.high - d.low;
  if (x < d.nominal) return (x - d.low) * (x - d.low) / (width * (d.nominal - d.low));
  return 1.0 - (d.high - x) * (d.high - x) / (width * (d.high - d.nominal));
}

double triangular_quantile(const Distribution& d, double p) {
  const double width = d.high - d.low;
  if (p * width < d.nominal - d.low) return d.low + std::sqrt(p * width * (d.nominal - d.low));
  return d.high - std::sqrt((1.0 - p) * width * (d.high - d.nominal));
}

double steps_cumulative(const std::vector<double>& steps, double x) {
  if (x <= steps.front()) return 0.0;
  if (x >= steps.back()) return 1.0;
  const auto above = std::upper_bound(steps.begin(), steps.end(), x);
  const double from = *(above - 1), part = static_cast<double>(above - 1 - steps.begin());
  return (part + (x - from) / (*above - from)) / static_cast<double>(steps.size() - 1);
}

double steps_quantile(const std::vector<double>& steps, double p) {
  const double place = p * static_cast<double>(steps.size() - 1);
  const std::size_t below = std::min(static_cast<std::size_t>(place), steps.size() - 2);
  return steps[below] + (place - static_cast<double>(below)) * (steps[below + 1] - steps[below]);
}

/// Without the bounds.
double whole_cumulative(const Distribution& d, double x) {
  switch (d.shape) {
    case Shape::fixed:
      return x < d.nominal ? 0.0 : 1.0;
    case Shape::normal:
      return normal_cumulative((x - d.nominal) / deviation(d));
    case Shape::uniform:
      return std::clamp((x - d.low) / (d.high - d.low), 0.0, 1.0);
    case Shape::log_uniform:
      return x <= d.low ? 0.0 : std::min(std::log(x / d.low) / std::log(d.high / d.low), 1.0);
    case Shape::triangular:
      return triangular_cumulative(d, x);
    case Shape::steps:
      return steps_cumulative(d.steps, x);
  }
  return 0.0;
}

double whole_quantile(const Distribution& d, double p) {
  switch (d.shape) {
    case Shape::fixed:
      return d.nominal;
    case Shape::normal:
      return d.nominal + deviation(d) * normal_quantile(p);
    case Shape::uniform:
      return d.low + p * (d.high - d.low);
    case Shape::log_uniform:
      return d.low * std::exp(p * std::log(d.high / d.low));
    case Shape::triangular:
      return triangular_quantile(d, p);
    case Shape::steps:
      return steps_quantile(d.steps, p);
  }
  return d.nominal;
}

/// Cumulative probability of the uncut shape at the two bounds.
struct Kept {
  double from = 0.0;
  double to = 1.0;
};

Kept kept(const Distribution& d) {
  if (d.shape == Shape::fixed) return {};
  return {std::isinf(d.floor) ? 0.0 : whole_cumulative(d, d.floor),
          std::isinf(d.ceiling) ? 1.0 : whole_cumulative(d, d.ceiling)};
}

void check_shape(const Distribution& d, const char* what) {
  if (d.shape == Shape::fixed) return;
  if (!(d.low < d.high)) refuse(what, ": the spread ", d.low, " .. ", d.high, " has no width");
  if (!(d.low <= d.nominal && d.nominal <= d.high))
    refuse(what, ": the nominal value ", d.nominal, " lies outside the spread ", d.low, " .. ", d.high);
  if (d.shape == Shape::log_uniform && d.low <= 0.0)
    refuse(what, ": a spread by a factor needs numbers above 0, found ", d.low, " .. ", d.high);
  if (d.shape == Shape::steps) {
    if (d.steps.size() < 2 || !std::is_sorted(d.steps.begin(), d.steps.end()))
      refuse(what, ": a spread in steps needs two numbers or more that rise");
    if (d.steps.front() != d.low || d.steps.back() != d.high)
      refuse(what, ": the outer steps must be the ends ", d.low, " .. ", d.high);
  }
  const double off = std::abs(d.nominal - 0.5 * (d.low + d.high));
  if (d.shape == Shape::normal && off > 1e-6 * (d.high - d.low))
    refuse(what, ": the nominal value of a normal spread must be the middle of ", d.low, " .. ", d.high);
}

using Names = std::vector<std::string>;
using Pairs = std::vector<CorrelatedPair>;

std::string entry(const CorrelatedPair& pair, const Names& names) {
  std::ostringstream text;
  const auto name = [&](int i) { return names.empty() ? std::to_string(i) : names[i]; };
  text << "(" << name(pair.first) << ", " << name(pair.second) << ") = " << pair.value;
  return text.str();
}

void check_pair(const CorrelatedPair& pair, int inputs, const Names& names) {
  const auto there = [&](int i) { return i >= 0 && i < inputs; };
  if (!there(pair.first) || !there(pair.second))
    refuse("correlation of inputs ", pair.first, " and ", pair.second, ": there are ", inputs,
           " inputs, counted from 0");
  if (pair.first == pair.second)
    refuse("correlation " + entry(pair, names) + ": an input can't be paired with itself");
  if (!(std::abs(pair.value) < 1.0))
    refuse("correlation " + entry(pair, names) + ": must lie between -1 and 1");
}

void check_once(const Pairs& pairs, const Names& names) {
  for (std::size_t a = 0; a < pairs.size(); ++a) {
    for (std::size_t b = a + 1; b < pairs.size(); ++b) {
      const bool same =
          std::minmax(pairs[a].first, pairs[a].second) == std::minmax(pairs[b].first, pairs[b].second);
      if (same) refuse("correlation " + entry(pairs[b], names) + ": given twice");
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
  const Eigen::MatrixXd factor = numerics::cholesky_factor(matrix_of(inputs, pairs));
  return factor.size() > 0 && factor.diagonal().minCoeff() > 1e-6 ? factor : Eigen::MatrixXd();
}

/// Drops inputs as long as what is left still can't hold together, and names the entries of the rest.
std::string contradiction(std::vector<int> inputs, const Pairs& pairs, const Names& names) {
  for (std::size_t i = inputs.size(); i-- > 0;) {
    std::vector<int> fewer = inputs;
    fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(i));
    if (!fewer.empty() && factor_of(fewer, pairs).size() == 0) inputs.swap(fewer);
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

constexpr double kLeastPlace = 1e-300;  // a place has no probability of exactly 0

/// The pairs of which neither input is known together with others only.
Pairs without(const Pairs& pairs, const JointPlaces& joint) {
  const auto joined = [&](int input) {
    return std::find(joint.inputs.begin(), joint.inputs.end(), input) != joint.inputs.end();
  };
  Pairs out;
  std::copy_if(pairs.begin(), pairs.end(), std::back_inserter(out),
               [&](const CorrelatedPair& pair) { return !joined(pair.first) && !joined(pair.second); });
  return out;
}

void check_joint(const JointPlaces& joint, int inputs) {
  std::vector<int> sorted = joint.inputs;
  std::sort(sorted.begin(), sorted.end());
  if (sorted.front() < 0 || sorted.back() >= inputs ||
      std::adjacent_find(sorted.begin(), sorted.end()) != sorted.end())
    refuse("joint sample: an input does not exist, or is given twice");
  if (joint.places.empty()) refuse("joint sample: there is no row");
  for (const std::vector<int>& row : joint.places) {
    if (row.size() != joint.inputs.size()) refuse("joint sample: one place for each input is needed");
    for (const int place : row)
      if (place < 0 || place >= joint.parts)
        refuse("joint sample: place ", place, ": must be 0 to ", joint.parts - 1);
  }
}

/// Joins inputs that share a pair, directly or through others.
std::vector<std::vector<int>> groups_of(int inputs, const Pairs& pairs) {
  std::vector<int> label(static_cast<std::size_t>(inputs));
  for (int i = 0; i < inputs; ++i) label[i] = i;
  for (const CorrelatedPair& pair : pairs) {
    const int a = label[pair.first];
    const int b = label[pair.second];
    for (int& each : label)
      if (each == std::max(a, b)) each = std::min(a, b);
  }
  std::vector<std::vector<int>> groups(static_cast<std::size_t>(inputs));
  for (int i = 0; i < inputs; ++i) groups[label[i]].push_back(i);
  groups.erase(std::remove_if(groups.begin(), groups.end(), [](const auto& g) { return g.empty(); }),
               groups.end());
  return groups;
}

}  // namespace

void require_valid(const Distribution& d, const char* what) {
  const bool finite = std::isfinite(d.nominal) && std::isfinite(d.low) && std::isfinite(d.high);
  if (!finite || std::isnan(d.floor) || std::isnan(d.ceiling)) refuse(what, ": every number must be finite");
  check_shape(d, what);
  if (!(d.floor <= d.nominal && d.nominal <= d.ceiling))
    refuse(what, ": the nominal value ", d.nominal, " lies outside the bounds ", d.floor, " .. ", d.ceiling);
  if (cut_away(d) > 0.5)
    refuse(what, ": the bounds ", d.floor, " .. ", d.ceiling, " leave less than half of the spread");
}

double cut_away(const Distribution& d) {
  const Kept part = kept(d);
  return std::max(0.0, part.from + (1.0 - part.to));
}

double quantile(const Distribution& d, double u) {
  const Kept part = kept(d);
  // Rounding may bring a sum to an end of 0 .. 1 where the normal shape has no value.
  constexpr double kLeast = 1e-300;
  const double p = std::clamp(part.from + u * (part.to - part.from), kLeast, 1.0 - 0x1p-53);
  return std::clamp(whole_quantile(d, p), d.floor, d.ceiling);
}

double cumulative(const Distribution& d, double x) {
  const Kept part = kept(d);
  return std::clamp((whole_cumulative(d, x) - part.from) / (part.to - part.from), 0.0, 1.0);
}

Correlation::Correlation(int inputs) : Correlation(inputs, {}) {}

Correlation::Correlation(int inputs, const Pairs& pairs, const Names& names) : inputs_(inputs) {
  if (inputs < 0) refuse("correlation: the number of inputs must not be negative");
  if (!names.empty() && names.size() != static_cast<std::size_t>(inputs))
    refuse("correlation: one name for each input is needed, or none");
  for (const CorrelatedPair& pair : pairs) check_pair(pair, inputs, names);
  check_once(pairs, names);
  groups_ = groups_of(inputs, pairs);
  factorise(pairs, names);
}

void Correlation::factorise(const Pairs& pairs, const Names& names) {
  for (const std::vector<int>& group : groups_) {
    if (group.size() == 1) continue;
    const Eigen::MatrixXd factor = factor_of(group, pairs);
    if (factor.size() == 0) refuse(contradiction(group, pairs, names));
    for (Eigen::Index r = 0; r < factor.rows(); ++r) {
      Row row;
      row.input = group[r];
      for (Eigen::Index c = 0; c <= r; ++c) {
        if (factor(r, c) == 0.0) continue;
        row.column.push_back(group[c]);
        row.factor.push_back(factor(r, c));
      }
      rows_.push_back(row);
    }
  }
  std::sort(rows_.begin(), rows_.end(), [](const Row& a, const Row& b) { return a.input < b.input; });
}

Correlation::Correlation(int inputs, const Pairs& pairs, const Names& names, JointPlaces joint)
    : Correlation(inputs, without(pairs, joint), names) {
  if (joint.inputs.empty()) return;
  check_joint(joint, inputs);
  joint_ = std::move(joint);
  for (const int input : joint_.inputs)
    groups_.erase(std::find(groups_.begin(), groups_.end(), std::vector<int>{input}));
  std::vector<int> together = joint_.inputs;
  std::sort(together.begin(), together.end());
  groups_.insert(std::upper_bound(groups_.begin(), groups_.end(), together), together);
}

// One coordinate chooses the row and what is left of it the place within the part, so that points that fill
// the cube evenly take every row equally often.
void Correlation::place_joint(double* u) const {
  const double rows = static_cast<double>(joint_.places.size());
  double& chooser = u[joint_.inputs.front()];
  const std::size_t row = std::min(static_cast<std::size_t>(chooser * rows), joint_.places.size() - 1);
  chooser = std::clamp(chooser * rows - static_cast<double>(row), kLeastPlace, 1.0 - kLeastPlace);
  for (std::size_t column = 0; column < joint_.inputs.size(); ++column) {
    double& place = u[joint_.inputs[column]];
    place = (joint_.places[row][column] + place) / joint_.parts;
  }
}

void Correlation::tie_rows(double* z) const {
  // From the last input back: a row reads inputs up to its own, none of which is overwritten yet.
  for (auto row = rows_.rbegin(); row != rows_.rend(); ++row) {
    double sum = 0.0;
    for (std::size_t k = 0; k < row->column.size(); ++k) sum += row->factor[k] * z[row->column[k]];
    z[row->input] = sum;
  }
}

void Correlation::tie_scores(double* z) const {
  tie_rows(z);
  if (joint_.inputs.empty()) return;
  std::vector<double> u(z, z + inputs_);
  for (const int input : joint_.inputs) u[input] = normal_cumulative(z[input]);
  place_joint(u.data());
  for (const int input : joint_.inputs)
    z[input] = normal_quantile(std::clamp(u[input], kLeastPlace, 1.0 - 0x1p-53));
}

void Correlation::tie(double* u) const {
  if (!joint_.inputs.empty()) place_joint(u);
  for (const Row& row : rows_) u[row.input] = normal_quantile(u[row.input]);
  tie_rows(u);
  for (const Row& row : rows_) {
    // Far out the rounded probability may reach 1, which has no place on any distribution.
    u[row.input] = std::clamp(normal_cumulative(u[row.input]), 1e-300, 1.0 - 0x1p-53);
  }
}

}  // namespace tuft::uncertainty

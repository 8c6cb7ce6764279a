#include "solver/uncertainty/index_plan.hpp"

#include <sstream>
#include <stdexcept>
#include <utility>

namespace tuft::doubt {

namespace {

int checked_inputs(int inputs) {
  if (inputs >= 1 && inputs <= kMostDimensions / 2) return inputs;
  std::ostringstream text;
  text << "sensitivity: " << inputs << " inputs: must be 1 to " << kMostDimensions / 2;
  throw std::invalid_argument(text.str());
}

void check_groups(const std::vector<std::vector<int>>& groups, int inputs) {
  std::vector<bool> seen(static_cast<std::size_t>(inputs), false);
  for (const std::vector<int>& group : groups) {
    if (group.empty()) throw std::invalid_argument("sensitivity: a group of inputs is empty");
    for (const int input : group) {
      const bool there = input >= 0 && input < inputs;
      if (there && !seen[static_cast<std::size_t>(input)]) {
        seen[static_cast<std::size_t>(input)] = true;
        continue;
      }
      std::ostringstream text;
      text << "sensitivity: input " << input << (there ? " stands in two groups" : " does not exist");
      throw std::invalid_argument(text.str());
    }
  }
}

}  // namespace

IndexPlan::IndexPlan(int inputs, int base_points, std::uint64_t seed, std::vector<std::vector<int>> groups)
    : inputs_(checked_inputs(inputs)),
      base_points_(base_points),
      groups_(std::move(groups)),
      sequence_(2 * inputs, seed) {
  if (base_points < 2 || (base_points & (base_points - 1)) != 0) {
    std::ostringstream text;
    text << "sensitivity: " << base_points << " points: must be a power of two, 2 or more";
    throw std::invalid_argument(text.str());
  }
  if (groups_.empty()) {
    for (int i = 0; i < inputs; ++i) groups_.push_back({i});
  }
  check_groups(groups_, inputs);
}

void IndexPlan::point(std::size_t run, double* out) const {
  if (run >= runs()) throw std::invalid_argument("sensitivity: the plan has no such run");
  const std::size_t block = run / static_cast<std::size_t>(base_points_);
  const std::uint64_t index = run % static_cast<std::size_t>(base_points_);
  const int offset = block == 1 ? inputs_ : 0;
  for (int j = 0; j < inputs_; ++j) out[j] = sequence_.at(index, offset + j);
  if (block < 2) return;
  for (const int j : groups_[block - 2]) out[j] = sequence_.at(index, inputs_ + j);
}

}  // namespace tuft::doubt

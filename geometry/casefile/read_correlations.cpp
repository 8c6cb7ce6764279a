// Section correlations: which uncertain quantities are correlated.
#include <fmt/core.h>

#include <Eigen/Cholesky>
#include <algorithm>
#include <map>

#include "geometry/casefile/input_paths.hpp"
#include "geometry/casefile/reader.hpp"
#include "geometry/device/inputs.hpp"

namespace tuft::casefile {
namespace {

using geometry::Correlated;
using Placed = InputPaths::Placed;

class CorrelationsReader {
 public:
  explicit CorrelationsReader(Reader& reader) : reader_(reader), paths_(reader) {}

  void read(const Item& item) {
    if (!reader_.check_map(item)) return;
    const std::vector<Placed> inputs = paths_.named(reader_.child(item, "inputs"));
    const auto correlation = reader_.given(item, "correlation");
    if (!correlation || inputs.size() < 2) return;
    Set set{item, inputs, {}};
    for (std::size_t j = 1; j < inputs.size(); ++j)
      for (std::size_t i = 0; i < j; ++i)
        if (is_new(item, inputs[i], inputs[j]))
          set.pairs.push_back({inputs[i].input, inputs[j].input, **correlation});
    if (!set.pairs.empty()) sets_.push_back(std::move(set));
  }

  // Three sets can be possible together where two of them alone are not, so all are looked at first; where
  // they are not possible, the first one with which it ends is named.
  void finish() {
    if (sets_.empty()) return;
    std::vector<Correlated> all;
    for (const Set& set : sets_) all.insert(all.end(), set.pairs.begin(), set.pairs.end());
    if (holds(all)) {
      reader_.content().correlations = std::move(all);
      return;
    }
    for (const Set& set : sets_) {
      std::vector<Correlated> pairs = reader_.content().correlations;
      pairs.insert(pairs.end(), set.pairs.begin(), set.pairs.end());
      if (holds(pairs)) {
        reader_.content().correlations = std::move(pairs);
      } else {
        reader_.error(set.item, not_possible(pairs, set.inputs),
                      "bring them nearer to 0; what is not written is 0");
      }
    }
  }

 private:
  // One entry of the list with the pairs it makes.
  struct Set {
    Item item;
    std::vector<Placed> inputs;
    std::vector<Correlated> pairs;
  };

  bool is_new(const Item& item, const Placed& a, const Placed& b) {
    const auto key = std::minmax(a.input, b.input);
    const auto [it, fresh] = seen_.emplace(key, item.node->spot);
    if (!fresh)
      reader_.report.conflict(b.spot, item.path,
                              fmt::format("{} and {} have a correlation already", in_quotes(name(a.input)),
                                          in_quotes(name(b.input))),
                              it->second, "given here");
    return fresh;
  }

  // Whether some device can be so: the matrix is positive definite.
  static bool holds(const std::vector<Correlated>& pairs) {
    std::map<int, int> place;
    for (const Correlated& pair : pairs)
      for (const int input : {pair.first, pair.second}) place.emplace(input, static_cast<int>(place.size()));
    const auto n = static_cast<Eigen::Index>(place.size());
    Eigen::MatrixXd matrix = Eigen::MatrixXd::Identity(n, n);
    for (const Correlated& pair : pairs)
      matrix(place[pair.first], place[pair.second]) = matrix(place[pair.second], place[pair.first]) =
          pair.correlation;
    const Eigen::LLT<Eigen::MatrixXd> factor(matrix);
    constexpr double kLeastPivot = 1e-6;
    if (factor.info() != Eigen::Success) return false;
    const Eigen::VectorXd diagonal = Eigen::MatrixXd(factor.matrixL()).diagonal();
    return diagonal.minCoeff() > kLeastPivot;
  }

  std::string not_possible(const std::vector<Correlated>& pairs, const std::vector<Placed>& inputs) const {
    std::vector<std::string> names;
    for (const Placed& placed : inputs) names.push_back(in_quotes(name(placed.input)));
    const bool alone = pairs.size() == inputs.size() * (inputs.size() - 1) / 2;
    return fmt::format(
        "these correlations of {} can't all hold at once{}: the matrix is not positive definite",
        listed(names), alone ? "" : " with those before");
  }

  const std::string& name(int input) const { return paths_.name(input); }

  Reader& reader_;
  InputPaths paths_;
  std::map<std::pair<int, int>, Spot> seen_;
  std::vector<Set> sets_;
};

}  // namespace

void read_correlations(Reader& reader, const Item& root) {
  // What was read but belongs to nothing (a condition written out that the file has already) is no input.
  geometry::keep_used_inputs(reader.content());
  const Item list = reader.child(root, "correlations");
  if (!list) return;
  CorrelationsReader correlations(reader);
  for (const Item& item : reader.items(list)) correlations.read(item);
  correlations.finish();
}

}  // namespace tuft::casefile

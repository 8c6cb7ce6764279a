#include "solver/field/block_lu.hpp"

#include <algorithm>
#include <utility>

namespace tuft::field {

BlockLu::BlockLu(const SparsePattern& pattern, const std::vector<UnknownPlace>& places,
                 const std::vector<int>& block, int nx, int ny)
    : n_(block.size()) {
  const int n_blocks = block.empty() ? 0 : *std::max_element(block.begin(), block.end()) + 1;
  std::vector<int> local(n_, 0);
  std::vector<std::vector<int>> members(static_cast<std::size_t>(n_blocks));
  for (std::size_t d = 0; d < n_; ++d) {
    auto& list = members[static_cast<std::size_t>(block[d])];
    local[d] = static_cast<int>(list.size());
    list.push_back(static_cast<int>(d));
  }
  for (std::size_t b = 0; b < members.size(); ++b) {
    SparsePattern own;
    own.row_start.push_back(0);
    std::vector<int> entries;
    std::vector<Coupling> before;
    std::vector<UnknownPlace> own_places;
    for (const int r : members[b]) {
      for (int k = pattern.row_start[static_cast<std::size_t>(r)];
           k < pattern.row_start[static_cast<std::size_t>(r) + 1]; ++k) {
        const int c = pattern.column[static_cast<std::size_t>(k)];
        const auto from = static_cast<std::size_t>(block[static_cast<std::size_t>(c)]);
        if (from == b) {
          own.column.push_back(local[static_cast<std::size_t>(c)]);
          entries.push_back(k);
        } else if (from < b) {
          before.push_back({k, local[static_cast<std::size_t>(r)], c});
        }
      }
      own.row_start.push_back(static_cast<int>(own.column.size()));
      own_places.push_back(places[static_cast<std::size_t>(r)]);
    }
    if (members[b].empty()) continue;
    FrontalLu<float> lu(own, own_places, nx, ny);
    blocks_.push_back({static_cast<int>(b),
                       std::move(members[b]),
                       std::move(entries),
                       std::move(lu),
                       std::move(before),
                       {}});
  }
}

void BlockLu::factor(const std::vector<double>& values, int first, int end) {
  const auto factor_block = [&](Block& block) {
    std::vector<double> own(block.entries.size());
    for (std::size_t k = 0; k < own.size(); ++k) own[k] = values[static_cast<std::size_t>(block.entries[k])];
    block.lu.factor(own);
    block.strength.resize(block.before.size());
    for (std::size_t k = 0; k < block.before.size(); ++k)
      block.strength[k] = values[static_cast<std::size_t>(block.before[k].value)];
  };
  const int n_blocks = static_cast<int>(blocks_.size());
#pragma omp parallel for schedule(dynamic, 1) if (n_blocks > 2 && n_ > 20000)
  for (int b = 0; b < n_blocks; ++b) {
    Block& block = blocks_[static_cast<std::size_t>(b)];
    if (block.number >= first && (end < 0 || block.number < end)) factor_block(block);
  }
}

/// What acts on a block, what the earlier blocks found taken off; empty where nothing does.
std::vector<double> BlockLu::right_side(const Block& block, const double* x) const {
  std::vector<double> out(block.unknowns.size());
  bool acts = false;
  for (std::size_t k = 0; k < out.size(); ++k) {
    out[k] = x[block.unknowns[k]];
    acts = acts || out[k] != 0.0;
  }
  for (std::size_t k = 0; k < block.before.size(); ++k) {
    const double found = block.strength[k] * x[block.before[k].column];
    out[static_cast<std::size_t>(block.before[k].row)] -= found;
    acts = acts || found != 0.0;
  }
  if (!acts) out.clear();
  return out;
}

void BlockLu::solve(std::vector<double>* x, int columns, int end) const {
  for (const Block& block : blocks_) {
    if (end >= 0 && block.number >= end) break;
    std::vector<double> own;
    std::vector<int> acted;  // right-hand sides that have something to solve
    for (int c = 0; c < columns; ++c) {
      const std::vector<double> right = right_side(block, x->data() + static_cast<std::size_t>(c) * n_);
      if (right.empty()) continue;
      acted.push_back(c);
      own.insert(own.end(), right.begin(), right.end());
    }
    if (acted.empty()) continue;
    block.lu.solve(&own, static_cast<int>(acted.size()));
    const double* found = own.data();
    for (const int c : acted)
      for (const int d : block.unknowns)
        (*x)[static_cast<std::size_t>(c) * n_ + static_cast<std::size_t>(d)] = *found++;
  }
}

}  // namespace tuft::field

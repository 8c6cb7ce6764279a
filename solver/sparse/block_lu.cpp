#include "solver/sparse/block_lu.hpp"

#include <algorithm>
#include <exception>
#include <memory>
#include <utility>

namespace tuft::sparse {

BlockLu::BlockLu(const SparsePattern& pattern, const std::vector<UnknownPlace>& places,
                 const std::vector<int>& block, int nx, int ny)
    : n_(block.size()) {
  const int n_blocks = block.empty() ? 0 : *std::max_element(block.begin(), block.end()) + 1;
  std::vector<int> local(n_, 0);
  std::vector<std::vector<int>> members(n_blocks);
  for (std::size_t d = 0; d < n_; ++d) {
    auto& list = members[block[d]];
    local[d] = static_cast<int>(list.size());
    list.push_back(static_cast<int>(d));
  }
  members.erase(std::remove_if(members.begin(), members.end(), [](const auto& m) { return m.empty(); }),
                members.end());
  std::vector<std::unique_ptr<Block>> made(members.size());
  std::vector<std::exception_ptr> failures(members.size());
  const int n_made = static_cast<int>(members.size());
#pragma omp parallel for schedule(dynamic, 1) if (n_ > 20000)
  for (int m = 0; m < n_made; ++m) {
    try {
      made[m].reset(new Block(make_block(pattern, places, block, local, std::move(members[m]), nx, ny)));
    } catch (...) {
      failures[m] = std::current_exception();
    }
  }
  for (const std::exception_ptr& failure : failures)
    if (failure) std::rethrow_exception(failure);
  for (auto& one : made) blocks_.push_back(std::move(*one));
}

BlockLu::Block BlockLu::make_block(const SparsePattern& pattern, const std::vector<UnknownPlace>& places,
                                   const std::vector<int>& block, const std::vector<int>& local,
                                   std::vector<int> members, int nx, int ny) {
  SparsePattern own;
  own.row_start.push_back(0);
  std::vector<int> entries;
  std::vector<Coupling> before;
  std::vector<UnknownPlace> own_places;
  const int b = block[members.front()];
  for (const int r : members) {
    for (int k = pattern.row_start[r]; k < pattern.row_start[r + 1]; ++k) {
      const int c = pattern.column[k], from = block[c];
      if (from == b) {
        own.column.push_back(local[c]);
        entries.push_back(k);
      } else if (from < b) {
        before.push_back({k, r, c});
      }
    }
    own.row_start.push_back(static_cast<int>(own.column.size()));
    own_places.push_back(places[r]);
  }
  FrontalLu<float> lu(own, own_places, nx, ny);
  lu.set_numbers(members);
  return {b, std::move(members), std::move(entries), std::move(lu), std::move(before), {}};
}

void BlockLu::factor(const std::vector<double>& values, int first, int end) {
  for (Block& block : blocks_) {
    if (block.number < first || (end >= 0 && block.number >= end)) continue;
    std::vector<double> own(block.entries.size());
    const int n_entries = static_cast<int>(own.size());
#pragma omp parallel for schedule(static) if (n_entries > 100000)
    for (int k = 0; k < n_entries; ++k) own[k] = values[block.entries[k]];
    block.lu.factor(own);
    block.strength.resize(block.before.size());
    for (std::size_t k = 0; k < block.before.size(); ++k) block.strength[k] = values[block.before[k].value];
  }
}

void BlockLu::solve(std::vector<double>* x, int columns, int end) const {
  for (const Block& block : blocks_) {
    if (end >= 0 && block.number >= end) break;
    std::vector<double*> acted;  // right-hand sides that have something to solve
    for (int c = 0; c < columns; ++c) {
      double* right = x->data() + c * n_;
      for (std::size_t k = 0; k < block.before.size(); ++k)
        right[block.before[k].row] -= block.strength[k] * right[block.before[k].column];
      if (columns == 1 ||
          std::any_of(block.unknowns.begin(), block.unknowns.end(), [&](int d) { return right[d] != 0.0; }))
        acted.push_back(right);
    }
    if (!acted.empty()) block.lu.solve(acted);
  }
}

}  // namespace tuft::sparse

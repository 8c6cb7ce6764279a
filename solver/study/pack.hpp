// Solved samples as bytes, to be handed from process to process; inside the ensemble only.
#pragma once

#include <string>
#include <vector>

#include "solver/study/sampler.hpp"

namespace tuft::ensemble {

/// Views of the rows first .. last - 1 and the failures, as bytes of this machine.
std::string pack(const Batch& batch, std::size_t first, std::size_t last);

/// Puts the same into a batch whose views are sized; failures are appended.
/// Throws std::runtime_error if the bytes are cut short.
void unpack(const std::string& bytes, std::size_t first, std::size_t last, Batch& batch);

}  // namespace tuft::ensemble

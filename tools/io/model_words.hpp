// Words of results files for what became of a condition.
#pragma once

#include "solver/network/source_outcome.hpp"
#include "solver/network/graph.hpp"

namespace tuft::model {

/// full, throttled, least-power, shut-down.
const char* source_state_word(heat::SourceState state);

/// passage, fins, gap.
const char* laminar_word(network::LaminarKind kind);

}  // namespace tuft::model

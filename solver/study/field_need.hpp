// Where the network alone is no safe ground for a vent's role.
#pragma once

#include "solver/study/result.hpp"

namespace tuft::study {

/// How far the network can be trusted at one vent. Both 0 .. 1.
struct NetworkTrust {
  /// Buoyancy over all heads at the vent: (|buoyancy| + |span|) / (|fan| + |buoyancy| + |span|) [-]. Near 1
  /// warm air decides, and the network knows it mixed or in layers only.
  double buoyancy_share = 0.0;
  double exchange_share = 0.0;  ///< two-way exchange over the larger gross flow [-]
};

NetworkTrust trust_of(const VentResult& vent);

/// A vent whose role the network alone does not settle: buoyancy has more than `kMostBuoyancy` of the heads,
/// exchange more than `kMostExchange` of the flow, or the role is near a threshold. Shut vents are settled.
bool is_unsure(const VentResult& vent);

constexpr double kMostBuoyancy = 1.0 / 3.0;  // judgement: the fans' head is twice that of warm air
constexpr double kMostExchange = 0.05;       // judgement

}  // namespace tuft::study

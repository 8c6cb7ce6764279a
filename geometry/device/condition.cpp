#include "geometry/device/condition.hpp"

namespace tuft::geometry {

const char* role_word(Role role) {
  switch (role) {
    case Role::intake:
      return "intake";
    case Role::exhaust:
      return "exhaust";
    case Role::both_ways:
      return "both-ways";
    case Role::idle:
      return "idle";
  }
  return "";
}

bool is_about_heat(ClaimKind kind) {
  return kind == ClaimKind::temperature || kind == ClaimKind::warms || kind == ClaimKind::cools;
}

std::vector<int> conditions_of(const Claim& claim) {
  if (claim.against < 0) return {claim.when};
  return {claim.when, claim.against};
}

}  // namespace tuft::geometry
